//! The checks of one part, each with its formula, source and this car's own figures.

use project::model::Car;
use study::build::{Build, Part, PartKind};

use super::numbers::Numbers;
use super::{MARGINS, margin, times};
use crate::flow::{Column, Flow, Table};

/// Parts whose checks are worked out in the book: the weakest of each kind.
const WORKED: usize = 1;

/// How the margins of the weakest part of each kind come about; nothing where no part could be checked.
pub fn parts_section(build: &Build, car: &Car) -> Flow {
    let mut flow = Flow::new();
    let mut counts: Vec<(PartKind, usize)> = Vec::new();
    for part in build.parts.iter().filter(|part| part.worst().is_some()) {
        let count = match counts.iter_mut().find(|(kind, _)| *kind == part.kind) {
            Some((_, count)) => count,
            None => {
                counts.push((part.kind, 0));
                let Some((_, count)) = counts.last_mut() else { continue };
                count
            }
        };
        *count += 1;
        if *count > WORKED {
            continue;
        }
        if flow.blocks.is_empty() {
            flow.heading(1, "Build: how the margins come about");
            flow.caution(MARGINS);
            flow.say(
                "The weakest part of each kind, with every check that was made of it; `soapstone build --part NAME` and the page \
                 have all others.",
            );
        }
        checks(&mut flow, part, build, car);
    }
    flow
}

/// Everything that was checked of a part.
pub fn part_section(part: &Part, build: &Build, car: &Car) -> Flow {
    let mut flow = Flow::new();
    flow.caution(MARGINS);
    checks(&mut flow, part, build, car);
    flow
}

fn checks(flow: &mut Flow, part: &Part, build: &Build, car: &Car) {
    flow.heading(2, format!("{} {}", part.kind.words(), part.full_name()));
    if !part.made_of.is_empty() {
        flow.say(part.made_of.clone());
    }
    flow.bullets(part.lacks.iter().cloned());
    let numbers = Numbers { units: &car.units };
    for judged in &part.checks {
        let check = &judged.check;
        let failure = check.failure;
        flow.heading(3, failure.title());
        let side = if judged.right { ", right side" } else { "" };
        let pairs = [
            (
                "here",
                format!(
                    "{} of {}: holds {} times, margin {}",
                    numbers.measure(check.demand, check.measure),
                    numbers.measure(check.capacity, check.measure),
                    times(check.holds()),
                    margin(check.holds(), build.wanted)
                ),
            ),
            ("in", format!("{}{side}", build.case_title(judged.case))),
            ("what it is", failure.definition().to_string()),
            ("formula", failure.formula().to_string()),
            ("source", failure.source().to_string()),
            ("past the model", check.outside.unwrap_or_default().to_string()),
        ];
        flow.pairs(pairs.into_iter().filter(|(_, value)| !value.is_empty()));
        if !check.terms.is_empty() {
            let columns =
                [Column::words("symbol"), Column::figures("value"), Column::words("what it stands for")];
            let mut table = Table::new(columns);
            for term in &check.terms {
                table.row([
                    term.symbol.to_string(),
                    numbers.measure(term.value, term.measure),
                    term.meaning.to_string(),
                ]);
            }
            flow.table(table);
        }
    }
}
