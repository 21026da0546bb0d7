//! Tables of figures, what they say, what is missing.

use maud::{Markup, html};
use project::model::Car;
use study::{Finding, Group, Stage};

use crate::stage::{Head, PLUS_MINUS};
use crate::web::page::figure;

/// What the file lacks for more.
pub(super) fn lacks(stage: &Stage) -> Markup {
    html! {
        @if !stage.lacks.is_empty() {
            div.lacks {
                p { b { "Not known yet:" } }
                ul { @for lack in &stage.lacks { li { (lack) ". " span.hint { (lack.hint) } } } }
            }
        }
    }
}

/// The tables.
pub(super) fn groups(stage: &Stage, car: &Car) -> Markup {
    html! {
        div.groups {
            @for group in &stage.groups { (one(group, car)) }
        }
    }
}

/// A table of more columns goes across the page.
const ACROSS: usize = 3;

fn one(group: &Group, car: &Car) -> Markup {
    let reasons = group.reasons();
    html! {
        section.figures-of.across[group.columns.len() > ACROSS] {
            h2 { (group.title) }
            div.scrolls { table.weights {
                @if group.columns.iter().any(|name| !name.is_empty()) {
                    thead { tr {
                        th scope="col" { span.unseen { "result" } }
                        @for name in &group.columns { th scope="col" { (name) } }
                        th scope="col" { span.unseen { "unit" } }
                    } }
                }
                tbody { @for row in &group.rows { (line(row, &reasons, car)) } }
            } }
            @for (i, why) in reasons.iter().enumerate() {
                p.why.outside { "[" (i + 1) "] past the model: " (why) }
            }
            @for words in &group.words { p.small { (words) } }
        }
    }
}

fn line(row: &Finding, reasons: &[&str], car: &Car) -> Markup {
    html! {
        tr data-result=(row.key) {
            th scope="row" { (meaning(row)) }
            @for (text, cell) in row.texts(&car.units).iter().zip(&row.cells) {
                td.word[cell.word.is_some() && cell.estimate.is_none()] {
                    b { (figure(text)) }
                    @if let Some(mark) = cell.mark(reasons) { " " span.outside { (mark) } }
                }
            }
            td.unit { (row.scale.unit(&car.units)) }
        }
    }
}

/// The title, opening to what the number is and how it comes about.
fn meaning(row: &Finding) -> Markup {
    let about = &row.about;
    let doubts = row.cells.iter().find(|cell| !cell.doubts.is_empty()).map(|cell| &cell.doubts);
    html! {
        details.meaning {
            summary { (row.title()) }
            dl {
                dt { "what it is" } dd { (about.definition) }
                dt { "formula" } dd.formula { (about.formula) }
                @for term in &row.terms {
                    dt { (term.symbol) } dd { (term.value) " " span.small { (term.meaning) } }
                }
                dt { "source" } dd { (about.source) }
                dt { "it does" } dd { (about.does) }
                dt { "it does not" } dd { (about.does_not) }
                @if let Some(doubts) = doubts {
                    dt { "± comes from" }
                    dd { @for (i, (name, share)) in doubts.iter().enumerate() {
                        @if i > 0 { ", " } (name) " " (format!("{:.0} %", 100.0 * share))
                    } }
                }
            }
        }
    }
}

/// What is assumed, and what to beware of.
pub(super) fn notes(head: &Head, stage: &Stage) -> Markup {
    html! {
        @if !stage.notes.is_empty() {
            details {
                summary { "What is assumed" }
                ul { @for note in stage.notes.iter().map(String::as_str).chain([PLUS_MINUS]) { li { (note) } } }
            }
        }
        p.small { (head.caution) }
    }
}
