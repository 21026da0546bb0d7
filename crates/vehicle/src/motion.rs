//! The whole car in motion: steered, braked and driven, over time, and the manoeuvres of the open standards.
//!
//! Fourteen freedoms: the body's six, four wheel travels on the real linkages (sampled over travel and rack), four
//! turning wheels; beside them the slip along and across that has built up in each tyre. The body's equations are written
//! in its own axes, with its velocity `v` at the origin and its angular velocity `w`; every force enters by its virtual
//! power, so that anti-features, roll centres, bump steer and a brake's reaction are no formulas of their own (Lagrange's
//! equations in quasi-velocities; *own* arrangement of what any text on dynamics has):
//!
//! ```text
//! c'  = v + w x r + t u + s                    velocity of a wheel centre; u its travel's rate, s the rack's part
//! m (dv/dt + dw/dt x r + t du/dt + b) = F      b = w x v + w x (w x r) + 2 w x (t u + s) + t' u^2 + ...
//! F . t + M . q - (M . e)(e . q) + ...         push along a wheel's travel, q the upright's turning per travel
//! I dO/dt = M . e - brake + drive              the wheel about its own axis e
//! l_x dk/dt = O r_e - v_x - |v_x| k            slip along
//! l_y da/dt = v_y - |v_x| a                    tangent of the slip angle
//! ```
//!
//! The last two are the single-point tyre with constant relaxation lengths (H. Pacejka, Tyre and Vehicle Dynamics, 2nd
//! ed. (2006), ch. 7, remembered); written so, they divide by no speed and stay finite down to rest. `v_x` is the wheel
//! centre's along the wheel's heading, `v_y` that of the point of the upright that stands on the road, across it.
//!
//! Nothing is taken for small. Simplifications: links are rigid; an upright has the mass of its corner at the wheel
//! centre and no turning inertia of its own but the wheel's about its axis; gyroscopic moments of leaning and steered
//! wheels are left out; the tyre is a spring square to the road, touches it at the lowest point of the disc, and rolls on
//! `r_free - squash/3` (common practice); no rolling resistance; the air pushes along the car's heading whatever its side
//! slip; the road is level. A wheel may leave the road: its tyre then gives nothing. A tyre's set is taken for the left
//! wheel's; the right one is its mirror image.

#![allow(
    clippy::indexing_slicing,
    reason = "four wheels, two axles, fixed states and table nodes: indices run over arrays of known length"
)]

mod axle;
mod control;
mod find;
mod manoeuvre;
mod matrix;
mod model;
mod run;
mod steady;
mod summary;
mod table;

#[cfg(test)]
mod statics_tests;

use thiserror::Error;

use crate::error::VehicleError;
use crate::pedal;
use crate::platform::PlatformError;

pub use manoeuvre::{BrakingInTurn, Manoeuvre, SteadyTurn, StepSteer, StraightStop};
pub use model::Runner;
pub use run::{Flags, Run, Sample};
pub use steady::{Demand, Steady};
pub use summary::{BrakedTurn, Limit, Response, Stop, Summary, Turn};

/// Relaxation length across where nothing better is known [m]: some 1.5 radii (common practice for road tyres).
pub const RELAXATION_ACROSS: f64 = 0.45;

/// What an axle has beside its rig when it moves.
#[derive(Clone, Debug)]
pub struct Rolling<'t> {
    /// As for a stop in the plane of pitch.
    pub along: pedal::Rolling<'t>,
    /// Relaxation length across [m]; [`RELAXATION_ACROSS`] where nothing better is known.
    pub across: f64,
}

/// How far the front wheels are steered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steer {
    /// Greatest travel of the rack to each side for which the front corners are sampled [m]; zero for a car that is not
    /// steered.
    pub most_rack: f64,
}

/// Why a motion cannot be computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MotionError {
    /// The car does not stand.
    #[error(transparent)]
    Platform(#[from] PlatformError),
    /// A figure that no car or manoeuvre has.
    #[error(transparent)]
    Figure(#[from] VehicleError),
    /// The linkage cannot move about ride height.
    #[error(
        "the {axle} wheels cannot move a centimetre up and down from ride height at every place of the rack: give \
         the rack less travel, or check the points"
    )]
    Stuck {
        /// Which axle.
        axle: &'static str,
    },
    /// A damper on an element that the corner does not have.
    #[error("the {axle} corner has no element {element} for a damper")]
    NoElement {
        /// Which axle.
        axle: &'static str,
        /// The index asked for.
        element: usize,
    },
    /// More springs, stops, dampers and bar links than are followed.
    #[error("the {axle} corner has more than {most} springs, stops, dampers and bar links")]
    TooMany {
        /// Which axle.
        axle: &'static str,
        /// How many are followed.
        most: usize,
    },
    /// The rack does not turn the front wheels, or not so far.
    #[error(
        "the rack does not turn the front wheels by {angle_deg:.2} deg: check its travel and the tie rods"
    )]
    NotSteered {
        /// Mean road-wheel angle asked for [deg].
        angle_deg: f64,
    },
    /// No steady motion.
    #[error(
        "no steady motion at {speed:.1} m/s with {along:.2} m/s^2 along and {across:.2} m/s^2 across: it is beyond \
         what the tyres give, or the rack does not reach"
    )]
    NotSteady {
        /// Speed [m/s].
        speed: f64,
        /// Longitudinal acceleration [m/s^2].
        along: f64,
        /// Lateral acceleration [m/s^2].
        across: f64,
    },
    /// The motion could not be followed.
    #[error("the motion could not be followed beyond {time:.3} s")]
    Lost {
        /// Where it ended [s].
        time: f64,
    },
}
