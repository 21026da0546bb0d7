//! A number with its worked calculation.

use axum::extract::{RawQuery, State};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use study::{Quantity, Subject, Worked, explain};

use super::App;
use super::page::{Sheet, layout, problem};
use super::shown::Shown;

/// Farthest travel at which a number is worked [m].
const MOST_TRAVEL: f64 = 0.25;

/// The worked number that the address asks for.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let query = query.unwrap_or_default();
    let desk = app.desk.lock().await;
    let Some(base) = desk.car() else {
        return problem(&app, &desk, "the file does not make a car yet", None, "/").into_response();
    };
    let shown = Shown::parse(&query, base);
    let (mut key, mut travel) = (String::new(), 0.0);
    for (name, value) in form_urlencoded::parse(query.as_bytes()) {
        match &*name {
            "quantity" => key = value.into_owned(),
            "at" => travel = value.parse::<f64>().ok().filter(|t| t.is_finite()).unwrap_or(0.0),
            _ => {}
        }
    }
    let travel = travel.clamp(-MOST_TRAVEL, MOST_TRAVEL);
    let car = shown.trial.apply(base, shown.axle);
    let holes = shown.trial.holes(&car, shown.axle);
    let worked = Subject::new(&car, shown.axle).map_err(|e| e.to_string()).and_then(|subject| {
        let quantity = Quantity::from_key(&key, shown.axle.into()).ok_or("there is no such quantity")?;
        explain(&subject, quantity, &holes, travel).map_err(|e| e.to_string())
    });
    let body = html! {
        article.worked id="worked" {
            @match &worked { Ok(worked) => (render(worked)), Err(why) => p.wrong role="alert" { (why) } }
        }
        p { a.button href=(shown.link(|_| {})) { "Back to the table" } }
    };
    layout(&app, &desk, Sheet { title: "Worked number", stage: "", query: &shown.query(), body })
        .into_response()
}

fn render(worked: &Worked) -> Markup {
    let about = &worked.about;
    html! {
        h1 { (about.title) }
        p.answer { @match &worked.shown { Some(s) => (s.text()), None => "not known" } }
        dl {
            dt { "what it is" } dd { (about.definition) }
            dt { "formula" } dd.formula { (about.formula) }
            dt { "this car" } dd.formula { (worked.substituted) }
            @if !worked.terms.is_empty() {
                dt { "with" }
                dd { table.terms { tbody { @for term in &worked.terms {
                    tr { th scope="row" { (term.symbol) } td { (term.value) } td.word { (term.meaning) } }
                } } } }
            }
            dt { "source" } dd { (about.source) }
            dt { "it does" } dd { (about.does) }
            dt { "it does not" } dd { (about.does_not) }
            @if !worked.sources_of_doubt.is_empty() {
                dt { "± comes from" }
                dd { @for (i, (name, share)) in worked.sources_of_doubt.iter().enumerate() {
                    @if i > 0 { ", " } (name) " " (format!("{:.0}", share * 100.0)) "\u{a0}%"
                } }
            }
            @for remark in &worked.remarks { dt { "note" } dd { (remark) } }
        }
    }
}
