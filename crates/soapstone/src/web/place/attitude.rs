//! Travel, roll and steer: sliders, and what the wheels do there.

use maud::{Markup, html};
use study::Quantity;
use units::{Dimension, show};

use super::stand::Stand;
use super::table::axle_end;
use crate::words::signed_length;

/// Travel that the slider reaches, unless the table asks for more [m].
const TRAVEL: f64 = 0.08;

/// Roll that the slider reaches [rad]: 6 deg.
const ROLL: f64 = 0.105;

/// Rack travel where the file states none [m].
const RACK: f64 = 0.06;

/// The sliders.
pub(crate) fn part(stand: &Stand<'_>) -> Markup {
    let shown = &stand.shown;
    let units = &stand.base.units;
    let most = stand.base.choose.travels.iter().fold(TRAVEL, |m, t| m.max(t.abs()));
    let rack = stand.axle().and_then(|a| a.scheme.rack_axis.map(|_| a.rack_travel.unwrap_or(RACK)));
    let degrees = show::number(shown.roll, Dimension::Angle, units, 2);
    let mut state = shown.clone();
    (state.travel, state.roll, state.rack) = (0.0, 0.0, 0.0);
    let slider = |name: &str, words: &str, value: f64, most: f64, step: f64, says: String| {
        html! {
            div.slider {
                label for={ "at-" (name) } { (words) }
                input type="range" id={ "at-" (name) } name=(name) min=(-most) max=(most) step=(step) value=(value)
                    aria-valuetext=(says);
                output for={ "at-" (name) } { (says) }
                button.play type="button" data-play=(name) aria-pressed="false" aria-label={ "Move " (words) } { "move" }
            }
        }
    };
    html! {
        section.attitude id="part-attitude" aria-label="Travel, roll and steer" {
            form method="get" action="/place" data-state="" data-sliders="" {
                @for (name, value) in state.pairs() { input type="hidden" name=(name) value=(value); }
                (slider("travel", "wheel travel", shown.travel, most, 0.001, signed_length(shown.travel, units)))
                (slider("roll", "body roll", shown.roll, ROLL, 0.001_745_329, format!("{degrees}\u{a0}deg")))
                @if let Some(most) = rack {
                    (slider("rack", "rack", shown.rack, most, 0.001, signed_length(shown.rack, units)))
                }
                button.no-script { "Show" }
                // Always there: a button that comes and goes would move the others from under the hand.
                p.rest { a.button href={ "/place?" (state.query()) } { "ride height" } }
            }
            (here(stand))
        }
    }
}

/// What the wheels do at the attitude.
fn here(stand: &Stand<'_>) -> Markup {
    let Some(standing) = &stand.scene else { return html! {} };
    let units = &stand.base.units;
    let f = &standing.scene.figures;
    let degrees = |v: f64| show::number(v, Dimension::Angle, units, 2);
    let length = |v: f64| show::number(v, Dimension::Length, units, study::Scale::Length.decimals(units));
    let unit = units.symbol(Dimension::Length);
    let mut figures = vec![(
        "travel, left wheel".to_string(),
        length(f.travel),
        unit,
        "How far the wheel centre stands above its place at ride height, jounce positive.",
    )];
    if f.travel_right != f.travel {
        let means = "The same of the right wheel.";
        figures.push(("travel, right wheel".into(), length(f.travel_right), unit, means));
    }
    let toe = Quantity::Toe.about(axle_end(stand.shown.axle)).definition;
    let camber = Quantity::Camber.about(axle_end(stand.shown.axle)).definition;
    figures.push(("toe, left wheel".into(), degrees(f.toe), "deg", toe));
    figures.push(("camber, left wheel".into(), degrees(f.camber), "deg", camber));
    if let Some(rc) = &f.roll_centre {
        let means = Quantity::RollCentre.about(axle_end(stand.shown.axle)).definition;
        figures.push(("roll centre above the road".into(), length(rc.height), unit, means));
    }
    if let Some(anti) = &f.braking {
        let means = Quantity::AntiBraking.about(axle_end(stand.shown.axle)).definition;
        figures.push((anti.name.to_string(), format!("{:.1}", anti.value * 100.0), "%", means));
    }
    html! {
        dl.here {
            @for (name, value, unit, means) in &figures {
                div data-means=(means) tabindex="0" { dt { (name) } dd { b { (value) } " " span.unit { (unit) } } }
            }
        }
    }
}
