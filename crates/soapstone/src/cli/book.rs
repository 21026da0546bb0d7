//! The book of a car as one PDF.

use super::args::BookArgs;
use super::progress::Progress;
use super::{Failure, file, load};
use crate::files::{BookWanted, Kind, book_file};

pub(crate) fn run(args: &BookArgs) -> Result<(), Failure> {
    file::kind(&args.output, &[Kind::Pdf])?;
    // Looked at before the work, so that nobody waits for a refusal.
    file::may_write(&args.output, args.file.force)?;
    let source = load::read_whole(args.car.as_deref())?;
    let car = load::usable(&source)?;
    let wanted = BookWanted {
        text: &source.text,
        diagnostics: &source.diagnostics,
        paper: file::paper(&args.file, car),
        date: args.date.clone(),
        revision: args.revision.clone(),
    };
    let progress = Progress::new("making the book");
    let (bytes, pages) = book_file(car, &wanted, |done, total| progress.at(done, total))?;
    drop(progress);
    file::write(&args.output, &bytes, args.file.force)?;
    file::wrote(&args.output, &format!("{pages} pages\n"))
}
