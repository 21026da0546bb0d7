//! Anti-features: the share of the pitch-producing load transfer that the links carry at steady state.
//!
//! The rule that decides the slope: a torque reacted by the upright (outboard brakes, drive on an axle that
//! carries its final drive) acts with the slope of the contact point; a torque reacted by the body (inboard
//! brakes, drive through half-shafts) acts with the slope of the wheel centre. Sources: J. C. Dixon,
//! Suspension Geometry and Computation (2009), ch. 9; T. D. Gillespie, Fundamentals of Vehicle Dynamics
//! (1992), ch. 7 (both from memory); D. C. Barton & J. D. Fieldhouse, Automotive Chassis Engineering (2018),
//! eq. 3.69 (read).

use linkage::scalar::Real;

use crate::measures::Measures;

/// Which axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AxleEnd {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

/// What reacts a torque about the wheel's axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TorqueReaction {
    /// The upright: outboard brakes; drive on a beam axle that carries its final drive.
    Upright,
    /// The body, through a half-shaft: inboard brakes; drive from a final drive on the body.
    Body,
}

/// The slope with which a longitudinal force at the wheel lifts the body: rise per unit length of the line
/// from the contact point (or wheel centre) to the side-view instant centre, toward the other axle.
pub fn slope<T: Real>(measures: &Measures<T>, end: AxleEnd, reaction: TorqueReaction) -> T {
    let along = match reaction {
        TorqueReaction::Upright => measures.contact_dx_dz(),
        TorqueReaction::Body => measures.centre_dx_dz(),
    };
    match end {
        AxleEnd::Front => along,
        AxleEnd::Rear => -along,
    }
}

/// `share x slope x L / h` [-]; 1 is 100 %. `share` is the axle's share of the braking (driving) force.
/// Braking: anti-dive at the front, anti-lift at the rear. Driving: anti-lift at the front, anti-squat at the
/// rear.
pub fn anti<T: Real>(share: T, slope: T, wheelbase: T, cg_height: T) -> T {
    share * slope * wheelbase / cg_height
}
