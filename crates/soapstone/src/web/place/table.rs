//! The choice table, and what the change asks of the links.

use maud::{Markup, html};
use project::model::{Axle, End, Hole};
use study::{
    Candidate, Column, Estimate, Quantity, Row, Scale, Shown as Figure, Subject, shown, shown_alike,
};
use units::{Dimension, UnitSystem};

use super::stand::Stand;
use crate::web::shown::{Share, Shown};
use crate::web::trial::Trial;
use crate::words::{column_name, remarks, row_name};

/// A row of the page's table and what it stands for.
struct Line<'a> {
    name: String,
    row: &'a Row,
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Row of the file, by index.
    File(usize),
    Trial,
    /// Pinned variant, by index.
    Pin(usize),
}

fn lines<'a>(stand: &'a Stand<'_>) -> Vec<Line<'a>> {
    let Some(rows) = stand.choice else { return Vec::new() };
    let mut lines: Vec<Line<'a>> = rows
        .rows
        .iter()
        .enumerate()
        .map(|(i, row)| Line { name: row_name(row), row, kind: Kind::File(i) })
        .collect();
    lines.extend(stand.row.iter().map(|row| Line { name: stand.trial_name(), row, kind: Kind::Trial }));
    let pinned = stand.pinned.iter().enumerate();
    lines.extend(pinned.map(|(i, row)| Line { name: row.candidate.name.clone(), row, kind: Kind::Pin(i) }));
    lines
}

/// The table.
pub(crate) fn part(stand: &Stand<'_>) -> Markup {
    let Some(rows) = stand.choice else {
        let why = stand.wrong.as_ref().map_or_else(|| "there is no table".to_string(), ToString::to_string);
        return html! { section.choice id="part-table" { p.wrong role="alert" { (why) } } };
    };
    let units = &stand.base.units;
    let end = stand.shown.axle;
    let in_use = stand.in_use();
    let lines = lines(stand);
    let columns: Vec<Vec<Option<Figure>>> =
        rows.columns.iter().enumerate().map(|(i, column)| figures(&lines, i, *column, units)).collect();
    html! {
        section.choice id="part-table" aria-label="Choice table" tabindex="0" {
            table {
                caption { "Choice table: each hole, and what the car does with the link there" }
                thead { tr {
                    th scope="col" { "hole" }
                    @for column in &rows.columns {
                        th scope="col" data-means=(column.quantity.about(end.into()).definition)
                            data-quantity=[column.travel.is_none().then(|| column.quantity.key(end.into()))] {
                            (column_name(*column, end.into(), units)) " "
                            span.unit { (column.quantity.scale().unit(units)) }
                        }
                    }
                } }
                tbody {
                    @for (r, line) in lines.iter().enumerate() {
                        @let used = line.kind == Kind::Trial || matches!(line.kind, Kind::File(i) if Some(i) == in_use);
                        (row_markup(stand, line, used, |i| columns.get(i)?.get(r)?.as_ref()))
                        @for note in line.row.notes.iter().filter(|_| !matches!(line.kind, Kind::File(_))) {
                            tr.note { td colspan=(rows.columns.len() + 1) {
                                b { @if line.row.ruled_out { "ruled out: " } @else { "note: " } } (note)
                            } }
                        }
                    }
                }
            }
        }
    }
}

/// The row of the car on trial alone, for a page that has the others: while a point is dragged they stand still.
pub(crate) fn trial_row(stand: &Stand<'_>) -> Markup {
    let units = &stand.base.units;
    html! {
        @for line in lines(stand).into_iter().filter(|line| line.kind == Kind::Trial) {
            @let columns: Vec<Option<Figure>> = stand.choice.iter().flat_map(|c| &c.columns).enumerate()
                .flat_map(|(i, column)| figures(std::slice::from_ref(&line), i, *column, units)).collect();
            table { tbody { (row_markup(stand, &line, true, |i| columns.get(i)?.as_ref())) } }
        }
    }
}

fn row_markup<'f>(
    stand: &Stand<'_>,
    line: &Line<'_>,
    used: bool,
    figure: impl Fn(usize) -> Option<&'f Figure>,
) -> Markup {
    let trial = line.kind == Kind::Trial;
    let columns = stand.choice.map_or(&[][..], |choice| &choice.columns);
    let drawn = |i: usize| stand.choice?.rows.first()?.values.get(i)?.as_ref();
    html! {
        tr.in-use[used].trial[trial].out[line.row.ruled_out] id=[trial.then_some("part-trial-row")] {
            @if stand.shown.share == Some(Share::Car) { th scope="row" data-left {} }
            @else { th scope="row" { (row_head(stand, line, used)) } }
            @for (i, (value, column)) in line.row.values.iter().zip(columns).enumerate() {
                // What the other share of an answer says stays until that comes.
                @let (late, still) = (trial && stand.shown.follows(column.quantity), trial && stand.shown.leaves(column.quantity));
                @if trial && !stand.shown.answers(column.quantity) {
                    td data-late[late] data-still[still] data-left {}
                } @else { td data-late[late] {
                    (cell(stand, value.is_some(), figure(i), *column, line))
                    @if line.row.outside.get(i) == Some(&true) { abbr.outside title="past what the model can say: see the notes" { "*" } }
                    @if trial {
                        (change(value.as_ref(), drawn(i), figure(i), column.quantity, &stand.base.units))
                    }
                } }
            }
        }
    }
}

fn row_head(stand: &Stand<'_>, line: &Line<'_>, used: bool) -> Markup {
    match line.kind {
        Kind::File(_) => {
            let link = stand.shown.link(|s| s.trial = trial_of(stand, line));
            html! { a href=(link) aria-current=[used.then_some("true")] { (line.name) } }
        }
        Kind::Trial => html! { span.trial-name { "trial" } " " span.small { (line.name) } },
        Kind::Pin(i) => {
            let off = stand.shown.link(|s| {
                s.pins.remove(i);
            });
            let adopt = stand.shown.link(|s| s.trial = s.pins[i].trial.clone());
            html! {
                span class={ "swatch s" (i + 1) } {} " "
                a href=(adopt) title="take this variant up as the trial" { (line.name) } " "
                a.off href=(off) aria-label={ "discard " (line.name) } title="discard this variant" { "×" }
            }
        }
    }
}

/// A row of the file as a trial.
pub(crate) fn of_candidate(axle: &Axle, candidate: &Candidate) -> Trial {
    let name = |hole: &Hole| Some(format!("{}={}", axle.scheme.points.get(hole.point)?, hole.name));
    let uses = candidate.holes.iter().filter_map(|h| axle.holes.get(*h)).filter_map(name).collect();
    Trial { with: candidate.with.clone(), uses, moves: Vec::new() }
}

/// Whether an estimate is shown as "long" instead of figures.
fn is_long(quantity: Quantity, estimate: &Estimate) -> bool {
    quantity == Quantity::SideViewArm && study::arm_is_long(estimate)
}

/// One column's figures, all to the same decimals; `None` where there is none or it is told in a word.
fn figures(lines: &[Line<'_>], column: usize, about: Column, units: &UnitSystem) -> Vec<Option<Figure>> {
    let values: Vec<Option<&Estimate>> = lines
        .iter()
        .map(|line| line.row.values.get(column).and_then(Option::as_ref))
        .map(|value| value.filter(|e| !is_long(about.quantity, e)))
        .collect();
    shown_alike(&values, about.quantity.scale(), units)
}

fn cell(stand: &Stand<'_>, known: bool, figure: Option<&Figure>, column: Column, line: &Line<'_>) -> Markup {
    if !known {
        return html! { span.none { "–" } };
    }
    // Nobody can press a number while the pointer is held down, and the addresses are most of the table's weight.
    let pressed = stand.shown.drag.is_none();
    html! {
        a.num href=[pressed.then(|| explain_link(stand.shown.axle, column, trial_of(stand, line)))] {
            @match figure { Some(figure) => (of(figure)), None => b { "long" } }
        }
    }
}

/// A value with its ±.
pub(crate) fn of(figure: &Figure) -> Markup {
    html! { b { (figure.number) } @if let Some(u) = &figure.uncertainty { span.pm { " ±\u{a0}" (u) } } }
}

/// A value ready to show; `None` where a word stands for it.
pub(crate) fn figure(estimate: &Estimate, quantity: Quantity, units: &UnitSystem) -> Option<Figure> {
    (!is_long(quantity, estimate)).then(|| shown(estimate, quantity.scale(), units))
}

/// The change against another value, to the decimals of the figure that it stands beside.
pub(crate) fn change(
    value: Option<&Estimate>,
    from: Option<&Estimate>,
    figure: Option<&Figure>,
    quantity: Quantity,
    units: &UnitSystem,
) -> Markup {
    let (Some(value), Some(from), Some(figure)) = (value, from, figure) else { return html! {} };
    if is_long(quantity, from) {
        return html! {};
    }
    let decimals = figure.number.split_once('.').map_or(0, |(_, after)| after.len());
    let difference = (value.value - from.value) * quantity.scale().factor(units);
    let text = format!("{difference:+.decimals$}");
    let same = !text.chars().any(|c| ('1'..='9').contains(&c));
    // A difference that the survey cannot tell from none is shown as one in doubt.
    let doubtful = value.contributions.len() == from.contributions.len() && value.ties_with(from);
    html! {
        @if same { span.change { "same" } }
        @else if doubtful { span.change.doubtful title="less than the ± can tell" { "(" (text) ")" } }
        @else { span.change { (text) } }
    }
}

/// The trial that a row stands for.
fn trial_of(stand: &Stand<'_>, line: &Line<'_>) -> Trial {
    match line.kind {
        Kind::File(_) => {
            stand.axle().map_or_else(Trial::default, |axle| of_candidate(axle, &line.row.candidate))
        }
        Kind::Trial => stand.shown.trial.clone(),
        Kind::Pin(i) => stand.shown.pins.get(i).map(|p| p.trial.clone()).unwrap_or_default(),
    }
}

/// Address of a number's worked calculation.
pub(crate) fn explain_link(end: End, column: Column, trial: Trial) -> String {
    let state = Shown { trial, ..Shown::of(end) };
    let mut out = form_urlencoded::Serializer::new(String::from("/explain?"));
    out.append_pair("quantity", column.quantity.key(end.into()));
    if let Some(travel) = column.travel {
        out.append_pair("at", &format!("{travel:.6}"));
    }
    format!("{}&{}", out.finish(), state.query())
}

/// What stands below the table.
pub(crate) fn below(stand: &Stand<'_>) -> Markup {
    let said = stand.choice.zip(Subject::new(stand.base, stand.shown.axle).ok());
    html! {
        section.below id="part-below" {
            @if let Some((choice, subject)) = said {
                @let said = remarks(&subject, choice);
                @for note in &said.notes { p { (note) } }
                @if !said.ties.is_empty() {
                    details {
                        summary { "What the ± cannot tell apart (95 %)" }
                        ul { @for tie in &said.ties { li { (tie) } } }
                    }
                }
                @for note in &said.footnotes { p.small { (note) } }
            }
        }
    }
}

/// What the change asks of the links.
pub(crate) fn links(stand: &Stand<'_>) -> Markup {
    let units = &stand.base.units;
    let text = |e: &Estimate, scale: Scale| of(&shown(e, scale, units));
    let mut lines = lines(stand);
    for line in lines.iter_mut().filter(|line| line.kind == Kind::Trial) {
        line.row = stand.asks.as_ref().unwrap_or(line.row);
    }
    let unit = units.symbol(Dimension::Length);
    html! {
        section.links id="part-links" tabindex="0" aria-label="Links to set" {
            @if lines.iter().any(|l| !l.row.links.is_empty()) {
                table {
                    caption { "Links to set so that wheelbase, toe and camber stay; and what shifts if they are left" }
                    thead { tr {
                        th scope="col" { "hole" } th scope="col" { "link" }
                        @for (name, unit, means) in [
                            ("set to", unit, "Length between the link's centres that keeps the wheel where it is at ride height."),
                            ("change", unit, "That length less the length as drawn: positive is longer."),
                            ("adjuster", "turns", "Turns of the link's thread or sleeve for that change: positive makes it longer."),
                            ("left: wheelbase", unit, "What the wheelbase changes on this side if the link stays as long as drawn."),
                            ("left: toe", "deg", "What toe changes if the link stays as long as drawn: toe-in positive."),
                            ("left: camber", "deg", "What camber changes if the link stays as long as drawn: top out positive."),
                        ] {
                            th scope="col" data-means=(means) tabindex="0" { (name) " " span.unit { (unit) } }
                        }
                    } }
                    tbody {
                        @for line in &lines {
                            @for (i, link) in line.row.links.iter().enumerate() {
                                tr {
                                    th scope="row" { @if i == 0 { (line.name) } @else { span.unseen { (line.name) } } }
                                    td.word { (link.joint) }
                                    td { (text(&link.length, Scale::Length)) }
                                    td { (text(&link.change, Scale::Length)) }
                                    td { @match &link.turns { Some(t) => (text(t, Scale::Turns)), None => "–" } }
                                    @match (&line.row.left_as_is, i) {
                                        (Some(shift), 0) => {
                                            td { (text(&shift.wheelbase, Scale::Length)) }
                                            td { (text(&shift.toe, Scale::Angle)) }
                                            td { (text(&shift.camber, Scale::Angle)) }
                                        }
                                        _ => { td {} td {} td {} }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}
