//! Points from a spreadsheet: which cells are what, what is new in them, and the edit that takes them in.

use exchange::{ExchangeError, csv_grid, xlsx_grid};
use project::Loaded;
use project::edit::{AsTyped, Edit, ImportError, Mapping, Place, import};
use project::model::{Car, End};
use thiserror::Error;
use units::{Dimension, LengthUnit, UnitSystem};

use super::points;

use exchange::Grid;

/// Places that are nearer than this are the same [m]: a table has ten-thousandths of a millimetre.
const SAME: f64 = 1e-7;

/// The cells of a file: a workbook by its first bytes (a packed file; PKWARE's note on ZIP, remembered), else text.
pub(crate) fn grid_of(bytes: &[u8]) -> Result<Grid, ExchangeError> {
    if bytes.starts_with(b"PK\x03\x04") { xlsx_grid(bytes) } else { csv_grid(bytes) }
}

/// What a person says of the columns; what is left out is guessed.
#[derive(Clone, Debug, Default)]
pub(crate) struct Columns {
    /// Columns of name, x, y, z and accuracy, from 0.
    pub given: Option<([usize; 4], Option<usize>)>,
    /// First row that is a point, from 0.
    pub first_row: Option<usize>,
    /// What bare numbers are in.
    pub unit: Option<LengthUnit>,
}

/// Why columns are not known.
#[derive(Debug, Error)]
pub(crate) enum ColumnsError {
    /// A word that is no `key=LETTER`.
    #[error("`{0}` is not a column")]
    Word(String),
    /// A part that every point has.
    #[error("no column is given for the {0}")]
    Missing(&'static str),
    /// Nothing in the table says which column is what.
    #[error("the table does not say which column is what")]
    Unknown,
}

impl ColumnsError {
    /// What to write.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Word(_) | Self::Missing(_) => {
                "write name=A,x=B,y=C,z=D and, where there is one, accuracy=E"
            }
            Self::Unknown => "head the columns name, x, y, z, or say which they are: name=A,x=B,y=C,z=D",
        }
    }
}

impl Columns {
    /// Reads `name=A,x=B,y=C,z=D,accuracy=E`.
    pub fn parse(words: &str) -> Result<([usize; 4], Option<usize>), ColumnsError> {
        let mut found: [Option<usize>; 5] = [None; 5];
        let keys = ["name", "x", "y", "z", "accuracy"];
        for word in words.split(',').map(str::trim).filter(|word| !word.is_empty()) {
            let wrong = || ColumnsError::Word(word.to_string());
            let (key, letters) = word.split_once('=').ok_or_else(wrong)?;
            let at = keys.iter().position(|own| *own == key.trim()).ok_or_else(wrong)?;
            let column = column_of(letters.trim()).ok_or_else(wrong)?;
            if let Some(place) = found.get_mut(at) {
                *place = Some(column);
            }
        }
        let [name, x, y, z, accuracy] = found;
        let need = |column: Option<usize>, what| column.ok_or(ColumnsError::Missing(what));
        Ok(([need(name, "name")?, need(x, "x")?, need(y, "y")?, need(z, "z")?], accuracy))
    }

    /// The mapping of a sheet.
    pub fn mapping(&self, rows: &[Vec<String>]) -> Result<Mapping, ColumnsError> {
        let guess = Mapping::guess(rows);
        let mut mapping = match self.given {
            None => guess.ok_or(ColumnsError::Unknown)?,
            Some(([name, x, y, z], accuracy)) => {
                let alike = guess.filter(|guess| {
                    (guess.name, guess.coordinates, guess.accuracy) == (name, [x, y, z], accuracy)
                });
                alike.unwrap_or_else(|| {
                    let number = |row: &Vec<String>| {
                        row.get(x).is_some_and(|cell| cell.contains(|c: char| c.is_ascii_digit()))
                    };
                    let mut mapping = Mapping {
                        name,
                        coordinates: [x, y, z],
                        accuracy,
                        first_row: rows.iter().position(number).unwrap_or(0),
                        last_row: None,
                        units: [None; 4],
                    };
                    mapping.last_row = last_row(rows, &mapping);
                    mapping
                })
            }
        };
        if let Some(first_row) = self.first_row {
            mapping.first_row = first_row;
        }
        if self.unit.is_some() {
            mapping.units = [self.unit; 4];
        }
        Ok(mapping)
    }
}

/// The last row of the points, where words follow an empty row.
fn last_row(rows: &[Vec<String>], mapping: &Mapping) -> Option<usize> {
    let [x, y, z] = mapping.coordinates;
    let filled = |row: &[String], c: usize| row.get(c).is_some_and(|cell| !cell.trim().is_empty());
    let last = rows.iter().rposition(|row| [mapping.name, x, y, z].iter().all(|c| filled(row, *c)))?;
    let next = rows.get(last + 1)?;
    [mapping.name, x, y, z].iter().all(|c| !filled(next, *c)).then_some(last)
}

/// The column of letters as a spreadsheet has them, from 0: `A`, `AB`.
fn column_of(letters: &str) -> Option<usize> {
    let mut column = 0_usize;
    if letters.is_empty() || letters.len() > 3 {
        return None;
    }
    for letter in letters.chars() {
        let nth = u32::from(letter.to_ascii_uppercase()).checked_sub(u32::from('A')).filter(|n| *n < 26)?;
        column = column * 26 + usize::try_from(nth).ok()? + 1;
    }
    Some(column - 1)
}

/// What is taken from where, in a line: `name from A, x from B [mm], …; points from row 2`.
pub(crate) fn columns_words(mapping: &Mapping, units: &UnitSystem) -> String {
    let letters = |column: usize| exchange::address(0, column).trim_end_matches('1').to_string();
    let mut words = vec![format!("name from {}", letters(mapping.name))];
    let all = mapping.coordinates.iter().map(|c| Some(*c)).chain([mapping.accuracy]);
    for ((name, column), unit) in ["x", "y", "z", "±"].into_iter().zip(all).zip(mapping.units) {
        if let Some(column) = column {
            let unit = unit.unwrap_or(units.length).symbol();
            words.push(format!("{name} from {} [{unit}]", letters(column)));
        }
    }
    let last = mapping.last_row.map_or_else(String::new, |row| format!(" to {}", row + 1));
    format!("{}; points from row {}{last}", words.join(", "), mapping.first_row + 1)
}

/// Whether a row is looked at.
pub(crate) fn looked_at(mapping: &Mapping, row: usize) -> bool {
    mapping.first_row <= row && mapping.last_row.is_none_or(|last| row <= last)
}

/// The axle of names that do not say theirs: the one of the file, the rear where it has both.
pub(crate) fn default_axle(text: &str) -> End {
    let has = |end: End| AsTyped::of(text).is_some_and(|typed| typed.has(end.name()));
    if has(End::Rear) || !has(End::Front) { End::Rear } else { End::Front }
}

/// The edit that takes a sheet's points in, `None` where the file has them all as they are. Points that are not new are
/// left alone, and so are coordinates of others that stay: comments, fractions and spelling keep.
pub(crate) fn edit_of(
    text: &str,
    loaded: &Loaded,
    axle: End,
    rows: &[Vec<String>],
    mapping: &Mapping,
    from: &str,
) -> Result<Option<Edit>, ImportError> {
    let mut rows = rows.to_vec();
    let mut known = 0;
    if let Some(car) = &loaded.car {
        let typed = AsTyped::of(text);
        let have = points::all(car);
        for (index, row) in rows.iter_mut().enumerate() {
            if looked_at(mapping, index) && settle(row, car, typed.as_ref(), &have, axle, mapping) {
                known += 1;
            }
        }
    }
    let edit = match import(text, loaded, axle.name(), &rows, mapping) {
        Err(ImportError::NoRows) if known > 0 => return Ok(None),
        other => other?,
    };
    let points = match &edit {
        Edit::Paste { table, .. } => project::edit::paste_rows(table).map_or(0, |rows| rows.len()),
        _ => 0,
    };
    let plural = if points == 1 { "" } else { "s" };
    Ok(Some(Edit::Several {
        label: format!("took in {points} point{plural} from {from}"),
        edits: vec![edit],
    }))
}

/// Empties a row that says what the file has already, and tells so; of another one puts what stays as it was typed.
fn settle(
    row: &mut [String],
    car: &Car,
    typed: Option<&AsTyped<'_>>,
    have: &[points::TablePoint],
    axle: End,
    mapping: &Mapping,
) -> bool {
    let cell = |column: usize| row.get(column).map_or("", |cell| cell.trim());
    let written = cell(mapping.name).to_string();
    let (point, hole) = match written.split_once('=') {
        Some((point, hole)) => (point.trim(), Some(hole.trim())),
        None => (written.as_str(), None),
    };
    let whole = point.starts_with("front.") || point.starts_with("rear.");
    let point = if whole { point.to_string() } else { format!("{}.{point}", axle.name()) };
    let name = hole.map_or_else(|| point.clone(), |hole| format!("{point}={hole}"));
    let Some(own) = have.iter().find(|own| own.name == name) else { return false };
    let read = |column: usize, unit: Option<LengthUnit>| {
        let system = UnitSystem { length: unit.unwrap_or(car.units.length), ..car.units };
        units::parse(cell(column), Dimension::Length, &system).ok().map(|reading| reading.value)
    };
    let [ux, uy, uz, ua] = mapping.units;
    let same = |value: Option<f64>, own: f64| value.is_some_and(|value| (value - own).abs() <= SAME);
    let mut stays = [false; 3];
    let places = mapping.coordinates.iter().zip([ux, uy, uz]).zip(own.at);
    for (stays, ((column, unit), at)) in stays.iter_mut().zip(places) {
        *stays = same(read(*column, unit), at);
    }
    let accuracy = mapping.accuracy.filter(|column| !cell(*column).is_empty());
    let sure = accuracy.is_none_or(|column| same(read(column, ua), own.accuracy));
    if stays == [true; 3] && sure {
        row.iter_mut().for_each(String::clear);
        return true;
    }
    let mut put = |column: usize, text: &str| {
        if let Some(cell) = row.get_mut(column) {
            *cell = text.to_string();
        }
    };
    if let (Some(column), true) = (accuracy, sure) {
        put(column, "");
    }
    let place = match hole {
        Some(hole) => Place::Hole { point, name: hole.to_string() },
        None => Place::Point(point),
    };
    let Some(typed) = typed.and_then(|typed| typed.point(&place)) else { return false };
    for (k, (column, unit)) in mapping.coordinates.iter().zip([ux, uy, uz]).enumerate() {
        // As typed it is in the file's unit.
        let bare = unit.is_none_or(|unit| unit == car.units.length);
        if stays.get(k) == Some(&true) && bare && !typed.coordinate(k).is_empty() {
            put(*column, typed.coordinate(k));
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_read_as_spreadsheets_call_them() {
        for (letters, column) in [("A", Some(0)), ("d", Some(3)), ("AA", Some(26)), ("ZZ", Some(701))] {
            assert_eq!(column_of(letters), column, "{letters}");
        }
        for odd in ["", "A1", "é", "AAAA", "4"] {
            assert_eq!(column_of(odd), None, "{odd}");
        }
        assert_eq!(Columns::parse("z=D, name=A,x=B,y=C").unwrap(), ([0, 1, 2, 3], None));
        assert_eq!(Columns::parse("name=B,x=C,y=D,z=E,accuracy=F").unwrap(), ([1, 2, 3, 4], Some(5)));
        assert!(matches!(Columns::parse("name=A,x=B,y=C"), Err(ColumnsError::Missing("z"))));
        assert!(matches!(Columns::parse("name=A,q=B"), Err(ColumnsError::Word(_))));
    }
}
