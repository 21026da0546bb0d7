//! Files that commands write: their ending decides what they are, and none is written over unless that is asked for.

use std::io::{ErrorKind, Write};
use std::path::Path;

use paper::sheet::Paper;
use project::model::Car;

use super::args::{FileArgs, PaperName};
use super::{Failure, output};
use crate::files::{Kind, usual_paper};

/// What a file is to be, by its ending; told with what is known where it is none of these.
pub(super) fn kind(path: &Path, known: &[Kind]) -> Result<Kind, Failure> {
    let ending = path.extension().map(|e| e.to_string_lossy().into_owned()).unwrap_or_default();
    Kind::of(&ending).filter(|kind| known.contains(kind)).ok_or_else(|| {
        let endings: Vec<String> = known.iter().map(|kind| format!("`.{}`", kind.ending())).collect();
        let what = if ending.is_empty() {
            format!("`{}` has no ending that says what it is to be", path.display())
        } else {
            format!("`.{ending}` is not written here")
        };
        Failure::with_hint(what, format!("let the name end in {}", endings.join(", ")))
    })
}

/// The paper that the arguments say, or that the car's owner is likely to have.
pub(super) fn paper(args: &FileArgs, car: &Car) -> Paper {
    match args.paper {
        Some(PaperName::A4) => Paper::A4,
        Some(PaperName::Letter) => Paper::Letter,
        None => usual_paper(car),
    }
}

/// Refuses a file that is there unless it may be written over.
pub(super) fn may_write(path: &Path, force: bool) -> Result<(), Failure> {
    if force || !path.exists() {
        return Ok(());
    }
    let there = std::io::Error::from(ErrorKind::AlreadyExists);
    Err(cannot_write(path, &there))
}

/// Writes a file; one that is there only where that is asked for.
pub(super) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true);
    if force {
        options.create(true).truncate(true);
    } else {
        // Never overwrites, also not a file that appeared a moment ago.
        options.create_new(true);
    }
    let written = options.open(path).and_then(|mut file| file.write_all(bytes));
    written.map_err(|error| cannot_write(path, &error))
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Failure {
    let hint = match error.kind() {
        ErrorKind::AlreadyExists => "it is left as it is; give another name, or `--force` to write over it",
        ErrorKind::NotFound => "the folder is not there; make it first",
        _ => "give a path that can be written",
    };
    Failure::with_hint(format!("cannot write `{}`: {error}", path.display()), hint)
}

/// Says what was written.
pub(super) fn wrote(path: &Path, more: &str) -> Result<(), Failure> {
    output::text(&format!("wrote {}\n{more}", path.display()))
}
