//! Quantities as a workshop writes them: parsed from text to SI, converted, and printed in the units the reader
//! chose. The crate knows no cars and no files; it does no IO. Nothing that a person can type makes it panic.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod exact;

mod dimension;
mod named;
mod reading;
mod system;

mod error;
mod nearest;
mod number;
mod parse;
mod phrase;
mod quantity;
mod scanner;
mod table;
mod thread;

pub mod show;

pub use dimension::Dimension;
pub use error::ParseError;
pub use named::{AngleUnit, ForceUnit, LengthUnit, MassUnit};
pub use parse::{from_bare, parse};
pub use reading::Reading;
pub use system::UnitSystem;
