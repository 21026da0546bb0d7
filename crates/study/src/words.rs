//! The words of the choice table, the same in the terminal and on the page: names of rows and columns, notes, what
//! the ± cannot tell apart, footnotes.

use crate::arm::{arm_is_long, long_arm_words};
use crate::choice::{Choice, Column, Row};
use crate::estimate::Estimate;
use crate::present::{Shown, shown_alike};
use crate::quantity::{Built, InStop, Lap, Quantity, Scale};
use crate::subject::Subject;
use suspension::AxleEnd;
use units::{Dimension, UnitSystem, show};

/// Blocks of the printed table, narrow enough for a terminal and for a sheet of paper.
pub const GROUPS: [(&str, &[Quantity]); 6] = [
    (
        "Under the brakes and under power",
        &[
            Quantity::AntiBraking,
            Quantity::AntiDriving,
            Quantity::SideViewArm,
            Quantity::SideViewAngle,
            Quantity::Recession,
        ],
    ),
    (
        "The whole car in the stated stop",
        &[
            Quantity::InStop(InStop::Pitch),
            Quantity::InStop(InStop::RearRise),
            Quantity::InStop(InStop::Dip),
            Quantity::InStop(InStop::Reserve),
            Quantity::InStop(InStop::Margin),
            Quantity::InStop(InStop::Hop),
        ],
    ),
    (
        "Will it hold: the weakest part in the worst load case, and the give of the frame",
        &[Quantity::Built(Built::Holds), Quantity::Built(Built::ToeGives)],
    ),
    (
        "Where it is driven: time against the car as drawn, on the first and second venue of the file",
        &[Quantity::Lap(Lap::First), Quantity::Lap(Lap::Second)],
    ),
    (
        "In bump and in roll",
        &[Quantity::BumpSteer, Quantity::CamberGain, Quantity::RollCentre, Quantity::RollSteer],
    ),
    ("Toe (in +) and camber (top out +) at wheel travel (jounce +)", &[Quantity::Toe, Quantity::Camber]),
];

/// Name of a row, with the setups that are just this choice of holes.
pub fn row_name(row: &Row) -> String {
    let candidate = &row.candidate;
    if candidate.setups.is_empty() {
        candidate.name.clone()
    } else {
        format!("{} ({})", candidate.name, candidate.setups.join(", "))
    }
}

/// Name of a column, with its travel.
pub fn column_name(column: Column, end: AxleEnd, units: &UnitSystem) -> String {
    let key = column.quantity.key(end).replace('-', " ");
    match column.travel {
        Some(t) => format!("{key} at {}", signed_length(t, units)),
        None => key,
    }
}

/// What stands in a column of the table, row by row: the figure, whether it is past what its model can say.
pub fn column_texts(choice: &Choice, column: usize, units: &UnitSystem) -> Vec<(String, bool)> {
    let Some(quantity) = choice.columns.get(column).map(|column| column.quantity) else { return Vec::new() };
    let values: Vec<Option<&Estimate>> =
        choice.rows.iter().map(|row| row.values.get(column).and_then(Option::as_ref)).collect();
    let long = |e: &Estimate| quantity == Quantity::SideViewArm && arm_is_long(e);
    // What is not printed as a figure has no say in the decimals.
    let figures: Vec<Option<&Estimate>> = values.iter().map(|v| v.filter(|e| !long(e))).collect();
    let shown = shown_alike(&figures, quantity.scale(), units);
    let outside = choice.rows.iter().map(|row| row.outside.get(column) == Some(&true));
    let text = |value: &Option<&Estimate>, shown: Option<Shown>| match (value, shown) {
        (_, Some(shown)) => shown.figure(),
        (Some(_), None) => "long".into(),
        (None, None) => "-".into(),
    };
    values
        .iter()
        .zip(shown)
        .zip(outside)
        .map(|((value, shown), outside)| (text(value, shown), outside))
        .collect()
}

/// A travel with its sign and unit: `+50 mm`.
pub fn signed_length(v: f64, units: &UnitSystem) -> String {
    let n = show::number(v, Dimension::Length, units, Scale::Length.decimals(units));
    let n = if n.contains('.') { n.trim_end_matches('0').trim_end_matches('.') } else { &n };
    let n = if n == "-0" { "0" } else { n };
    format!("{}{n} {}", if v > 0.0 { "+" } else { "" }, units.symbol(Dimension::Length))
}

/// What stands below the table.
pub struct Remarks {
    /// What differs in the stop, notes on rows, and columns that are missing.
    pub notes: Vec<String>,
    /// What the ± cannot tell apart.
    pub ties: Vec<String>,
    /// What holds for the whole table.
    pub footnotes: Vec<String>,
}

/// What stands below a table.
pub fn remarks(subject: &Subject<'_>, choice: &Choice) -> Remarks {
    let notes = notes(choice).into_iter().map(|(word, note, rows)| format!("{rows} ({word}): {note}"));
    let missing = choice
        .missing
        .iter()
        .map(|(quantity, reason)| format!("No {}: it {reason}.", quantity.about(subject.end()).title));
    let summary = crate::summary::summary(choice, &subject.car().units);
    Remarks {
        notes: summary.into_iter().chain(notes).chain(missing).collect(),
        ties: ties(subject, choice),
        footnotes: footnotes(subject, choice),
    }
}

fn footnotes(subject: &Subject<'_>, choice: &Choice) -> Vec<String> {
    let effect = match subject.end() {
        AxleEnd::Front => "how far this end dives, and how fast the load arrives",
        AxleEnd::Rear => "how far this end rises, and how fast the load leaves",
    };
    let mut footnotes = vec![
        "± is one standard uncertainty, carried through from the survey's accuracy; two rows share most of it, so \
         their difference is surer than either."
            .to_string(),
    ];
    if shows_long(choice) {
        footnotes.push(format!("{}.", long_arm_words(&subject.car().units)));
    }
    footnotes.push(format!(
        "The load that a steady stop moves from the rear tyres to the front, m a h / L, is the same in every row: \
         the links decide how much of it goes through the springs, so {effect}."
    ));
    footnotes
}

/// Notes on rows, each once with the rows that it is about: (`note` or `ruled out`, note, rows).
fn notes(choice: &Choice) -> Vec<(&'static str, &str, String)> {
    let mut groups: Vec<(&'static str, &str, Vec<String>)> = Vec::new();
    for row in &choice.rows {
        let word = if row.ruled_out { "ruled out" } else { "note" };
        for note in &row.notes {
            match groups.iter_mut().find(|g| g.0 == word && g.1 == note) {
                Some(group) => group.2.push(row_name(row)),
                None => groups.push((word, note, vec![row_name(row)])),
            }
        }
    }
    let all = |rows: &[String]| choice.rows.len() > 2 && rows.len() == choice.rows.len();
    let said = |rows: Vec<String>| if all(&rows) { "all rows".into() } else { rows.join(", ") };
    groups.into_iter().map(|(word, note, rows)| (word, note, said(rows))).collect()
}

fn shows_long(choice: &Choice) -> bool {
    let arm = choice.columns.iter().position(|c| c.quantity == Quantity::SideViewArm);
    let value = |row: &Row| arm.and_then(|c| row.values.get(c)?.as_ref()).is_some_and(arm_is_long);
    choice.rows.iter().any(value)
}

/// What the ± cannot tell apart, a line each: pairs of rows that nothing tells apart, columns in which no two
/// rows differ, then what is left by pair.
fn ties(subject: &Subject<'_>, choice: &Choice) -> Vec<String> {
    let names: Vec<String> = choice.rows.iter().map(row_name).collect();
    let title = |c: usize| column_name(choice.columns[c], subject.end(), &subject.car().units);
    let whole = choice.indistinguishable();
    let mut lines: Vec<String> = whole
        .iter()
        .map(|(a, b)| format!("{} and {}: anything in this table", names[*a], names[*b]))
        .collect();
    let pairs_of = |c: usize| choice.ties.iter().filter(|t| t.column == c).count();
    let comparable = |c: usize| {
        let n = choice.rows.iter().filter(|r| r.values[c].is_some()).count();
        n * n.saturating_sub(1) / 2
    };
    let blind: Vec<usize> =
        (0..choice.columns.len()).filter(|c| comparable(*c) > 1 && pairs_of(*c) == comparable(*c)).collect();
    if !blind.is_empty() {
        let columns: Vec<String> = blind.iter().map(|c| title(*c)).collect();
        lines.push(format!("{}: all rows alike", columns.join(", ")));
    }
    let mut rest: std::collections::BTreeMap<Vec<usize>, Vec<String>> = std::collections::BTreeMap::new();
    for a in 0..names.len() {
        for b in a + 1..names.len() {
            let columns: Vec<usize> = choice
                .ties
                .iter()
                .filter(|t| t.a == a && t.b == b && !blind.contains(&t.column) && !whole.contains(&(a, b)))
                .map(|t| t.column)
                .collect();
            if !columns.is_empty() {
                rest.entry(columns).or_default().push(format!("{} and {}", names[a], names[b]));
            }
        }
    }
    for (columns, pairs) in rest {
        let columns: Vec<String> = columns.into_iter().map(title).collect();
        lines.push(format!("{}: {}", columns.join(", "), pairs.join("; ")));
    }
    lines
}
