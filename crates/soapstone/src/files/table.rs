//! Tables as files.

use exchange::{Cell, Column, ExchangeError, Separator, Sheet, csv_text, xlsx_bytes};

use super::{FileError, Kind};

/// Sheets as bytes: XLSX has all of them, CSV the first.
pub(super) fn bytes(sheets: &[Sheet], kind: Kind) -> Result<Vec<u8>, FileError> {
    match (kind, sheets.first()) {
        (Kind::Xlsx, _) => Ok(xlsx_bytes(sheets)?),
        (Kind::Csv, Some(first)) => Ok(csv_text(first, Separator::Comma)?.into_bytes()),
        (Kind::Csv, None) => Err(ExchangeError::Nothing.into()),
        _ => Err(FileError::Kind(kind)),
    }
}

/// A column of words.
pub(super) fn words(heading: impl Into<String>) -> Column {
    Column { heading: heading.into(), width: None, decimals: 0 }
}

/// A column of numbers.
pub(super) fn numbers(heading: impl Into<String>, decimals: u8) -> Column {
    Column { heading: heading.into(), width: None, decimals }
}

/// A number, or nothing.
pub(super) fn maybe(value: Option<f64>) -> Cell {
    value.map_or(Cell::Empty, Cell::Number)
}
