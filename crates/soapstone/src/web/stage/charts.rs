//! Charts and maps of a stage in the reader's units.

use draw::chart::{self, Axis, ChartSpec, MapSpec, Mark, Series};
use maud::{Markup, PreEscaped, html};
use project::model::Car;
use study::{Chart, ChartAxis, Map, Scale, Stage};
use units::UnitSystem;

/// Size of a chart [px].
const SIZE: (f64, f64) = (470.0, 300.0);

/// Most curves in one chart that colour and dash tell apart.
const STYLES: usize = 6;

/// The charts, then the maps.
pub(super) fn part(stage: &Stage, car: &Car) -> Markup {
    let units = &car.units;
    html! {
        @if !stage.charts.is_empty() || !stage.maps.is_empty() {
            div.charts { div.row {
                @for of in &stage.charts {
                    figure id={ "chart-" (of.key) } tabindex="0" {
                        (PreEscaped(chart::line(&spec(of, units))))
                        figcaption { (of.words) }
                    }
                }
                @for of in &stage.maps {
                    figure id={ "map-" (of.key) } tabindex="0" {
                        (PreEscaped(chart::map(&map(of, units))))
                        figcaption { (of.words) }
                    }
                }
            } }
        }
    }
}

/// A value as it is shown.
fn shown(value: f64, scale: Scale, units: &UnitSystem) -> f64 {
    value * scale.factor(units) + scale.offset(units)
}

fn axis(of: &ChartAxis, units: &UnitSystem) -> Axis {
    Axis { label: of.label.clone(), unit: of.scale.unit(units) }
}

fn spec(of: &Chart, units: &UnitSystem) -> ChartSpec {
    let x = |value: f64| shown(value, of.x.scale, units);
    let y = |value: f64| shown(value, of.y.scale, units);
    let series = of.series.iter().enumerate().map(|(i, curve)| Series {
        name: curve.name.clone(),
        points: curve.points.iter().map(|(a, b)| (x(*a), y(*b))).collect(),
        band: None,
        style: i % STYLES,
    });
    ChartSpec {
        title: of.title.clone(),
        x: axis(&of.x, units),
        y: axis(&of.y, units),
        series: series.collect(),
        marks: of.marks.iter().map(|(at, label)| Mark { x: x(*at), label: label.clone() }).collect(),
        at: None,
        width: SIZE.0,
        height: SIZE.1,
    }
}

fn map(of: &Map, units: &UnitSystem) -> MapSpec {
    let value = |v: f64| shown(v, of.of.scale, units);
    MapSpec {
        title: of.title.clone(),
        x: axis(&of.x, units),
        y: axis(&of.y, units),
        of: axis(&of.of, units),
        xs: of.xs.iter().map(|v| shown(*v, of.x.scale, units)).collect(),
        ys: of.ys.iter().map(|v| shown(*v, of.y.scale, units)).collect(),
        values: of.values.iter().map(|v| v.map(value)).collect(),
        borders: of.borders.iter().map(|(v, word)| (value(*v), word.clone())).collect(),
        width: SIZE.0,
        height: SIZE.1,
    }
}
