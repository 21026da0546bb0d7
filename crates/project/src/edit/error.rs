//! Why an edit was not made.

use std::fmt;

use serde::{Deserialize, Serialize};
use thiserror::Error;
use units::ParseError;

use crate::diagnostic::Diagnostic;

/// One of the three coordinates of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Coordinate {
    /// Along the car.
    X,
    /// Across it.
    Y,
    /// Up or down.
    Z,
}

impl Coordinate {
    /// All three, in the order of the file.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// Its place in a point.
    pub(crate) fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }
}

impl fmt::Display for Coordinate {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        })
    }
}

/// One mistake in a pasted table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PasteMistake {
    /// Line of the pasted text, from 1.
    pub row: usize,
    /// Cell of that line, from 1: name, x, y, z, accuracy.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub hint: Option<String>,
}

/// Why an edit was not made. Nothing has changed then.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum EditError {
    /// The file's text is not TOML at present, so that nothing in it can be found.
    #[error("the file cannot be read as it is")]
    NotToml {
        /// What is wrong with it.
        diagnostics: Vec<Diagnostic>,
    },
    /// There is no such point, hole, corner, table or key.
    #[error("there is no `{name}` in the file")]
    NotThere {
        /// What was asked for.
        name: String,
        /// What there is.
        hint: Option<String>,
    },
    /// What is there is of another form, such as a table in place of a point.
    #[error("`{name}` is not {wanted}")]
    WrongForm {
        /// What was asked for.
        name: String,
        /// What it should be, in plain words.
        wanted: &'static str,
    },
    /// A place in the car's axes cannot be written: the survey's frame is not known, or the axle cannot be read.
    #[error("where `{name}` is cannot be worked out until the file's errors are mended")]
    NoFrame {
        /// The point.
        name: String,
    },
    /// A place that is no number, or farther away than any part of a car.
    #[error("`{name}` cannot be put there")]
    NoPlace {
        /// The point.
        name: String,
    },
    /// A typed value cannot be read.
    #[error("`{name}`: {source}")]
    Typed {
        /// What it is for.
        name: String,
        /// What is wrong with it, with its place in the text.
        source: ParseError,
    },
    /// A name that cannot be one.
    #[error("a hole needs a name of at least one letter, on one line")]
    BadName,
    /// There is such a hole already.
    #[error("`{point}` has a hole called `{name}` already")]
    HoleExists {
        /// The point.
        point: String,
        /// The hole.
        name: String,
    },
    /// A hole that is to go is used by a setup.
    #[error("the setup `{setup}` uses hole `{name}` of `{point}`")]
    HoleInUse {
        /// The point.
        point: String,
        /// The hole.
        name: String,
        /// The setup that uses it.
        setup: String,
    },
    /// A pasted table has mistakes; all of them are listed.
    #[error("the pasted table has {}", count(.mistakes.len()))]
    Paste {
        /// Every mistake, by row and column.
        mistakes: Vec<PasteMistake>,
    },
    /// Edits within edits within edits.
    #[error("the edits are nested too deeply")]
    TooDeep,
    /// The file would say something wrong that it does not say now.
    #[error("{}", .diagnostics.first().map_or("the file would be wrong", |d| d.message.as_str()))]
    Refused {
        /// The new errors; their places are in `text`.
        diagnostics: Vec<Diagnostic>,
        /// What the file would have been.
        text: String,
    },
}

fn count(mistakes: usize) -> String {
    if mistakes == 1 { "a mistake".into() } else { format!("{mistakes} mistakes") }
}

impl EditError {
    /// What to do instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NotToml { diagnostics } | Self::Refused { diagnostics, .. } => {
                diagnostics.first().and_then(|diagnostic| diagnostic.hint.clone())
            }
            Self::NotThere { hint, .. } => hint.clone(),
            Self::Typed { source, .. } => source.hint(),
            Self::HoleExists { .. } => Some("choose another name".into()),
            Self::HoleInUse { setup, .. } => Some(format!("give `{setup}` another hole first")),
            Self::Paste { mistakes } => mistakes.first().and_then(|mistake| mistake.hint.clone()),
            Self::WrongForm { .. }
            | Self::NoFrame { .. }
            | Self::NoPlace { .. }
            | Self::BadName
            | Self::TooDeep => None,
        }
    }
}
