//! Will it hold: from the forces of the road to the forces in links and pickups, what those do to links, bolts, tabs
//! and welds, and to the frame that the pickups hang from.
//!
//! [`load`] takes the forces of the road through the linkage, [`section`] and [`grade`] say what a part is, [`part`] checks
//! one part under one load, [`frame`] solves the space frame, [`stock`] holds the sizes that can be bought. Every check is a
//! [`Check`] with its demand, its capacity, formula and source. SI, ISO 8855 axes. Knows no files and no cars.

#![allow(rustdoc::broken_intra_doc_links, reason = "units stand in brackets")]
#![cfg_attr(not(test), deny(clippy::indexing_slicing))]

mod check;
mod error;
pub mod frame;
pub mod grade;
pub mod load;
pub mod part;
pub mod section;
pub mod stock;

pub use check::{Check, Failure, Measure, Term};
pub use error::SteelError;
