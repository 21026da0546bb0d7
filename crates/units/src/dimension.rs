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
    /// Speed, SI unit \[m/s\].
    Speed,
    /// Acceleration, SI unit \[m/s^2\].
    Acceleration,
    /// Time, SI unit \[s\].
    Time,
    /// Force per speed, as of a damper, SI unit \[N s/m\].
    Damping,
    /// Side force per slip angle, SI unit \[N/rad\].
    CorneringStiffness,
    /// Area, SI unit \[m^2\].
    Area,
    /// Moment of inertia, SI unit \[kg m^2\].
    Inertia,
    /// Mass per volume, SI unit \[kg/m^3\].
    Density,
    /// Temperature, SI unit \[K\]; its ± is a difference of temperatures.
    Temperature,
    /// Pure number; `62 %` is 0.62.
    Ratio,
}

impl Dimension {
    /// Every dimension, in the order of the enum.
    pub const ALL: [Self; 18] = [
        Self::Length,
        Self::Mass,
        Self::Force,
        Self::Angle,
        Self::Rate,
        Self::Torque,
        Self::Pressure,
        Self::Pitch,
        Self::Speed,
        Self::Acceleration,
        Self::Time,
        Self::Damping,
        Self::CorneringStiffness,
        Self::Area,
        Self::Inertia,
        Self::Density,
        Self::Temperature,
        Self::Ratio,
    ];

    /// The word with its article, for messages: `a length`, `an angle`.
    pub fn with_article(self) -> String {
        let vowel = matches!(self, Self::Angle | Self::Acceleration | Self::Area);
        let article = if vowel { "an" } else { "a" };
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
            Self::Speed => "speed",
            Self::Acceleration => "acceleration",
            Self::Time => "time",
            Self::Damping => "damper coefficient",
            Self::CorneringStiffness => "cornering stiffness",
            Self::Area => "area",
            Self::Inertia => "moment of inertia",
            Self::Density => "density",
            Self::Temperature => "temperature",
            Self::Ratio => "ratio",
        })
    }
}
