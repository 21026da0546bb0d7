//! How the columns of the choice table come about, with this car's figures in the formulas.

use study::{Quantity, explain};

use super::Axle;
use crate::flow::Flow;
use crate::stage::worked_number;

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
            worked_number(&mut flow, &worked);
        }
    }
    flow
}
