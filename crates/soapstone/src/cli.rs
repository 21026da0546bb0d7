//! Commands, their arguments, and what happens when one fails.

mod args;
mod book;
mod build;
mod card;
mod check;
mod choose;
mod drive;
mod explain;
mod export;
mod file;
mod flow;
pub(crate) mod holes;
mod import;
mod jig;
mod load;
mod new;
mod open;
mod output;
mod progress;
mod search;
pub(crate) mod select;
mod stage;
mod sweep;
mod table;
mod template;
mod weigh;

use std::process::ExitCode;

use clap::{CommandFactory, Parser};

use args::{Args, Command};

use crate::stage::Which;

#[cfg(test)]
pub(crate) use load::DEMO;
pub(crate) use load::beside;

/// The program could not write its output.
const EXIT_FAILED: u8 = 1;

/// What was given cannot be worked with: a wrong argument, file or figure.
const EXIT_WRONG_INPUT: u8 = 2;

/// Why a command stopped.
#[derive(Debug)]
pub(crate) enum Failure {
    /// Wrong input, with a hint where there is one.
    Input {
        /// What is wrong.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
    /// Wrong input that has been reported in full already.
    Reported,
    /// Output could not be written.
    Output(std::io::Error),
}

impl Failure {
    pub(crate) fn input(message: impl Into<String>) -> Self {
        Self::Input { message: message.into(), hint: None }
    }

    /// What is wrong, and what to do, in one line.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::Input { message, hint: Some(hint) } => format!("{message}: {hint}"),
            Self::Input { message, hint: None } => message.clone(),
            Self::Reported => "the file has mistakes".into(),
            Self::Output(error) => error.to_string(),
        }
    }

    pub(crate) fn with_hint(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Input { message: message.into(), hint: Some(hint.into()) }
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<crate::files::FileError> for Failure {
    fn from(error: crate::files::FileError) -> Self {
        Self::Input { message: error.to_string(), hint: error.hint() }
    }
}

impl From<study::WeighError> for Failure {
    fn from(error: study::WeighError) -> Self {
        Self::Input { message: error.to_string(), hint: Some(error.hint()) }
    }
}

impl From<study::StudyError> for Failure {
    fn from(error: study::StudyError) -> Self {
        let hint = match &error {
            study::StudyError::Held { hint, .. } => hint.clone(),
            _ => None,
        };
        Self::Input { message: error.to_string(), hint }
    }
}

/// Runs the command given on the command line.
pub(crate) fn run() -> ExitCode {
    let args = Args::parse();
    let done = match args.command {
        None => open::demo(),
        Some(Command::Open(a)) => open::run(&a),
        Some(Command::Choose(a)) => choose::run(&a),
        Some(Command::Sweep(a)) => sweep::run(&a),
        Some(Command::Weigh(a)) => weigh::run(&a),
        Some(Command::Stop(a)) => stage::run(Which::Stop, &a),
        Some(Command::Balance(a)) => stage::run(Which::Balance, &a),
        Some(Command::Drive(a)) => drive::run(&a),
        Some(Command::Manoeuvres(a)) => drive::manoeuvres(&a),
        Some(Command::Search(a)) => search::run(&a),
        Some(Command::Merge(a)) => search::merge(&a),
        Some(Command::Build(a)) => build::run(&a),
        Some(Command::Book(a)) => book::run(&a),
        Some(Command::Holes(a)) => holes::run(&a),
        Some(Command::Jig(a)) => jig::run(&a),
        Some(Command::Card(a)) => card::run(&a),
        Some(Command::Template(a)) => template::run(&a),
        Some(Command::Export(a)) => export::run(&a),
        Some(Command::Import(a)) => import::run(&a),
        Some(Command::Check(a)) => check::run(&a),
        Some(Command::Explain(a)) => explain::run(&a),
        Some(Command::New(a)) => new::run(&a),
        Some(Command::Completions { shell }) => {
            let mut command = Args::command();
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut command, "soapstone", &mut script);
            output::bytes(&script)
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever reads our output has closed it: that is their way to say "enough".
        Err(Failure::Output(e)) if e.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(Failure::Output(e)) => {
            output::complain(&format!("cannot write the output: {e}"), None);
            ExitCode::from(EXIT_FAILED)
        }
        Err(Failure::Reported) => ExitCode::from(EXIT_WRONG_INPUT),
        Err(Failure::Input { message, hint }) => {
            output::complain(&message, hint.as_deref());
            ExitCode::from(EXIT_WRONG_INPUT)
        }
    }
}
