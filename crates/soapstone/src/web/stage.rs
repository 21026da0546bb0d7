//! Stop and Balance: what happens under the brakes, and whether it is steady and turns. Results on top, of the car
//! with the holes that are on trial; the figures that they come from below, to be typed over.

mod charts;
mod figures;
mod tables;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::AsTyped;
use project::model::Car;
use study::{Subject, candidates};

use super::App;
use super::desk::Desk;
use super::measure::asked::Asked;
use super::measure::mistakes::Mistakes;
use super::measure::{self, Fields, Kept, Survey, accept, as_one, groups};
use super::page::{Sheet, layout};
use super::place::of_candidate;
use super::shown::Shown;
use crate::stage::Which;

/// The page of Stop.
pub(crate) async fn stop(app: State<App>, query: RawQuery) -> Response {
    page(Which::Stop, app, query).await
}

/// The page of Balance.
pub(crate) async fn balance(app: State<App>, query: RawQuery) -> Response {
    page(Which::Balance, app, query).await
}

/// Takes a form of Stop.
pub(crate) async fn save_stop(app: State<App>, body: Bytes) -> Response {
    save(Which::Stop, app, body).await
}

/// Takes a form of Balance.
pub(crate) async fn save_balance(app: State<App>, body: Bytes) -> Response {
    save(Which::Balance, app, body).await
}

async fn page(which: Which, State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    show(which, &app, &desk, &query.unwrap_or_default(), None).into_response()
}

async fn save(which: Which, State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let back = fields.back(address(which));
    let mut desk = app.desk.lock().await;
    let text = desk.text().to_string();
    let edits = fields.edits();
    let label =
        fields.any("begin").map_or_else(|| "set several values".to_string(), |t| format!("added {t}"));
    let Some(edit) = as_one(&label, &edits) else { return Redirect::to(&back).into_response() };
    match accept(&app, &mut desk, &edit) {
        Ok(()) => Redirect::to(&back).into_response(),
        Err(error) => {
            let begun = fields.any("begin").map(str::to_string);
            let kept = match begun {
                // Its figures only make sense together: what is wrong is said of the form.
                Some(cell) => Kept { fields, cell, message: error.to_string(), hint: error.hint() },
                None => measure::kept(&text, fields, &edits, &error),
            };
            let query = back.split_once('?').map_or("", |(_, query)| query);
            (StatusCode::UNPROCESSABLE_ENTITY, show(which, &app, &desk, query, Some(kept))).into_response()
        }
    }
}

/// Path of a page.
fn address(which: Which) -> &'static str {
    match which {
        Which::Stop => "/stop",
        Which::Balance => "/balance",
    }
}

/// The page for what a query asks.
fn show(which: Which, app: &App, desk: &Desk, query: &str, kept: Option<Kept>) -> Markup {
    let text = desk.text();
    let typed = AsTyped::of(text);
    let asked = Asked::parse(query, desk.car(), typed.as_ref());
    let shared = asked.query();
    let checks = desk.car().map(study::check).unwrap_or_default();
    let mistakes = Mistakes::of(text, desk.diagnostics().iter().cloned().chain(checks));
    let body = match &typed {
        Some(typed) => {
            let (car, read_only) = (desk.car(), desk.is_read_only());
            let survey = Survey { app, typed, car, asked, mistakes, kept, read_only, page: address(which) };
            parts(which, &survey, query)
        }
        None => html! {
            section.problem {
                h1 { "The file cannot be read as it is" }
                p { a.button.main href="/measure?text=1" { "Mend its text" } }
            }
        },
    };
    layout(app, desk, Sheet { title: which.title(), stage: which.name(), query: &shared, body })
}

fn parts(which: Which, survey: &Survey<'_>, query: &str) -> Markup {
    let tables = groups::part(survey, &tables::groups(which, survey));
    html! {
        div.measure.weigh {
            h1.unseen { (which.title()) }
            (measure::mistakes(survey))
            @match survey.car {
                Some(car) => { (results(which, car, query)) }
                None => section.sheet id="part-stage" {
                    p { "The file does not make a car yet; mend its mistakes first." }
                }
            }
            (tables)
        }
    }
}

fn results(which: Which, base: &Car, query: &str) -> Markup {
    let shown = Shown::parse(query, base);
    let car = shown.trial.apply(base, shown.axle);
    let holes = shown.trial.all_holes(base, &car, shown.axle);
    let stage = which.work(&car, &holes);
    html! {
        section.sheet id="part-stage" aria-label="Results" {
            (choice(which, base, &shown))
            (figures::lacks(&stage))
            (figures::groups(&stage, &car))
            (charts::part(&stage, &car))
            (figures::notes(which, &stage))
        }
    }
}

/// The holes to choose from; the one in use is marked.
fn choice(which: Which, car: &Car, shown: &Shown) -> Markup {
    let Ok(subject) = Subject::new(car, shown.axle) else { return html! {} };
    let list = candidates(&subject);
    if list.len() < 2 {
        return html! {};
    }
    let used = shown.trial.holes(car, shown.axle);
    let moved = !shown.trial.moves.is_empty();
    html! {
        nav.axles aria-label="Hole" {
            @for candidate in &list {
                @let trial = of_candidate(subject.axle(), candidate);
                @let link = shown.link(|s| s.trial = trial).replacen("/place", address(which), 1);
                @let own = !moved && candidate.holes == used && candidate.with == shown.trial.with;
                a href=(link) aria-current=[own.then_some("true")] {
                    (candidate.name)
                    @if !candidate.setups.is_empty() { span.small { " " (candidate.setups.join(", ")) } }
                }
            }
            @if moved { a href=(shown.link(|_| {})) aria-current="true" { "on trial" } }
        }
    }
}
