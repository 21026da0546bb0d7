//! Place: where the links may go, and what each place does. Drawings, charts and the choice table of one axle.

mod attitude;
mod bar;
mod charts;
mod drawings;
mod figures;
mod finder;
mod hold;
mod moving;
mod point;
mod stand;
mod table;

use axum::extract::{RawQuery, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::At;

use super::App;
use super::desk::Desk;
use super::page::{Sheet, layout, problem};
use super::shown::{MOST_PINS, Share, Shown};
use super::trial::{Move, Pin};
use stand::Stand;

pub(crate) use moving::moving;
pub(crate) use stand::standing;
pub(crate) use table::of_candidate;

/// The whole page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let query = query.unwrap_or_default();
    let mut desk = app.desk.lock().await;
    let Some(car) = desk.car() else {
        let why = "the file does not make a car yet";
        return problem(&app, &desk, why, Some("mend its mistakes first"), "/").into_response();
    };
    let shown = Shown::parse(&query, car);
    if let Some(to) = asked(&query, &shown, &desk) {
        return match to {
            Ok(address) => Redirect::to(&address).into_response(),
            Err(why) => {
                let page = problem(&app, &desk, &why, None, &shown.link(|_| {}));
                (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
            }
        };
    }
    let kept = desk.keep(shown.axle);
    let Some(car) = desk.car() else { return Redirect::to("/").into_response() };
    let stand = Stand::new(car, shown, desk.choice(), kept.err());
    let query = stand.shown.query();
    let body = html! { div.place data-axle=(stand.shown.axle.name()) {
        (upper(&app, &stand, true)) (drawings::turning()) (lower(&app, &stand, true))
    } };
    layout(&app, &desk, Sheet { title: "Place", stage: "place", query: &query, body }).into_response()
}

/// The parts that follow while a point is dragged or the wheel moves.
pub(crate) struct Answer {
    /// Address of what they show.
    pub address: String,
    /// Whether figures are left for another answer.
    pub later: bool,
    pub share: Option<Share>,
    pub html: String,
}

/// Works the parts of an address out, or says in words why there are none.
pub(crate) async fn answer(app: &App, query: &str) -> Result<Answer, &'static str> {
    const NO_CAR: &str = "there is no car";
    let mut desk = app.desk.lock().await;
    let shown = Shown::parse(query, desk.car().ok_or(NO_CAR)?);
    let kept = desk.keep(shown.axle);
    let car = desk.car().ok_or(NO_CAR)?;
    let stand = Stand::new(car, shown, desk.choice(), kept.err());
    let quiet = stand.shown.drag.is_none();
    let html = match stand.shown.share {
        Some(Share::Car) => html! { (table::trial_row(&stand)) (figures::part(&stand)) },
        _ => html! { (upper(app, &stand, quiet)) (lower(app, &stand, quiet)) },
    }
    .into_string();
    Ok(Answer {
        address: stand.shown.link(|_| {}),
        later: stand.answers_later(),
        share: stand.shown.share,
        html,
    })
}

/// The same for a page that has no line open: see [`moving`].
pub(crate) async fn parts(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    match answer(&app, &query.unwrap_or_default()).await {
        Ok(Answer { address, later, html, .. }) => {
            let headers = [
                (header::CONTENT_TYPE, "text/html; charset=utf-8".to_string()),
                (header::HeaderName::from_static("x-soapstone-address"), address),
                (header::HeaderName::from_static("x-soapstone-later"), later.to_string()),
            ];
            (headers, html).into_response()
        }
        Err(why) => {
            let desk = app.desk.lock().await;
            problem(&app, &desk, why, None, "/").into_response()
        }
    }
}

/// The mesh for the view that can be turned about.
pub(crate) async fn solid(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    let Some(car) = desk.car() else { return Redirect::to("/").into_response() };
    let shown = Shown::parse(&query.unwrap_or_default(), car);
    let stand = Stand::new(car, shown, None, None);
    drawings::mesh(&stand).into_response()
}

/// The parts down to the flat views; `quiet` once nothing is being dragged.
fn upper(app: &App, stand: &Stand<'_>, quiet: bool) -> Markup {
    html! {
        @if quiet { (bar::axles(stand)) }
        (bar::trial(app, stand))
        @if stand.shown.sees("table") {
            @if stand.shown.sees("rows") { (table::part(stand)) } @else { (table::trial_row(stand)) }
        }
        @if stand.shown.sees("figures") { (figures::part(stand)) }
        (drawings::parts(stand))
    }
}

/// The parts below the views.
fn lower(app: &App, stand: &Stand<'_>, quiet: bool) -> Markup {
    html! {
        @if stand.shown.sees("point") { (point::part(stand)) }
        @if stand.shown.sees("attitude") { (attitude::part(stand)) }
        @if stand.shown.sees("charts") { (charts::part(stand)) }
        @if quiet { (finder::part(app, stand)) (table::links(stand)) (table::below(stand)) }
    }
}

/// Forms that work before any script runs send their fields here: coordinates typed for a point, a name for a
/// pin. The answer is the address that says so; `None` where nothing of the kind is asked.
fn asked(query: &str, shown: &Shown, desk: &Desk) -> Option<Result<String, String>> {
    let field = |name: &str| {
        form_urlencoded::parse(query.as_bytes()).find(|(key, _)| key == name).map(|(_, v)| v.into_owned())
    };
    if let Some(name) = field("pin-as") {
        let name = match name.trim() {
            "" => format!("variant {}", shown.pins.len() + 1),
            name => name.chars().take(40).collect(),
        };
        if shown.pins.len() >= MOST_PINS {
            return Some(Err(format!(
                "{MOST_PINS} variants are as many as can be told apart: take one off first"
            )));
        }
        let mut shown = shown.clone();
        shown.pins.push(Pin { name, trial: shown.trial.clone() });
        return Some(Ok(shown.link(|_| {})));
    }
    let typed = ["to-x", "to-y", "to-z"].map(field);
    let [Some(x), Some(y), Some(z)] = typed else { return None };
    let car = desk.car()?;
    let what = shown.point.clone()?;
    Some(point::typed(car, &At::Typed([x, y, z])).map(|to| {
        let mut shown = shown.clone();
        shown.trial.put(Move { what, to });
        shown.link(|_| {})
    }))
}
