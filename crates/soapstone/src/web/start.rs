//! A new car, or another axle for a car: which kind of suspension it has.

mod kinds;
mod points;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::Beginning;
use project::edit::{AsTyped, Edit};
use project::model::{Car, End};
use units::{Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem};

use super::App;
use super::desk::Desk;
use super::measure::{Fields, accept};
use super::page::{Sheet, layout};

pub(crate) use points::{page as points_page, save as points_save};

/// Whether a file is one to begin with: it can be read, and has no axle.
pub(crate) fn is_empty(text: &str) -> bool {
    AsTyped::of(text).is_some_and(|typed| !typed.has("front") && !typed.has("rear"))
}

/// The ends of the car that have no axle; `None` where the file cannot be read.
fn free(text: &str) -> Option<Vec<End>> {
    let typed = AsTyped::of(text)?;
    Some([End::Rear, End::Front].into_iter().filter(|end| !typed.has(end.name())).collect())
}

/// Which kinds there are to choose from.
pub(crate) async fn page(State(app): State<App>, RawQuery(_): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    show(&app, &desk, &Fields::default(), None).unwrap_or_else(|| Redirect::to("/measure").into_response())
}

/// Puts what was chosen into the file.
pub(crate) async fn begin(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let mut desk = app.desk.lock().await;
    let done = wish(&desk, &fields).and_then(|(edit, end)| {
        accept(&app, &mut desk, &edit).map_err(|e| (e.to_string(), e.hint())).map(|()| end)
    });
    match done {
        Ok(end) => Redirect::to(&format!("/start/points?axle={}", end.name())).into_response(),
        Err(why) => {
            show(&app, &desk, &fields, Some(why)).unwrap_or_else(|| Redirect::to("/measure").into_response())
        }
    }
}

/// The edit that a form means, and the axle to measure first.
fn wish(desk: &Desk, fields: &Fields) -> Result<(Edit, End), (String, Option<String>)> {
    let chosen = |end: End| Some(fields.get(end.name())).filter(|kind| kinds::is_kind(kind));
    let none = || ("choose a kind for one axle at least".to_string(), None);
    if is_empty(desk.text()) {
        let (front, rear) = (chosen(End::Front), chosen(End::Rear));
        let name = Some(fields.get("name").trim()).filter(|name| !name.is_empty()).unwrap_or("My car");
        let driven =
            ["front", "rear", "all"].into_iter().find(|word| *word == fields.get("driven")).unwrap_or("rear");
        let text = Beginning { name, driven, front, rear, units: units(fields) }.text().ok_or_else(none)?;
        return Ok((Edit::Replace { text }, if rear.is_some() { End::Rear } else { End::Front }));
    }
    let ends = free(desk.text()).unwrap_or_default();
    let (end, kind) = ends.into_iter().find_map(|end| Some((end, chosen(end)?))).ok_or_else(none)?;
    let mend = || {
        (
            "the file has mistakes that keep the new axle from being placed".to_string(),
            Some("mend them on the Measure page first".to_string()),
        )
    };
    let car = desk.car().ok_or_else(mend)?;
    let toml = project::starter_axle(kind, end, car, stated_wheelbase(desk.text(), car)).ok_or_else(none)?;
    Ok((Edit::Append { toml }, end))
}

/// The wheelbase that the file states [m].
pub(crate) fn stated_wheelbase(text: &str, car: &Car) -> Option<f64> {
    let typed = AsTyped::of(text)?.value("car.wheelbase")?;
    units::parse(&typed.text, Dimension::Length, &car.units).ok().map(|reading| reading.value)
}

fn units(fields: &Fields) -> UnitSystem {
    let metric = UnitSystem::default();
    match fields.get("units") {
        "in" => UnitSystem {
            length: LengthUnit::Inch,
            mass: MassUnit::Pound,
            force: ForceUnit::PoundForce,
            ..metric
        },
        _ => metric,
    }
}

/// The page; `None` where there is nothing to choose.
fn show(
    app: &App,
    desk: &Desk,
    fields: &Fields,
    wrong: Option<(String, Option<String>)>,
) -> Option<Response> {
    let ends = free(desk.text()).filter(|ends| !ends.is_empty())?;
    let new = ends.len() == 2;
    let name = AsTyped::of(desk.text())
        .and_then(|typed| typed.value("car.name"))
        .map_or_else(String::new, |t| t.text);
    let status = if wrong.is_some() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    let body = html! {
        section.start {
            h1 { @if new { "What carries the wheels?" } @else { "What carries the other wheels?" } }
            p {
                @if new {
                    "Choose what each axle has, or is to have; one is enough to begin with. The file then has example figures, \
                     and you put yours in their place, one point at a time."
                } @else {
                    "The axle is added to the file with example figures, in the frame and the unit of the others."
                }
            }
            @if let Some((message, hint)) = &wrong {
                p.wrong role="alert" { (message) @if let Some(hint) = hint { span.hint { " " (hint) } } }
            }
            form method="post" action={ "/start?token=" (app.guard.token()) } {
                @if new { (head(fields, &name)) }
                @for end in &ends {
                    (kinds::choice(*end, fields.get(end.name()), new.then_some("Leave it out for now")))
                }
                p.go { button.main disabled[desk.is_read_only()] { @if new { "Begin" } @else { "Add the axle" } } }
            }
        }
    };
    Some(
        (status, layout(app, desk, Sheet { title: "Begin", stage: "start", query: "", body }))
            .into_response(),
    )
}

/// Name, driven wheels, unit.
fn head(fields: &Fields, name: &str) -> Markup {
    let radio = |group: &str, value: &str, words: &str, first: bool| {
        let chosen = fields.any(group).map_or(first, |own| own == value);
        html! { label { input type="radio" name=(group) value=(value) checked[chosen]; (words) } }
    };
    html! {
        div.head {
            label.name { "The car's name" input name="name" value=(fields.any("name").unwrap_or(name)) maxlength="60" autocomplete="off"; }
            fieldset {
                legend { "You measure in" }
                (radio("units", "mm", "millimetres", true))
                (radio("units", "in", "inches, with fractions", false))
            }
            fieldset {
                legend { "Driven wheels" }
                (radio("driven", "rear", "rear", true))
                (radio("driven", "front", "front", false))
                (radio("driven", "all", "all four", false))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_without_an_axle_is_one_to_begin_with() {
        assert!(is_empty(&project::blank("a")));
        assert!(!is_empty(crate::cli::DEMO));
        assert!(!is_empty("a = "));
        assert_eq!(free(&project::blank("a")), Some(vec![End::Rear, End::Front]));
        assert_eq!(free("a = "), None);
    }

    #[test]
    fn a_rear_axle_stands_where_the_file_says() {
        let text = project::starter("strut", &UnitSystem::default()).unwrap();
        let car = project::read(&text).car.unwrap();
        assert_eq!(stated_wheelbase(&text, &car), Some(2.6));
        assert_eq!(stated_wheelbase(crate::cli::DEMO, &car), None);
    }
}
