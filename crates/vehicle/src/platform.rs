//! The whole car's equilibrium with its real linkages: attitude, wheel travels and loads under any speed,
//! longitudinal and lateral acceleration.
//!
//! The body stands still and the road moves, as in `suspension`. Seven unknowns: height `h` of the road under the
//! body's origin, its pitch and roll, and the travel of each wheel. Seven balances: the vertical force and the
//! pitch and roll moments of the whole car, and for each wheel the virtual work of everything that acts along its
//! travel (the same Jacobian that gives its velocity gives its forces):
//!
//! ```text
//! F . v_C + M . w + m_u (g - a) . v_C = sum F_s MR + stops + bar        per unit travel
//! ```
//!
//! `F` is the force of the road on the tyre, `M = (P - C) x F` its moment about the wheel centre `C`, without the
//! part about the spin axis where the body reacts that torque (inboard brakes, half-shafts); `v_C` and `w` are the
//! upright's velocity and angular velocity per unit travel. Anti-features need no formula of their own: they are
//! `F . v_C + M . w`.
//!
//! The side forces of front and rear are no unknowns: with every force where it acts they hold the car on its line and
//! leave no moment about the vertical. So the whole car is balanced in all six, and does not begin to turn: a steady
//! turn, or a straight run.
//!
//! Where everything is small this is the textbook's `m a h / L` and its shares; tests hold it to that.
//! Simplifications: the tyre is a spring square to the road, with the force at the lowest point of the disc; left and
//! right share an axle's braking or driving force equally and its side force by load; half-shafts run straight.

#![allow(
    clippy::indexing_slicing,
    reason = "four wheels, two axles, seven unknowns: indices run over arrays of that length"
)]

pub(crate) mod road;
mod solve;
pub(crate) mod spot;
mod springs;
mod stand;
pub(crate) mod wheel;

use nalgebra::Vector3;
use suspension::{AxleEnd, Corner, TorqueReaction};
use thiserror::Error;

use crate::aero::{AeroMap, AirForces};
use crate::error::VehicleError;

pub use road::Attitude;
pub use solve::Platform;
pub use springs::{Spring, Stop};
pub use wheel::WheelState;

/// One axle: both wheels are the same, mirrored.
#[derive(Clone, Debug)]
pub struct Rig<'c> {
    /// The left corner.
    pub corner: &'c Corner<f64>,
    /// Front or rear.
    pub end: AxleEnd,
    /// Springs, by the index of their element in the corner.
    pub springs: Vec<(usize, Spring)>,
    /// Bump and rebound stops, by the index of the element that meets them.
    pub stops: Vec<(usize, Stop)>,
    /// Anti-roll bar: index of its link in the corner, and the rate at one end with the other one held [N/m].
    pub bar: Option<(usize, f64)>,
    /// Mass that moves with one wheel [kg], at the wheel centre.
    pub unsprung: f64,
    /// Vertical rate of one tyre [N/m].
    pub tyre_rate: f64,
    /// What reacts the brake torque.
    pub braking: TorqueReaction,
    /// What reacts the drive torque.
    pub driving: TorqueReaction,
}

impl Rig<'_> {
    /// Which axle, in words.
    pub(crate) fn name(&self) -> &'static str {
        match self.end {
            AxleEnd::Front => "front",
            AxleEnd::Rear => "rear",
        }
    }
}

/// A car for the platform.
#[derive(Clone, Debug)]
pub struct Car<'c> {
    /// Front and rear axle.
    pub axles: [Rig<'c>; 2],
    /// Sprung mass [kg].
    pub sprung: f64,
    /// Its centre in the car's axes at ride height [m].
    pub sprung_centre: Vector3<f64>,
    /// Share of the braking force at the front axle.
    pub brake_front: f64,
    /// Share of the driving force at the front axle.
    pub drive_front: f64,
    /// The air, by the body's rise at each axle.
    pub air: Option<AeroMap>,
}

/// What the car is asked to do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Demand {
    /// Speed [m/s].
    pub speed: f64,
    /// Longitudinal acceleration [m/s^2], forward positive.
    pub along: f64,
    /// Lateral acceleration [m/s^2], to the left positive.
    pub across: f64,
    /// Rack travel [m], to the left positive.
    pub rack: f64,
}

/// The car in equilibrium.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Where the road is in the body's axes.
    pub attitude: Attitude,
    /// Front left, front right, rear left, rear right.
    pub wheels: [WheelState; 4],
    /// What the air does.
    pub air: AirForces,
    /// Looks at the linkages that it took.
    pub steps: usize,
}

/// Names of the wheels in the order of [`State::wheels`].
pub const WHEELS: [&str; 4] = ["front left", "front right", "rear left", "rear right"];

/// Why there is no equilibrium, or no car to have one.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlatformError {
    /// A figure that no car has.
    #[error("{what} of the {axle} axle is {value}, which no car has")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// Which axle, or `whole`.
        axle: &'static str,
        /// Its value, SI.
        value: f64,
    },
    /// The axle has no spring that its wheel compresses.
    #[error("nothing carries the {axle} axle: it has no spring that its wheel compresses")]
    NoSpring {
        /// Which axle.
        axle: &'static str,
    },
    /// The centre of gravity is not between the axles.
    #[error("the centre of gravity is not between the axles: the {axle} wheels would carry {load:.0} N")]
    Tips {
        /// The axle without load.
        axle: &'static str,
        /// The load that it would have to have [N].
        load: f64,
    },
    /// A wheel cannot go where the balance wants it.
    #[error("the {wheel} wheel cannot go to {travel:.3} m of travel")]
    Unreachable {
        /// Which wheel.
        wheel: &'static str,
        /// Where it should go [m].
        travel: f64,
    },
    /// A wheel leaves the road: the model holds on four wheels.
    #[error("the {wheel} wheel leaves the road")]
    Lifts {
        /// Which wheel.
        wheel: &'static str,
    },
    /// Air figures that no car has.
    #[error("the air: {0}")]
    Air(VehicleError),
    /// No balance was found.
    #[error("no balance was found: {left:.1} N are left over")]
    Lost {
        /// Largest force left over [N].
        left: f64,
    },
}
