//! What the figures of a stage are, with this car's own numbers in their formulas.

use study::{Stage, Worked};
use units::UnitSystem;

use crate::flow::{Column, Flow, Table};

/// Every result of a stage once: what it is, its formula, the values that went in, its source, what it does and
/// does not, and where its ± comes from. Nothing where the stage has no result.
pub fn worked_section(title: &str, stage: &Stage, units: &UnitSystem) -> Flow {
    let mut flow = Flow::new();
    if stage.groups.iter().all(|group| group.rows.is_empty()) {
        return flow;
    }
    flow.heading(1, title);
    let mut known: Vec<&str> = Vec::new();
    for row in stage.groups.iter().flat_map(|group| &group.rows) {
        if known.contains(&row.key) {
            continue;
        }
        known.push(row.key);
        worked_number(&mut flow, &row.worked(0, units));
    }
    flow
}

/// One worked number: what it is, its formula, this car's own figures in it, its source, what it does and does not, where
/// its ± comes from.
pub(crate) fn worked_number(flow: &mut Flow, worked: &Worked) {
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
