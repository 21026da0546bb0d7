//! Which column is what, from the headings of a grid.

use units::LengthUnit;

use super::Mapping;

/// Rows at the head of a grid in which headings are looked for.
const LOOKED_AT: usize = 40;

/// A mapping from headings, else from the form of the first row.
pub(super) fn guess(rows: &[Vec<String>]) -> Option<Mapping> {
    let headed = rows.iter().take(LOOKED_AT).enumerate().find_map(|(row, cells)| headings(row, cells));
    let mut mapping = headed.or_else(|| bare(rows))?;
    mapping.last_row = last_row(rows, &mapping);
    Some(mapping)
}

/// A heading: its word in small letters, and the unit that stands behind it.
fn heading(cell: &str) -> (String, Option<LengthUnit>) {
    let cell = cell.trim().to_lowercase();
    let parts: Vec<&str> =
        cell.split(|c: char| c.is_whitespace() || "[](),:/".contains(c)).filter(|p| !p.is_empty()).collect();
    match parts.as_slice() {
        [word @ .., last] if !word.is_empty() => match LengthUnit::from_name(last) {
            Some(unit) => (word.join(" "), Some(unit)),
            None => (parts.join(" "), None),
        },
        _ => (parts.join(" "), None),
    }
}

fn headings(row: usize, cells: &[String]) -> Option<Mapping> {
    let headings: Vec<(String, Option<LengthUnit>)> = cells.iter().map(|cell| heading(cell)).collect();
    let column = |words: &[&str]| headings.iter().position(|(word, _)| words.contains(&word.as_str()));
    let coordinates = [
        column(&["x", "x coordinate", "x-coordinate"])?,
        column(&["y", "y coordinate", "y-coordinate"])?,
        column(&["z", "z coordinate", "z-coordinate"])?,
    ];
    let accuracy = ["±", "+-", "+ -", "accuracy", "uncertainty", "± accuracy", "accuracy ±", "sigma"];
    let accuracy = column(&accuracy);
    let name = column(&["name", "point", "points", "point name", "name of point", "pickup", "label"]);
    // Without a heading of its own the names stand in the first column that is nothing else.
    let name =
        name.or_else(|| (0..cells.len()).find(|c| !coordinates.contains(c) && accuracy != Some(*c)))?;
    let unit = |column: usize| headings.get(column).and_then(|(_, unit)| *unit);
    let [x, y, z] = coordinates.map(unit);
    // One stated unit is meant for all that state none.
    let any = x.or(y).or(z);
    let units = [x.or(any), y.or(any), z.or(any), accuracy.and_then(unit).or(any)];
    Some(Mapping { name, coordinates, accuracy, first_row: row + 1, last_row: None, units })
}

/// Name, x, y, z, perhaps the accuracy, side by side from the first cell that is not empty, without headings.
fn bare(rows: &[Vec<String>]) -> Option<Mapping> {
    let (first_row, cells) =
        rows.iter().enumerate().find(|(_, cells)| cells.iter().any(|cell| !cell.trim().is_empty()))?;
    let name = cells.iter().position(|cell| !cell.trim().is_empty())?;
    let is_number =
        |column: usize| cells.get(column).is_some_and(|c| c.contains(|l: char| l.is_ascii_digit()));
    let coordinates = [name + 1, name + 2, name + 3];
    let accuracy = Some(name + 4).filter(|column| is_number(*column));
    coordinates.iter().all(|column| is_number(*column)).then_some(Mapping {
        name,
        coordinates,
        accuracy,
        first_row,
        last_row: None,
        units: [None; 4],
    })
}

/// The row before the first empty one, where no row after that has all that a point needs: what follows is words.
fn last_row(rows: &[Vec<String>], mapping: &Mapping) -> Option<usize> {
    let [x, y, z] = mapping.coordinates;
    let filled = |row: &[String], column: usize| row.get(column).is_some_and(|cell| !cell.trim().is_empty());
    let whole = |row: &Vec<String>| [mapping.name, x, y, z].iter().all(|column| filled(row, *column));
    let last = rows.iter().rposition(whole)?;
    let next = rows.get(last + 1)?;
    let empty = mapping.columns().iter().all(|column| !filled(next, *column));
    (empty && mapping.first_row <= last).then_some(last)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(table: &str) -> Vec<Vec<String>> {
        table.lines().map(|line| line.split('|').map(str::to_string).collect()).collect()
    }

    #[test]
    fn reads_headings_in_any_order_and_place() {
        let mapping =
            guess(&rows("my survey\n\n|z [in]|± [mm]|Point|x [mm]|Y (mm)\n|1|2|a|3|4")).expect("a guess");
        assert_eq!((mapping.name, mapping.coordinates, mapping.accuracy), (3, [4, 5, 1], Some(2)));
        assert_eq!(mapping.first_row, 3);
        let (mm, inch) = (Some(LengthUnit::Millimetre), Some(LengthUnit::Inch));
        assert_eq!(mapping.units, [mm, mm, inch, mm]);
    }

    #[test]
    fn one_unit_serves_all() {
        let mapping = guess(&rows("what|x, mm|y|z|accuracy\na|1|2|3|4")).expect("a guess");
        assert_eq!((mapping.name, mapping.accuracy), (0, Some(4)));
        assert_eq!(mapping.units, [Some(LengthUnit::Millimetre); 4]);
        assert_eq!(guess(&rows("name|x|y|z\na|1|2|3")).map(|m| m.units), Some([None; 4]));
    }

    #[test]
    fn does_without_headings() {
        let mapping = guess(&rows("\n|link.toe.body|1|2,5|3")).expect("a guess");
        assert_eq!((mapping.name, mapping.coordinates, mapping.accuracy), (1, [2, 3, 4], None));
        assert_eq!(mapping.first_row, 1);
        assert_eq!(guess(&rows("just words|and|more|of them")), None);
        assert_eq!(guess(&[]), None);
    }

    #[test]
    fn stops_before_notes() {
        let mapping = guess(&rows("name|x|y|z\na|1|2|3\n\nb|1|2|3\n\nplanning figures")).expect("a guess");
        assert_eq!(mapping.last_row, Some(3));
        // A row that lacks a coordinate is a mistake to be told, not a note.
        assert_eq!(guess(&rows("name|x|y|z\na|1|2|3\nb|1|2|")).map(|m| m.last_row), Some(None));
    }
}
