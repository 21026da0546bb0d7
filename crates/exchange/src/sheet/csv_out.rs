//! CSV out.

use csv::{QuoteStyle, Terminator, WriterBuilder};

use super::{Cell, Sheet, guarded};
use crate::error::ExchangeError;

/// What parts the cells, and with it the decimal mark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Separator {
    /// `,` with decimal points.
    #[default]
    Comma,
    /// `;` with decimal commas, as spreadsheets of many countries want it.
    Semicolon,
    /// A tab with decimal points.
    Tab,
}

/// A sheet as CSV (RFC 4180, lines ending in CR LF): headings, rows, then its notes, each as the only cell of its
/// line.
///
/// # Errors
/// If the writer refuses.
pub fn csv_text(sheet: &Sheet, separator: Separator) -> Result<String, ExchangeError> {
    let delimiter = match separator {
        Separator::Comma => b',',
        Separator::Semicolon => b';',
        Separator::Tab => b'\t',
    };
    let mut writer = WriterBuilder::new()
        .delimiter(delimiter)
        .quote_style(QuoteStyle::Necessary)
        .terminator(Terminator::CRLF)
        .flexible(true)
        .from_writer(Vec::new());
    writer.write_record(sheet.columns.iter().map(|column| guarded(&column.heading)))?;
    for row in &sheet.rows {
        let cells = row.iter().enumerate().map(|(index, cell)| {
            let decimals = sheet.columns.get(index).map_or(0, |column| column.decimals);
            written(cell, usize::from(decimals), separator)
        });
        writer.write_record(cells)?;
    }
    for note in &sheet.notes {
        writer.write_record([guarded(note)])?;
    }
    let bytes = writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
    // Nothing but text went in.
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn written(cell: &Cell, decimals: usize, separator: Separator) -> String {
    match cell {
        Cell::Number(value) if value.is_finite() => {
            let text = format!("{value:.decimals$}");
            let zero = text.chars().all(|c| matches!(c, '-' | '0' | '.'));
            let text = if zero { text.trim_start_matches('-').to_string() } else { text };
            if separator == Separator::Semicolon { text.replace('.', ",") } else { text }
        }
        Cell::Empty | Cell::Number(_) => String::new(),
        Cell::Text(text) => guarded(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::csv_grid;
    use crate::sheet::Column;

    fn sheet() -> Sheet {
        let column = |heading: &str, decimals| Column { heading: heading.into(), width: None, decimals };
        Sheet {
            name: "rear".into(),
            columns: vec![column("point", 0), column("x [mm]", 1), column("deciding", 0)],
            rows: vec![
                vec!["link.toe.body".into(), 2760.04.into(), "=HYPERLINK(\"x\")".into()],
                vec!["a; b, \"c\"\td".into(), (-0.01).into(), Cell::Empty],
                vec!["-".into(), f64::NAN.into()],
            ],
            notes: vec!["+ planning figures".into()],
        }
    }

    #[test]
    fn goes_out_and_comes_back() {
        for (separator, number) in
            [(Separator::Comma, "2760.0"), (Separator::Semicolon, "2760,0"), (Separator::Tab, "2760.0")]
        {
            let text = csv_text(&sheet(), separator).expect("a text");
            assert!(text.contains("'=HYPERLINK") && text.contains("'+ planning"), "{text}");
            let grid = csv_grid(text.as_bytes()).expect("a grid");
            let back = &grid.sheets[0];
            assert_eq!(back.rows[1], ["link.toe.body", number, "=HYPERLINK(\"x\")"]);
            assert_eq!(back.cell(2, 0), "a; b, \"c\"\td");
            assert_eq!(back.cell(2, 1), number.replace("2760", "0"));
            assert_eq!((back.cell(3, 0), back.cell(3, 1)), ("-", ""));
            assert_eq!(back.cell(4, 0), "+ planning figures");
        }
    }
}
