//! The axle from the left, from behind and from above, with the point at hand lit up.

use draw::{Fit, Overlays, Scene, Show, View, ViewOptions, views};
use maud::{Markup, PreEscaped, html};
use project::model::{Car, End};

use super::Survey;
use super::names::whole;
use crate::web::place::standing;
use crate::web::shown::Shown;

/// A view of a scene.
type Draws = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

/// Name, title and what draws it.
const VIEWS: [(&str, &str, Draws); 3] = [
    ("side", "From the left", views::side),
    ("rear", "From behind", views::rear),
    ("top", "From above", views::top),
];

/// Size of a picture [px].
const SIZE: (f64, f64) = (420.0, 270.0);

/// The same of a kind: the margins are for words, so that a small page would be mostly margin.
const KIND_SIZE: (f64, f64) = (300.0, 230.0);

/// The pictures beside the tables.
pub(crate) fn part(survey: &Survey<'_>) -> Markup {
    let point = survey.asked.point.as_deref().unwrap_or("wheel.centre");
    html! {
        aside.sights id="part-sights" tabindex="0" aria-label="Where the point is" {
            @match survey.car.and_then(|car| all(car, survey.asked.axle, point)) {
                Some(pictures) => (pictures),
                None => p.hint { "A picture of the axle stands here once its points can be read." },
            }
        }
    }
}

/// The three views with a point lit up; `None` where the axle cannot be built.
pub(crate) fn all(car: &Car, end: End, point: &str) -> Option<Markup> {
    car.axle(end)?;
    let standing = standing(car, end, &[], &Shown::of(end)).ok()?;
    let lit = point.rsplit_once('#').map_or(point, |(_, hole)| hole);
    let words = whole(point.split(['#', '@']).next().unwrap_or(point));
    Some(html! {
        p.at-hand { "lit up: " b data-lit-words="" { (words) } }
        @for (name, title, draws) in VIEWS {
            figure class={ "sight sight-" (name) @if point == "wheel.centre" { " hub-lit" } } {
                @let options = ViewOptions { focus: Some(lit), ..options(car, SIZE, true) };
                (PreEscaped(draws(&standing.scene, &Overlays::default(), &options).svg))
                figcaption { (title) }
            }
        }
    })
}

/// A small picture of a kind: side and top.
pub(crate) fn of_kind(car: &Car, end: End) -> Markup {
    let Ok(standing) = standing(car, end, &[], &Shown::of(end)) else { return html! {} };
    html! {
        @for draws in [views::side as Draws, views::top as Draws] {
            (PreEscaped(draws(&standing.scene, &Overlays::default(), &options(car, KIND_SIZE, false)).svg))
        }
    }
}

/// Lines and marks, no words: the table has those.
fn options(car: &Car, size: (f64, f64), marks: bool) -> ViewOptions<'_> {
    let show = Show {
        construction: false,
        link_lines: false,
        labels: false,
        right: false,
        grips: false,
        handles: marks,
        holes: marks,
        scale: marks,
        ..Show::default()
    };
    ViewOptions { region: Fit::Corner, show, ..ViewOptions::new(size.0, size.1, car.units, &car.frame) }
}
