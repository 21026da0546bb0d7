//! How the columns of the choice table come about, with this car's figures in the formulas.

use study::{Quantity, Worked, explain};

use super::Axle;
use crate::flow::{Column, Flow, Table};

pub(super) fn chapter(axle: &Axle<'_>) -> Flow {
    let mut flow = Flow::new();
    let Ok(choice) = &axle.choice else { return flow };
    flow.heading(1, format!("{}: how the choice table comes about", axle.title()));
    flow.say("For the car as drawn; every other row is the same with its own places.");
    let mut known: Vec<Quantity> = Vec::new();
    for column in &choice.columns {
        if known.contains(&column.quantity) {
            continue;
        }
        known.push(column.quantity);
        if let Ok(worked) = explain(&axle.subject, column.quantity, &[], 0.0) {
            section(&mut flow, &worked);
        }
    }
    flow
}

fn section(flow: &mut Flow, worked: &Worked) {
    let about = &worked.about;
    flow.heading(3, about.title);
    let doubts: Vec<String> = worked
        .sources_of_doubt
        .iter()
        .map(|(name, share)| format!("{name} {:.0}\u{a0}%", 100.0 * share))
        .collect();
    let pairs = [
        ("here", worked.substituted.clone()),
        ("what it is", about.definition.to_string()),
        ("formula", about.formula.to_string()),
        ("source", about.source.to_string()),
        ("it does", about.does.to_string()),
        ("it does not", about.does_not.to_string()),
        ("± comes from", doubts.join(", ")),
        ("to know", worked.remarks.join("; ")),
    ];
    flow.pairs(pairs.into_iter().filter(|(_, value)| !value.is_empty()));
    if !worked.terms.is_empty() {
        let columns =
            [Column::words("symbol"), Column::figures("value"), Column::words("what it stands for")];
        let mut table = Table::new(columns);
        for term in &worked.terms {
            table.row([term.symbol.clone(), term.value.clone(), term.meaning.clone()]);
        }
        flow.table(table);
    }
}
