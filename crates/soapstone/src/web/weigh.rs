//! Weigh: what does the car weigh, and where? Results on top, the figures that they come from below, to be typed over.

mod ledger;
mod results;
mod tables;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use project::edit::AsTyped;

use super::App;
use super::measure::typing::{self, Together, Typing};
use super::measure::{self, Fields, Survey};

/// Whether a file says anything about weights.
pub(crate) fn is_there(typed: &AsTyped<'_>) -> bool {
    ["weigh", "driver", "fuel", "unsprung"].iter().any(|table| typed.has(table))
}

/// The page.
#[derive(Clone, Copy)]
struct Weigh;

/// The whole page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    typing::page(Weigh, &app, query).await
}

/// Takes a form: values, the first scales, a part of the ledger.
pub(crate) async fn save(State(app): State<App>, body: Bytes) -> Response {
    typing::save(Weigh, &app, &body).await
}

impl Typing for Weigh {
    fn title(self) -> &'static str {
        "Weigh"
    }

    fn stage(self) -> &'static str {
        "weigh"
    }

    fn path(self) -> &'static str {
        "/weigh"
    }

    fn parts(self, survey: &Survey<'_>, _query: &str) -> Markup {
        parts(survey)
    }

    fn together(self, text: &str, fields: &Fields) -> Option<Together> {
        let Some(way) = fields.any("add-part") else { return Together::begun(fields) };
        let did = if way == "out" { "took out" } else { "put in" };
        let label = format!("{did} {}", fields.get("name").trim());
        Some(Together { cell: "add-part".into(), label, more: ledger::added(text, fields) })
    }
}

fn parts(survey: &Survey<'_>) -> Markup {
    // The tables take the mistakes that they have cells for; the list gets the rest.
    // Scales come first: without them a ledger has nothing to start from.
    let wanted = ["weigh.level", "weigh.out", "weigh.in"].iter().any(|table| survey.typed.has(table));
    let ledger = wanted.then(|| ledger::part(survey));
    let tables = tables::part(survey);
    html! {
        div.measure.weigh {
            h1.unseen { "Weigh the car" }
            (measure::mistakes(survey))
            (results::part(survey))
            @if let Some(ledger) = ledger { (ledger) }
            (tables)
        }
    }
}
