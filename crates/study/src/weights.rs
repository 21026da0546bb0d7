//! The words and figures of a weighing, the same in the terminal and on the page.

use crate::estimate::Estimate;
use crate::present::shown;
use crate::weigh::{LoadState, PerchAdvice, Weighed, Weight};
use units::{Dimension, UnitSystem, show};

/// What to beware of, wherever a weighing is shown.
pub const CAUTION: &str = "A raised car stands on pads or stands made for it, its low wheels chocked, nobody \
                                  under it, no fuel spilling. Planning figures, not an approval.";

/// One result of one state, ready to print.
pub struct Line {
    /// Which result.
    pub weight: Weight,
    /// Name, with its mark where it is an estimate.
    pub title: String,
    /// Without the unit; `-` where it is not known.
    pub found: String,
    /// After the ledger.
    pub after: String,
    /// The change.
    pub change: String,
    /// Unit of all three.
    pub unit: String,
}

/// What is in the car, with a capital.
pub fn state_title(state: &LoadState) -> String {
    let mut letters = state.name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The results of a state; those that are not known are left out.
pub fn lines(state: &LoadState, units: &UnitSystem) -> Vec<Line> {
    let known = |w: &Weight| state.found(*w).is_some() || state.after(*w).is_some();
    let figure = |e: Option<&Estimate>, w: Weight| {
        e.map_or_else(|| "-".to_string(), |e| shown(e, w.scale(), units).figure())
    };
    Weight::ALL
        .into_iter()
        .filter(known)
        .map(|w| {
            let change = state.change(w).map(|c| {
                let text = figure(Some(&c), w);
                signed(text)
            });
            let mark = if w.is_inertia() && state.estimated { ", estimated" } else { "" };
            Line {
                weight: w,
                title: format!("{}{mark}", w.title()),
                found: figure(state.found(w), w),
                after: figure(state.after(w), w),
                change: change.unwrap_or_else(|| "-".into()),
                unit: w.scale().unit(units),
            }
        })
        .collect()
}

/// A figure with its sign; none on a zero.
fn signed(text: String) -> String {
    let number = text.split(' ').next().unwrap_or_default();
    let plus = !number.starts_with('-') && number.contains(|digit: char| ('1'..='9').contains(&digit));
    if plus { format!("+{text}") } else { text }
}

/// The corners by name.
pub const CORNERS: [&str; 4] = ["front left", "front right", "rear left", "rear right"];

/// Head and rows of the table of perch turns: corner, now, wish, turns, one corner alone, then, missed.
pub fn perches(advice: &PerchAdvice, units: &UnitSystem) -> Option<Vec<Vec<String>>> {
    let PerchAdvice::Turn { present, wish, plan } = advice else { return None };
    let mass = units.symbol(Dimension::Mass);
    let head = ["corner", "now", "wish", "turns", "or this one alone", "then", "still missing"];
    let unit = |i: usize| match i {
        0 | 3 | 4 => String::new(),
        _ => format!(" [{mass}]"),
    };
    let head = head.iter().enumerate().map(|(i, h)| format!("{h}{}", unit(i))).collect();
    let kilos = |v: f64| show::number(v, Dimension::Mass, units, 1);
    let turns = |v: f64| {
        let text = show::with_uncertainty(v, None, 2).0;
        signed(text)
    };
    let columns = [present.to_array(), wish.to_array(), plan.turns.to_array(), plan.single.to_array()];
    let [now, wished, turned, single] = columns;
    let (then, missed) = (plan.reached.to_array(), plan.missed.to_array());
    let rows = CORNERS.iter().zip(0..).map(|(corner, i): (_, usize)| {
        let of = |list: &[f64; 4]| list.get(i).copied().unwrap_or(0.0);
        vec![
            (*corner).to_string(),
            kilos(of(&now)),
            kilos(of(&wished)),
            turns(of(&turned)),
            turns(of(&single)),
            kilos(of(&then)),
            kilos(of(&missed)),
        ]
    });
    Some(std::iter::once(head).chain(rows).collect())
}

/// What is said below the perch turns.
pub fn perch_words(advice: &PerchAdvice, units: &UnitSystem) -> Vec<String> {
    let kilos = |v: f64| show::with_unit(v, Dimension::Mass, units, 1);
    match advice {
        PerchAdvice::Lacks(lacks) => vec![format!("No perch turns: the file lacks {}.", lacks.join(", "))],
        PerchAdvice::Wrong(error) => vec![format!("No perch turns: {error}; {}.", error.hint())],
        PerchAdvice::Turn { plan, .. } => {
            let mut words = vec![
                "Positive turns raise the perch and load the spring. Turned all together they leave the ride heights \
                 as they are; one corner alone moves the same weight and tips the car. Settle it, roll it, read again."
                    .to_string(),
            ];
            let least = 0.5;
            for (miss, remedy) in [
                (plan.total_missed, "in the total: ballast does that, not springs"),
                (plan.front_missed, "on the front axle: move mass along the car"),
                (plan.left_missed, "on the left side: move mass across the car"),
            ] {
                if miss.abs() >= least {
                    words.push(format!("The wish still misses {} {remedy}.", kilos(miss)));
                }
            }
            if plan.bar_loaded {
                words.push(
                    "The bars carry load afterwards: unhook them while turning, then set their links.".into(),
                );
            }
            words
        }
    }
}

/// The largest doubts behind the height, or the place along the car where there is no height.
pub fn doubts(weighed: &Weighed) -> Option<String> {
    let ready = weighed.ready()?;
    let (what, estimate) = match ready.after(Weight::Height) {
        Some(height) => ("height", height),
        None => ("place along the car", ready.after(Weight::Behind)?),
    };
    let sources: Vec<String> = weighed
        .sources_of_doubt(estimate)
        .into_iter()
        .take(4)
        .map(|(name, share)| format!("{name} {:.0} %", 100.0 * share))
        .collect();
    (!sources.is_empty()).then(|| format!("The ± of the {what} comes from: {}.", sources.join(", ")))
}
