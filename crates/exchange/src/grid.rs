//! A table as it comes in: every cell as text, at its own address.

mod csv_in;
mod xlsx_in;

pub use csv_in::csv_grid;
pub use xlsx_in::xlsx_grid;

/// Most bytes of a file that is read: a table of points has a few thousand.
pub const MOST_BYTES: usize = 16 << 20;
/// Most rows of a sheet.
pub const MOST_ROWS: usize = 10_000;
/// Most columns of a sheet.
pub const MOST_COLUMNS: usize = 256;

/// The sheets of a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grid {
    /// In the order of the file; a CSV file has one, without a name.
    pub sheets: Vec<GridSheet>,
}

/// One sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GridSheet {
    /// Its name.
    pub name: String,
    /// Its rows from the first of the file, so that `rows[6][2]` is cell C7. Rows may be of different lengths; what is
    /// not there is empty.
    pub rows: Vec<Vec<String>>,
}

impl GridSheet {
    /// The text of a cell, trimmed; empty where there is none. Both count from 0.
    pub fn cell(&self, row: usize, column: usize) -> &str {
        self.rows.get(row).and_then(|cells| cells.get(column)).map_or("", |cell| cell.trim())
    }

    /// The number of columns of the widest row.
    pub fn width(&self) -> usize {
        self.rows.iter().map(Vec::len).max().unwrap_or(0)
    }

    /// Puts a text into a cell; rows and cells before it become empty ones.
    fn set(&mut self, row: usize, column: usize, text: String) {
        if self.rows.len() <= row {
            self.rows.resize(row + 1, Vec::new());
        }
        if let Some(cells) = self.rows.get_mut(row) {
            if cells.len() <= column {
                cells.resize(column + 1, String::new());
            }
            if let Some(cell) = cells.get_mut(column) {
                *cell = text;
            }
        }
    }
}

/// The address of a cell as a spreadsheet shows it, such as `C7`; row and column count from 0.
pub fn address(row: usize, column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        // A remainder by 26 fits.
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
    }
    letters.iter().rev().collect::<String>() + &(row + 1).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_those_of_spreadsheets() {
        for (row, column, expect) in
            [(6, 2, "C7"), (0, 0, "A1"), (0, 25, "Z1"), (9, 26, "AA10"), (0, 701, "ZZ1"), (0, 702, "AAA1")]
        {
            assert_eq!(address(row, column), expect);
        }
    }

    #[test]
    fn what_is_not_there_is_empty() {
        let mut sheet = GridSheet::default();
        sheet.set(2, 1, " x ".into());
        assert_eq!((sheet.cell(2, 1), sheet.cell(0, 0), sheet.cell(9, 9)), ("x", "", ""));
        assert_eq!((sheet.rows.len(), sheet.width()), (3, 2));
    }
}
