//! Soapstone in the terminal: where the pickups go, what the car does with them there.

mod cli;
mod json;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
