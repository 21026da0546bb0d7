//! The results of a weighing by name.

use crate::quantity::Scale;

/// One result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Mass of the car.
    Mass,
    /// Distance of the centre of gravity behind the front axle.
    Behind,
    /// Distance to the left of the centre plane.
    Left,
    /// Height above the ground.
    Height,
    /// Share on the front axle.
    FrontShare,
    /// Share on the left side.
    LeftShare,
    /// Share on front right and rear left.
    Cross,
    /// On the front left wheel.
    FrontLeft,
    /// On the front right wheel.
    FrontRight,
    /// On the rear left wheel.
    RearLeft,
    /// On the rear right wheel.
    RearRight,
    /// Moment of inertia about the axis along the car.
    Roll,
    /// About the axis across it.
    Pitch,
    /// About the upright axis.
    Yaw,
    /// Mass that the springs carry.
    SprungMass,
    /// Height of its centre.
    SprungHeight,
}

impl Weight {
    /// All, in the order of the table.
    pub const ALL: [Self; 16] = [
        Self::Mass,
        Self::Behind,
        Self::Left,
        Self::Height,
        Self::FrontShare,
        Self::LeftShare,
        Self::Cross,
        Self::FrontLeft,
        Self::FrontRight,
        Self::RearLeft,
        Self::RearRight,
        Self::Roll,
        Self::Pitch,
        Self::Yaw,
        Self::SprungMass,
        Self::SprungHeight,
    ];

    /// Its place in [`Self::ALL`].
    pub(super) fn index(self) -> usize {
        self as usize
    }

    /// Name in JSON and in comma-separated values.
    pub fn key(self) -> &'static str {
        match self {
            Self::Mass => "mass",
            Self::Behind => "cg-behind-front-axle",
            Self::Left => "cg-left",
            Self::Height => "cg-height",
            Self::FrontShare => "front-share",
            Self::LeftShare => "left-share",
            Self::Cross => "cross-weight",
            Self::FrontLeft => "front-left",
            Self::FrontRight => "front-right",
            Self::RearLeft => "rear-left",
            Self::RearRight => "rear-right",
            Self::Roll => "roll-inertia",
            Self::Pitch => "pitch-inertia",
            Self::Yaw => "yaw-inertia",
            Self::SprungMass => "sprung-mass",
            Self::SprungHeight => "sprung-cg-height",
        }
    }

    /// Words for it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Mass => "mass",
            Self::Behind => "centre of gravity behind the front axle",
            Self::Left => "centre of gravity left of the centreline",
            Self::Height => "centre of gravity above the ground",
            Self::FrontShare => "front axle",
            Self::LeftShare => "left side",
            Self::Cross => "cross weight, front right + rear left",
            Self::FrontLeft => "front left",
            Self::FrontRight => "front right",
            Self::RearLeft => "rear left",
            Self::RearRight => "rear right",
            Self::Roll => "roll inertia",
            Self::Pitch => "pitch inertia",
            Self::Yaw => "yaw inertia",
            Self::SprungMass => "sprung mass",
            Self::SprungHeight => "its centre above the ground",
        }
    }

    /// How it is shown.
    pub fn scale(self) -> Scale {
        match self {
            Self::Behind | Self::Left | Self::Height | Self::SprungHeight => Scale::Length,
            Self::FrontShare | Self::LeftShare | Self::Cross => Scale::Percent,
            Self::Roll | Self::Pitch | Self::Yaw => Scale::Inertia,
            _ => Scale::Mass,
        }
    }

    /// Whether it is a moment of inertia.
    pub fn is_inertia(self) -> bool {
        self.scale() == Scale::Inertia
    }
}
