//! Points from a grid of cells: which column is what, and every mistake at its cell.
//!
//! The grid becomes a pasted table whose lines are the grid's rows, so that names, holes, units and messages follow
//! the rules of [`super::paste_rows`] and nothing is decided twice.

mod guess;

use units::{Dimension, LengthUnit, UnitSystem};

use super::error::EditError;
use super::{Edit, apply_to, units_of};
use crate::car::Loaded;

/// Which column is what; rows and columns count from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mapping {
    /// Column of the points' names.
    pub name: usize,
    /// Columns of x, y and z in the file's own frame.
    pub coordinates: [usize; 3],
    /// Column of the accuracies, where there is one.
    pub accuracy: Option<usize>,
    /// First row that is a point.
    pub first_row: usize,
    /// Last row that is looked at; `None` takes all.
    pub last_row: Option<usize>,
    /// What bare numbers are in, for x, y, z and the accuracy; `None` is the file's own unit.
    pub units: [Option<LengthUnit>; 4],
}

/// What is wrong with a cell of a grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportMistake {
    /// Its row, from 0.
    pub row: usize,
    /// Its column, from 0.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub hint: Option<String>,
}

/// Why points were not taken in. Nothing has changed then.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ImportError {
    /// Cells that are wrong; all of them are listed.
    #[error("{} of the table cannot be used", cells(.0.len()))]
    Cells(Vec<ImportMistake>),
    /// Two things are to be read from one column.
    #[error("the {first} and the {second} are taken from one column")]
    SameColumn {
        /// One of them.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
    /// No row has a point.
    #[error("no row of the table has a point")]
    NoRows,
    /// The points are good cells, and the file would be wrong with them or cannot be changed at present.
    #[error(transparent)]
    Edit(EditError),
}

impl ImportError {
    /// What to do instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Cells(mistakes) => mistakes.first().and_then(|mistake| mistake.hint.clone()),
            Self::SameColumn { .. } => Some("give each a column of its own".into()),
            Self::NoRows => Some("say in which row the first point stands, and in which columns".into()),
            Self::Edit(error) => error.hint(),
        }
    }
}

fn cells(count: usize) -> String {
    if count == 1 { "a cell".into() } else { format!("{count} cells") }
}

/// What the columns are for, as [`super::paste_rows`] calls them.
const PARTS: [&str; 5] = super::paste::COLUMNS;

impl Mapping {
    /// A mapping that the grid's own headings suggest (name or point, x, y, z, ± or accuracy, a unit in brackets, in
    /// any order), or, where it has none, that of name, x, y, z side by side. `None` where neither is there.
    pub fn guess(rows: &[Vec<String>]) -> Option<Self> {
        guess::guess(rows)
    }

    /// Columns of name, x, y, z and, where there is one, of the accuracy.
    fn columns(&self) -> Vec<usize> {
        let [x, y, z] = self.coordinates;
        [self.name, x, y, z].into_iter().chain(self.accuracy).collect()
    }
}

/// The edit that sets or adds every point of a grid, tried on the file's text. `rows[6][2]` is the cell C7; short rows
/// end in empty cells. Empty rows, and rows whose name begins with `#`, are passed over.
///
/// # Errors
/// [`ImportError`]: every cell that is wrong, or why the file cannot take the points.
pub fn import(
    text: &str,
    loaded: &Loaded,
    axle: &str,
    rows: &[Vec<String>],
    mapping: &Mapping,
) -> Result<Edit, ImportError> {
    let columns = mapping.columns();
    for (index, column) in columns.iter().enumerate() {
        if let Some(before) = columns.iter().take(index).position(|other| other == column) {
            let part = |i: usize| PARTS.get(i).copied().unwrap_or("");
            return Err(ImportError::SameColumn { first: part(before), second: part(index) });
        }
    }
    let units = units_of(text, loaded);
    let mut mistakes = Vec::new();
    // A line for every row of the grid, so that the table's rows are the grid's.
    let mut table = String::new();
    let mut points = 0;
    for (row, cells) in rows.iter().enumerate() {
        let looked_at = mapping.first_row <= row && mapping.last_row.is_none_or(|last| row <= last);
        let cells: Vec<&str> = columns.iter().map(|c| cells.get(*c).map_or("", |cell| cell.trim())).collect();
        let passed_over = cells.iter().all(|cell| cell.is_empty())
            || cells.first().is_some_and(|name| name.starts_with('#'));
        if looked_at && !passed_over {
            points += 1;
            line(&cells, row, mapping, &units, &mut table, &mut mistakes);
        }
        table.push('\n');
    }
    if points == 0 {
        return Err(ImportError::NoRows);
    }
    if !mistakes.is_empty() {
        return Err(ImportError::Cells(mistakes));
    }
    let edit = Edit::Paste { axle: axle.to_string(), table };
    match apply_to(text, loaded, &edit) {
        Ok(_) => Ok(edit),
        Err(EditError::Paste { mistakes }) => {
            let at = |m: super::PasteMistake| ImportMistake {
                row: m.row.saturating_sub(1),
                column: columns.get(m.column.saturating_sub(1)).copied().unwrap_or(mapping.name),
                message: m.message,
                hint: m.hint,
            };
            Err(ImportError::Cells(mistakes.into_iter().map(at).collect()))
        }
        Err(other) => Err(ImportError::Edit(other)),
    }
}

/// Adds a row's line to the table, or what is wrong with its cells.
fn line(
    cells: &[&str],
    row: usize,
    mapping: &Mapping,
    units: &UnitSystem,
    table: &mut String,
    mistakes: &mut Vec<ImportMistake>,
) {
    let columns = mapping.columns();
    for (index, cell) in cells.iter().enumerate() {
        let column = columns.get(index).copied().unwrap_or(mapping.name);
        let optional = index > 3;
        if cell.is_empty() && !optional {
            let message = super::paste::missing(index);
            let hint = Some("every point has a name, x, y and z".to_string());
            mistakes.push(ImportMistake { row, column, message, hint });
            continue;
        }
        let unit = index.checked_sub(1).and_then(|i| mapping.units.get(i).copied().flatten());
        let typed = if index == 0 || cell.is_empty() {
            (*cell).to_string()
        } else {
            match length(cell, unit, units) {
                Ok(typed) => typed,
                Err((message, hint)) => {
                    mistakes.push(ImportMistake { row, column, message, hint });
                    continue;
                }
            }
        };
        if index > 0 {
            table.push('\t');
        }
        // In quotes throughout: a cell may hold what parts cells. One line stays one line.
        table.push('"');
        table.push_str(&typed.replace('"', "\"\"").replace(['\n', '\r'], " "));
        table.push('"');
    }
}

/// A cell as the file is to have it: as typed where it says its own unit or the column is in the file's, else with the
/// column's unit behind it.
fn length(
    cell: &str,
    unit: Option<LengthUnit>,
    units: &UnitSystem,
) -> Result<String, (String, Option<String>)> {
    let read = |system: &UnitSystem| units::parse(cell, Dimension::Length, system);
    let own = read(units).map_err(|e| (format!("`{cell}` is not a length: {e}"), e.hint()))?;
    let Some(unit) = unit.filter(|unit| *unit != units.length) else { return Ok(cell.to_string()) };
    // A number without a unit changes with what bare numbers mean. Zero does not, and needs no unit.
    let in_column = read(&UnitSystem { length: unit, ..*units });
    let bare = in_column.is_ok_and(|there| there != own);
    Ok(if bare { format!("{cell} {}", unit.symbol()) } else { cell.to_string() })
}
