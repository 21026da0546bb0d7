//! The kinematics of every kind against data that we did not compute with this code: SciPy, EXUDYN, published
//! tables and closed forms. The scripts are in `reference/`.

mod benchmark_axle;
mod closed_forms;
mod corners;
mod published;
mod support;
