//! A table as it goes out, and the guard on what a spreadsheet would take for a formula.

mod csv_out;
mod xlsx_out;

pub use csv_out::{Separator, csv_text};
pub use xlsx_out::xlsx_bytes;

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing.
    Empty,
    /// Words; never a formula.
    Text(String),
    /// A number, shown with the decimals of its column; one that is not finite is left empty.
    Number(f64),
}

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Heading, with the unit: `x [mm]`.
    pub heading: String,
    /// Width in letters of the ordinary size; `None` fits the longest text.
    pub width: Option<f64>,
    /// Decimals that numbers are shown with. XLSX keeps the number as it is; CSV rounds it to as many.
    pub decimals: u8,
}

/// One sheet: a row of headings, then the rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows. A row may have fewer cells than there are columns, not more.
    pub rows: Vec<Vec<Cell>>,
    /// What stands below the table, a line each: cautions, where the figures come from.
    pub notes: Vec<String>,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        if text.is_empty() { Self::Empty } else { Self::Text(text.to_string()) }
    }
}

impl From<f64> for Cell {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

/// What a spreadsheet takes for the beginning of a formula, or passes over before one.
const BEGINS_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// Whether a spreadsheet would take a text for a formula.
fn is_like_formula(text: &str) -> bool {
    text.starts_with(BEGINS_FORMULA)
}

/// A text so that a spreadsheet takes it for words: with an apostrophe before what would begin a formula. (OWASP,
/// "CSV Injection"; remembered.) A text that has apostrophes there already gets one more, so that
/// [`unguarded`] gives back what was.
fn guarded(text: &str) -> String {
    let bare = text.trim_start_matches('\'');
    if is_like_formula(bare) { format!("'{text}") } else { text.to_string() }
}

/// The text that was guarded.
pub(crate) fn unguarded(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if is_like_formula(rest.trim_start_matches('\'')) => rest,
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_guarded_and_given_back() {
        for text in ["=1+1", "+1", "-2", "@x", "\t=1", "'=1", "''-1"] {
            assert!(guarded(text).starts_with('\''), "{text}");
            assert_eq!(unguarded(&guarded(text)), text);
        }
        for text in ["plain", "5' 2\"", "'quoted'", "", "± 2"] {
            assert_eq!(guarded(text), text);
            assert_eq!(unguarded(text), text);
        }
    }
}
