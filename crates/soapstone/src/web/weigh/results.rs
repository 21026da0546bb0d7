//! The results: a table for each load, the perch turns, what is assumed.

use draw::weights::{Centre, Weights};
use maud::{Markup, PreEscaped, html};
use project::model::Car;
use study::{LoadState, Scale, WeighError, Weighed, Weight, shown};
use units::UnitSystem;

use super::super::measure::Survey;
use super::super::page::figure;
use crate::weights;

/// The results, or what they wait for.
pub(super) fn part(survey: &Survey<'_>) -> Markup {
    let weighed = survey.car.map(|car| (car, study::weigh(car)));
    html! {
        section.sheet id="part-weighed" aria-label="Results" {
            @match &weighed {
                Some((car, Ok(weighed))) => { (all(car, weighed)) }
                Some((_, Err(WeighError::NoScales))) => {
                    p { "Nothing to work out yet: put the car on four scales and write down what they say." }
                }
                // It stands among the mistakes too, with its line.
                Some((_, Err(error))) => { p.why role="alert" { (error) " " span.hint { (error.hint()) } } }
                None => { p { "The file does not make a car yet; mend its mistakes first." } }
            }
            p.small { (weights::CAUTION) }
        }
    }
}

fn all(car: &Car, weighed: &Weighed) -> Markup {
    let units = &car.units;
    let (ready, others) = match weighed.states.split_last() {
        Some((ready, others)) => (Some(ready), others),
        None => (None, [].as_slice()),
    };
    html! {
        @if let Some(ready) = ready {
            div.side-by-side {
                div { (table(ready, weighed.ledger, units)) }
                @if let Some(svg) = picture(car, ready, weighed.ledger) {
                    figure.centres { (PreEscaped(svg)) figcaption { "From the left, and from above; the ellipse is twice the ±" } }
                }
            }
        }
        @for state in others {
            details {
                summary { (weights::state_title(state)) }
                (table(state, weighed.ledger, units))
            }
        }
        @if let Some(advice) = &weighed.perches {
            h2 { "Spring perches, ready to run" }
            @if let Some(rows) = weights::perches(advice, units) {
                table.weights {
                    @for (i, row) in rows.iter().enumerate() {
                        tr { @for (k, cell) in row.iter().enumerate() {
                            @if i == 0 { th scope="col" { (cell) } }
                            @else if k == 0 { th scope="row" { (cell) } }
                            @else { td { (cell) } }
                        } }
                    }
                }
            }
            @for words in weights::perch_words(advice, units) { p.small { (words) } }
        }
        details {
            summary { "What is assumed, and where the ± comes from" }
            ul {
                @for note in &weighed.notes { li { (note) } }
                @if let Some(doubts) = weights::doubts(weighed) { li { (doubts) } }
                li { "± is one standard uncertainty; the ± of a change leaves out what both sides share." }
            }
        }
    }
}

/// Width of the picture [px].
const WIDTH: f64 = 440.0;

/// The centres of gravity before and after; `None` where the car has not both axles in the file.
fn picture(car: &Car, state: &LoadState, ledger: bool) -> Option<String> {
    let (front, rear) = (car.front.as_ref()?, car.rear.as_ref()?);
    let centre = |after: bool| {
        let of = |w| if after { state.after(w) } else { state.found(w) };
        let (x, y, z) = (of(Weight::Behind)?, of(Weight::Left)?, of(Weight::Height));
        Some(Centre {
            behind: x.value,
            left: y.value,
            height: z.map(|z| z.value),
            doubt: [x.uncertainty(), y.uncertainty(), z.map_or(0.0, study::Estimate::uncertainty)],
        })
    };
    let corners = [Weight::FrontLeft, Weight::FrontRight, Weight::RearLeft, Weight::RearRight];
    Some(draw::weights::weights(&Weights {
        wheelbase: car.wheelbase?.value,
        tracks: [2.0 * front.wheel.centre.at.y, 2.0 * rear.wheel.centre.at.y],
        radii: [front.wheel.loaded_radius.value, rear.wheel.loaded_radius.value],
        found: centre(false)?,
        after: centre(true).filter(|_| ledger),
        corners: corners
            .map(|w| state.after(w).map_or_else(String::new, |e| shown(e, Scale::Mass, &car.units).text())),
        width: WIDTH,
    }))
}

fn table(state: &LoadState, ledger: bool, units: &UnitSystem) -> Markup {
    html! {
        h2 { (weights::state_title(state)) }
        table.weights data-state=(state.name) {
            thead { tr {
                th scope="col" { span.unseen { "result" } } th scope="col" { "as found" }
                @if ledger { th scope="col" { "after" } th scope="col" { "change" } }
                th scope="col" { span.unseen { "unit" } }
            } }
            tbody {
                @for line in weights::lines(state, units) {
                    tr data-result=(line.weight.key()) {
                        th scope="row" { (line.title) }
                        td { (figure(&line.found)) }
                        @if ledger { td { b { (figure(&line.after)) } } td { (figure(&line.change)) } }
                        td.unit { (line.unit) }
                    }
                }
            }
        }
    }
}
