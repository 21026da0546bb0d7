//! The setup card as one page: what is set, and for every other setup the jobs that lead here, each with a box to tick.

use study::{Card, Item, Step};
use units::UnitSystem;

use crate::flow::{Column, Flow, Table};

/// A box to tick.
const BOX: &str = "☐";

/// Where the car stands for a job, and what that is called.
const STANDING: [(bool, &str); 2] = [(true, "On stands"), (false, "On its wheels")];

/// Beside the figures of every card.
pub const CAUTIONS: [&str; 2] = [
    "Stands that are rated for the car, on firm ground, before a wheel comes off; wheel nuts to their torque, and again \
     after the first lap (common practice). Planning figures, not an approval.",
    "After every change: brakes tried at walking pace, then step by step, away from people.",
];

/// Jobs from another setup.
#[derive(Clone, Debug, PartialEq)]
pub struct JobsFrom {
    /// The setup that the car is in.
    pub card: Card,
    /// The jobs, in order.
    pub steps: Vec<Step>,
}

/// A card as a chapter. What is the same in all the setups stands in small print, so that a card is a page.
pub fn card_section(card: &Card, from: &[JobsFrom], units: &UnitSystem) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, format!("Setup card: {}", card.name));
    for caution in CAUTIONS {
        flow.caution(caution);
    }
    flow.heading(2, "What is set");
    for (stands, title) in STANDING {
        let own = |item: &&Item| item.work.on_stands() == stands && differs(item, from);
        let items: Vec<&Item> = card.items.iter().filter(own).collect();
        if items.is_empty() {
            continue;
        }
        let mut table = Table::new([Column::words(title), Column::words("set to")]);
        for item in items {
            table.row([item.what.clone(), item.value(units)]);
        }
        flow.table(table);
    }
    let alike: Vec<String> = card
        .items
        .iter()
        .filter(|item| !differs(item, from))
        .map(|item| format!("{}: {}", item.what, item.value(units)))
        .collect();
    if !alike.is_empty() {
        let setups = if from.len() == 1 { "in both setups" } else { "in all of these setups" };
        flow.remark(format!("The same {setups}: {}.", alike.join("; ")));
    }
    for from in from {
        flow.heading(2, format!("From {}", from.card.name));
        if from.steps.is_empty() {
            flow.say("Nothing to do: it is the same.");
        }
        for (stands, title) in STANDING {
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

/// Whether an item is another one in any of the other setups; everything where there is none.
fn differs(item: &Item, from: &[JobsFrom]) -> bool {
    from.is_empty() || from.iter().any(|from| !from.card.items.contains(item))
}
