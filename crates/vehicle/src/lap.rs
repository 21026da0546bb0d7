//! A run over a course: the fastest that the car's limits allow, place by place.
//!
//! At every place the path asks for a lateral acceleration, and what the tyres then leave is used along. Quasi-steady: the
//! car is at each place in the balance that it would have if it stayed there. The speed is the greatest that satisfies
//!
//! ```text
//! v <= v_c(s)                        the corner's own limit
//! d(v^2)/ds <= 2 (a_drive + a_g)     on the way out: tyres or engine, whichever is less
//! d(v^2)/ds >= 2 (a_brake + a_g)     on the way in
//! ```
//!
//! found by one pass backward from every place's limit and one forward (for a point mass on a given path this is the optimum
//! of the time-optimal control problem: J. Bobrow, S. Dubowsky & J. Gibson, Int. J. Robotics Res. 4 (1985) 3, remembered).
//! Between places the acceleration is the mean of both ends (Heun's rule). A road that climbs, leans or bends up and down
//! loads the car with `n` times its weight; its limits are then
//!
//! ```text
//! a(v, n) = n a_1(v / sqrt(n))
//! ```
//!
//! since every force in the balance but the air's is multiplied by `n`, and the air's is so at `v sqrt(n)`: exact but for
//! the tyres' load sensitivity to `n` and the springs' rates (at `n` of 1.2 a tyre with a sensitivity of 0.15 has 3 % less).

mod road;
mod run;

pub use road::{LEAST_LOAD, RoadAt};
pub use run::run;

use crate::limits::Held;

/// What limits the car at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Side grip: the corner's own speed.
    Corner,
    /// Grip under the brakes.
    Brakes,
    /// What the driver keeps in hand under the brakes.
    Driver(Held),
    /// Grip under power.
    Traction,
    /// The engine.
    Engine,
    /// A gear change: no drive.
    Change,
    /// The highest speed of the gears.
    Gearing,
    /// A crest: the car would leave the road.
    Crest,
}

/// The car at a place of the course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Time since the start [s].
    pub time: f64,
    /// Speed [m/s].
    pub speed: f64,
    /// Acceleration along the path [m/s^2], gravity's part on a grade included: what the speed does.
    pub along: f64,
    /// Lateral acceleration in the plane of the road that the tyres hold [m/s^2], to the left positive.
    pub across: f64,
    /// Gear, the first being 0.
    pub gear: usize,
    /// What limits it.
    pub bound: Bound,
}

/// A run.
#[derive(Clone, Debug, PartialEq)]
pub struct Lap {
    /// Time from start to finish [s].
    pub time: f64,
    /// At every place of the course.
    pub samples: Vec<Sample>,
    /// Time of each section [s].
    pub sections: Vec<f64>,
    /// Greatest and least speed [m/s].
    pub greatest: f64,
    /// Least speed [m/s].
    pub least: f64,
    /// Gear changes up.
    pub changes: usize,
}

/// How a run begins and ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// Round and round: it ends with the speed with which it began. For a closed course.
    Flying,
    /// From a speed [m/s]; zero is a standing start.
    From(f64),
}
