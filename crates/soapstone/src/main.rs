//! Soapstone, in the browser and in the terminal: where the pickups go, what the car does with them there.

mod cli;
mod files;
mod json;
mod stage;
mod web;
mod weights;
mod words;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
