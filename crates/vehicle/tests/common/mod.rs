//! Cars and tyres of tests and benches, each once.
#![allow(dead_code, reason = "no test and no bench uses all of it")]
#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a fixture that cannot be made ends the test"
)]

pub mod courses;
pub mod demo;
pub mod point;
pub mod reference;
pub mod tyres;
