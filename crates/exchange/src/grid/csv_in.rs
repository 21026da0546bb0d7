//! CSV in: the separator found, quotes undone, every line kept at its row.

use csv::{ReaderBuilder, Terminator};

use super::{Grid, GridSheet, MOST_BYTES, MOST_COLUMNS, MOST_ROWS};
use crate::error::ExchangeError;
use crate::sheet::unguarded;

/// A CSV file as a grid of one sheet without a name. The separator is `,`, `;` or a tab, whichever parts most lines
/// into the same number of cells; a mark of the byte order is passed over, and UTF-16 with such a mark is read too.
/// Decimal commas stay as typed: who reads a cell as a number knows what it is.
///
/// # Errors
/// Bytes that are no text; a file, row or line larger than [`MOST_BYTES`], [`MOST_COLUMNS`], [`MOST_ROWS`].
pub fn csv_grid(bytes: &[u8]) -> Result<Grid, ExchangeError> {
    if bytes.len() > MOST_BYTES {
        return Err(ExchangeError::TooManyBytes { most: MOST_BYTES });
    }
    // Every line ends alike, the last one too, so that lines can be counted.
    let text = text(bytes)?.replace("\r\n", "\n").replace('\r', "\n") + "\n";
    let separator = separator(&text);
    let mut reader = ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .terminator(Terminator::Any(b'\n'))
        .from_reader(text.as_bytes());
    let mut sheet = GridSheet::default();
    let mut record = csv::StringRecord::new();
    // Lines within cells so far: a spreadsheet counts a record as one row, however many lines it takes.
    let mut within = 0;
    while reader.read_record(&mut record)? {
        within += record.iter().map(|cell| cell.matches('\n').count()).sum::<usize>();
        // The reader passes over empty lines without a word; the line after the record tells how many.
        let after = usize::try_from(reader.position().line()).unwrap_or(usize::MAX);
        let row = after.saturating_sub(2 + within);
        let too_large = |what, most| ExchangeError::TooLarge { sheet: String::new(), what, most };
        if row >= MOST_ROWS {
            return Err(too_large("rows", MOST_ROWS));
        }
        if record.len() > MOST_COLUMNS {
            return Err(too_large("columns", MOST_COLUMNS));
        }
        for (column, cell) in record.iter().enumerate() {
            sheet.set(row, column, unguarded(cell).to_string());
        }
    }
    Ok(Grid { sheets: vec![sheet] })
}

fn text(bytes: &[u8]) -> Result<String, ExchangeError> {
    let sixteen = |bytes: &[u8], from: fn([u8; 2]) -> u16| {
        let units: Vec<u16> = bytes
            .chunks_exact(2)
            .map(|pair| from([pair.first().copied().unwrap_or(0), pair.last().copied().unwrap_or(0)]))
            .collect();
        String::from_utf16(&units).map_err(|_| ExchangeError::NotText { line: 1 })
    };
    match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => utf8(rest),
        [0xFF, 0xFE, rest @ ..] => sixteen(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => sixteen(rest, u16::from_be_bytes),
        _ => utf8(bytes),
    }
}

fn utf8(bytes: &[u8]) -> Result<String, ExchangeError> {
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_string()),
        Err(error) => {
            let before = bytes.get(..error.valid_up_to()).unwrap_or_default();
            let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
            Err(ExchangeError::NotText { line })
        }
    }
}

/// Lines that are looked at to find the separator.
const LOOKED_AT: usize = 40;

/// The separator that parts the most lines into the number of cells that most of them then have. A comma loses a tie:
/// beside another separator it is a decimal mark.
fn separator(text: &str) -> u8 {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(LOOKED_AT).collect();
    let agreeing = |mark: u8| {
        let counts: Vec<usize> = lines.iter().map(|line| outside_quotes(line, mark)).collect();
        counts
            .iter()
            .filter(|c| **c > 0)
            .map(|c| counts.iter().filter(|d| *d == c).count())
            .max()
            .unwrap_or(0)
    };
    let mut best = (b',', agreeing(b','));
    for mark in [b';', b'\t'] {
        let found = agreeing(mark);
        if found > 0 && found >= best.1 {
            best = (mark, found);
        }
    }
    best.0
}

fn outside_quotes(line: &str, mark: u8) -> usize {
    let mut quoted = false;
    let mut count = 0;
    for byte in line.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            byte if byte == mark && !quoted => count += 1,
            _ => {}
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expect: &[&[&str]]) {
        let grid = csv_grid(text.as_bytes()).expect("a grid");
        let rows: Vec<Vec<&str>> =
            grid.sheets[0].rows.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
        assert_eq!(rows, expect, "{text:?}");
    }

    #[test]
    fn finds_the_separator() {
        check("name,x,y\na,1.5,2\n", &[&["name", "x", "y"], &["a", "1.5", "2"]]);
        check("name;x;y\na;1,5;2,25\n", &[&["name", "x", "y"], &["a", "1,5", "2,25"]]);
        check("name\tx\na\t1,5\n", &[&["name", "x"], &["a", "1,5"]]);
        check("a;1,5;2,5\nb;3,5;4,5\n", &[&["a", "1,5", "2,5"], &["b", "3,5", "4,5"]]);
        check("\"a;b\",1\n\"c;d\",2\n", &[&["a;b", "1"], &["c;d", "2"]]);
        check("alone\n", &[&["alone"]]);
    }

    #[test]
    fn rows_stay_where_they_are() {
        check("\u{feff}a,b\r\n\r\nc,d\r\n", &[&["a", "b"], &[], &["c", "d"]]);
        check("a,\"x\ny\"\nc,d\n", &[&["a", "x\ny"], &["c", "d"]]);
        check("a,\"x\ny\"\n\nc,d\n", &[&["a", "x\ny"], &[], &["c", "d"]]);
        check("a,\"5' 2 1/2\"\"\"\n", &[&["a", "5' 2 1/2\""]]);
        check("", &[]);
    }

    #[test]
    fn other_encodings_are_told_or_read() {
        let error = csv_grid(b"a,b\nc,\xFF\n").expect_err("not text");
        assert_eq!(error.to_string(), "line 2 of the file is not UTF-8 text");
        assert!(error.hint().is_some());
        let bytes: Vec<u8> =
            [0xFF, 0xFE].into_iter().chain("a\t±\n".encode_utf16().flat_map(u16::to_le_bytes)).collect();
        assert_eq!(csv_grid(&bytes).expect("a grid").sheets[0].rows, [["a", "±"]]);
        let wide = ",".repeat(MOST_COLUMNS + 1);
        assert!(matches!(csv_grid(wide.as_bytes()), Err(ExchangeError::TooLarge { .. })));
    }
}
