//! Corners and axles of a car from hard points: wheel motion, anti-features, motion ratios.
//!
//! A [`scheme::Scheme`] says how a corner is joined, a [`Corner`] gives it coordinates, a [`Mover`] moves it,
//! [`Measures`] are what the wheel does there. [`diagnose`] says in plain words whether the joints hold it.

#![allow(rustdoc::broken_intra_doc_links, reason = "units stand in brackets")]

pub mod kinds;
pub mod scheme;

mod anti;
mod axle;
mod corner;
mod diagnose;
mod measures;
mod mover;
mod steering;
mod wheel;

pub use anti::{AxleEnd, TorqueReaction, anti, slope};
pub use axle::{AxleMover, AxleState, LEAST_CROSSING, MOST_ROLL, RollCentre};
pub use corner::{Corner, RACK_TRAVEL, Span, TRAVEL, TRAVEL_DRIVE};
pub use diagnose::{Finding, diagnose};
pub use measures::{Measures, Ratio, WheelRate, angle_rates};
pub use mover::Mover;
pub use steering::{AxisSource, SteeringAxis, steering_axis};
pub use wheel::{LARGEST_ANGLE, Wheel};
