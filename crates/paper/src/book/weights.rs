//! What the car weighs and where: the states, the ledger, the perch turns.

use project::model::{Car, Part, Value};
use study::weights::{CAUTION, doubts, lines, perch_words, perches, state_title};
use study::{LoadState, Weighed};
use units::{Dimension, show};

use crate::flow::{Column, Flow, Table};

pub(super) fn chapter(car: &Car) -> Flow {
    let mut flow = Flow::new();
    let Ok(weighed) = study::weigh(car) else { return flow };
    flow.heading(1, "Weigh");
    flow.caution(CAUTION);
    for state in &weighed.states {
        flow.heading(2, state_title(state));
        flow.table(table(car, &weighed, state));
    }
    if let Some(advice) = &weighed.perches {
        flow.heading(2, "Spring perches, ready to run");
        if let Some(rows) = perches(advice, &car.units)
            && let Some((head, rows)) = rows.split_first()
        {
            let named = |(i, name): (usize, &String)| {
                let name = name.replace(" [", ", ").replace(']', "");
                if i == 0 { Column::words(name) } else { Column::figures(name) }
            };
            let mut table = Table::new(head.iter().enumerate().map(named));
            rows.iter().for_each(|row| table.row(row.clone()));
            flow.table(table);
        }
        perch_words(advice, &car.units).into_iter().for_each(|words| flow.say(words));
    }
    ledger(&mut flow, car);
    let notes = weighed.notes.iter().cloned().chain(doubts(&weighed));
    let known =
        "± is one standard uncertainty; the ± of a change leaves out what both sides share.".to_string();
    flow.heading(2, "To know");
    flow.bullets(notes.chain([known]));
    flow
}

fn table(car: &Car, weighed: &Weighed, state: &LoadState) -> Table {
    let mut columns = vec![Column::words("what"), Column::figures("as found")];
    if weighed.ledger {
        columns.extend([Column::figures("after"), Column::figures("change")]);
    }
    columns.push(Column::words("unit"));
    let mut table = Table::new(columns);
    let together = |text: String| text.replace(" ± ", "\u{a0}±\u{a0}");
    for line in lines(state, &car.units) {
        let mut row = vec![line.title, together(line.found)];
        if weighed.ledger {
            row.extend([together(line.after), together(line.change)]);
        }
        row.push(line.unit);
        table.row(row);
    }
    table
}

/// The parts that came out and went in.
fn ledger(flow: &mut Flow, car: &Car) {
    let Some(weighing) = &car.weigh else { return };
    let units = &car.units;
    let lists: [(&str, &[Part]); 2] = [("out", &weighing.parts_out), ("in", &weighing.parts_in)];
    if lists.iter().all(|(_, parts)| parts.is_empty()) {
        return;
    }
    flow.heading(2, "Ledger of parts");
    let mass = units.symbol(Dimension::Mass);
    let mut table = Table::new([
        Column::words("part"),
        Column::words("way"),
        Column::figures(format!("mass, {mass}")),
        Column::figures(format!("x, y, z in the survey's frame, {}", units.symbol(Dimension::Length))),
    ]);
    for (way, part) in lists.iter().flat_map(|(way, parts)| parts.iter().map(move |part| (way, part))) {
        let value = |value: &Value| {
            let doubt = Some(value.uncertainty).filter(|u| *u > 0.0);
            let factor = units.factor(Dimension::Mass);
            let (number, doubt) = show::with_uncertainty(value.value / factor, doubt.map(|d| d / factor), 2);
            doubt.map_or(number.clone(), |d| format!("{number}\u{a0}±\u{a0}{d}"))
        };
        let at = car.frame.to_survey(part.at.at);
        let place: Vec<String> = at.iter().map(|x| show::number(*x, Dimension::Length, units, 0)).collect();
        table.row([part.name.clone(), (*way).to_string(), value(&part.mass), place.join(", ")]);
    }
    flow.table(table);
}
