//! The car file: one TOML file a car, written by hand. [`read`] turns its text into a [`model::Car`] in SI and
//! ISO 8855 axes, and lists everything that is wrong or doubtful with its place. This is the only crate that
//! knows the file; it opens none and prints nothing.

mod car;
mod reader;
mod suggest;
mod syntax;
mod vocabulary;

pub mod frame;
pub mod model;

mod axle;
mod diagnostic;
mod entry;
mod point;
mod setup;
mod slips;
mod starter;
mod survey;

pub use car::{Loaded, read};
pub use diagnostic::{Diagnostic, Severity, line_column};
pub use starter::{KINDS, starter};
