//! Measure: where is everything, and how sure am I? The survey as it stands in the file, to be typed over; every
//! mistake at its cell.

pub(crate) mod asked;
mod form;
pub(crate) mod groups;
mod mend;
pub(crate) mod mistakes;
pub(crate) mod names;
pub(crate) mod paste;
pub(crate) mod pictures;
mod points;
mod row;
pub(crate) mod typing;
pub(crate) mod values;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::{AsTyped, Edit, EditError};
use project::model::{Car, End};
use project::store::StoreError;

use super::App;
use super::desk::Desk;
use super::page::{Sheet, layout};
use asked::Asked;
use mistakes::Mistakes;
use paste::Pasted;
use typing::{mistakes_of, query_of};

pub(crate) use form::{Fields, Kept, as_one};

/// The page as it is to be shown.
pub(crate) struct Survey<'a> {
    pub app: &'a App,
    pub typed: &'a AsTyped<'a>,
    pub car: Option<&'a Car>,
    pub asked: Asked,
    pub mistakes: Mistakes,
    /// A form that was refused.
    pub kept: Option<Kept>,
    pub read_only: bool,
    /// Path of the page that shows it, such as `/measure`.
    pub page: &'static str,
}

impl Survey<'_> {
    /// Where its forms go.
    pub fn action(&self) -> String {
        format!("{}?token={}", self.page, self.app.guard.token())
    }

    /// Where they come back to.
    pub fn back(&self) -> String {
        self.asked.address().replacen("/measure", self.page, 1)
    }
}

/// What came of a form, to be shown on the page.
enum Refused {
    Nothing,
    Cell(Kept),
    Table(Pasted),
    Text(mend::Text),
}

/// The whole page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    show(&app, &desk, &query.unwrap_or_default(), Refused::Nothing).into_response()
}

/// Takes a form: cells of a row, a new hole, the file's text.
pub(crate) async fn save(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let back = fields.back("/measure");
    let mut desk = app.desk.lock().await;
    if let Some(text) = fields.any("text") {
        let text = mend::line_ends(text, desk.text());
        return match accept(&app, &mut desk, &Edit::Replace { text: text.clone() }) {
            Ok(()) => Redirect::to(&back).into_response(),
            Err(error) => refuse(&app, &desk, &back, Refused::Text(mend::Text::refused(text, &error))),
        };
    }
    let edits = fields.edits();
    let Some(edit) = as_one(&label(&fields), &edits) else { return Redirect::to(&back).into_response() };
    let text = desk.text().to_string();
    match accept(&app, &mut desk, &edit) {
        Ok(()) => Redirect::to(&back).into_response(),
        Err(error) => refuse(&app, &desk, &back, Refused::Cell(kept(&text, fields, &edits, &error))),
    }
}

/// Takes a pasted table.
pub(crate) async fn paste_table(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let back = fields.back("/measure");
    let axle = if fields.get("axle") == "front" { End::Front } else { End::Rear };
    let table = fields.get("table").to_string();
    let mut desk = app.desk.lock().await;
    let edit = Edit::Paste { axle: axle.name().into(), table: table.clone() };
    match accept(&app, &mut desk, &edit) {
        Ok(()) => Redirect::to(&back).into_response(),
        Err(error) => refuse(&app, &desk, &back, Refused::Table(Pasted::refused(table, &error))),
    }
}

/// Makes an edit and tells every open page.
pub(crate) fn accept(app: &App, desk: &mut Desk, edit: &Edit) -> Result<(), StoreError> {
    let label = desk.accept(edit);
    let told = label.as_ref().map_or("changed in another program", String::as_str);
    if label.is_ok() || matches!(label, Err(StoreError::Conflict { .. } | StoreError::ChangedOutside)) {
        app.tell(desk.version(), told);
    }
    label.map(|_| ())
}

/// What was typed and which of its cells is wrong: the first that cannot be changed by itself.
pub(crate) fn kept(text: &str, fields: Fields, edits: &[(String, Edit)], error: &StoreError) -> Kept {
    let alone = edits.iter().find_map(|(cell, edit)| {
        let error = project::edit::apply(text, edit).err()?;
        // It stands at the cell, which need not be named again.
        let message = match &error {
            EditError::Typed { source, .. } => source.to_string(),
            other => other.to_string(),
        };
        Some((cell.clone(), message, error.hint()))
    });
    let first = edits.first().map_or_else(String::new, |(cell, _)| cell.clone());
    let (cell, message, hint) = alone.unwrap_or_else(|| (first, error.to_string(), error.hint()));
    Kept { fields, cell, message, hint }
}

fn label(fields: &Fields) -> String {
    let place = serde_json::from_str::<project::edit::Place>(fields.get("place"));
    place.map_or_else(|_| "set several values".into(), |place| format!("measured {place}"))
}

fn refuse(app: &App, desk: &Desk, back: &str, refused: Refused) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, show(app, desk, query_of(back), refused)).into_response()
}

/// The page for what a query asks.
fn show(app: &App, desk: &Desk, query: &str, refused: Refused) -> Markup {
    let text = desk.text();
    let typed = AsTyped::of(text);
    let asked = Asked::parse(query, desk.car(), typed.as_ref());
    let (shared, address) = (asked.query(), asked.address());
    let mistakes = mistakes_of(desk);
    let body = match (&typed, refused) {
        (_, Refused::Text(own)) => mend::page(app, &own.text, &own.mistakes(), &address),
        (Some(typed), refused) if !asked.text && typed.has(asked.axle.name()) => {
            let (kept, pasted) = match refused {
                Refused::Cell(kept) => (Some(kept), None),
                Refused::Table(pasted) => (None, Some(pasted)),
                _ => (None, None),
            };
            let (car, read_only) = (desk.car(), desk.is_read_only());
            let survey = Survey { app, typed, car, asked, mistakes, kept, read_only, page: "/measure" };
            tables(&survey, pasted.as_ref())
        }
        _ => mend::page(app, text, &mistakes, &address),
    };
    layout(app, desk, Sheet { title: "Measure", stage: "measure", query: &shared, body })
}

fn tables(survey: &Survey<'_>, pasted: Option<&Pasted>) -> Markup {
    // The tables take the mistakes that they have cells for; the list gets the rest.
    let points = points::points(survey);
    let holes = points::holes(survey);
    let plates = points::plates(survey);
    let frame = values::frame(survey);
    let axle = values::axle(survey);
    let car = values::car(survey);
    html! {
        div.measure data-axle=(survey.asked.axle.name()) {
            (axles(survey))
            (mistakes(survey))
            div.survey {
                (frame)
                (points)
                (paste::part(survey, pasted))
                (holes)
                (plates)
                div.values { (axle) (car) }
                @if !super::weigh::is_there(survey.typed) {
                    p { a.button href={ "/weigh?" (survey.asked.query()) } { "Weigh the car: add scales" } }
                }
                p { a.button id="text" href={ (survey.asked.address()) "&text=1" } { "The file as text" } }
            }
            (pictures::part(survey))
        }
    }
}

pub(crate) fn mistakes(survey: &Survey<'_>) -> Markup {
    let errors = survey.mistakes.errors();
    html! {
        section id="part-mistakes" aria-label="Mistakes" {
            @if errors > 0 {
                p.wrong role="alert" {
                    b { @if errors == 1 { "One thing in the file is wrong." } @else { (errors) " things in the file are wrong." } }
                    " Each is marked at its cell, or stands here with its line."
                }
            }
            (survey.mistakes.rest())
        }
    }
}

/// The axles of the file, and the way to another one.
fn axles(survey: &Survey<'_>) -> Markup {
    let there = |end: End| survey.typed.has(end.name());
    html! {
        nav.axles id="part-axles" aria-label="Axle" {
            @for end in [End::Front, End::Rear] {
                @let own = end == survey.asked.axle;
                @if there(end) {
                    a href={ "/measure?axle=" (end.name()) } aria-current=[own.then_some("true")] {
                        (end.name()) " axle"
                        @if let Some(kind) = survey.typed.value(&format!("{}.kind", end.name())) { span.small { " " (kind.text) } }
                    }
                } @else {
                    a.add href={ "/start?axle=" (end.name()) } { "add a " (end.name()) " axle" }
                }
            }
            a.whole href={ "/start/points?axle=" (survey.asked.axle.name()) } { "one point at a time, with a picture" }
        }
    }
}

/// One mistake below what it is about.
pub(crate) fn why(about: &project::Diagnostic) -> Markup {
    row::why(None, about)
}

/// What an edit of a text would have said wrong, with its places in that text.
pub(crate) fn told(error: &StoreError) -> Vec<project::Diagnostic> {
    match error {
        StoreError::Edit(EditError::Refused { diagnostics, .. } | EditError::NotToml { diagnostics }) => {
            diagnostics.clone()
        }
        other => vec![project::Diagnostic {
            severity: project::Severity::Error,
            message: other.to_string(),
            span: None,
            hint: other.hint(),
        }],
    }
}
