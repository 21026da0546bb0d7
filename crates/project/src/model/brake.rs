//! Brake parts from the pedal to the disc, and the stop that is looked at.

use std::ops::Range;

use super::Value;

/// Pedal and master cylinders.
#[derive(Clone, Debug, PartialEq)]
pub struct PedalReading {
    /// Rod force per pedal force.
    pub ratio: Value,
    /// Share that friction leaves.
    pub efficiency: Value,
    /// How the rod's force is shared.
    pub masters: Masters,
    /// Proportioning valve in the rear line.
    pub valve: Option<ValveReading>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// Master cylinders.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Masters {
    /// Two cylinders on a bias bar.
    Bar {
        /// Bore of the front one \[m\].
        front: Value,
        /// Bore of the rear one \[m\].
        rear: Value,
        /// Share of the rod force on the front one \[0..1\].
        share: Value,
    },
    /// A tandem cylinder of one bore \[m\]: the same pressure in both circuits.
    Tandem(Value),
}

/// A proportioning valve: full pressure up to the knee, then a slope.
#[derive(Clone, Debug, PartialEq)]
pub struct ValveReading {
    /// Knee \[Pa\].
    pub knee: Value,
    /// Outlet rise per inlet rise beyond it.
    pub slope: Value,
    /// Place in the file.
    pub span: Range<usize>,
}

/// The brake of one wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct BrakeReading {
    /// What makes the torque.
    pub maker: TorqueMaker,
    /// Pressure below which nothing moves \[Pa\].
    pub threshold: Value,
    /// Place in the file.
    pub span: Range<usize>,
}

/// What makes the torque.
#[derive(Clone, Debug, PartialEq)]
pub enum TorqueMaker {
    /// A disc.
    Disc {
        /// Bores of all pistons of one caliper \[m\].
        bores: Vec<Value>,
        /// Pistons on one side alone.
        floating: bool,
        /// Calipers a wheel.
        calipers: u32,
        /// Effective radius of the pads \[m\].
        radius: Value,
        /// Pads.
        pads: PadReading,
        /// The disc as a lump that warms, where it is described.
        disc: Option<DiscReading>,
    },
    /// A drum, or anything measured: torque per pressure \[Nm/Pa\].
    Measured(Value),
}

/// Friction of the pads.
#[derive(Clone, Debug, PartialEq)]
pub struct PadReading {
    /// Temperature \[K\] and friction, temperature rising; one row where it is the same at any temperature.
    pub rows: Vec<(f64, f64)>,
    /// Standard uncertainty of every friction.
    pub uncertainty: f64,
}

/// A disc that warms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiscReading {
    /// Mass \[kg\].
    pub mass: Value,
    /// Outer diameter \[m\].
    pub diameter: Value,
    /// Area that cools \[m^2\]; of both faces of the swept ring where not stated.
    pub area: Option<Value>,
    /// Whether it is vented.
    pub vented: bool,
}

/// The stop that is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct StatedStop {
    /// Speed at its start \[m/s\].
    pub from: f64,
    /// Speed at its end \[m/s\].
    pub to: f64,
    /// Deceleration for the attitude, the dip and the reserve \[m/s^2\].
    pub deceleration: f64,
    /// Time in which the pedal goes down \[s\].
    pub rise: f64,
    /// Stops in the sequence for the heat.
    pub repeats: u32,
    /// Time from the end of one stop to the start of the next \[s\].
    pub pause: f64,
    /// Temperature of the air \[K\].
    pub air: f64,
    /// Whether the file states the stop, or it is the one taken where none is.
    pub stated: bool,
    /// Place in the file.
    pub span: Range<usize>,
}

impl Default for StatedStop {
    /// From 160 km/h to 60 km/h at 0.8 g, the pedal down in 0.15 s; ten times, 30 s apart, in air of 20 deg C (own).
    fn default() -> Self {
        Self {
            from: 160.0 / 3.6,
            to: 60.0 / 3.6,
            deceleration: 0.8 * 9.806_65,
            rise: 0.15,
            repeats: 10,
            pause: 30.0,
            air: 293.15,
            stated: false,
            span: 0..0,
        }
    }
}
