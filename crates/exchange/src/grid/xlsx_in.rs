//! XLSX in: the cells as a person sees them, dates and formulas by their last worked-out value.

use std::io::Cursor;

use calamine::{DataRef, Reader, Xlsx};

use super::{Grid, GridSheet, MOST_BYTES, MOST_COLUMNS, MOST_ROWS};
use crate::error::ExchangeError;

/// A workbook as a grid, every sheet of it. Cells are read one by one, because a sheet with one cell far out would
/// fill the memory as a rectangle.
///
/// # Errors
/// Bytes that are no workbook; a file or sheet larger than [`MOST_BYTES`], [`MOST_ROWS`], [`MOST_COLUMNS`].
pub fn xlsx_grid(bytes: &[u8]) -> Result<Grid, ExchangeError> {
    if bytes.len() > MOST_BYTES {
        return Err(ExchangeError::TooManyBytes { most: MOST_BYTES });
    }
    let mut workbook = Xlsx::new(Cursor::new(bytes))?;
    let mut grid = Grid::default();
    for name in workbook.sheet_names() {
        let mut sheet = GridSheet { name: name.clone(), rows: Vec::new() };
        let Ok(mut cells) = workbook.worksheet_cells_reader(&name) else {
            // A sheet that holds a chart alone has no cells.
            continue;
        };
        while let Some(cell) = cells.next_cell()? {
            let Some(text) = text(cell.get_value()) else { continue };
            let (row, column) = cell.get_position();
            let too_large = |what, most| ExchangeError::TooLarge { sheet: name.clone(), what, most };
            let index = |at: u32, what, most: usize| {
                usize::try_from(at).ok().filter(|at| *at < most).ok_or_else(|| too_large(what, most))
            };
            sheet.set(index(row, "rows", MOST_ROWS)?, index(column, "columns", MOST_COLUMNS)?, text);
        }
        grid.sheets.push(sheet);
    }
    Ok(grid)
}

/// A cell as text; `None` where it is empty.
fn text(value: &DataRef<'_>) -> Option<String> {
    let text = match value {
        DataRef::Empty => return None,
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_string(),
        DataRef::Float(value) => number(*value),
        DataRef::Int(value) => value.to_string(),
        DataRef::Bool(value) => if *value { "TRUE" } else { "FALSE" }.to_string(),
        other => format!("{other:?}"),
    };
    (!text.is_empty()).then_some(text)
}

/// A number to the fifteen digits that a spreadsheet shows: 0.1 + 0.2 is 0.3 there.
fn number(value: f64) -> String {
    let rounded = format!("{value:.14e}").parse::<f64>().unwrap_or(value);
    rounded.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_as_shown() {
        assert_eq!(number(0.1 + 0.2), "0.3");
        assert_eq!(number(622.0), "622");
        assert_eq!(number(-12.5), "-12.5");
    }

    #[test]
    fn what_is_no_workbook_is_told() {
        for bytes in [&b"name,x\n"[..], b"", b"PK\x03\x04 not really"] {
            let error = xlsx_grid(bytes).expect_err("no workbook");
            assert!(error.hint().is_some(), "{error}");
        }
    }
}
