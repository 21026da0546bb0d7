//! The physical dimensions that occur in a car file.

use std::fmt;

/// Physical dimension of a quantity in the car file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Length, SI unit \[m\].
    Length,
    /// Mass, SI unit \[kg\].
    Mass,
    /// Force, SI unit \[N\].
    Force,
    /// Plane angle, SI unit \[rad\].
    Angle,
    /// Force per length, as of a spring, SI unit \[N/m\].
    Rate,
    /// Moment of a force, SI unit \[N m\].
    Torque,
    /// Pressure or stress, SI unit \[Pa\].
    Pressure,
    /// Advance of a thread per turn, SI unit \[m\].
    Pitch,
    /// Pure number; `62 %` is 0.62.
    Ratio,
}

impl Dimension {
    /// Every dimension, in the order of the enum.
    pub const ALL: [Self; 9] = [
        Self::Length,
        Self::Mass,
        Self::Force,
        Self::Angle,
        Self::Rate,
        Self::Torque,
        Self::Pressure,
        Self::Pitch,
        Self::Ratio,
    ];

    /// The word with its article, for messages: `a length`, `an angle`.
    pub fn with_article(self) -> String {
        let article = if self == Self::Angle { "an" } else { "a" };
        format!("{article} {self}")
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::Length => "length",
            Self::Mass => "mass",
            Self::Force => "force",
            Self::Angle => "angle",
            Self::Rate => "rate",
            Self::Torque => "torque",
            Self::Pressure => "pressure",
            Self::Pitch => "thread pitch",
            Self::Ratio => "ratio",
        })
    }
}
