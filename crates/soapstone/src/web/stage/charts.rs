//! Charts and maps of a stage in the reader's units.

use draw::{chart, motion, track};
use maud::{Markup, PreEscaped, html};
use paper::stage::{chart_spec, map_spec, motion_spec, track_spec};
use project::model::Car;
use study::Stage;

/// Size of a chart [px].
const SIZE: (f64, f64) = (470.0, 300.0);

/// Size of a course [px].
const TRACK: (f64, f64) = (960.0, 560.0);

/// The courses, what moves, then the charts, then the maps.
pub(super) fn part(stage: &Stage, car: &Car) -> Markup {
    let units = &car.units;
    html! {
        @for of in &stage.tracks {
            figure.course id={ "course-" (of.key) } tabindex="0" {
                (PreEscaped(track::track(&track_spec(of, units, TRACK))))
                figcaption { (of.words) }
            }
        }
        @for of in &stage.motions {
            figure.course id={ "motion-" (of.key) } tabindex="0" {
                (PreEscaped(motion::motion(&motion_spec(of, TRACK))))
                figcaption { (of.words) }
            }
        }
        @if !stage.charts.is_empty() || !stage.maps.is_empty() {
            div.charts { div.row {
                @for of in &stage.charts {
                    figure id={ "chart-" (of.key) } tabindex="0" {
                        (PreEscaped(chart::line(&chart_spec(of, units, SIZE))))
                        figcaption { (of.words) }
                    }
                }
                @for of in &stage.maps {
                    figure id={ "map-" (of.key) } tabindex="0" {
                        (PreEscaped(chart::map(&map_spec(of, units, SIZE))))
                        figcaption { (of.words) }
                    }
                }
            } }
        }
    }
}
