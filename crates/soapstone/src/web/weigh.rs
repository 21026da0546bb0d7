//! Weigh: what does the car weigh, and where? Results on top, the figures that they come from below, to be typed over.

mod ledger;
mod results;
mod tables;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::AsTyped;
use project::store::StoreError;

use super::App;
use super::desk::Desk;
use super::measure::asked::Asked;
use super::measure::mistakes::Mistakes;
use super::measure::{self, Fields, Kept, Survey, accept, as_one};
use super::page::{Sheet, layout};

/// Whether a file says anything about weights.
pub(crate) fn is_there(typed: &AsTyped<'_>) -> bool {
    ["weigh", "driver", "fuel", "unsprung"].iter().any(|table| typed.has(table))
}

/// The whole page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    show(&app, &desk, &query.unwrap_or_default(), None).into_response()
}

/// Takes a form: values, the first scales, a part of the ledger.
pub(crate) async fn save(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let back = fields.back("/weigh");
    let mut desk = app.desk.lock().await;
    let text = desk.text().to_string();
    let refuse = |desk: &Desk, kept: Kept| {
        let query = back.split_once('?').map_or("", |(_, query)| query);
        (StatusCode::UNPROCESSABLE_ENTITY, show(&app, desk, query, Some(kept))).into_response()
    };
    let mut edits = fields.edits();
    if fields.any("add-part").is_some() {
        match ledger::added(&text, &fields) {
            Ok(more) => edits.extend(more),
            Err(message) => {
                let kept = Kept { fields, cell: "add-part".into(), message, hint: None };
                return refuse(&desk, kept);
            }
        }
    }
    let Some(edit) = as_one(&label(&fields), &edits) else { return Redirect::to(&back).into_response() };
    match accept(&app, &mut desk, &edit) {
        Ok(()) => Redirect::to(&back).into_response(),
        Err(error) => {
            let whole = fields.any("add-part").map(|_| "add-part").or(fields.any("begin"));
            let kept = match whole.map(str::to_string) {
                Some(cell) => together(fields, cell, &error),
                None => measure::kept(&text, fields, &edits, &error),
            };
            refuse(&desk, kept)
        }
    }
}

/// A form whose figures only make sense together: what is wrong is said of the form.
fn together(fields: Fields, cell: String, error: &StoreError) -> Kept {
    Kept { fields, cell, message: error.to_string(), hint: error.hint() }
}

fn label(fields: &Fields) -> String {
    match (fields.any("add-part"), fields.any("begin")) {
        (Some(way), _) => {
            format!("{} {}", if way == "out" { "took out" } else { "put in" }, fields.get("name").trim())
        }
        (None, Some(table)) => format!("added {table}"),
        _ => "set several values".into(),
    }
}

/// The page for what a query asks.
fn show(app: &App, desk: &Desk, query: &str, kept: Option<Kept>) -> Markup {
    let text = desk.text();
    let typed = AsTyped::of(text);
    let asked = Asked::parse(query, desk.car(), typed.as_ref());
    let shared = asked.query();
    let checks = desk.car().map(study::check).unwrap_or_default();
    let mistakes = Mistakes::of(text, desk.diagnostics().iter().cloned().chain(checks));
    let body = match &typed {
        Some(typed) => {
            let (car, read_only) = (desk.car(), desk.is_read_only());
            let survey = Survey { app, typed, car, asked, mistakes, kept, read_only, page: "/weigh" };
            parts(&survey)
        }
        None => html! {
            section.problem {
                h1 { "The file cannot be read as it is" }
                p { a.button.main href="/measure?text=1" { "Mend its text" } }
            }
        },
    };
    layout(app, desk, Sheet { title: "Weigh", stage: "weigh", query: &shared, body })
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
