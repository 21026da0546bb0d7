//! The car file: one TOML file a car, written by hand. [`read`] turns its text into a [`model::Car`] in SI and
//! ISO 8855 axes, and lists everything that is wrong or doubtful with its place. This is the only crate that
//! knows the file; it opens none and prints nothing.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod edit;
pub mod frame;
pub mod model;
pub mod store;

mod car;
mod head;
mod survey;

mod air;
mod axle;
mod brake;
mod build;
mod drive;
mod jig;
mod point;
mod setup;
mod slips;
mod tyre;
mod weigh;

mod diagnostic;
mod entry;
mod reader;
mod source;
mod suggest;
mod syntax;
mod vocabulary;

mod starter;

pub use car::{Loaded, read};
pub use diagnostic::{Diagnostic, Severity, line_column};
pub use drive::{attach, centre_rows};
pub use starter::{Beginning, KINDS, blank, starter, starter_axle};
