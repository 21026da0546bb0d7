//! A table of points as it comes from a spreadsheet.

use units::Dimension;

use super::error::{EditError, PasteMistake};
use super::place::{Place, names, split};
use super::tree::Tree;
use super::{At, Context, hole, point, table};
use crate::suggest;

/// One point of a pasted table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PasteRow {
    /// Line of the pasted text, from 1.
    pub row: usize,
    /// `link.toe.body`, `rear.link.toe.body`, or `link.toe.body=B` for a hole of it.
    pub name: String,
    /// x, y and z as typed, in the file's own frame.
    pub coordinates: [String; 3],
    /// Accuracy as typed, where there is one.
    pub accuracy: Option<String>,
}

/// Most rows of one table.
const MOST_ROWS: usize = 500;

/// Columns of a row.
pub(super) const COLUMNS: [&str; 5] = ["name", "x", "y", "z", "accuracy"];

/// What is wrong with an empty cell of this column, from 0.
pub(super) fn missing(column: usize) -> String {
    format!("the {} is missing", COLUMNS.get(column).unwrap_or(&""))
}

/// Takes a pasted text apart: a row a line, cells parted by tabs, semicolons, commas or spaces. Blank lines, lines
/// that begin with `#` and a line of headings are passed over.
///
/// # Errors
/// Every row that has too few or too many cells.
pub fn paste_rows(table: &str) -> Result<Vec<PasteRow>, Vec<PasteMistake>> {
    let part = mark(table);
    let (mut rows, mut mistakes) = (Vec::new(), Vec::new());
    for (index, line) in table.lines().enumerate() {
        if line.trim().is_empty() || line.trim_start().starts_with('#') {
            continue;
        }
        let mut cells = cells(line, part);
        while cells.len() > 4 && cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        let has_digit = |cell: &String| cell.contains(|c: char| c.is_ascii_digit() || matches!(c, '¼'..='¾'));
        if rows.is_empty() && mistakes.is_empty() && !cells.iter().skip(1).any(has_digit) && cells.len() > 1 {
            continue;
        }
        let mut mistake = |column: usize, message: String, hint: &str| {
            mistakes.push(PasteMistake { row: index + 1, column, message, hint: Some(hint.to_string()) });
        };
        if rows.len() >= MOST_ROWS {
            mistake(1, format!("more than {MOST_ROWS} rows"), "paste them in parts");
            break;
        }
        if cells.len() > COLUMNS.len() {
            mistake(COLUMNS.len() + 1, "a cell too many".into(), "name, x, y, z and perhaps the accuracy");
            continue;
        }
        let empty = |column: &usize| cells.get(*column).is_none_or(String::is_empty);
        let missing: Vec<usize> = (0..4).filter(empty).collect();
        for column in &missing {
            mistake(column + 1, self::missing(*column), "a row is name, x, y, z");
        }
        let mut cells = cells.into_iter();
        let mut next = || cells.next().unwrap_or_default();
        if missing.is_empty() {
            let (name, coordinates) = (next(), [next(), next(), next()]);
            let accuracy = cells.next().filter(|cell| !cell.is_empty());
            rows.push(PasteRow { row: index + 1, name, coordinates, accuracy });
        }
    }
    if mistakes.is_empty() { Ok(rows) } else { Err(mistakes) }
}

/// Every line of a pasted text as cells, those that are passed over too: to show the text with its mistakes.
pub fn paste_cells(table: &str) -> Vec<Vec<String>> {
    let part = mark(table);
    table.lines().take(MOST_ROWS + 1).map(|line| cells(line, part)).collect()
}

/// What parts the cells of a table.
fn mark(table: &str) -> char {
    ['\t', ';', ','].into_iter().find(|part| table.contains(*part)).unwrap_or(' ')
}

/// The cells of a line. A cell in quotes may hold the mark that parts cells; quotes in it are doubled.
fn cells(line: &str, part: char) -> Vec<String> {
    let mut cells = Vec::new();
    let mut letters = line.chars().peekable();
    loop {
        while letters.next_if(|c| c.is_whitespace() && *c != part).is_some() {}
        let mut cell = String::new();
        if part != ' ' && letters.next_if_eq(&'"').is_some() {
            while let Some(letter) = letters.next() {
                if letter == '"' && letters.next_if_eq(&'"').is_none() {
                    break;
                }
                cell.push(letter);
            }
        }
        while let Some(letter) = letters.next_if(|letter| *letter != part) {
            cell.push(letter);
        }
        cells.push(cell.trim().to_string());
        if letters.next().is_none() {
            break;
        }
        if part == ' ' {
            while letters.next_if_eq(&' ').is_some() {}
        }
    }
    if part == ' ' {
        cells.retain(|cell| !cell.is_empty());
    }
    cells
}

/// Sets or adds every point of a table, or tells every mistake.
pub(crate) fn paste(text: &str, axle: &str, table: &str, context: &Context<'_>) -> Result<String, EditError> {
    let rows = paste_rows(table).map_err(|mistakes| EditError::Paste { mistakes })?;
    let mut mistakes = Vec::new();
    let mut seen: Vec<(Place, usize)> = Vec::new();
    let mut text = text.to_string();
    for row in &rows {
        let place = match place(row, axle, context) {
            Ok(place) => place,
            Err(error) => {
                mistakes.push(of(row, 1, &error));
                continue;
            }
        };
        if let Some((_, first)) = seen.iter().find(|(other, _)| *other == place) {
            let (message, hint) = (format!("`{place}` is in row {first} already"), "take one of them out");
            mistakes.push(PasteMistake { row: row.row, column: 1, message, hint: Some(hint.into()) });
            continue;
        }
        seen.push((place.clone(), row.row));
        let before = mistakes.len();
        let typed = row.coordinates.iter().chain(&row.accuracy);
        for (index, cell) in typed.enumerate() {
            if let Err(source) = units::parse(cell, Dimension::Length, &context.units) {
                let (message, hint) = (source.to_string(), source.hint());
                mistakes.push(PasteMistake { row: row.row, column: index + 2, message, hint });
            }
        }
        if mistakes.len() > before {
            continue;
        }
        match set(&text, &place, row, context) {
            Ok(after) => text = after,
            Err(error) => mistakes.push(of(row, 1, &error)),
        }
    }
    if mistakes.is_empty() { Ok(text) } else { Err(EditError::Paste { mistakes }) }
}

fn of(row: &PasteRow, column: usize, error: &EditError) -> PasteMistake {
    PasteMistake { row: row.row, column, message: error.to_string(), hint: error.hint() }
}

/// The place that a row's name means.
fn place(row: &PasteRow, axle: &str, context: &Context<'_>) -> Result<Place, EditError> {
    let (point, hole) = match row.name.split_once('=') {
        Some((point, hole)) => (point.trim(), Some(hole.trim())),
        None => (row.name.as_str(), None),
    };
    let whole = point.starts_with("front.") || point.starts_with("rear.");
    let point = if whole { point.to_string() } else { format!("{axle}.{point}") };
    let (end, name) = split(&point)?;
    // An axle that cannot be read yet is one that is being written: any name may be right.
    if let Some(axle) = context.car.and_then(|car| car.axle(end))
        && !names(axle).any(|known| known == name)
    {
        let known: Vec<&str> = names(axle).collect();
        let hint = suggest::hint(name, known.iter().copied());
        return Err(EditError::NotThere { name: point, hint });
    }
    Ok(match hole {
        Some(name) => Place::Hole { point, name: name.to_string() },
        None => Place::Point(point),
    })
}

fn set(text: &str, place: &Place, row: &PasteRow, context: &Context<'_>) -> Result<String, EditError> {
    let tree = Tree::parse(text)?;
    let to = At::Typed(row.coordinates.clone());
    let after = match point::set(&tree, place, &to, context) {
        Err(EditError::NotThere { .. }) => match place {
            Place::Hole { point, name } => {
                return hole::add(&tree, point, name, &to, row.accuracy.as_deref(), context);
            }
            Place::Point(name) => {
                let texts = point::typed_all(name, &row.coordinates, &[None; 3], &context.units)?;
                let (parent, key) = name.rsplit_once('.').unwrap_or(("", name));
                let value = format!("[{}]", texts.join(", "));
                let home = tree.home(parent);
                let splice = home.and_then(|home| tree.with_key(&home, key, &value));
                tree.spliced(vec![splice.unwrap_or_else(|| table::with(&tree, parent, key, &value))])
            }
            Place::Corner { .. } => return Ok(text.to_string()),
        },
        other => other?,
    };
    match &row.accuracy {
        Some(accuracy) => point::set_accuracy(&Tree::parse(&after)?, place, Some(accuracy), context),
        None => Ok(after),
    }
}
