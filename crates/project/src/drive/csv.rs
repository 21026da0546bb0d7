//! A centreline as a file: rows under a line of names, parted by commas, semicolons or tabs.

use crate::model::CentreRow;

/// Most rows of a file.
const MOST: usize = 20_000;

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Holds {
    X,
    Y,
    Latitude,
    Longitude,
    Height,
    Left,
    Right,
    Bank,
    Grip,
    Section,
}

const NAMES: [(&str, Holds); 20] = [
    ("x", Holds::X),
    ("x_m", Holds::X),
    ("east", Holds::X),
    ("y", Holds::Y),
    ("y_m", Holds::Y),
    ("north", Holds::Y),
    ("lat", Holds::Latitude),
    ("latitude", Holds::Latitude),
    ("lon", Holds::Longitude),
    ("long", Holds::Longitude),
    ("longitude", Holds::Longitude),
    ("z", Holds::Height),
    ("height", Holds::Height),
    ("elevation", Holds::Height),
    ("altitude", Holds::Height),
    ("left", Holds::Left),
    ("right", Holds::Right),
    ("bank", Holds::Bank),
    ("grip", Holds::Grip),
    ("section", Holds::Section),
];

/// The rows of a centreline and whether its places are latitude and longitude in degrees. Columns are known by their names
/// in the first line: `x` and `y` in metres or `lat` and `lon` in degrees; `z`, `left` and `right` (free width) in metres,
/// `bank` in degrees (left side low positive), `grip` a share, `section` a name that begins there. Other columns are left.
///
/// # Errors
/// In words, with the line.
pub fn centre_rows(text: &str) -> Result<(Vec<CentreRow>, bool), String> {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines = text.lines().enumerate().filter(|(_, line)| {
        let line = line.trim();
        !line.is_empty()
            && (!line.starts_with('#')
                || line.trim_start_matches(['#', ' ']).starts_with(['x', 'l', 'X', 'L']))
    });
    let Some((_, head)) = lines.next() else { return Err("the file is empty".into()) };
    let parting = [';', '\t', ','].into_iter().find(|c| head.contains(*c)).unwrap_or(',');
    let names: Vec<String> = head
        .trim_start_matches(['#', ' '])
        .split(parting)
        .map(|name| name.trim().trim_matches('"').to_lowercase())
        .collect();
    let columns: Vec<Option<Holds>> = names
        .iter()
        .map(|name| NAMES.iter().find(|(known, _)| known == name).map(|(_, holds)| *holds))
        .collect();
    let has = |holds: Holds| columns.contains(&Some(holds));
    let degrees = has(Holds::Latitude) && has(Holds::Longitude);
    let metres = has(Holds::X) && has(Holds::Y);
    if !degrees && !metres {
        return Err(format!(
            "the first line must name the columns, `x` and `y` or `lat` and `lon` among them; it names `{}`",
            crate::entry::shorten(&names.join("`, `"))
        ));
    }
    let mut rows: Vec<CentreRow> = Vec::new();
    for (number, line) in lines {
        if rows.len() == MOST {
            return Err(format!("there are more than {MOST} rows: leave out every other one"));
        }
        let mut row = CentreRow::default();
        let mut room = [None; 2];
        let (mut first, mut second) = (None, None);
        for (cell, (holds, name)) in line.split(parting).zip(columns.iter().zip(&names)) {
            let cell = cell.trim().trim_matches('"');
            let Some(holds) = holds else { continue };
            if *holds == Holds::Section {
                row.section = (!cell.is_empty()).then(|| cell.to_string());
                continue;
            }
            if cell.is_empty() {
                continue;
            }
            // A comma for the point, where something else parts the cells.
            let plain = if parting == ',' { cell.to_string() } else { cell.replace(',', ".") };
            let value: f64 = plain.parse().ok().filter(|v: &f64| v.is_finite()).ok_or_else(|| {
                format!(
                    "line {}, column `{name}`: `{}` is no number",
                    number + 1,
                    crate::entry::shorten(cell)
                )
            })?;
            match holds {
                Holds::X if !degrees => first = Some(value),
                Holds::Y if !degrees => second = Some(value),
                Holds::Latitude if degrees => first = Some(value),
                Holds::Longitude if degrees => second = Some(value),
                Holds::Height => row.height = Some(value),
                Holds::Left => room[0] = Some(value),
                Holds::Right => room[1] = Some(value),
                Holds::Bank => row.bank = Some(value.to_radians()),
                Holds::Grip => row.grip = Some(value),
                _ => {}
            }
        }
        let (Some(first), Some(second)) = (first, second) else {
            return Err(format!("line {} has no place", number + 1));
        };
        row.at = [first, second];
        row.room = room[0].zip(room[1]).map(|(left, right)| [left, right]);
        rows.push(row);
    }
    if rows.len() < 8 {
        return Err(format!("there are {} rows: a path needs at least 8", rows.len()));
    }
    Ok((rows, degrees))
}
