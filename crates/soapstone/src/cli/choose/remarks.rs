//! What stands below the choice table in the terminal.

use study::{Choice, Subject};

use super::super::output::{ACCENT, FAINT, styled};
use super::super::table;
use crate::words;

/// Lines of ties printed; JSON has all.
const MOST_TIES: usize = 12;

pub(super) fn remarks(subject: &Subject<'_>, choice: &Choice) -> String {
    let said = words::remarks(subject, choice);
    let mut out = String::new();
    if !said.notes.is_empty() {
        let lines = said.notes.iter().map(|line| format!("{}\n", table::wrap(line, 2)));
        out.push_str(&format!("\n{}", lines.collect::<String>()));
    }
    if !said.ties.is_empty() {
        out.push_str(&format!("\n{}\n", styled(ACCENT, "What the ± cannot tell apart (95 %)")));
        for line in said.ties.iter().take(MOST_TIES) {
            out.push_str(&format!("  {}\n", table::wrap(line, 4)));
        }
        if said.ties.len() > MOST_TIES {
            let more = said.ties.len() - MOST_TIES;
            out.push_str(&format!("  ... and {more} more lines (--json has them all)\n"));
        }
    }
    let approval = "Planning figures, not an approval: a structural change to a vehicle must be checked by a licensed \
                    engineer and satisfy local road law and the sanctioning body's rules.";
    out.push('\n');
    for note in said.footnotes.iter().map(String::as_str).chain([approval]) {
        out.push_str(&format!("{}\n", styled(FAINT, &table::wrap(note, 0))));
    }
    out
}
