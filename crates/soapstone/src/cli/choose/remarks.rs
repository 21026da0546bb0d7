//! What stands below the choice table: notes on rows, what is missing, what cannot be told apart, footnotes.

use study::{Choice, Quantity, Subject, arm_is_long, long_arm_words};
use suspension::AxleEnd;

use super::super::output::{ACCENT, FAINT, styled};
use super::super::table;
use super::{heading, name};

/// Lines of ties printed; JSON has all.
const MOST_TIES: usize = 12;

pub(super) fn remarks(subject: &Subject<'_>, choice: &Choice) -> String {
    let mut out = String::new();
    let notes = notes(choice).into_iter().map(|(word, note, rows)| format!("{rows} ({word}): {note}"));
    let missing = choice
        .missing
        .iter()
        .map(|(quantity, reason)| format!("No {}: it {reason}.", quantity.about(subject.end()).title));
    let said: Vec<String> = notes.chain(missing).map(|line| format!("{}\n", table::wrap(&line, 2))).collect();
    if !said.is_empty() {
        out.push_str(&format!("\n{}", said.concat()));
    }
    let ties = ties(subject, choice);
    if !ties.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "What the ± cannot tell apart (95 %)")));
        for line in ties.iter().take(MOST_TIES) {
            out.push_str(&format!("  {}\n", table::wrap(line, 4)));
        }
        if ties.len() > MOST_TIES {
            out.push_str(&format!("  ... and {} more lines (--json has them all)\n", ties.len() - MOST_TIES));
        }
    }
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
    footnotes.push(
        "Planning figures, not an approval: a structural change to a vehicle must be checked by a licensed \
         engineer and satisfy local road law and the sanctioning body's rules."
            .into(),
    );
    out.push('\n');
    for note in footnotes {
        out.push_str(&format!("{}\n", styled(FAINT, &table::wrap(&note, 0))));
    }
    out
}

/// Notes on rows, each once with the rows that it is about: (`note` or `ruled out`, note, rows).
fn notes(choice: &Choice) -> Vec<(&'static str, &str, String)> {
    let mut groups: Vec<(&'static str, &str, Vec<String>)> = Vec::new();
    for row in &choice.rows {
        let word = if row.ruled_out { "ruled out" } else { "note" };
        for note in &row.notes {
            match groups.iter_mut().find(|g| g.0 == word && g.1 == note) {
                Some(group) => group.2.push(name(row)),
                None => groups.push((word, note, vec![name(row)])),
            }
        }
    }
    let all = |rows: &[String]| choice.rows.len() > 2 && rows.len() == choice.rows.len();
    let said = |rows: Vec<String>| if all(&rows) { "all rows".into() } else { rows.join(", ") };
    groups.into_iter().map(|(word, note, rows)| (word, note, said(rows))).collect()
}

fn shows_long(choice: &Choice) -> bool {
    let arm = choice.columns.iter().position(|c| c.quantity == Quantity::SideViewArm);
    let value = |row: &study::Row| arm.and_then(|c| row.values.get(c)?.as_ref()).is_some_and(arm_is_long);
    choice.rows.iter().any(value)
}

/// What the ± cannot tell apart, a line each: pairs of rows that nothing tells apart, columns in which no two
/// rows differ, then what is left by pair.
fn ties(subject: &Subject<'_>, choice: &Choice) -> Vec<String> {
    let names: Vec<String> = choice.rows.iter().map(name).collect();
    let title = |c: usize| heading(subject, &choice.columns[c]).swap_remove(0);
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
