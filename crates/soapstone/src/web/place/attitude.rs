//! Travel, roll and steer: sliders, and what the wheels do there.

use maud::{Markup, html};
use study::{Column, Quantity};
use suspension::AxleEnd;
use units::{Dimension, show};

use super::stand::Stand;
use super::table::explain_link;
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
    let end = AxleEnd::from(stand.shown.axle);
    let left = "How far the wheel centre stands above its place at ride height, jounce positive.";
    let mut figures: Vec<(String, String, &str, &str, Option<Quantity>)> =
        vec![("travel, left wheel".into(), length(f.travel), unit, left, None)];
    if f.travel_right != f.travel {
        let means = "The same of the right wheel.";
        figures.push(("travel, right wheel".into(), length(f.travel_right), unit, means, None));
    }
    let mut push = |name: &str, value: String, unit, quantity: Quantity| {
        figures.push((name.into(), value, unit, quantity.about(end).definition, Some(quantity)));
    };
    push("toe, left wheel", degrees(f.toe), "deg", Quantity::Toe);
    push("camber, left wheel", degrees(f.camber), "deg", Quantity::Camber);
    if let Some(rc) = &f.roll_centre {
        push("roll centre above the road", length(rc.height), unit, Quantity::RollCentre);
    }
    if let Some(anti) = &f.braking {
        push(anti.name, format!("{:.1}", anti.value * 100.0), "%", Quantity::AntiBraking);
    }
    // A worked number is that of both wheels at one travel, straight ahead.
    let straight = stand.shown.roll == 0.0 && stand.shown.rack == 0.0;
    let link = |quantity: Option<Quantity>| {
        let column = Column { quantity: quantity.filter(|_| straight)?, travel: Some(f.travel) };
        Some(explain_link(stand.shown.axle, column, stand.shown.trial.clone()))
    };
    html! {
        dl.here {
            @for (name, value, unit, means, quantity) in &figures {
                @let link = link(*quantity);
                div data-means=(means) data-quantity=[quantity.map(|q| q.key(end))]
                    tabindex=[link.is_none().then_some("0")] {
                    dt { (name) }
                    dd {
                        @match &link {
                            Some(link) => a.num href=(link) data-means=(means) { b { (value) } },
                            None => b { (value) },
                        }
                        " " span.unit { (unit) }
                    }
                }
            }
        }
    }
}
