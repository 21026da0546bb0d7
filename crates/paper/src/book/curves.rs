//! What the wheel does over its travel, a curve a hole.

use draw::chart::{self, Axis, ChartSpec, Series};
use study::words::row_name;
use units::Dimension;

use super::Axle;
use crate::flow::{Figure, Flow};
use crate::sheet::Drawing;

/// Most curves in a chart: more cannot be told apart on paper.
const MOST: usize = 6;

/// Size of a chart in its own units; two stand side by side.
const SIZE: (f64, f64) = (430.0, 285.0);

pub(super) fn chapter(axle: &Axle<'_>) -> Flow {
    let mut flow = Flow::new();
    let Ok(choice) = &axle.choice else { return flow };
    let subject = &axle.subject;
    let car = subject.car();
    let rows: Vec<_> =
        choice.rows.iter().filter(|row| !row.ruled_out && row.candidate.with.is_none()).collect();
    // A hole at the place that is drawn would lie on its curve.
    let shown = rows.iter().take(MOST);
    let known = study::charted(Some(choice));
    let factor = car.units.factor(Dimension::Length);
    let travels = study::chart_places(study::chart_travel(car));
    let curves: Vec<(String, Vec<study::Curve>)> = shown
        .filter_map(|row| {
            let curves = study::curves(subject, &row.candidate.holes, &known, &travels, false).ok()?;
            Some((row_name(row), curves))
        })
        .collect();
    let figures = known.iter().enumerate().filter_map(|(i, quantity)| {
        let scale = quantity.scale();
        let k = scale.factor(&car.units);
        let series = curves.iter().enumerate().filter_map(|(style, (name, curves))| {
            let points = &curves.get(i)?.points;
            let points = points.iter().map(|(t, v, _)| (t / factor, v * k)).collect();
            Some(Series { name: name.clone(), points, band: None, style })
        });
        let about = quantity.about(subject.end());
        let spec = ChartSpec {
            title: about.title.to_string(),
            x: Axis { label: "wheel travel".into(), unit: car.units.symbol(Dimension::Length).into() },
            y: Axis { label: String::new(), unit: scale.unit(&car.units) },
            series: series.collect(),
            marks: Vec::new(),
            at: Some(0.0),
            width: SIZE.0,
            height: SIZE.1,
        };
        let drawing = Drawing::new(&chart::line(&spec))?;
        Some(Figure { drawing, caption: about.definition.to_string() })
    });
    let figures: Vec<Figure> = figures.collect();
    if figures.is_empty() {
        return flow;
    }
    flow.heading(1, format!("{}: curves over wheel travel", axle.title()));
    let more = rows.len().saturating_sub(MOST);
    if more > 0 {
        flow.say(format!("The first {MOST} rows of the choice table; {more} more are in the table alone."));
    }
    flow.figures(figures, 2);
    flow
}
