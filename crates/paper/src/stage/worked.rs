//! What the figures of a stage are, with this car's own numbers in their formulas.

use study::Stage;
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
        let worked = row.worked(0, units);
        flow.heading(3, row.about.title);
        let doubts: Vec<String> = worked
            .sources_of_doubt
            .iter()
            .map(|(name, share)| format!("{name} {:.0}\u{a0}%", 100.0 * share))
            .collect();
        let pairs = [
            ("here", worked.substituted.clone()),
            ("what it is", row.about.definition.to_string()),
            ("formula", row.about.formula.to_string()),
            ("source", row.about.source.to_string()),
            ("it does", row.about.does.to_string()),
            ("it does not", row.about.does_not.to_string()),
            ("± comes from", doubts.join(", ")),
            ("past the model", worked.remarks.join("; ")),
        ];
        flow.pairs(pairs.into_iter().filter(|(_, value)| !value.is_empty()));
        if !worked.terms.is_empty() {
            let columns =
                [Column::words("symbol"), Column::figures("value"), Column::words("what it stands for")];
            let mut table = Table::new(columns);
            for term in &worked.terms {
                table.row([term.symbol.to_string(), term.value.clone(), term.meaning.to_string()]);
            }
            flow.table(table);
        }
    }
    flow
}
