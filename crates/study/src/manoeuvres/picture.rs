//! The manoeuvres over time, and how the car turns over how hard it brakes.

use vehicle::motion::{Sample, Summary};

use super::figures::in_g;
use super::plan::Plan;
use super::{Choice, Driven, Followed};
use crate::quantity::Scale;
use crate::stage::{Chart, ChartAxis, Curve, Motion, MotionMoment, Stage};

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
                     run: &dyn Fn(&Driven) -> Option<&Followed>,
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
        let hard = in_g(m.deceleration);
        stage.charts.extend(over_time(
            "braked-acceleration",
            format!("Brakes in a turn, {hard}: lateral acceleration"),
            "The steering is held: a line that stays up turns in as the car slows, one that falls quickly runs wide.",
            ("lateral acceleration", Scale::Acceleration),
            &|d| d.braked.last(),
            &|s| s.across,
        ));
        stage.charts.extend(over_time(
            "braked-side-slip",
            format!("Brakes in a turn, {hard}: side slip"),
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

/// The cars in the hardest braked turn and in the stop.
pub(super) fn motions(plan: &Plan, list: &[Choice]) -> Vec<Motion> {
    let Some(sizes) = list.first().map(|choice| choice.driven.sizes) else { return Vec::new() };
    let make = |key, title: String, words: &str, run: &dyn Fn(&Driven) -> Option<&Followed>| {
        let runs: Vec<(String, Vec<MotionMoment>)> = list
            .iter()
            .take(CURVES)
            .filter_map(|choice| {
                let run = run(&choice.driven)?.as_ref().ok()?;
                Some((choice.name.clone(), run.samples.iter().map(moment).collect()))
            })
            .collect();
        (!runs.is_empty()).then(|| Motion { key, title, words: words.into(), sizes, runs })
    };
    let hard = plan.braked.last().map_or_else(String::new, |m| in_g(m.deceleration));
    let braked = make(
        "braked-turn",
        format!("Brakes in a turn, {hard}, the steering held"),
        "Press the mark to let it run, at the pace of the car. Discs: loads of the wheels of the first choice. Pale outlines: where \
         it stands every half second.",
        &|d| d.braked.last(),
    );
    let stop = make(
        "straight-stop",
        "Straight stop: the first seconds".into(),
        "Press the mark to let it run, at the pace of the car.",
        &|d| Some(&d.stop),
    );
    braked.into_iter().chain(stop).collect()
}

fn moment(s: &Sample) -> MotionMoment {
    let weight: f64 = s.load.iter().sum::<f64>().max(1.0);
    MotionMoment {
        time: s.time,
        place: s.place,
        yaw: s.yaw,
        pitch: s.attitude.pitch,
        rise: s.attitude.rise,
        steer: s.steer,
        load: s.load.map(|l| l / weight),
    }
}
