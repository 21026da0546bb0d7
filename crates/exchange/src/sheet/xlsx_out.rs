//! XLSX out.

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, FormatBorder, Workbook, Worksheet};

use super::{Cell, Sheet, is_like_formula};
use crate::error::ExchangeError;
use crate::grid::{MOST_COLUMNS, MOST_ROWS};

/// Narrowest and widest column that is fitted to its text, in letters.
const FITTED: (usize, usize) = (8, 48);

/// Sheets as a workbook: headings bold and frozen, numbers with their column's decimals, widths, notes below.
///
/// The file says of itself that it was made at the beginning of 1980, where the zip format's time begins: nothing here
/// reads a clock, and the same sheets give the same bytes.
///
/// # Errors
/// No sheet; a name that is empty, longer than 31 letters, has one of `[ ] : * ? / \`, begins or ends with an
/// apostrophe, or is another sheet's in whatever case; more rows or columns than are read back.
pub fn xlsx_bytes(sheets: &[Sheet]) -> Result<Vec<u8>, ExchangeError> {
    if sheets.is_empty() {
        return Err(ExchangeError::Nothing);
    }
    let mut workbook = Workbook::new();
    let origin = ExcelDateTime::from_ymd(1980, 1, 1)?;
    workbook.set_properties(&DocProperties::new().set_creation_datetime(&origin));
    for (index, sheet) in sheets.iter().enumerate() {
        check(sheet, sheets.get(..index).unwrap_or_default())?;
        write(workbook.add_worksheet(), sheet)?;
    }
    Ok(workbook.save_to_buffer()?)
}

fn check(sheet: &Sheet, before: &[Sheet]) -> Result<(), ExchangeError> {
    let bad = |why| Err(ExchangeError::SheetName { name: sheet.name.clone(), why });
    let name = sheet.name.as_str();
    if name.trim().is_empty() {
        return bad("it is empty");
    }
    // The format counts UTF-16 units.
    if name.encode_utf16().count() > 31 {
        return bad("it has more than 31 letters");
    }
    if name.contains(['[', ']', ':', '*', '?', '/', '\\']) || name.starts_with('\'') || name.ends_with('\'') {
        return bad("it has a sign that is not taken");
    }
    if before.iter().any(|other| other.name.to_lowercase() == name.to_lowercase()) {
        return bad("another sheet has it");
    }
    let too_large = |what, most| Err(ExchangeError::TooLarge { sheet: sheet.name.clone(), what, most });
    let widest = sheet.rows.iter().map(Vec::len).max().unwrap_or(0).max(sheet.columns.len());
    if widest > MOST_COLUMNS {
        return too_large("columns", MOST_COLUMNS);
    }
    if 2 + sheet.rows.len() + sheet.notes.len() > MOST_ROWS {
        return too_large("rows", MOST_ROWS);
    }
    Ok(())
}

fn write(worksheet: &mut Worksheet, sheet: &Sheet) -> Result<(), ExchangeError> {
    worksheet.set_name(&sheet.name)?;
    let heading = Format::new().set_bold().set_border_bottom(FormatBorder::Thin).set_text_wrap();
    let formats: Vec<Format> =
        sheet.columns.iter().map(|c| Format::new().set_num_format(pattern(c.decimals))).collect();
    let general = Format::new();
    for (column, of) in (0..).zip(&sheet.columns) {
        worksheet.write_string_with_format(0, column, &of.heading, &heading)?;
        worksheet.set_column_width(
            column,
            of.width.filter(|w| w.is_finite()).unwrap_or_else(|| fitted(sheet, column)),
        )?;
    }
    worksheet.set_freeze_panes(1, 0)?;
    let mut next = 1;
    for row in &sheet.rows {
        for (column, cell) in (0..).zip(row) {
            match cell {
                Cell::Number(value) if value.is_finite() => {
                    let format = formats.get(usize::from(column)).unwrap_or(&general);
                    worksheet.write_number_with_format(next, column, *value, format)?;
                }
                Cell::Text(text) => words(worksheet, next, column, text)?,
                Cell::Empty | Cell::Number(_) => {}
            }
        }
        next += 1;
    }
    for note in &sheet.notes {
        next += 1;
        words(worksheet, next, 0, note)?;
    }
    Ok(())
}

/// Writes a string, which the format keeps apart from formulas; what looks like one is marked as words, so that it stays
/// so when a person edits the cell.
fn words(worksheet: &mut Worksheet, row: u32, column: u16, text: &str) -> Result<(), ExchangeError> {
    if is_like_formula(text) {
        worksheet.write_string_with_format(row, column, text, &Format::new().set_quote_prefix())?;
    } else {
        worksheet.write_string(row, column, text)?;
    }
    Ok(())
}

fn pattern(decimals: u8) -> String {
    if decimals == 0 { "0".into() } else { format!("0.{}", "0".repeat(usize::from(decimals))) }
}

/// A width for the longest text of a column, its heading in two lines.
fn fitted(sheet: &Sheet, column: u16) -> f64 {
    let column = usize::from(column);
    let heading = sheet.columns.get(column).map_or(0, |c| c.heading.chars().count() / 2 + 2);
    let decimals = sheet.columns.get(column).map_or(0, |c| usize::from(c.decimals));
    let longest = sheet.rows.iter().filter_map(|row| row.get(column)).map(|cell| match cell {
        Cell::Empty => 0,
        Cell::Text(text) => text.chars().count(),
        Cell::Number(value) => format!("{value:.decimals$}").len(),
    });
    let letters = longest.max().unwrap_or(0).max(heading).clamp(FITTED.0, FITTED.1);
    // At most 48.
    f64::from(u8::try_from(letters).unwrap_or(u8::MAX)) + 1.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::xlsx_grid;
    use crate::sheet::Column;

    fn sheet(name: &str) -> Sheet {
        let column = |heading: &str, decimals| Column { heading: heading.into(), width: None, decimals };
        Sheet {
            name: name.into(),
            columns: vec![column("point", 0), column("x [mm]", 1)],
            rows: vec![
                vec!["=1+1".into(), 2760.25.into()],
                vec![Cell::Empty, (-0.5).into()],
                vec!["± Ø 🔧".into(), f64::INFINITY.into()],
            ],
            notes: vec!["- planning figures".into()],
        }
    }

    #[test]
    fn goes_out_and_comes_back() {
        let bytes = xlsx_bytes(&[sheet("rear"), sheet("front")]).expect("a workbook");
        let grid = xlsx_grid(&bytes).expect("a grid");
        assert_eq!(grid.sheets.iter().map(|s| s.name.as_str()).collect::<Vec<_>>(), ["rear", "front"]);
        let rear = &grid.sheets[0];
        assert_eq!((rear.cell(0, 1), rear.cell(1, 0), rear.cell(1, 1)), ("x [mm]", "=1+1", "2760.25"));
        assert_eq!((rear.cell(2, 0), rear.cell(2, 1), rear.cell(3, 0)), ("", "-0.5", "± Ø 🔧"));
        assert_eq!((rear.cell(3, 1), rear.cell(5, 0)), ("", "- planning figures"));
        assert_eq!(bytes, xlsx_bytes(&[sheet("rear"), sheet("front")]).expect("the same"));
    }

    #[test]
    fn names_are_checked() {
        for name in ["", " ", "a/b", "'x", "a name that is longer than it may be"] {
            assert!(matches!(xlsx_bytes(&[sheet(name)]), Err(ExchangeError::SheetName { .. })), "{name}");
        }
        assert!(xlsx_bytes(&[sheet("Rear"), sheet("rear")]).is_err());
        assert!(xlsx_bytes(&[]).is_err());
    }
}
