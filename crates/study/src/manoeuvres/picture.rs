//! The manoeuvres over time, and how the car turns over how hard it brakes.

use vehicle::motion::{Sample, Summary};

use super::plan::Plan;
use super::{Choice, Driven, Result1};
use crate::quantity::Scale;
use crate::stage::{Chart, ChartAxis, Curve, Stage};

/// Most curves of a chart.
const CURVES: usize = 4;

/// One place of a curve in so many samples.
const EVERY: usize = 2;

pub(super) fn charts(plan: &Plan, list: &[Choice], stage: &mut Stage) {
    let axis = |label: &str, scale| ChartAxis { label: label.into(), scale };
    let over_time = |key: &'static str,
                     title: String,
                     words: &str,
                     (label, scale): (&str, Scale),
                     run: &dyn Fn(&Driven) -> Option<&Result1>,
                     of: &dyn Fn(&Sample) -> f64| {
        let series: Vec<Curve> = list
            .iter()
            .take(CURVES)
            .filter_map(|choice| {
                let run = run(&choice.driven)?.as_ref().ok()?;
                let points = run.samples.iter().step_by(EVERY).map(|s| (s.time, of(s))).collect();
                Some(Curve { name: choice.name.clone(), points })
            })
            .collect();
        (!series.is_empty()).then(|| Chart {
            key: key.into(),
            title,
            words: words.into(),
            x: axis("time", Scale::Time),
            y: axis(label, scale),
            series,
            marks: Vec::new(),
        })
    };
    if let Some(m) = plan.braked.last() {
        let hard = m.deceleration / vehicle::GRAVITY;
        stage.charts.extend(over_time(
            "braked-acceleration",
            format!("Brakes in a turn, {hard:.2} g: lateral acceleration"),
            "The steering is held: a line that stays up turns in as the car slows, one that falls quickly runs wide.",
            ("lateral acceleration", Scale::Acceleration),
            &|d| d.braked.last(),
            &|s| s.across,
        ));
        stage.charts.extend(over_time(
            "braked-side-slip",
            format!("Brakes in a turn, {hard:.2} g: side slip"),
            "Downward the tail comes out.",
            ("side-slip angle", Scale::Angle),
            &|d| d.braked.last(),
            &|s| s.side_slip,
        ));
    }
    stage.charts.extend(over_time(
        "step-side-slip-angle",
        "Step of the steering: side slip".into(),
        "A car that swings has a wave in it before it comes to rest.",
        ("side-slip angle", Scale::Angle),
        &|d| Some(&d.step),
        &|s| s.side_slip,
    ));
    stage.charts.extend(over_time(
        "step-acceleration",
        "Step of the steering: lateral acceleration".into(),
        "How soon the car follows the hands, and whether it goes beyond.",
        ("lateral acceleration", Scale::Acceleration),
        &|d| Some(&d.step),
        &|s| s.across,
    ));
    if plan.braked.len() > 1 {
        let series = list.iter().take(CURVES).map(|choice| {
            let points = choice.driven.braked.iter().filter_map(|run| match run.as_ref().ok()?.summary {
                Summary::BrakedTurn(b) => Some((b.deceleration, b.yaw_ratio)),
                _ => None,
            });
            Curve { name: choice.name.clone(), points: points.collect() }
        });
        stage.charts.push(Chart {
            key: "braked-yaw-ratio".into(),
            title: "Brakes in a turn: yaw rate over the circle's after one second".into(),
            words: "At one the car stays on its circle as it slows; above it turns in, below it runs wide. Steady is near one \
                    however hard it is braked."
                .into(),
            x: axis("mean deceleration", Scale::Acceleration),
            y: axis("yaw rate over the circle's", Scale::Ratio),
            series: series.collect(),
            marks: Vec::new(),
        });
    }
}
