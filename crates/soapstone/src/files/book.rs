//! The book's file.

use paper::book::{BookSpec, book};
use paper::pdf::pdf;
use paper::sheet::Paper;
use project::Diagnostic;
use project::model::Car;

use super::FileError;
use crate::print;

/// What a book is made of beside the car.
pub(crate) struct BookWanted<'a> {
    /// The car file's text.
    pub text: &'a str,
    /// What is to be said of it.
    pub diagnostics: &'a [Diagnostic],
    /// What is in the printer.
    pub paper: Paper,
    /// Today unless stated.
    pub date: Option<String>,
    /// A mark of the text unless stated.
    pub revision: Option<String>,
}

/// The book as PDF, and its number of pages.
pub(crate) fn book_file(
    car: &Car,
    wanted: &BookWanted<'_>,
    progress: impl FnMut(usize, usize),
) -> Result<(Vec<u8>, usize), FileError> {
    let spec = BookSpec {
        date: wanted.date.clone().unwrap_or_else(print::today),
        revision: wanted.revision.clone().unwrap_or_else(|| print::mark(wanted.text)),
        paper: wanted.paper,
        text: wanted.text,
        diagnostics: wanted.diagnostics,
    };
    let fonts = print::fonts();
    let document = book(car, &spec, fonts, progress);
    Ok((pdf(&document, fonts)?, document.len()))
}
