//! What a car file says, in SI and ISO 8855 axes, with the uncertainty of each reading and its place in the
//! file. This is what the studies above work on.

mod brake;
mod build;
mod chassis;
mod drive;
mod jig;
mod tyre;
mod weigh;

use std::ops::Range;
use std::sync::Arc;

use nalgebra::Vector3;
use suspension::AxleEnd;
use suspension::scheme::Scheme;
use units::UnitSystem;

use crate::frame::SurveyFrame;

pub use brake::{
    BrakeReading, DiscReading, Masters, PadReading, PedalReading, StatedStop, TorqueMaker, ValveReading,
};
pub use build::{
    Ask, AxleBuild, BracketReading, BuildReading, CaseReading, FrameFoot, FrameNode, FramePickup, FramePlate,
    FrameReading, FrameTube, LinkReading, RIGHT,
};
pub use chassis::{AirReading, AirRow, BarArms, BarReading, BumpStop, DamperReading, SpringReading};
pub use drive::{
    AirPart, CentreRow, EngineReading, GateReading, GearboxReading, InHandReading, ManoeuvreReading,
    PathReading, PieceReading, PieceShape, SearchReading, VenueReading,
};
pub use jig::{Allowed, JigDatum, JigReading};
pub use tyre::{AsEntered, SimpleReading, TyreModel, TyreReading};
pub use weigh::{EndRates, Gyration, Held, LevelScales, LiftReading, Part, RaisedScales, Weighing, Wish};

/// A value with its standard uncertainty (0 where none is stated), SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty.
    pub uncertainty: f64,
}

/// Front or rear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

impl End {
    /// Its name in the file, `front` or `rear`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }
}

impl From<End> for AxleEnd {
    fn from(end: End) -> Self {
        match end {
            End::Front => Self::Front,
            End::Rear => Self::Rear,
        }
    }
}

impl From<AxleEnd> for End {
    fn from(end: AxleEnd) -> Self {
        match end {
            AxleEnd::Front => Self::Front,
            AxleEnd::Rear => Self::Rear,
        }
    }
}

/// Which axles are driven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Driven {
    /// The front axle alone.
    Front,
    /// The rear axle alone.
    Rear,
    /// Both.
    All,
}

/// Where the brakes (or the final drive) are: what reacts their torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mounting {
    /// At the wheel: the upright reacts the torque.
    Outboard,
    /// On the body: the torque passes through a half-shaft.
    Inboard,
}

/// A car, or one axle of it.
#[derive(Clone, Debug)]
pub struct Car {
    /// Its name.
    pub name: String,
    /// Which axles are driven.
    pub driven: Driven,
    /// How results are shown.
    pub units: UnitSystem,
    /// The frame in which the file's points are written.
    pub frame: SurveyFrame,
    /// Front axle, if the file has one.
    pub front: Option<Axle>,
    /// Rear axle, if the file has one.
    pub rear: Option<Axle>,
    /// Wheelbase \[m\]: from both wheel centres, else as stated.
    pub wheelbase: Option<Value>,
    /// Height of the centre of gravity above ground \[m\].
    pub cg_height: Option<Value>,
    /// Share of the braking force at the front axle \[0..1\].
    pub brake_front_share: Option<Value>,
    /// Share of the drive at the front axle \[0..1\].
    pub drive_front_share: Value,
    /// Named states of the car.
    pub setups: Vec<Setup>,
    /// What the choice table shows.
    pub choose: Choose,
    /// What was weighed, where the file says anything of it.
    pub weigh: Option<Weighing>,
    /// Pedal and master cylinders.
    pub pedal: Option<PedalReading>,
    /// The air over the car.
    pub air: Option<AirReading>,
    /// The stop that is looked at.
    pub stop: StatedStop,
    /// What is marked from, and how exactly.
    pub jig: JigReading,
    /// What carries the loads, where the file says anything of it.
    pub build: Option<BuildReading>,
    /// The engine.
    pub engine: Option<EngineReading>,
    /// From the engine to the wheels.
    pub gearbox: Option<GearboxReading>,
    /// What the driver keeps in hand while braking.
    pub in_hand: Option<InHandReading>,
    /// Where the car is driven.
    pub venues: Vec<VenueReading>,
    /// How the manoeuvres are driven.
    pub manoeuvre: Option<ManoeuvreReading>,
    /// What may be varied when the best setting is looked for.
    pub search: Option<SearchReading>,
}

/// One axle: its left corner at ride height, and what may be changed on it.
#[derive(Clone, Debug)]
pub struct Axle {
    /// Front or rear.
    pub end: End,
    /// Name of the kind as written in the file, such as `five-link`.
    pub kind: String,
    /// Bodies, points and joints.
    pub scheme: Scheme,
    /// Where the points of [`Scheme::points`] are, in the same order.
    pub points: Vec<SurveyPoint>,
    /// The axle was measured on the right: the file has the mirror image (y reversed) of these points.
    pub mirrored: bool,
    /// The wheel.
    pub wheel: WheelReading,
    /// Where the brakes are.
    pub brakes: Mounting,
    /// Where the final drive is: on the body (half-shafts) or on the axle.
    pub final_drive: Mounting,
    /// Greatest rack travel each way from straight ahead \[m\], where there is a rack.
    pub rack_travel: Option<f64>,
    /// Candidate places for pickups.
    pub holes: Vec<Hole>,
    /// Plates on which holes may be drilled.
    pub plates: Vec<Plate>,
    /// Links whose length can be turned.
    pub adjusters: Vec<Adjuster>,
    /// Tyres.
    pub tyre: Option<TyreReading>,
    /// The brake of one wheel.
    pub brake: Option<BrakeReading>,
    /// Springs that have a rate.
    pub springs: Vec<SpringReading>,
    /// Dampers that have their coefficients.
    pub dampers: Vec<DamperReading>,
    /// Bump and rebound stops.
    pub stops: Vec<BumpStop>,
    /// Anti-roll bar.
    pub bar: Option<BarReading>,
    /// Height of a mark at ride height, for the setup card.
    pub ride_height: Option<RideHeight>,
    /// Place in the file of the axle's table.
    pub span: Range<usize>,
}

/// Height of a mark of the user's own over the floor, with the car at ride height: how it is found again.
#[derive(Clone, Debug, PartialEq)]
pub struct RideHeight {
    /// Height \[m\].
    pub height: Value,
    /// Where the mark is, in the user's words.
    pub at: String,
}

/// A point as surveyed: left side, ride height, ISO 8855 \[m\].
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyPoint {
    /// Position \[m\].
    pub at: Vector3<f64>,
    /// Standard uncertainty of each coordinate \[m\].
    pub uncertainty: Vector3<f64>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// The wheel as surveyed.
#[derive(Clone, Debug)]
pub struct WheelReading {
    /// Wheel centre.
    pub centre: SurveyPoint,
    /// Loaded radius \[m\].
    pub loaded_radius: Value,
    /// Toe at ride height \[rad\], per wheel, toe-in positive.
    pub toe: Value,
    /// Camber at ride height \[rad\], top out positive.
    pub camber: Value,
    /// Rim diameter across which toe is shown in mm \[m\], where stated.
    pub rim_diameter: Option<f64>,
    /// Inertia of all that spins with the wheel about its axle \[kg m^2\], where stated.
    pub spin_inertia: Option<Value>,
}

/// A candidate place for one point of the axle.
#[derive(Clone, Debug)]
pub struct Hole {
    /// Name, such as `A`.
    pub name: String,
    /// Index of the point (in [`Scheme::points`]) that it would replace.
    pub point: usize,
    /// The place.
    pub at: SurveyPoint,
}

/// A flat plate on which holes for one point may be drilled.
#[derive(Clone, Debug)]
pub struct Plate {
    /// Name, such as `lower-fore`.
    pub name: String,
    /// Index of the point that its holes would replace.
    pub point: usize,
    /// Outline of the usable plate, at least three corners in one plane \[m\].
    pub outline: Vec<Vector3<f64>>,
    /// Diameter of the bolt \[m\].
    pub bolt: f64,
    /// Least distance between hole centres, in bolt diameters.
    pub spacing: f64,
    /// Least distance from a hole's centre to the outline, in bolt diameters.
    pub edge: f64,
    /// Least and greatest length of the link between its two ends \[m\], where stated.
    pub link_length: Option<(f64, f64)>,
    /// Standard uncertainty of a drilled hole's coordinates \[m\].
    pub uncertainty: f64,
    /// Place in the file.
    pub span: Range<usize>,
}

/// A link whose length changes by turning it.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjuster {
    /// Name of the joint (a rod) in the scheme.
    pub joint: String,
    /// Change of length for one turn \[m\]: the pitch, or both pitches added for a left-and-right-hand sleeve.
    pub per_turn: f64,
}

/// A named state of the car: its holes, and what else is changed in the paddock.
#[derive(Clone, Debug)]
pub struct Setup {
    /// Name, such as `circuit`.
    pub name: String,
    /// Axle and index into that axle's holes.
    pub holes: Vec<(End, usize)>,
    /// What it changes beside the holes, in the order of the file.
    pub changes: Vec<Change>,
    /// The car with those changes made, its holes not yet chosen; `None` where nothing but holes changes. It has no
    /// setups of its own.
    pub car: Option<Arc<Car>>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// One value that a setup changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The key as the car has it, such as `rear.bar.diameter`.
    pub key: String,
    /// What the car has there, as it is written; `None` where it has nothing.
    pub from: Option<String>,
    /// What the setup has, as it is written.
    pub to: String,
}

/// What the choice table shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Choose {
    /// Axle to choose for, where stated.
    pub axle: Option<End>,
    /// Travels at which toe and camber are shown \[m\].
    pub travels: Vec<f64>,
}

impl Car {
    /// The setup of this name.
    pub fn setup(&self, name: &str) -> Option<&Setup> {
        self.setups.iter().find(|setup| setup.name == name)
    }

    /// The car with a setup's changes made; itself where there is no such setup, or one of holes alone.
    pub fn with_setup(&self, name: Option<&str>) -> &Self {
        name.and_then(|name| self.setup(name)?.car.as_deref()).unwrap_or(self)
    }

    /// The axle at this end, if the file has it.
    pub fn axle(&self, end: End) -> Option<&Axle> {
        match end {
            End::Front => self.front.as_ref(),
            End::Rear => self.rear.as_ref(),
        }
    }
}
