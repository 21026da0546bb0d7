//! The stop as it unfolds: from a steady run into the brakes, in the plane of pitch (left and right alike).
//!
//! Generalised coordinates: place and height of the body's origin over the road, pitch, travel of the front and of the
//! rear wheels; beside them the turning of the wheels and the slip that has built up. Every force enters by its virtual
//! power, with the velocities per travel of the real linkage (Lagrange's equations with quasi-velocities only for the
//! wheels' turning; *own* arrangement of what any text on dynamics has):
//!
//! ```text
//! sum m J'J a = Q - sum m J' (dJ/dt) v          a: accelerations, J: velocity of each mass per coordinate
//! F . v_C + M . w - (M . s)(s . w) + T s . w    part of Q along one wheel's travel, brake on the upright
//! F . v_C + M . w - (M . s)(s . w)              the same, brake on the body
//! I dO/dt = M . s - T                           the wheel about its own axis s
//! l dk/dt = O r_e - v_x - |v_x| k               the slip k follows as the tyre rolls
//! ```
//!
//! So a brake's reaction, the side-view arm and the wheel's own way back and forth are no formulas of their own.
//! Simplifications: an upright has the mass of its corner at the wheel centre and no turning inertia of its own but the
//! wheel's about its axis; links are rigid; the rolling radius is `r_free - squash/3` (common practice); gyroscopic
//! moments of a leaning axis are left out; before the pedal the car rolls freely, with the air alone to slow it.

#![allow(
    clippy::indexing_slicing,
    reason = "two axles, fixed states and table nodes: indices run over arrays of known length"
)]

mod axle;
mod hop;
pub(crate) mod integrate;
mod margin;
mod model;
mod run;
mod steady;
mod table;

use thiserror::Error;

use crate::error::VehicleError;
use crate::platform::PlatformError;
use crate::tyre::Tyre;

pub use hop::Hop;
pub use margin::{HopEnd, HopMargin, MOST_FACTOR};
pub use model::Stopper;
pub use run::{Press, Sample, Stopped, Summary};
pub use steady::Steady;

/// Relaxation length along the wheel where nothing better is known [m]: about half the radius (common practice for
/// road tyres; side slip needs two to three times as much).
pub const RELAXATION: f64 = 0.15;

/// A damper at one wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Damper {
    /// Index of its element in the corner.
    pub element: usize,
    /// Force per speed while it shortens [N s/m].
    pub bump: f64,
    /// Force per speed while it lengthens [N s/m].
    pub rebound: f64,
}

/// What an axle has beside its rig when it moves.
#[derive(Clone, Debug)]
pub struct Rolling<'t> {
    /// The tyre along; its vertical rate is the rig's.
    pub tyre: &'t Tyre,
    /// Moment of inertia of one wheel with what turns with it about its axis [kg m^2].
    pub spin_inertia: f64,
    /// Relaxation length along the wheel [m]; [`RELAXATION`] where nothing better is known.
    pub relaxation: f64,
    /// Dampers of one wheel.
    pub dampers: Vec<Damper>,
}

/// Why a stop cannot be computed.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PedalError {
    /// The car does not stand.
    #[error(transparent)]
    Platform(#[from] PlatformError),
    /// A figure that no car or stop has.
    #[error(transparent)]
    Figure(#[from] VehicleError),
    /// The linkage cannot move about ride height.
    #[error("the {axle} wheels cannot move a centimetre up and down from ride height")]
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
    /// No steady braking.
    #[error("no steady braking at these torques: a wheel locks or leaves the road")]
    NotSteady,
    /// The motion could not be followed.
    #[error("the motion could not be followed beyond {time:.3} s")]
    Lost {
        /// Where it ended [s].
        time: f64,
    },
    /// The rear wheel does not swing.
    #[error("the rear wheels do not swing: their dampers let no oscillation through")]
    NoSwing,
}
