//! The stages Stop and Balance in the terminal: tables of figures, what they say, what is missing.

use project::model::{Car, End};
use study::{Group, Stage, Subject};

use super::args::{PlaceArgs, StageArgs};
use super::output::{ACCENT, HEADING, styled};
use super::{Failure, load, output, select, table};
use crate::stage::{self, Head, Which};

/// Runs `soapstone stop` or `soapstone balance`.
pub(crate) fn run(which: Which, args: &StageArgs) -> Result<(), Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let (place, holes) = holes(&car, &args.place)?;
    let car = select::set_up(&car, &args.place)?;
    let stage = which.work(car, &holes);
    show(&which.head(), (args.json, args.csv), car, &place, &stage)
}

/// Prints a stage: as JSON, as comma-separated values, or for people.
pub(crate) fn show(
    head: &Head,
    (json, csv): (bool, bool),
    car: &Car,
    place: &str,
    stage: &Stage,
) -> Result<(), Failure> {
    if json {
        output::json(&crate::json::stage(head, car, place, stage))
    } else if csv {
        output::csv(&records(car, stage))
    } else {
        output::text(&text(head, car, place, stage))
    }
}

/// The holes that the arguments name, of both axles, and what they are called.
pub(crate) fn holes(car: &Car, place: &PlaceArgs) -> Result<(String, Vec<(End, usize)>), Failure> {
    let chosen = select::axle(car, place.axle)?;
    let mut all = Vec::new();
    let mut names = Vec::new();
    for end in [End::Front, End::Rear] {
        let Ok(subject) = Subject::new(car, end) else { continue };
        let mut place = place.clone();
        // A hole without its axle's name belongs to the axle that is looked at.
        let named = |at: &String| at.trim_start().starts_with(&format!("{}.", end.name()));
        let other = |at: &String| ["front.", "rear."].iter().any(|p| at.trim_start().starts_with(p));
        place.at.retain(|at| named(at) || (end == chosen && !other(at)));
        let holes = select::holes(car, &subject, &place)?;
        let holes_of = &subject.axle().holes;
        names.extend(holes.iter().filter_map(|h| holes_of.get(*h)).map(|hole| hole.name.clone()));
        all.extend(holes.into_iter().map(|hole| (end, hole)));
    }
    let holes = if names.is_empty() { "as drawn".into() } else { format!("hole {}", names.join(" + ")) };
    let place = match &place.setup {
        Some(name) => format!("setup {name}, {holes}"),
        None => holes,
    };
    Ok((place, all))
}

fn text(head: &Head, car: &Car, place: &str, stage: &Stage) -> String {
    let mut out =
        format!("{}\n", styled(HEADING, &format!("{}: {}, {place}", car.name, head.title.to_lowercase())));
    for group in &stage.groups {
        out.push_str(&format!("\n{}\n", styled(ACCENT, &group.title)));
        out.push_str(&block(car, group));
        for words in &group.words {
            out.push_str(&format!("{}\n", table::wrap(words, 0)));
        }
    }
    if !stage.lacks.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "Not known yet")));
        for lack in &stage.lacks {
            out.push_str(&format!("- {}\n", table::wrap(&format!("{lack}: {}", lack.hint), 2)));
        }
    }
    out.push('\n');
    for note in stage.notes.iter().map(String::as_str).chain([stage::PLUS_MINUS, head.caution]) {
        out.push_str(&format!("- {}\n", table::wrap(note, 2)));
    }
    out
}

/// Columns up to which a table is never broken.
const NARROW: usize = 3;

fn block(car: &Car, group: &Group) -> String {
    let mut headings = vec![vec![String::new()]];
    headings.extend(group.columns.iter().map(|name| vec![name.clone()]));
    // A table that may be broken has its units beside the names, which stand before every piece.
    let apart = group.columns.len() <= NARROW;
    if apart {
        headings.push(vec![String::new()]);
    }
    // Past the model's range: the reason stands below, its number beside the value.
    let reasons = group.reasons();
    let rows: Vec<Vec<String>> = group
        .rows
        .iter()
        .map(|row| {
            let unit = row.scale.unit(&car.units);
            let named = !apart && !unit.is_empty() && row.cells.iter().any(|c| c.word.is_none());
            let mut line =
                vec![if named { format!("{} [{unit}]", row.title()) } else { row.title().to_string() }];
            for (text, cell) in row.texts(&car.units).into_iter().zip(&row.cells) {
                let mark = cell.mark(&reasons).map(|mark| format!(" {mark}"));
                line.push(text + &mark.unwrap_or_default());
            }
            if apart {
                line.push(unit);
            }
            line
        })
        .collect();
    let mut out = table::figures(&headings, &rows);
    for (i, why) in reasons.iter().enumerate() {
        out.push_str(&format!("[{}] {}\n", i + 1, table::wrap(why, 4)));
    }
    out
}

/// One record a result and column, in the file's units.
fn records(car: &Car, stage: &Stage) -> Vec<Vec<String>> {
    let head = ["group", "result", "column", "unit", "value", "standard uncertainty", "outside"];
    let mut records = vec![head.map(str::to_string).to_vec()];
    for group in &stage.groups {
        for row in &group.rows {
            let (factor, offset) = (row.scale.factor(&car.units), row.scale.offset(&car.units));
            for (column, cell) in group.columns.iter().zip(&row.cells) {
                let number = |v: f64| units::show::with_uncertainty(v, None, 5).0;
                let value = match (&cell.estimate, &cell.word) {
                    (Some(e), _) => number(e.value * factor + offset),
                    (None, word) => word.clone().unwrap_or_default(),
                };
                let doubt =
                    cell.estimate.as_ref().map_or_else(String::new, |e| number(e.uncertainty() * factor));
                records.push(vec![
                    group.title.clone(),
                    row.label.as_ref().map_or_else(|| row.key.into(), |own| format!("{}: {own}", row.key)),
                    column.clone(),
                    row.scale.unit(&car.units),
                    value,
                    doubt,
                    cell.outside.clone().unwrap_or_default(),
                ]);
            }
        }
    }
    records
}
