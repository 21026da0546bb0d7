//! The quantities that Soapstone knows by name: what each means, how it is computed, where that comes from,
//! and what it does and does not do.

use linkage::scalar::Real;
use suspension::AxleEnd;

use crate::facts::Facts;

/// A quantity at one position of one axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Anti-dive (front) or anti-lift (rear) under the brakes.
    AntiBraking,
    /// Anti-lift (front) or anti-squat (rear) under power.
    AntiDriving,
    /// Length of the side-view swing arm.
    SideViewArm,
    /// Angle of the side-view swing arm at the contact point.
    SideViewAngle,
    /// Rearward motion of the wheel centre in jounce.
    Recession,
    /// Toe change with travel.
    BumpSteer,
    /// Camber change with travel.
    CamberGain,
    /// Height of the roll centre.
    RollCentre,
    /// Toe change with roll.
    RollSteer,
    /// Camber change to the road with roll.
    RollCamber,
    /// Half-track change with travel.
    TrackChange,
    /// Toe.
    Toe,
    /// Camber.
    Camber,
    /// Shortening of an element per travel.
    MotionRatio(usize),
    /// Rate at the wheel of a spring.
    WheelRate(usize),
    /// Something of the whole car in the stated stop.
    InStop(InStop),
    /// Whether it holds.
    Built(Built),
    /// What it is worth where it is driven.
    Lap(Lap),
}

/// Laps that tell positions apart, by the venues' order in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lap {
    /// On the first venue.
    First,
    /// On the second one.
    Second,
}

impl Lap {
    /// Both, in the order of the table.
    pub const ALL: [Self; 2] = [Self::First, Self::Second];

    /// Its place in [`Self::ALL`].
    pub(crate) fn index(self) -> usize {
        self as usize
    }
}

/// Results of Build that tell positions apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Built {
    /// How many times its loads the weakest part holds.
    Holds,
    /// How far the frame's give turns a wheel in toe.
    ToeGives,
}

impl Built {
    /// Both, in the order of the table.
    pub const ALL: [Self; 2] = [Self::Holds, Self::ToeGives];

    /// Its place in [`Self::ALL`].
    pub(crate) fn index(self) -> usize {
        self as usize
    }
}

/// Results of the whole car in the stated stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum InStop {
    /// Pitch of the body.
    Pitch,
    /// Rise of the body over ride height at the rear axle.
    RearRise,
    /// How far the rear load falls below its steady value while the pedal goes down.
    Dip,
    /// Share of the rear axle's side grip that braking leaves.
    Reserve,
    /// Static margin.
    Margin,
    /// Damping ratio of the rear wheel's hop under the brakes.
    Hop,
}

impl InStop {
    /// All, in the order of the table.
    pub const ALL: [Self; 6] =
        [Self::Pitch, Self::RearRise, Self::Dip, Self::Reserve, Self::Margin, Self::Hop];

    /// Its place in [`Self::ALL`].
    pub(crate) fn index(self) -> usize {
        self as usize
    }
}

/// How a quantity's SI value is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// Percent.
    Percent,
    /// The length unit.
    Length,
    /// Degrees.
    Angle,
    /// Length per travel: mm per 25 mm, in per in.
    LengthPerTravel,
    /// Angle per travel: deg per 25 mm, deg per in.
    AnglePerTravel,
    /// Angle per angle: deg per deg.
    AnglePerAngle,
    /// A plain ratio.
    Ratio,
    /// How many times.
    Times,
    /// The rate unit.
    Rate,
    /// Turns of an adjuster.
    Turns,
    /// The mass unit.
    Mass,
    /// Moment of inertia: kg m^2, or lb ft^2 where masses are in lb.
    Inertia,
    /// The force unit.
    Force,
    /// The torque unit.
    Torque,
    /// The pressure unit.
    Pressure,
    /// Stress: MPa, or psi where forces are in lbf.
    Stress,
    /// Speed: km/h, or mph where lengths are inches.
    Speed,
    /// Acceleration in g.
    Acceleration,
    /// Seconds.
    Time,
    /// Hertz.
    Frequency,
    /// Temperature: deg C, or deg F where lengths are inches.
    Temperature,
    /// A distance along the road: metres, or feet.
    Distance,
    /// Roll stiffness: torque per degree.
    RollStiffness,
    /// Angle per lateral acceleration: deg per g.
    AnglePerAcceleration,
    /// Cornering stiffness: force per degree.
    CorneringStiffness,
    /// Damper coefficient.
    Damping,
}

/// What there is to say about a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// Short name.
    pub title: &'static str,
    /// What it is.
    pub definition: &'static str,
    /// How it is computed.
    pub formula: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// What it does.
    pub does: &'static str,
    /// What it does not do, and when it is past its range.
    pub does_not: &'static str,
}

impl Quantity {
    /// Whether the whole car is needed to say it, not the axle alone.
    pub fn of_whole_car(self) -> bool {
        matches!(self, Self::InStop(_) | Self::Built(_) | Self::Lap(_))
    }

    /// Whether it takes longer than a moving hand waits: it is worked out once the hand is done.
    pub fn takes_long(self) -> bool {
        matches!(self, Self::Lap(_))
    }

    /// All that need no element.
    pub const ALL: [Self; 13] = [
        Self::AntiBraking,
        Self::AntiDriving,
        Self::SideViewArm,
        Self::SideViewAngle,
        Self::Recession,
        Self::BumpSteer,
        Self::CamberGain,
        Self::RollCentre,
        Self::RollSteer,
        Self::RollCamber,
        Self::TrackChange,
        Self::Toe,
        Self::Camber,
    ];

    /// Those of the choice table at ride height, in order: the first of [`Self::ALL`].
    pub const TABLE: &'static [Self] = Self::ALL.split_at(9).0;

    /// Name on the command line and in JSON.
    pub fn key(self, end: AxleEnd) -> &'static str {
        match (self, end) {
            (Self::AntiBraking, AxleEnd::Front) => "anti-dive",
            (Self::AntiBraking, AxleEnd::Rear) => "anti-lift",
            (Self::AntiDriving, AxleEnd::Front) => "anti-lift",
            (Self::AntiDriving, AxleEnd::Rear) => "anti-squat",
            (Self::SideViewArm, _) => "side-view-arm",
            (Self::SideViewAngle, _) => "side-view-angle",
            (Self::Recession, _) => "recession",
            (Self::BumpSteer, _) => "bump-steer",
            (Self::CamberGain, _) => "camber-gain",
            (Self::RollCentre, _) => "roll-centre",
            (Self::RollSteer, _) => "roll-steer",
            (Self::RollCamber, _) => "roll-camber",
            (Self::TrackChange, _) => "track-change",
            (Self::Toe, _) => "toe",
            (Self::Camber, _) => "camber",
            (Self::MotionRatio(_), _) => "motion-ratio",
            (Self::WheelRate(_), _) => "wheel-rate",
            (Self::InStop(InStop::Pitch), _) => "stop-pitch",
            (Self::InStop(InStop::RearRise), _) => "stop-rear-rise",
            (Self::InStop(InStop::Dip), _) => "rear-load-dip",
            (Self::InStop(InStop::Reserve), _) => "rear-reserve",
            (Self::InStop(InStop::Margin), _) => "stop-margin",
            (Self::InStop(InStop::Hop), _) => "brake-hop-damping",
            (Self::Built(Built::Holds), _) => "holds-times",
            (Self::Built(Built::ToeGives), _) => "toe-gives",
            (Self::Lap(Lap::First), _) => "first-venue",
            (Self::Lap(Lap::Second), _) => "second-venue",
        }
    }

    /// The quantity with this name at this axle.
    pub fn from_key(key: &str, end: AxleEnd) -> Option<Self> {
        let others = [Self::MotionRatio(0), Self::WheelRate(0)];
        let in_stop = InStop::ALL.map(Self::InStop);
        let built = Built::ALL.map(Self::Built);
        Self::ALL
            .into_iter()
            .chain(others)
            .chain(in_stop)
            .chain(built)
            .chain(Lap::ALL.map(Self::Lap))
            .find(|q| q.key(end) == key)
    }

    /// How its value is shown.
    pub fn scale(self) -> Scale {
        match self {
            Self::AntiBraking | Self::AntiDriving => Scale::Percent,
            Self::SideViewArm | Self::RollCentre => Scale::Length,
            Self::SideViewAngle | Self::Toe | Self::Camber => Scale::Angle,
            Self::Recession | Self::TrackChange => Scale::LengthPerTravel,
            Self::BumpSteer | Self::CamberGain => Scale::AnglePerTravel,
            Self::RollSteer | Self::RollCamber => Scale::AnglePerAngle,
            Self::MotionRatio(_) => Scale::Ratio,
            Self::WheelRate(_) => Scale::Rate,
            Self::InStop(InStop::Pitch) => Scale::Angle,
            Self::InStop(InStop::RearRise) => Scale::Length,
            Self::InStop(InStop::Dip) => Scale::Force,
            Self::InStop(InStop::Reserve | InStop::Margin) => Scale::Percent,
            Self::InStop(InStop::Hop) => Scale::Ratio,
            Self::Built(Built::Holds) => Scale::Times,
            Self::Built(Built::ToeGives) => Scale::Angle,
            Self::Lap(_) => Scale::Time,
        }
    }

    /// Its value [SI]; `None` where the car file lacks a figure that it needs, or the axle has no drive.
    pub fn value<T: Real>(self, facts: &Facts<T>) -> Option<T> {
        let m = &facts.measures;
        let value = match self {
            Self::AntiBraking => facts.anti_braking()?,
            Self::AntiDriving => facts.anti_driving()?,
            Self::SideViewArm => facts.side_view_arm(),
            Self::SideViewAngle => facts.side_view_angle(),
            Self::Recession => -m.centre_dx_dz(),
            Self::BumpSteer => m.toe_gain,
            Self::CamberGain => m.camber_gain,
            Self::RollCentre => m.roll_centre_height(),
            Self::RollSteer => m.roll_steer(),
            Self::RollCamber => m.roll_camber(),
            Self::TrackChange => m.half_track_gain(),
            Self::Toe => m.toe,
            Self::Camber => m.camber,
            Self::MotionRatio(e) => facts.ratios.get(e)?.ratio,
            // The spring's own figures are entered by the caller, who knows the element.
            Self::WheelRate(_) => return None,
            // Of the whole car, not of a corner at a travel.
            Self::InStop(_) | Self::Built(_) | Self::Lap(_) => return None,
        };
        value.re().is_finite().then_some(value)
    }

    /// What there is to say about it.
    pub fn about(self, end: AxleEnd) -> About {
        crate::explain::about(self, end)
    }
}
