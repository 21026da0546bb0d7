//! The car on its wheels: what it weighs and where, its tyres, how it stops, how it is balanced.
//!
//! [`mass`] finds the centre of gravity and keeps the ledger, [`tyre`] turns slip and load into force, [`brake`]
//! turns the pedal into deceleration and heat, [`balance`] gives rates, load transfer and stability, [`platform`] the
//! equilibrium of the whole car on its real linkages. SI, ISO 8855 axes (x forward, y left, z up, origin on the ground
//! under the middle of the front axle). But for [`platform`] no linkages here: roll-centre heights and motion ratios
//! come in as numbers.

#![allow(rustdoc::broken_intra_doc_links, reason = "units stand in brackets")]
#![cfg_attr(not(test), deny(clippy::indexing_slicing))]

pub mod aero;
pub mod balance;
pub mod brake;
pub mod lap;
pub mod limits;
pub mod mass;
pub mod motion;
pub mod pedal;
pub mod platform;
pub mod power;
pub mod tyre;
pub mod venue;

// So that the cars and tyres of tests and benches stand once, unit tests see the crate as those do.
#[cfg(test)]
extern crate self as vehicle;
#[cfg(test)]
#[path = "../tests/common/mod.rs"]
mod common;

mod error;
mod newton;
mod nodes;
mod root;
mod wheels;

pub use error::{LARGEST, SMALLEST, VehicleError};
pub use suspension::AxleEnd;
pub use wheels::{Corners, Footprint};

/// Standard acceleration of free fall [m/s^2] (3rd General Conference on Weights and Measures, 1901; remembered).
/// Worked examples that use 9.81 or 32.2 ft/s^2 are compared in units of g or with the difference stated.
pub const GRAVITY: f64 = 9.806_65;
