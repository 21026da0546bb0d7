//! The chosen point: its coordinates, what holds it, the steps in which it moves.

use maud::{Markup, html};
use nalgebra::Vector3;
use project::edit::{At, place_at};
use project::model::{Car, End};
use units::{Dimension, show};

use super::stand::{Stand, point_name, shift_words};
use crate::web::shown::Hold;
use crate::web::trial::Move;

/// Ways to hold a point, with the words for them.
const HOLDS: [(&str, &str); 6] = [
    ("free", "freely in the view"),
    ("plate", "along its plate"),
    ("length", "at its link's length"),
    ("z", "up and down only"),
    ("x", "fore and aft only"),
    ("y", "in and out only"),
];

/// Steps of arrow keys and drags: in millimetres, or in inches where the car is written in them.
const STEPS_MM: [(f64, &str); 5] = [(0.0005, "0.5"), (0.001, "1"), (0.005, "5"), (0.01, "10"), (0.025, "25")];
const STEPS_IN: [(f64, &str); 5] = [
    (0.0254 / 32.0, "1/32"),
    (0.0254 / 16.0, "1/16"),
    (0.0254 / 8.0, "1/8"),
    (0.00635, "1/4"),
    (0.0254, "1"),
];

/// Where a point of the car is, by the name that the page uses.
fn place_of(car: &Car, end: End, what: &str) -> Option<Vector3<f64>> {
    let name = Move { what: what.to_string(), to: Vector3::zeros() };
    place_at(car, &name.place(end))
}

/// The panel.
pub(crate) fn part(stand: &Stand<'_>) -> Markup {
    let units = &stand.base.units;
    let unit = units.symbol(Dimension::Length);
    let inches = unit == "in";
    let steps = if inches { STEPS_IN } else { STEPS_MM };
    let step_shown = |step: f64| (step - stand.shown.step).abs() < 1e-7;
    let own_step = !steps.iter().any(|(step, _)| step_shown(*step));
    let mut state = stand.shown.clone();
    state.point = None;
    state.hold = Hold::Free;
    state.step = crate::web::shown::Shown::of(state.axle).step;
    html! {
        section.point id="part-point" aria-label="Chosen point" {
            form method="get" action="/place" data-state="" {
                @for (name, value) in state.pairs() { input type="hidden" name=(name) value=(value); }
                label { "point "
                    select name="point" {
                        option value="" { "none: tap one in a view" }
                        @for (what, label) in choices(stand) {
                            option value=(what) selected[stand.shown.point.as_deref() == Some(what.as_str())] { (label) }
                        }
                    }
                }
                label { "moves "
                    select name="hold" {
                        @for (name, words) in HOLDS {
                            option value=(name) selected[stand.shown.hold.name() == name] { (words) }
                        }
                    }
                }
                label { "in steps of "
                    select name="step" {
                        @if own_step {
                            option value=(stand.shown.step) selected { (show::number(stand.shown.step, Dimension::Length, units, 3)) }
                        }
                        @for (step, words) in steps {
                            option value=(step) selected[step_shown(step)] { (words) " " (unit) }
                        }
                    }
                }
                button.no-script { "Set" }
            }
            (coordinates(stand))
        }
    }
}

/// Every point that can be moved: as drawn, then the holes.
fn choices(stand: &Stand<'_>) -> Vec<(String, String)> {
    let Some(axle) = stand.axle() else { return Vec::new() };
    let points = axle.scheme.points.iter().map(|key| key.to_string());
    let holes =
        axle.holes.iter().filter_map(|h| Some(format!("{}#{}", axle.scheme.points.get(h.point)?, h.name)));
    points
        .chain(holes)
        .map(|what| {
            let label = point_name(stand.scene.as_ref(), &what);
            (what, label)
        })
        .collect()
}

/// Coordinates of the chosen point, to be typed over.
fn coordinates(stand: &Stand<'_>) -> Markup {
    let end = stand.shown.axle;
    let units = &stand.base.units;
    let Some(what) = &stand.shown.point else { return html! {} };
    let Some(own) = place_of(&stand.car, end, what) else { return html! {} };
    // A point in a hole is where the hole is.
    let used = stand.axle().and_then(|axle| {
        let index = axle.scheme.point(what)?;
        stand.holes.iter().filter_map(|h| axle.holes.get(*h)).find(|h| h.point == index).map(|h| h.at.at)
    });
    let at = used.unwrap_or(own);
    let decimals = study::Scale::Length.decimals(units) + 1;
    let surveyed = stand.base.frame.to_survey(at);
    let from = place_of(stand.base, end, what);
    let text = |v: f64| {
        let n = show::number(v, Dimension::Length, units, decimals);
        if n.contains('.') { n.trim_end_matches('0').trim_end_matches('.').to_string() } else { n }
    };
    html! {
        form.coordinates method="get" action="/place" data-state="" {
            @for (name, value) in stand.shown.pairs() { input type="hidden" name=(name) value=(value); }
            @for (axis, value) in [("x", surveyed.x), ("y", surveyed.y), ("z", surveyed.z)] {
                label { (axis) " " input name={ "to-" (axis) } value=(text(value)) size="8" autocomplete="off"; }
            }
            span.unit { (units.symbol(Dimension::Length)) }
            button { "Move there" }
            @if let Some(from) = from {
                p.small {
                    @if (at - from).norm() > 1e-6 { (shift_words(stand.base, &(at - from))) " from where the file has it" }
                    @else { "where the file has it" }
                    "; " (stand.base.frame.description())
                }
            }
        }
    }
}

/// Coordinates that a person typed, in the car's axes.
pub(crate) fn typed(car: &Car, at: &At) -> Result<Vector3<f64>, String> {
    let At::Typed(texts) = at else { return Err("type three coordinates".into()) };
    let mut surveyed = Vector3::zeros();
    for ((value, text), name) in surveyed.iter_mut().zip(texts).zip(["x", "y", "z"]) {
        let reading = units::parse(text, Dimension::Length, &car.units);
        *value = reading.map_err(|e| format!("{name}: {e}"))?.value;
    }
    let at = car.frame.to_car(surveyed);
    if at.amax() < 100.0 { Ok(at) } else { Err("that is farther away than any part of a car".into()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_are_typed_as_in_the_file() {
        let car = project::read(crate::cli::DEMO).car.unwrap();
        let of = |x: &str| typed(&car, &At::Typed([x.into(), "16 1/2 in".into(), "270".into()]));
        let at = of("2100").unwrap();
        assert!((at - Vector3::new(-2.1, 0.4191, 0.27)).norm() < 1e-9, "{at}");
        assert!(of("two").unwrap_err().starts_with("x: "));
        assert!(of("999999").unwrap_err().contains("farther"));
    }

    #[test]
    fn places_are_found_by_the_page_s_names() {
        let car = project::read(crate::cli::DEMO).car.unwrap();
        assert!(place_of(&car, End::Rear, "link.lower-fore.body").is_some());
        assert!(place_of(&car, End::Rear, "link.lower-fore.body#B").is_some());
        assert_eq!(place_of(&car, End::Rear, "link.none.body"), None);
        assert_eq!(project::edit::Place::Point("rear.wheel.centre".into()).axle(), Some(End::Rear));
    }
}
