//! Positions, screws, reactions and freedoms of rigid bodies joined by rods, balls, hinges and slides. Knows no
//! cars.
//!
//! A [`Linkage`] is built in its design place; a [`Solver`] moves it along its inputs and differentiates it
//! there; [`freedoms`] says whether its joints hold it; [`reactions`] gives the forces in them.

#![allow(rustdoc::broken_intra_doc_links, reason = "units stand in brackets")]

pub mod scalar;

mod error;
mod factor;
mod frame;
mod freedom;
mod model;
mod pose;
mod reaction;
mod row;
mod sensitivity;
mod singular;
mod six;
mod solver;
mod state;

pub use error::{BuildError, StopReason, Unreachable};
pub use factor::Factor;
pub use frame::Frame;
pub use freedom::{FreeMotion, Freedoms, NEAR_TOLERANCE, RANK_TOLERANCE, freedoms, rods_on_one_line};
pub use model::{Joint, LARGEST_COORDINATE, LEAST_LENGTH, Linkage, usable};
pub use num_dual::Dual64;
pub use pose::{Acceleration, PointMotion, Pose, Twist};
pub use reaction::{Loads, Reactions, Wrench, reactions};
pub use row::Row;
pub use sensitivity::Course;
pub use solver::{Effort, Solver};
pub use state::{Curvature, End, Frames, Motion, Position};
