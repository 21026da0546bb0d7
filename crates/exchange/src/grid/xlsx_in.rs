//! XLSX in: the cells as a person sees them, dates and formulas by their last worked-out value.

use std::io::{self, Cursor, Read};

use calamine::{DataRef, Reader, Xlsx, XlsxError};
use zip::ZipArchive;

use super::{Grid, GridSheet, MOST_BYTES, MOST_COLUMNS, MOST_ROWS};
use crate::error::ExchangeError;

/// A workbook as a grid, every sheet of it. Cells are read one by one, because a sheet with one cell far out would
/// fill the memory as a rectangle.
///
/// # Errors
/// Bytes that are no workbook; a file or sheet larger than [`MOST_BYTES`] (64 MiB unpacked), [`MOST_ROWS`],
/// [`MOST_COLUMNS`].
pub fn xlsx_grid(bytes: &[u8]) -> Result<Grid, ExchangeError> {
    if bytes.len() > MOST_BYTES {
        return Err(ExchangeError::TooManyBytes { most: MOST_BYTES });
    }
    check_unpacked(bytes)?;
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

/// Most bytes of a workbook once unpacked: a table of points has some thousand.
const MOST_UNPACKED: u64 = 64 << 20;

/// Whether the parts of a workbook fit the memory. A small file can unpack to more than any machine holds, and what it says
/// of its own size need not be true: the parts are unpacked and counted, and dropped on the way.
fn check_unpacked(bytes: &[u8]) -> Result<(), ExchangeError> {
    let damaged = |error| ExchangeError::NotXlsx { source: XlsxError::Zip(error) };
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(damaged)?;
    let mut left = MOST_UNPACKED;
    for index in 0..archive.len() {
        let part = archive.by_index(index).map_err(damaged)?;
        let unpacked = io::copy(&mut part.take(left + 1), &mut io::sink())
            .map_err(|error| ExchangeError::NotXlsx { source: XlsxError::Io(error) })?;
        left = left.checked_sub(unpacked).ok_or(ExchangeError::TooManyBytes {
            most: usize::try_from(MOST_UNPACKED).unwrap_or(MOST_BYTES),
        })?;
    }
    Ok(())
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
    fn what_unpacks_to_more_than_fits_is_told() {
        let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
        let options = zip::write::SimpleFileOptions::default();
        writer.start_file("xl/sharedStrings.xml", options).expect("a part");
        let block = vec![b' '; 1 << 20];
        for _ in 0..65 {
            io::Write::write_all(&mut writer, &block).expect("written");
        }
        let bytes = writer.finish().expect("an archive").into_inner();
        assert!(bytes.len() < MOST_BYTES);
        assert!(matches!(xlsx_grid(&bytes), Err(ExchangeError::TooManyBytes { .. })));
    }

    #[test]
    fn what_is_no_workbook_is_told() {
        for bytes in [&b"name,x\n"[..], b"", b"PK\x03\x04 not really"] {
            let error = xlsx_grid(bytes).expect_err("no workbook");
            assert!(error.hint().is_some(), "{error}");
        }
    }
}
