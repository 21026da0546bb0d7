//! What a change of holes asks of the links: lengths to set, what happens if they are left, turns that put it back.

use study::{Choice, Estimate, LinkFit, Row, Scale, Shift, Subject, shown_alike};
use units::{Dimension, UnitSystem, show};

use super::super::output::{ACCENT, styled};
use super::super::table;
use crate::words::row_name;

/// Wheelbase [m] and angle [rad] below which nothing is said to be still off: below what can be measured.
const STILL_OFF: (f64, f64) = (5e-5, 1e-4);

/// What the change asks of the links.
pub(super) fn links(subject: &Subject<'_>, choice: &Choice) -> String {
    let units = &subject.car().units;
    let mut out = String::new();
    let fits: Vec<(&Row, &LinkFit)> =
        choice.rows.iter().flat_map(|row| row.links.iter().map(move |link| (row, link))).collect();
    if !fits.is_empty() {
        let title = "Link length to set, so that wheelbase, toe and camber at ride height stay";
        out.push_str(&format!("\n{}\n{}", styled(ACCENT, title), lengths(&fits, units)));
    }
    let shifts: Vec<(&Row, &Shift)> =
        choice.rows.iter().filter_map(|row| Some((row, row.left_as_is.as_ref()?))).collect();
    if !shifts.is_empty() {
        let title = "If the link is left as it is";
        out.push_str(&format!("\n{}\n{}", styled(ACCENT, title), shifted(&shifts, units)));
        out.push_str("turns that put it back (longer +):\n");
        for (row, shift) in shifts {
            let line = format!("{}: {}", row_name(row), put_back(shift, units));
            out.push_str(&format!("  {}\n", table::wrap(&line, 4)));
        }
    }
    out
}

fn lengths(fits: &[(&Row, &LinkFit)], units: &UnitSystem) -> String {
    let length = units.symbol(Dimension::Length);
    let headings = head(&[
        ["hole", ""],
        ["link", ""],
        ["set to", length],
        ["change", length],
        ["its adjuster", "turns"],
    ]);
    let column = |pick: fn(&LinkFit) -> Option<&Estimate>, scale| {
        figures(&fits.iter().map(|(_, link)| pick(link)).collect::<Vec<_>>(), scale, units)
    };
    let set_to = column(|l| Some(&l.length), Scale::Length);
    let change = column(|l| Some(&l.change), Scale::Length);
    let turns = column(|l| l.turns.as_ref(), Scale::Turns);
    let rows: Vec<Vec<String>> = fits
        .iter()
        .zip(set_to.into_iter().zip(change.iter().zip(&turns)))
        .map(|((row, link), (set_to, (change, turns)))| {
            vec![row_name(row), link.joint.clone(), set_to, signed(change), signed(turns)]
        })
        .collect();
    table::figures(&headings, &rows)
}

fn shifted(shifts: &[(&Row, &Shift)], units: &UnitSystem) -> String {
    let length = units.symbol(Dimension::Length);
    let headings = head(&[["hole", ""], ["wheelbase", length], ["toe", "deg"], ["camber", "deg"]]);
    let column = |pick: fn(&Shift) -> &Estimate, scale| {
        figures(&shifts.iter().map(|(_, shift)| Some(pick(shift))).collect::<Vec<_>>(), scale, units)
    };
    let columns = [
        column(|s| &s.wheelbase, Scale::Length),
        column(|s| &s.toe, Scale::Angle),
        column(|s| &s.camber, Scale::Angle),
    ];
    let rows: Vec<Vec<String>> = shifts
        .iter()
        .enumerate()
        .map(|(i, (row, _))| {
            let figures = columns.iter().filter_map(|c| c.get(i)).map(|c| signed(c));
            std::iter::once(row_name(row)).chain(figures).collect()
        })
        .collect();
    table::figures(&headings, &rows)
}

fn put_back(shift: &Shift, units: &UnitSystem) -> String {
    let adjusters = &shift.put_back.turns;
    let turns: Vec<String> = adjusters
        .iter()
        .filter(|(_, t)| t.abs() >= 0.005)
        .map(|(joint, t)| format!("{joint} {}", signed(&format!("{t:.2}"))))
        .collect();
    let mut words = match (turns.is_empty(), adjusters.is_empty()) {
        (_, true) => return "no thread in the file to turn".into(),
        (true, false) => "nothing to turn".to_string(),
        (false, _) => turns.join(", "),
    };
    let [wheelbase, toe, camber] = shift.put_back.left;
    if wheelbase.abs() > STILL_OFF.0 || toe.abs() > STILL_OFF.1 || camber.abs() > STILL_OFF.1 {
        words.push_str(&format!(
            "; then still off: wheelbase {}, toe {} deg, camber {} deg",
            show::with_unit(wheelbase, Dimension::Length, units, Scale::Length.decimals(units)),
            signed(&format!("{:.2}", toe.to_degrees())),
            signed(&format!("{:.2}", camber.to_degrees()))
        ));
    }
    words
}

/// A column of values with their ±, `-` where there is none.
fn figures(column: &[Option<&Estimate>], scale: Scale, units: &UnitSystem) -> Vec<String> {
    let shown = shown_alike(column, scale, units).into_iter();
    shown.map(|s| s.map_or_else(|| "-".into(), |s| s.figure())).collect()
}

fn head(words: &[[&str; 2]]) -> Vec<Vec<String>> {
    words.iter().map(|w| w.iter().filter(|s| !s.is_empty()).map(|s| (*s).to_string()).collect()).collect()
}

fn signed(number: &str) -> String {
    let zero = number.split(' ').next().is_some_and(|n| n.bytes().all(|b| matches!(b, b'0' | b'.' | b'-')));
    if number.starts_with('-') || zero { number.to_string() } else { format!("+{number}") }
}
