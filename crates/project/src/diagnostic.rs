//! What is wrong or doubtful in a file, and where.

use std::cell::{Cell, RefCell};
use std::ops::Range;

/// How much a diagnostic matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Wrong: something in the file was not used.
    Error,
    /// Read as written, but probably a slip.
    Warning,
    /// Something the reader assumed.
    Note,
}

/// One thing to tell the person who wrote the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong: lower case, no full stop, names in backticks.
    pub message: String,
    /// Bytes of the file it is about; on character boundaries.
    pub span: Option<Range<usize>>,
    /// What to write instead.
    pub hint: Option<String>,
}

/// Line and column, both from 1, of a byte offset; the column counts characters. An offset past the end, or
/// inside a character, counts as the nearest place before it.
pub fn line_column(text: &str, offset: usize) -> (usize, usize) {
    let before = text.get(..floor(text, offset)).unwrap_or(text);
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
    (line, before.get(start..).map_or(0, |rest| rest.chars().count()) + 1)
}

/// The greatest character boundary that is not past `offset`.
fn floor(text: &str, offset: usize) -> usize {
    (0..=offset.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}

/// Collects diagnostics while a file is read; cloned nowhere, shared by every table of the file.
pub(crate) struct Sink<'t> {
    text: &'t str,
    found: RefCell<Vec<Diagnostic>>,
    unusable: Cell<bool>,
}

impl<'t> Sink<'t> {
    pub(crate) fn new(text: &'t str) -> Self {
        Self { text, found: RefCell::default(), unusable: Cell::new(false) }
    }

    /// The file as written.
    pub(crate) fn text(&self) -> &'t str {
        self.text
    }

    /// Line of the start of a span.
    pub(crate) fn line(&self, span: &Range<usize>) -> usize {
        line_column(self.text, span.start).0
    }

    pub(crate) fn error(&self, span: &Range<usize>, message: String, hint: impl Into<Option<String>>) {
        self.push(Severity::Error, span, message, hint.into());
    }

    /// An error that leaves no number in the file with a meaning: there will be no car.
    pub(crate) fn fatal(&self, span: &Range<usize>, message: String, hint: impl Into<Option<String>>) {
        self.give_up();
        self.push(Severity::Error, span, message, hint.into());
    }

    /// There will be no car: an error that has been told leaves no number in the file with a meaning.
    pub(crate) fn give_up(&self) {
        self.unusable.set(true);
    }

    pub(crate) fn warning(&self, span: &Range<usize>, message: String, hint: impl Into<Option<String>>) {
        self.push(Severity::Warning, span, message, hint.into());
    }

    pub(crate) fn note(&self, span: &Range<usize>, message: String, hint: impl Into<Option<String>>) {
        self.push(Severity::Note, span, message, hint.into());
    }

    fn push(&self, severity: Severity, span: &Range<usize>, message: String, hint: Option<String>) {
        let start = floor(self.text, span.start);
        let end = floor(self.text, span.end).max(start);
        self.found.borrow_mut().push(Diagnostic { severity, message, span: Some(start..end), hint });
    }

    /// Whether a fatal error was met.
    pub(crate) fn unusable(&self) -> bool {
        self.unusable.get()
    }

    /// Everything found, in the order of the file.
    pub(crate) fn into_diagnostics(self) -> Vec<Diagnostic> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|d| (d.span.as_ref().map_or(0, |span| span.start), d.severity));
        found.dedup();
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, offset: usize, expect: (usize, usize)) {
        assert_eq!(line_column(text, offset), expect);
    }

    #[test]
    fn counts_lines_and_characters_from_one() {
        check("", 0, (1, 1));
        check("ab\ncd", 0, (1, 1));
        check("ab\ncd", 2, (1, 3));
        check("ab\ncd", 3, (2, 1));
        check("\u{b1}\u{b1}x", 4, (1, 3));
        check("\u{b1}\u{b1}x", 3, (1, 2));
        check("ab\r\ncd", 5, (2, 2));
        check("ab", 99, (1, 3));
    }
}
