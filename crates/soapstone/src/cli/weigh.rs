//! What the car weighs, and where.

use project::model::Car;
use study::{LoadState, Weighed};
use units::{Dimension, show};

use super::args::WeighArgs;
use super::output::{ACCENT, HEADING, styled};
use super::{Failure, load, output, table};
use crate::json;
use crate::weights;

pub(crate) fn run(args: &WeighArgs) -> Result<(), Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let weighed = study::weigh(&car)?;
    if args.json {
        output::json(&json::weighed(&car, &weighed))
    } else if args.csv {
        output::csv(&records(&car, &weighed))
    } else {
        output::text(&text(&car, &weighed))
    }
}

fn text(car: &Car, weighed: &Weighed) -> String {
    let mut out =
        format!("{}\n", styled(HEADING, &format!("{}: mass, centre of gravity, corner weights", car.name)));
    for state in &weighed.states {
        out.push_str(&format!("\n{}\n", styled(ACCENT, &weights::state_title(state))));
        out.push_str(&block(car, weighed, state));
    }
    if let Some(raised) = &weighed.raised {
        let moved = show::with_unit(raised.moved, Dimension::Mass, &car.units, 1);
        let tilt = show::with_uncertainty(raised.tilt.to_degrees(), None, 2).0;
        out.push_str(&format!("\nRaised by {tilt} deg, {moved} moved onto the low end.\n"));
    }
    if let Some(advice) = &weighed.perches {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "Spring perches, ready to run")));
        if let Some(rows) = weights::perches(advice, &car.units)
            && let Some((head, rows)) = rows.split_first()
        {
            let headings: Vec<Vec<String>> = head
                .iter()
                .map(|h| h.split(" [").map(|p| p.trim_end_matches(']').to_string()).collect())
                .collect();
            out.push_str(&table::figures(&headings, rows));
        }
        for words in weights::perch_words(advice, &car.units) {
            out.push_str(&format!("{}\n", table::wrap(&words, 0)));
        }
    }
    out.push('\n');
    let doubts = weights::doubts(weighed);
    let known =
        "± is one standard uncertainty; the ± of a change leaves out what both sides share.".to_string();
    for note in weighed.notes.iter().chain(&doubts).chain([&known, &weights::CAUTION.to_string()]) {
        out.push_str(&format!("- {}\n", table::wrap(note, 2)));
    }
    out
}

fn block(car: &Car, weighed: &Weighed, state: &LoadState) -> String {
    let plain = |text: &str| vec![text.to_string()];
    let mut headings = vec![plain(""), plain("as found")];
    if weighed.ledger {
        headings.extend([plain("after"), plain("change")]);
    }
    headings.push(plain(""));
    let rows: Vec<Vec<String>> = weights::lines(state, &car.units)
        .into_iter()
        .map(|line| {
            let mut row = vec![line.title, line.found];
            if weighed.ledger {
                row.extend([line.after, line.change]);
            }
            row.push(line.unit);
            row
        })
        .collect();
    table::figures(&headings, &rows)
}

/// One record a state and result.
fn records(car: &Car, weighed: &Weighed) -> Vec<Vec<String>> {
    let head = ["state", "result", "unit", "as found", "± found", "after", "± after", "change", "± change"];
    let mut records = vec![head.map(str::to_string).to_vec()];
    for state in &weighed.states {
        for line in weights::lines(state, &car.units) {
            let w = line.weight;
            let factor = w.scale().factor(&car.units);
            let mut record = vec![state.name.clone(), w.key().to_string(), line.unit];
            let change = state.change(w);
            for e in [state.found(w), state.after(w), change.as_ref()] {
                let pair = e.map(|e| (e.value * factor, e.uncertainty() * factor));
                let text = |v: f64| show::with_uncertainty(v, None, 4).0;
                record.push(pair.map_or_else(String::new, |p| text(p.0)));
                record.push(pair.map_or_else(String::new, |p| text(p.1)));
            }
            records.push(record);
        }
    }
    records
}
