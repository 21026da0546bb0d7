//! The setup card as one page: what is set, and for every other setup the jobs that lead here, each with a box to tick.

use study::{Card, Item, Step};
use units::UnitSystem;

use crate::flow::{Column, Flow, Table};

/// A box to tick.
const BOX: &str = "☐";

/// Beside the figures of every card.
pub const CAUTIONS: [&str; 2] = [
    "Stands that are rated for the car, on firm ground, before a wheel comes off; wheel nuts to their torque, and again \
     after the first lap (common practice). Planning figures, not an approval.",
    "After every change: brakes tried at walking pace, then step by step, away from people.",
];

/// Jobs from another setup.
#[derive(Clone, Debug, PartialEq)]
pub struct JobsFrom {
    /// Name of the setup that the car is in.
    pub name: String,
    /// The jobs, in order.
    pub steps: Vec<Step>,
}

/// A card as a chapter.
pub fn card_section(card: &Card, from: &[JobsFrom], units: &UnitSystem) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, format!("Setup card: {}", card.name));
    for caution in CAUTIONS {
        flow.caution(caution);
    }
    flow.heading(2, "What is set");
    let mut table = Table::new([Column::words("what"), Column::words("how"), Column::words("where")]);
    for item in &card.items {
        table.row([item.what.clone(), item.value(units), place(item).to_string()]);
    }
    flow.table(table);
    for from in from {
        flow.heading(2, format!("From {}", from.name));
        if from.steps.is_empty() {
            flow.say("Nothing to do: it is the same.");
        }
        for (stands, title) in [(true, "On stands"), (false, "On its wheels")] {
            let steps: Vec<&Step> = from.steps.iter().filter(|s| s.work.on_stands() == stands).collect();
            if steps.is_empty() {
                continue;
            }
            let mut table = Table::new([Column::words(""), Column::words(title)]);
            for step in steps {
                table.row([BOX, step.words.as_str()]);
            }
            flow.table(table);
        }
    }
    if !card.notes.is_empty() {
        flow.heading(2, "To know");
        flow.bullets(card.notes.clone());
    }
    flow
}

/// Where the car has to stand to set it.
fn place(item: &Item) -> &'static str {
    if item.work.on_stands() { "on stands" } else { "on its wheels" }
}
