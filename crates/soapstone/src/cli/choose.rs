//! The choice table.

mod links;
mod remarks;

use project::model::Car;
use study::{Candidate, Choice, Column, Subject};

use super::args::ChooseArgs;
use super::output::{ACCENT, HEADING, styled};
use super::progress::Progress;
use super::{Failure, load, output, select, table};
use crate::json;
use crate::words::{GROUPS, column_name, column_texts, row_name};

/// The choice table of a car that another command shows as well.
pub(crate) fn print(car: &Car) -> Result<(), Failure> {
    let subject = Subject::new(car, select::axle(car, None)?)?;
    let choice = study::choose(&subject, &[], &car.choose.travels, |_, _| {})?;
    output::text(&text(&subject, &choice))
}

pub(crate) fn run(args: &ChooseArgs) -> Result<(), Failure> {
    let car = load::car(args.car.as_deref())?;
    let end = select::axle(&car, args.axle)?;
    let subject = Subject::new(&car, end)?;
    let travels = if args.travels.is_empty() {
        car.choose.travels.clone()
    } else {
        args.travels.iter().map(|t| select::length(&car, t, "travel")).collect::<Result<_, _>>()?
    };
    let mut extra = Vec::new();
    if !args.at.is_empty() {
        let mut holes = Vec::new();
        for at in &args.at {
            select::add_hole(&subject, at, &mut holes)?;
        }
        let names: Vec<&str> =
            holes.iter().filter_map(|h| subject.axle().holes.get(*h)).map(|h| h.name.as_str()).collect();
        extra
            .push(Candidate { setups: vec!["asked for".into()], ..Candidate::new(names.join(" + "), holes) });
    }
    let progress = Progress::new("working out the rows");
    let choice = study::choose(&subject, &extra, &travels, |done, total| progress.at(done, total))?;
    drop(progress);
    if args.json {
        output::json(&json::choice(&subject, &choice))
    } else if args.csv {
        output::csv(&records(&subject, &choice))
    } else {
        output::text(&text(&subject, &choice))
    }
}

/// The whole table as text.
fn text(subject: &Subject<'_>, choice: &Choice) -> String {
    let car = subject.car();
    let axle = subject.axle();
    let mut out = format!(
        "{}\n",
        styled(HEADING, &format!("{}, {} axle ({}): the choice table", car.name, axle.end.name(), axle.kind))
    );
    let ends = end_names(subject);
    if ends.is_empty() {
        out.push_str("No candidate holes in the file: the one row is the car as drawn.\n");
    } else {
        out.push_str(&format!("Candidate holes for {}.\n", ends.join(", ")));
    }
    for (title, quantities) in GROUPS {
        let columns: Vec<usize> =
            (0..choice.columns.len()).filter(|c| quantities.contains(&choice.columns[*c].quantity)).collect();
        if !columns.is_empty() {
            out.push_str(&format!("\n{}\n", styled(ACCENT, title)));
            out.push_str(&block(subject, choice, &columns));
        }
    }
    out.push_str(&links::links(subject, choice));
    out.push_str(&remarks::remarks(subject, choice));
    out
}

fn block(subject: &Subject<'_>, choice: &Choice, columns: &[usize]) -> String {
    let car = subject.car();
    let mut headings = vec![vec!["hole".to_string()]];
    headings.extend(columns.iter().map(|c| heading(subject, &choice.columns[*c])));
    let mut rows: Vec<Vec<String>> = choice.rows.iter().map(|row| vec![row_name(row)]).collect();
    let mut marked = false;
    for c in columns {
        for (row, (text, outside)) in rows.iter_mut().zip(column_texts(choice, *c, &car.units)) {
            row.push(if outside { format!("{text} *") } else { text });
            marked |= outside;
        }
    }
    let mark = if marked { "* past what the model can say: the notes below say why\n" } else { "" };
    format!("{}{mark}", table::figures(&headings, &rows))
}

fn heading(subject: &Subject<'_>, column: &Column) -> Vec<String> {
    let units = &subject.car().units;
    vec![column_name(*column, subject.end(), units), column.quantity.scale().unit(units)]
}

fn end_names(subject: &Subject<'_>) -> Vec<String> {
    let axle = subject.axle();
    let mut names: Vec<String> = Vec::new();
    for hole in &axle.holes {
        if let Some(p) = axle.scheme.points.get(hole.point) {
            let name = format!("`{p}`");
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// One record a row, each value followed by its ±, in the reader's units.
fn records(subject: &Subject<'_>, choice: &Choice) -> Vec<Vec<String>> {
    let units = &subject.car().units;
    let mut head = vec!["hole".to_string()];
    for column in &choice.columns {
        let heading = heading(subject, column);
        let title = heading.join(" ");
        head.push(title.trim().to_string());
        head.push(format!("± {}", title.trim()));
    }
    let mut records = vec![head];
    for row in &choice.rows {
        let mut record = vec![row.candidate.name.clone()];
        for (value, column) in row.values.iter().zip(&choice.columns) {
            let factor = column.quantity.scale().factor(units);
            match value {
                Some(e) => {
                    record.push(format!("{}", e.value * factor));
                    record.push(format!("{}", e.uncertainty() * factor));
                }
                None => record.extend([String::new(), String::new()]),
            }
        }
        records.push(record);
    }
    records
}
