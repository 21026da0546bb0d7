//! Soapstone, in the browser and in the terminal: where the pickups go, what the car does with them there.

mod cli;
mod files;
mod json;
mod print;
mod stage;
mod web;

use std::process::ExitCode;

pub(crate) use study::{weights, words};

fn main() -> ExitCode {
    cli::run()
}
