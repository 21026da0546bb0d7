//! What all pages have around them: the stages, the car's name, undo and redo, the cautions.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{DOCTYPE, Markup, html};

use super::App;
use super::desk::Desk;

/// What one page puts into the frame.
pub(crate) struct Sheet<'a> {
    /// Title for the browser's tab.
    pub title: &'a str,
    /// Stage of the page; empty for none.
    pub stage: &'a str,
    /// Query that says what is shown, carried from stage to stage.
    pub query: &'a str,
    /// The page.
    pub body: Markup,
}

/// The stages that have a page.
const STAGES: [(&str, &str); 8] = [
    ("measure", "Measure"),
    ("place", "Place"),
    ("weigh", "Weigh"),
    ("stop", "Stop"),
    ("balance", "Balance"),
    ("drive", "Drive"),
    ("manoeuvres", "Manoeuvres"),
    ("build", "Build"),
];

/// The stages that have something to show: those of the whole car only with weights in the file, or while a page of
/// them begins one.
fn stages(desk: &Desk, stage: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let points = ["measure", "place"];
    let of_whole = STAGES.iter().any(|(path, _)| *path == stage && !points.contains(path));
    let whole = of_whole || desk.car().is_some_and(|car| car.weigh.is_some());
    STAGES.into_iter().filter(move |(path, _)| whole || points.contains(path))
}

/// The first stage in which there is something to do: a file without an axle begins, one with mistakes is mended.
pub(crate) async fn home(State(app): State<App>) -> Redirect {
    let desk = app.desk.lock().await;
    Redirect::to(match desk.car() {
        Some(_) => "/place",
        None if super::start::is_empty(desk.text()) => "/start",
        None => "/measure",
    })
}

/// There is no such page.
pub(crate) async fn not_found(State(app): State<App>) -> Response {
    let desk = app.desk.lock().await;
    (StatusCode::NOT_FOUND, problem(&app, &desk, "there is no such page", None, "/")).into_response()
}

/// A page that says what is wrong and where to go.
pub(crate) fn problem(app: &App, desk: &Desk, message: &str, hint: Option<&str>, back: &str) -> Markup {
    let body = html! {
        section.problem role="alert" {
            h1 { "That did not work" }
            p { (message) }
            @if let Some(hint) = hint { p { (hint) } }
            p { a.button href=(back) { "Back" } }
        }
    };
    layout(app, desk, Sheet { title: "Soapstone", stage: "", query: "", body })
}

/// A whole page.
pub(crate) fn layout(app: &App, desk: &Desk, sheet: Sheet<'_>) -> Markup {
    let car = desk.name();
    let (undo, redo) = desk.ways();
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="soapstone-token" content=(app.guard.token());
                meta name="soapstone-version" content=(app.stamp(desk.version()));
                title { (sheet.title) " · " (car) }
                link rel="icon" href="data:,";
                link rel="stylesheet" href="/assets/page.css";
                script type="module" src="/assets/app.js" {}
            }
            body data-stage=(sheet.stage) {
                a.skip href="#main" { "To the page" }
                header.top {
                    p.car { b { (car) } " " span.file { (desk.file_name()) @if desk.is_read_only() { " (look only)" } } }
                    nav aria-label="Stages" {
                        @for (path, name) in stages(desk, sheet.stage) {
                            a href={ "/" (path) "?" (sheet.query) } data-stage-link=(path)
                                aria-current=[(path == sheet.stage).then_some("page")] { (name) }
                        }
                        a.beside href={ "/paper?" (sheet.query) } aria-current=[(sheet.stage == "paper").then_some("page")] { "Paper" }
                    }
                    @if app.guard.invitation().is_some() { a.phone href="/pair" { "Telephone" } }
                    div.ways id="part-ways" {
                        (way(app, "undo", "Undo", undo.as_deref(), sheet.stage, sheet.query))
                        (way(app, "redo", "Redo", redo.as_deref(), sheet.stage, sheet.query))
                    }
                }
                main id="main" tabindex="-1" { (sheet.body) }
                footer.cautions {
                    p {
                        b { "Planning figures, not an approval." }
                        " A structural change to a vehicle must be checked by a licensed engineer and satisfy local road law \
                         and the sanctioning body's rules. Take care when welding near fuel, batteries and lines. Test step \
                         by step, away from people."
                    }
                }
                div id="said" role="status" aria-live="polite" {}
            }
        }
    }
}

/// A figure of a table, its ± apart, so that neither is broken over two lines and a narrow screen can put it below.
pub(crate) fn figure(text: &str) -> Markup {
    match text.split_once(" ± ") {
        Some((number, doubt)) => html! { (number) span.pm { " ± " (doubt) } },
        None => html! { (text) },
    }
}

/// Undo or redo as a form, so that it works before any script runs.
fn way(app: &App, path: &str, name: &str, what: Option<&str>, stage: &str, query: &str) -> Markup {
    let says = match what {
        Some(what) => format!("{name}: {what}"),
        None => format!("Nothing to {}", name.to_lowercase()),
    };
    html! {
        form method="post" action={ "/" (path) "?token=" (app.guard.token()) } data-way=(path) {
            input type="hidden" name="back" value={ "/" (stage) "?" (query) };
            button title=(says) aria-label=(says) disabled[what.is_none()] { (name) }
        }
    }
}
