//! One point at a time: where it is on the car, what to hold the tape to, three figures and how sure they are.

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::{AsTyped, Place};
use project::model::End;

use super::kinds;
use crate::web::App;
use crate::web::desk::Desk;
use crate::web::measure::names::{part, point, row_name, what_to_measure, whole};
use crate::web::measure::{Fields, Kept, accept, as_one, kept, paste, pictures};
use crate::web::page::{Sheet, layout};

/// What is asked on the way.
struct Walk<'a> {
    typed: AsTyped<'a>,
    end: End,
    /// The points: `rear.link.toe.body`.
    names: Vec<String>,
    /// Whether each still has the example's figures.
    example: Vec<bool>,
    /// Where on the way: the points, then the wheel's values, then the end.
    at: usize,
}

impl<'a> Walk<'a> {
    /// `None` where the file cannot be read or has no axle.
    fn new(desk: &'a Desk, query: &str) -> Option<Self> {
        let typed = AsTyped::of(desk.text())?;
        let field =
            |name: &str| form_urlencoded::parse(query.as_bytes()).find(|(k, _)| k == name).map(|(_, v)| v);
        let ends = [End::Rear, End::Front].into_iter().filter(|end| typed.has(end.name()));
        let asked = field("axle");
        let end = ends.clone().find(|end| asked.as_deref() == Some(end.name())).or(ends.clone().next())?;
        let names = typed.points(end);
        let at = field("at").and_then(|at| at.parse().ok()).unwrap_or(0usize).min(names.len() + 1);
        let example = examples(desk, &typed, end, &names);
        Some(Self { typed, end, names, example, at })
    }

    fn to(&self, at: usize) -> String {
        format!("/start/points?axle={}&at={at}", self.end.name())
    }
}

/// Which points still have the figures of the kind's example, text for text.
fn examples(desk: &Desk, typed: &AsTyped<'_>, end: End, names: &[String]) -> Vec<bool> {
    let kind = typed.value(&format!("{}.kind", end.name())).map(|typed| typed.text);
    let own = desk.car().zip(kind).and_then(|(car, kind)| {
        project::starter_axle(&kind, end, car, super::stated_wheelbase(desk.text(), car))
    });
    let own = own.unwrap_or_default();
    let Some(example) = AsTyped::of(&own) else { return vec![false; names.len()] };
    let texts = |of: &AsTyped<'_>, name: &String| {
        let typed = of.point(&Place::Point(name.clone()))?;
        Some([0, 1, 2].map(|i| typed.coordinate(i).to_string()))
    };
    names
        .iter()
        .map(|name| texts(&example, name).is_some_and(|own| texts(typed, name) == Some(own)))
        .collect()
}

/// The page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    show(&app, &desk, &query.unwrap_or_default(), None, StatusCode::OK)
}

/// Takes the figures and goes on.
pub(crate) async fn save(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let (next, back) = (fields.back("/start/points"), fields.get("here").to_string());
    let mut desk = app.desk.lock().await;
    let edits = fields.edits();
    let label = serde_json::from_str::<Place>(fields.get("place"));
    let label = label.map_or_else(|_| "set the wheel's values".into(), |place| format!("measured {place}"));
    let Some(edit) = as_one(&label, &edits) else { return Redirect::to(&next).into_response() };
    let text = desk.text().to_string();
    match accept(&app, &mut desk, &edit) {
        Ok(()) => Redirect::to(&next).into_response(),
        Err(error) => {
            let kept = kept(&text, fields, &edits, &error);
            show(&app, &desk, &back, Some(&kept), StatusCode::UNPROCESSABLE_ENTITY)
        }
    }
}

fn show(app: &App, desk: &Desk, query: &str, kept: Option<&Kept>, status: StatusCode) -> Response {
    let Some(walk) = Walk::new(desk, query) else { return Redirect::to("/").into_response() };
    let body = html! {
        section.walk id="part-walk" data-sheet="" data-of={ (walk.end.name()) (walk.at) } {
            (progress(&walk))
            @match walk.names.get(walk.at) {
                Some(name) => (one(app, desk, &walk, name, kept)),
                None if walk.at == walk.names.len() => (wheel(app, &walk, kept)),
                None => (finish(&walk)),
            }
        }
    };
    let query = format!("axle={}&at={}", walk.end.name(), walk.at);
    (status, layout(app, desk, Sheet { title: "Measure", stage: "start/points", query: &query, body }))
        .into_response()
}

/// How far it is, and which points still have the example's figures.
fn progress(walk: &Walk<'_>) -> Markup {
    let left = walk.example.iter().filter(|example| **example).count();
    let all = walk.names.len();
    html! {
        div.progress {
            p {
                b { (walk.end.name()) " axle: " (all - left) " of " (all) " points are yours" }
                @if left > 0 { span.small { " " (left) " still have the example's figures" } }
            }
            nav.dots aria-label="Points" {
                @for (i, (name, example)) in walk.names.iter().zip(&walk.example).enumerate() {
                    @let own = i == walk.at;
                    @let says = whole(&row_name(&Place::Point(name.clone())));
                    a.dot.done[!*example] href=(walk.to(i)) aria-current=[own.then_some("step")]
                        title=(says) aria-label={ (i + 1) ", " (says) @if *example { ", the example's figures" } @else { ", yours" } } { (i + 1) }
                }
            }
        }
    }
}

/// One point.
fn one(app: &App, desk: &Desk, walk: &Walk<'_>, name: &str, kept: Option<&Kept>) -> Markup {
    let place = Place::Point(name.to_string());
    let key = row_name(&place);
    let typed = walk.typed.point(&place);
    let text = |i: usize| typed.as_ref().map_or("", |typed| typed.coordinate(i));
    let accuracy =
        typed.as_ref().and_then(|typed| typed.accuracy.as_ref()).map_or("", |typed| typed.text.as_str());
    let said = walk.typed.value("survey.accuracy").map_or_else(|| "2 mm".into(), |typed| typed.text);
    let axis =
        |key: &str| walk.typed.value(&format!("survey.{key}")).map_or_else(String::new, |typed| typed.text);
    let unit = walk.typed.value("units.length").map_or_else(|| "mm".into(), |typed| typed.text);
    let example = walk.example.get(walk.at).copied().unwrap_or(false);
    let whole_point = typed.as_ref().is_some_and(|typed| typed.coordinates.len() != 3);
    html! {
        div.ask {
            h1 { (part(&key)) ": " (point(&key)) }
            p.what { (what_to_measure(&key)) }
            @if example { p.small { "These are the example's figures: type yours over them." } }
            form method="post" action={ "/start/points?token=" (app.guard.token()) } {
                input type="hidden" name="back" value=(walk.to(walk.at + 1));
                input type="hidden" name="here" value={ "axle=" (walk.end.name()) "&at=" (walk.at) };
                input type="hidden" name="place" value=(serde_json::to_string(&place).unwrap_or_default());
                @if whole_point { input type="hidden" name="whole" value=""; }
                @for (i, axis_name) in ["x", "y", "z"].into_iter().enumerate() {
                    (field(kept, axis_name, axis_name, &axis(axis_name), text(i), &unit, ""))
                }
                (field(kept, "accuracy", "±", "how sure one coordinate is", accuracy, &unit, &said))
                (buttons(walk))
            }
            details {
                summary { "Paste a table instead" }
                (paste::form(app.guard.token(), walk.end.name(), "", &walk.to(walk.at)))
            }
        }
        div.sights tabindex="0" role="group" aria-label="Where the point is" {
            @match desk.car().and_then(|car| pictures::all(car, walk.end, &key)) {
                Some(pictures) => (pictures),
                None => p.hint { "The axle cannot be drawn with these figures yet." },
            }
        }
    }
}

/// The values of the wheel that are no points.
fn wheel(app: &App, walk: &Walk<'_>, kept: Option<&Kept>) -> Markup {
    let unit = walk.typed.value("units.length").map_or_else(|| "mm".into(), |typed| typed.text);
    let fields = [
        (
            "loaded-radius",
            "loaded radius",
            "from the wheel's middle down to the floor, on its tyre",
            unit.as_str(),
        ),
        ("toe", "toe", "of one wheel; toe-in is positive", "deg"),
        ("camber", "camber", "negative: the top leans in", "deg"),
    ];
    html! {
        div.ask {
            h1 { "The wheel" }
            form method="post" action={ "/start/points?token=" (app.guard.token()) } {
                input type="hidden" name="back" value=(walk.to(walk.at + 1));
                input type="hidden" name="here" value={ "axle=" (walk.end.name()) "&at=" (walk.at) };
                @for (key, words, hint, unit) in fields {
                    @let path = format!("{}.wheel.{key}", walk.end.name());
                    @let text = walk.typed.value(&path).map_or_else(String::new, |typed| typed.text);
                    (field(kept, &format!("value:{path}"), words, hint, &text, unit, ""))
                }
                (buttons(walk))
            }
        }
    }
}

/// One large field, with what is wrong with it.
fn field(
    kept: Option<&Kept>,
    name: &str,
    words: &str,
    hint: &str,
    text: &str,
    unit: &str,
    empty: &str,
) -> Markup {
    let had = kept.and_then(|kept| kept.fields.any(name)).unwrap_or(text);
    let blame = kept.filter(|kept| kept.cell == name);
    let (id, why) = (format!("field-{name}"), format!("why-{name}"));
    html! {
        div.large {
            label for=(id) { b { (words) } " " span.small { (hint) } }
            input type="hidden" name={ "was:" (name) } value=(text);
            span.entry {
                input id=(id) name=(name) value=(had) placeholder=(empty) inputmode="text" autocomplete="off"
                    autofocus[name == "x"]
                    autocapitalize="off" spellcheck="false" aria-invalid=[blame.map(|_| "true")]
                    aria-describedby=[blame.map(|_| why.as_str())];
                span.unit { " " (unit) }
            }
            @if let Some(kept) = blame {
                p.why id=(why) role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
            }
        }
    }
}

fn buttons(walk: &Walk<'_>) -> Markup {
    html! {
        div.steps.always {
            @match walk.at.checked_sub(1) { Some(before) => a.button href=(walk.to(before)) { "Back" }, None => span.button.off { "Back" } }
            a.button href=(walk.to(walk.at + 1)) { "Skip" }
            button.main { "Save and next" }
        }
    }
}

/// The end of the way: what is left, and the first table.
fn finish(walk: &Walk<'_>) -> Markup {
    let left: Vec<(usize, &String)> =
        walk.names.iter().enumerate().filter(|(i, _)| walk.example.get(*i) == Some(&true)).collect();
    let kind =
        walk.typed.value(&format!("{}.kind", walk.end.name())).map_or_else(String::new, |typed| typed.text);
    let other = if walk.end == End::Rear { End::Front } else { End::Rear };
    html! {
        div.ask {
            h1 { "The " (walk.end.name()) " axle is in the file" }
            @if !kinds::words(&kind).is_empty() { p { (kinds::words(&kind)) ", " (walk.names.len()) " points." } }
            @if left.is_empty() {
                p { "Every point has a figure of yours." }
            } @else {
                p { "These still have the example's figures:" }
                ul { @for (i, name) in &left { li { a href=(walk.to(*i)) { (whole(&row_name(&Place::Point(name.to_string())))) } } } }
            }
            p.go { a.button.main href={ "/place?axle=" (walk.end.name()) } { "See what it does: the first table" } }
            p {
                @if walk.typed.has(other.name()) {
                    a.button href={ "/start/points?axle=" (other.name()) } { "Measure the " (other.name()) " axle" }
                } @else {
                    a.button href={ "/start?axle=" (other.name()) } { "Add a " (other.name()) " axle" }
                }
                " " a.button href={ "/measure?axle=" (walk.end.name()) } { "All points in a table" }
            }
        }
    }
}
