//! What was weighed, and what came out of the car and went in.

use std::ops::Range;

use nalgebra::Vector3;

use super::{End, SurveyPoint, Value};

/// Everything that the file says about weights.
#[derive(Clone, Debug)]
pub struct Weighing {
    /// The four scales under the level car, where the file has them.
    pub level: Option<LevelScales>,
    /// The scales with one end raised.
    pub raised: Option<RaisedScales>,
    /// Height of the centre of gravity as `[car]` states it \[m\]: that of the car as it was weighed.
    pub stated_height: Option<Value>,
    /// Whether the driver sat in the car while it was weighed.
    pub driver_in: bool,
    /// Share of a full tank that was in the car while it was weighed \[0..1\].
    pub fuel_in: Value,
    /// Springs and tyres at the front.
    pub front: EndRates,
    /// Springs and tyres at the rear.
    pub rear: EndRates,
    /// Parts taken out since the car was weighed.
    pub parts_out: Vec<Part>,
    /// Parts put in.
    pub parts_in: Vec<Part>,
    /// The driver in his seat.
    pub driver: Option<Part>,
    /// A full tank.
    pub fuel: Option<Part>,
    /// Share of a full tank with which the car is judged \[0..1\].
    pub fuel_share: Value,
    /// What is known of the inertia of the car as it was weighed.
    pub inertia: Gyration,
    /// Corner weights to aim at.
    pub wish: Option<Wish>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// Four scales under the level car.
#[derive(Clone, Debug)]
pub struct LevelScales {
    /// Front left, front right, rear left, rear right \[kg\].
    pub scales: [Value; 4],
    /// Wheelbase as weighed, where it was another one \[m\].
    pub wheelbase: Option<Value>,
    /// Front track at the contact points as weighed, where it was another one \[m\].
    pub front_track: Option<Value>,
    /// Rear track likewise \[m\].
    pub rear_track: Option<Value>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// How a lift was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LiftReading {
    /// Tilt of the body \[rad\].
    Angle(Value),
    /// Height of the pads under the tyres of the raised end \[m\].
    Pads(Value),
    /// Rise of the raised wheel centres above the floor \[m\].
    Hubs(Value),
}

/// Which wheels could not turn while one end was raised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// None.
    Free,
    /// Those of one axle.
    OneAxle,
    /// All of them.
    All,
}

/// Scales with one end raised; each reading is of both wheels of an axle.
#[derive(Clone, Debug)]
pub struct RaisedScales {
    /// The end that was raised.
    pub end: End,
    /// By how much.
    pub lift: LiftReading,
    /// Under the low end \[kg\].
    pub low: Option<Value>,
    /// Under the raised end \[kg\].
    pub high: Option<Value>,
    /// Wheels that could not turn.
    pub held: Held,
    /// Suspension blocked.
    pub locked: bool,
    /// Place in the file.
    pub span: Range<usize>,
}

/// Springs, tyres and unsprung mass at one end of the car, a wheel each.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndRates {
    /// Unsprung mass of one wheel \[kg\].
    pub unsprung: Option<Value>,
    /// Vertical rate of one tyre \[N/m\].
    pub tyre_rate: Option<Value>,
    /// Rate of the spring at one wheel \[N/m\].
    pub wheel_rate: Option<Value>,
    /// Spring travel per wheel travel.
    pub motion_ratio: Option<Value>,
    /// Rate of the anti-roll bar at one wheel, the other at rest \[N/m\].
    pub bar_rate: Option<Value>,
    /// Rise of the spring perch for one turn \[m\].
    pub perch: Option<Value>,
}

/// A part with its mass and the place of its centre.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its name in the file.
    pub name: String,
    /// Mass \[kg\].
    pub mass: Value,
    /// Centre of gravity in the car's axes; on its own side of the car, never mirrored.
    pub at: SurveyPoint,
    /// Length, width and height, where stated \[m\].
    pub size: Option<Vector3<f64>>,
    /// Place in the file.
    pub span: Range<usize>,
}

/// Measured radii of gyration about the centre of gravity, and the body's size for those that are estimated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gyration {
    /// About the upright axis \[m\].
    pub yaw: Option<Value>,
    /// About the axis across the car \[m\].
    pub pitch: Option<Value>,
    /// About the axis along the car \[m\].
    pub roll: Option<Value>,
    /// Width over the body \[m\].
    pub width: Option<Value>,
    /// Height of the body over its floor \[m\].
    pub height: Option<Value>,
}

/// Corner weights to aim at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wish {
    /// Share of the car on front right and rear left \[0..1\].
    Cross(f64),
    /// Front left, front right, rear left, rear right \[kg\].
    Corners([f64; 4]),
}
