//! All results of a car as tables: the choice table, Stop, Balance, Weigh.

use exchange::{Cell, Sheet};
use project::model::{Car, End};
use study::{Estimate, Subject};

use super::{FileError, Kind, table};
use crate::stage::Which;
use crate::weights;
use crate::words::{column_name, row_name};

/// Decimals of a workbook, and of a text, in which a number is only what is written.
const DECIMALS: (u8, u8) = (3, 6);

/// One result as a row of a long table.
struct Line {
    /// Sheet and group that it is in.
    of: (String, String),
    result: String,
    column: String,
    unit: String,
    value: Option<f64>,
    word: Option<String>,
    uncertainty: Option<f64>,
    outside: String,
}

/// The results. CSV is one table with a row for each result; XLSX a sheet for each stage, and the choice table as a
/// table of rows and columns.
pub(crate) fn results_file(car: &Car, kind: Kind) -> Result<Vec<u8>, FileError> {
    let mut lines = Vec::new();
    let mut sheets = Vec::new();
    for end in [End::Front, End::Rear] {
        choice(car, end, &mut sheets, &mut lines)?;
    }
    let mut notes = vec![
        "± is one standard uncertainty. Planning figures, not an approval: a structural change must be checked by a \
         licensed engineer."
            .to_string(),
    ];
    for which in Which::ALL {
        stage(car, which, &mut lines, &mut notes);
    }
    match study::weigh(car) {
        Ok(weighed) => weigh(car, &weighed, &mut lines),
        Err(error) => notes.push(format!("Weigh: {error}; {}", error.hint())),
    }
    if kind == Kind::Csv {
        return table::bytes(&[long("results", &lines.iter().collect::<Vec<_>>(), true, &notes)], kind);
    }
    for name in ["Stop", "Balance", "Drive", "Manoeuvres", "Weigh"] {
        let own: Vec<&Line> = lines.iter().filter(|line| line.of.0 == name).collect();
        if !own.is_empty() {
            sheets.push(long(name, &own, false, &notes));
        }
    }
    table::bytes(&sheets, kind)
}

fn long(name: &str, lines: &[&Line], of_all: bool, notes: &[String]) -> Sheet {
    let decimals = if of_all { DECIMALS.1 } else { DECIMALS.0 };
    let mut columns = if of_all { vec![table::words("stage")] } else { Vec::new() };
    columns.extend(["group", "result", "column", "unit"].map(table::words));
    columns.extend(["value", "±"].map(|heading| table::numbers(heading, decimals)));
    columns.push(table::words("in words"));
    columns.push(table::words("past the model"));
    let row = |line: &&Line| {
        let mut cells = if of_all { vec![Cell::from(line.of.0.as_str())] } else { Vec::new() };
        cells.extend(
            [&line.of.1, &line.result, &line.column, &line.unit].map(|text| Cell::from(text.as_str())),
        );
        cells.push(table::maybe(line.value));
        cells.push(table::maybe(line.uncertainty));
        cells.push(line.word.as_deref().map_or(Cell::Empty, Cell::from));
        cells.push(Cell::from(line.outside.as_str()));
        cells
    };
    let notes = std::iter::once(String::new()).chain(notes.iter().cloned()).collect();
    Sheet { name: name.into(), columns, rows: lines.iter().map(row).collect(), notes }
}

fn choice(car: &Car, end: End, sheets: &mut Vec<Sheet>, lines: &mut Vec<Line>) -> Result<(), FileError> {
    if car.axle(end).is_none() {
        return Ok(());
    }
    let subject = Subject::new(car, end)?;
    let choice = study::choose(&subject, &[], &car.choose.travels, |_, _| {})?;
    let mut columns = vec![table::words("hole"), table::words("ruled out")];
    let headings: Vec<(String, String, f64)> = choice
        .columns
        .iter()
        .map(|column| {
            let scale = column.quantity.scale();
            let name = column_name(*column, subject.end(), &car.units);
            (name, scale.unit(&car.units), scale.factor(&car.units))
        })
        .collect();
    for (name, unit, _) in &headings {
        let unit = if unit.is_empty() { String::new() } else { format!(" [{unit}]") };
        columns.push(table::numbers(format!("{name}{unit}"), DECIMALS.0));
        columns.push(table::numbers(format!("± {name}{unit}"), DECIMALS.0));
    }
    columns.push(table::words("notes"));
    let mut rows = Vec::new();
    for row in &choice.rows {
        let name = row_name(row);
        let mut cells = vec![Cell::from(name.as_str()), Cell::from(if row.ruled_out { "yes" } else { "" })];
        for (index, (value, (result, unit, factor))) in row.values.iter().zip(&headings).enumerate() {
            let pair = value.as_ref().map(|e| (e.value * factor, e.uncertainty() * factor));
            cells.push(table::maybe(pair.map(|p| p.0)));
            cells.push(table::maybe(pair.map(|p| p.1)));
            let outside = row.outside.get(index) == Some(&true);
            lines.push(Line {
                of: ("Choose".into(), format!("{} axle", end.name())),
                result: result.clone(),
                column: name.clone(),
                unit: unit.clone(),
                value: pair.map(|p| p.0),
                word: None,
                uncertainty: pair.map(|p| p.1),
                outside: if outside { "see the notes of the choice table".into() } else { String::new() },
            });
        }
        cells.push(Cell::Text(row.notes.join("; ")));
        rows.push(cells);
    }
    let notes = std::iter::once(String::new()).chain(study::summary(&choice, &car.units)).collect();
    sheets.push(Sheet { name: format!("choice, {} axle", end.name()), columns, rows, notes });
    Ok(())
}

fn stage(car: &Car, which: Which, lines: &mut Vec<Line>, notes: &mut Vec<String>) {
    let stage = which.work(car, &[]);
    for group in &stage.groups {
        for row in &group.rows {
            let (factor, offset) = (row.scale.factor(&car.units), row.scale.offset(&car.units));
            for (column, cell) in group.columns.iter().zip(&row.cells) {
                let estimate = cell.estimate.as_ref();
                lines.push(Line {
                    of: (which.head().title.into(), group.title.clone()),
                    result: row.title().to_string(),
                    column: column.clone(),
                    unit: row.scale.unit(&car.units),
                    value: estimate.map(|e| e.value * factor + offset),
                    word: cell.word.clone(),
                    uncertainty: estimate.map(|e| e.uncertainty() * factor),
                    outside: cell.outside.clone().unwrap_or_default(),
                });
            }
        }
    }
    notes.extend(stage.lacks.iter().map(|lack| format!("{}: {lack}: {}", which.head().title, lack.hint)));
}

fn weigh(car: &Car, weighed: &study::Weighed, lines: &mut Vec<Line>) {
    for state in &weighed.states {
        for line in weights::lines(state, &car.units) {
            let factor = line.weight.scale().factor(&car.units);
            let change = state.change(line.weight);
            let values: [(&str, Option<&Estimate>); 3] = [
                ("as found", state.found(line.weight)),
                ("after", state.after(line.weight).filter(|_| weighed.ledger)),
                ("change", change.as_ref().filter(|_| weighed.ledger)),
            ];
            for (column, estimate) in values {
                let Some(estimate) = estimate else { continue };
                lines.push(Line {
                    of: ("Weigh".into(), weights::state_title(state)),
                    result: line.title.clone(),
                    column: column.into(),
                    unit: line.unit.clone(),
                    value: Some(estimate.value * factor),
                    word: None,
                    uncertainty: Some(estimate.uncertainty() * factor),
                    outside: String::new(),
                });
            }
        }
    }
}
