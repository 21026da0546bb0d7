//! What drives the car, what its driver keeps in hand, and where it is driven.

use std::ops::Range;
use std::sync::Arc;

use super::Value;

/// `[engine]`: full-load torque.
#[derive(Clone, Debug, PartialEq)]
pub struct EngineReading {
    /// Engine speed \[rad/s\] and torque \[Nm\], rising in speed.
    pub torque: Vec<(f64, f64)>,
    /// What the torque is multiplied by \[-\]: 1 with the ± of the curve.
    pub scale: Value,
    /// Highest engine speed \[rad/s\].
    pub most: f64,
    /// Place in the file.
    pub span: Range<usize>,
}

/// `[gearbox]`: from the engine to the wheels.
#[derive(Clone, Debug, PartialEq)]
pub struct GearboxReading {
    /// Ratios, the first gear first.
    pub ratios: Vec<f64>,
    /// Ratio of the final drive.
    pub final_drive: f64,
    /// Efficiency from the engine to the wheels \[-\].
    pub efficiency: Value,
    /// Time without drive at a change up \[s\].
    pub shift: Value,
    /// Whether the differential shares torque evenly.
    pub open: bool,
    /// Rolling resistance per load \[-\].
    pub rolling: Value,
    /// Place in the file.
    pub span: Range<usize>,
}

/// `[in-hand]`: shares that the driver keeps while braking.
#[derive(Clone, Debug, PartialEq)]
pub struct InHandReading {
    /// Of the rear axle's side grip \[-\].
    pub rear_reserve: Value,
    /// Of the yaw damping of free running \[-\].
    pub yaw_damping: Value,
    /// Place in the file.
    pub span: Range<usize>,
}

/// `[manoeuvre]`: how the standards' manoeuvres are driven; what is not said is theirs.
#[derive(Clone, Debug, PartialEq)]
pub struct ManoeuvreReading {
    /// Radius of the braked turn \[m\].
    pub turn_radius: Option<f64>,
    /// Its lateral acceleration \[m/s^2\].
    pub turn_across: Option<f64>,
    /// Decelerations that are braked with in it \[m/s^2\].
    pub brakes: Vec<f64>,
    /// Speed of the step of the steering \[m/s\].
    pub step_speed: Option<f64>,
    /// Its lateral acceleration \[m/s^2\].
    pub step_across: Option<f64>,
    /// Radius of the circle on which slopes are taken \[m\].
    pub circle: Option<f64>,
}

/// `[search]`: what may be varied when the best setting is looked for. A range that is not given is not varied.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchReading {
    /// Venues that count; all where empty.
    pub venues: Vec<String>,
    /// What is the same at every venue: names of the keys below, and of air parts.
    pub welded: Vec<String>,
    /// Whether over the candidate holes.
    pub holes: bool,
    /// Front share of the braking force \[-\].
    pub brake_front: Option<(f64, f64)>,
    /// Rate of the front bar over the file's \[-\].
    pub front_bar: Option<(f64, f64)>,
    /// Rate of the rear bar over the file's \[-\].
    pub rear_bar: Option<(f64, f64)>,
    /// Height of the body at the front axle against the file's \[m\].
    pub front_ride: Option<(f64, f64)>,
    /// Height of the body at the rear axle against the file's \[m\].
    pub rear_ride: Option<(f64, f64)>,
    /// Air parts that may be taken off.
    pub without: Vec<String>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// `[aero.part.NAME]`: what a wing, a flat floor, a diffuser adds to the areas.
#[derive(Clone, Debug, PartialEq)]
pub struct AirPart {
    /// Its name.
    pub name: String,
    /// Drag area that it adds \[m^2\].
    pub drag: Value,
    /// Downforce area that it adds at the front \[m^2\].
    pub front: Value,
    /// Downforce area that it adds at the rear \[m^2\].
    pub rear: Value,
    /// Whether it is on the car. The areas of `[aero]` are those of the car with all its parts on.
    pub fitted: bool,
}

/// `[venue.NAME]`: where the car is driven.
#[derive(Clone, Debug, PartialEq)]
pub struct VenueReading {
    /// Its name.
    pub name: String,
    /// The path.
    pub path: PathReading,
    /// Whether the end leads to the start.
    pub closed: bool,
    /// Whether a run begins standing at the line; else it is taken flying.
    pub standing: bool,
    /// Share of the tyres' friction that the surface gives \[-\].
    pub grip: Value,
    /// Width that the car needs \[m\], where the path is found within a width or within gates.
    pub car_width: f64,
    /// Whether the path may use the width that there is; else it is the one that is written.
    pub line: bool,
    /// Place in the file.
    pub span: Range<usize>,
}

/// How a path is written.
#[derive(Clone, Debug, PartialEq)]
pub enum PathReading {
    /// Straights and corners one after the other.
    Pieces(Vec<PieceReading>),
    /// A centreline.
    Points {
        /// Its points.
        rows: Vec<CentreRow>,
        /// Shortest wave of the path that is kept \[m\].
        resolution: f64,
        /// Whether the places are latitude and longitude \[deg\].
        degrees: bool,
    },
    /// A centreline in a file beside the car's.
    File {
        /// Its name.
        file: String,
        /// Shortest wave of the path that is kept \[m\].
        resolution: f64,
        /// What it holds, once it was read; or why it could not be.
        text: Option<Result<Arc<str>, String>>,
    },
    /// Gates of cones.
    Gates(Vec<GateReading>),
}

/// A straight or a corner.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceReading {
    /// Name of the section that begins with it.
    pub name: Option<String>,
    /// What it is.
    pub shape: PieceShape,
    /// Rise per way \[-\].
    pub grade: f64,
    /// Bank \[rad\], leaning into the corner positive (on a straight: to the left).
    pub bank: f64,
    /// Share of friction \[-\].
    pub grip: f64,
    /// Width of the road \[m\].
    pub width: Option<f64>,
}

/// Its shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PieceShape {
    /// A straight of a length \[m\].
    Straight(f64),
    /// A corner.
    Corner {
        /// Least radius \[m\].
        radius: f64,
        /// How far it turns \[rad\], left positive.
        angle: f64,
        /// Length at either end over which the curvature comes and goes \[m\].
        easing: f64,
    },
}

/// A point of a centreline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CentreRow {
    /// x and y \[m\], or latitude and longitude \[deg\].
    pub at: [f64; 2],
    /// Height \[m\].
    pub height: Option<f64>,
    /// Free width to the left and right \[m\].
    pub room: Option<[f64; 2]>,
    /// Bank \[rad\], left side low positive.
    pub bank: Option<f64>,
    /// Share of friction \[-\].
    pub grip: Option<f64>,
    /// Name of the section that begins here.
    pub section: Option<String>,
}

/// A gate of a cone course.
#[derive(Clone, Debug, PartialEq)]
pub struct GateReading {
    /// Name of the section that begins with it.
    pub name: Option<String>,
    /// Left and right cone as one drives \[m\].
    pub cones: [[f64; 2]; 2],
    /// Whether only the left, only the right, or both of them stand there.
    pub standing: [bool; 2],
}
