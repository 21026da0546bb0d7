//! The kinematics of every kind against data that we did not compute with this code: SciPy, EXUDYN,
//! tables of a textbook and of a benchmark, closed forms. The scripts are in `reference/`.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod benchmark_axle;
mod closed_forms;
mod corners;
mod support;
mod tables;
