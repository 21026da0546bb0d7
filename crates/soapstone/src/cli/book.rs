//! The book of a car as one PDF.

use super::args::{BookArgs, PaperName};
use super::progress::Progress;
use super::{Failure, load, output};
use crate::print;

pub(crate) fn run(args: &BookArgs) -> Result<(), Failure> {
    let file = load::read_whole(args.car.as_deref())?;
    let mark = print::mark(&file.text);
    let car = load::usable(&file)?;
    let to_terminal = args.output.as_os_str() == "-";
    // Looked at before the work, so that nobody waits for a refusal.
    if !to_terminal && !args.force && args.output.exists() {
        return Err(Failure::with_hint(
            format!("`{}` is there already", args.output.display()),
            "it is left as it is; give another name, or `--force`",
        ));
    }
    let paper = match args.paper {
        PaperName::A4 => paper::sheet::Paper::A4,
        PaperName::Letter => paper::sheet::Paper::Letter,
    };
    let spec = paper::book::BookSpec {
        date: args.date.clone().unwrap_or_else(print::today),
        revision: args.revision.clone().unwrap_or(mark),
        paper,
        text: &file.text,
        diagnostics: &file.diagnostics,
    };
    let mut progress = Progress::new("making the book");
    let fonts = print::fonts();
    let document = paper::book::book(car, &spec, fonts, |done, total| progress.at(done, total));
    let bytes = paper::pdf::pdf(&document, fonts).map_err(|e| Failure::input(e.to_string()))?;
    drop(progress);
    if to_terminal {
        return output::bytes(&bytes);
    }
    std::fs::write(&args.output, &bytes).map_err(|e| {
        Failure::with_hint(
            format!("cannot write `{}`: {e}", args.output.display()),
            "give a path that can be written",
        )
    })?;
    output::text(&format!("wrote {}: {} pages\n", args.output.display(), document.len()))
}
