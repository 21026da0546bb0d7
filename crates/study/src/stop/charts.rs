//! Charts of the stop: use of grip, distribution, bias, lock order.

use vehicle::aero::FASTEST;
use vehicle::brake::bias::{bias_chart, curves, rear_first_from};
use vehicle::brake::{Effort, Split};
use vehicle::{AxleEnd, GRAVITY};

use super::limit::{SLOWEST, speed_words};
use super::parts;
use crate::quantity::Scale;
use crate::stage::{Chart, ChartAxis, Curve};
use crate::whole::{Lack, Whole, WholeCar, wrong};

/// Decelerations along a curve.
const PLACES: usize = 48;

/// Greatest deceleration of the curves without tyres that say where they end [m/s^2] (own).
const USUAL_REACH: f64 = 1.3 * GRAVITY;

/// Bias settings along the chart, and its ends.
const SETTINGS: usize = 41;
const SETTING_ENDS: (f64, f64) = (0.30, 0.80);

/// Speeds along the lock-order chart.
const SPEEDS: usize = 30;

fn axis(label: &str, scale: Scale) -> ChartAxis {
    ChartAxis { label: label.into(), scale }
}

fn steps(from: f64, to: f64, count: usize) -> Vec<f64> {
    (0..count).map(|i| from + (to - from) * i as f64 / (count - 1) as f64).collect()
}

pub(super) fn charts(car: &WholeCar, whole: &Whole) -> Result<Vec<Chart>, Lack> {
    let effort = whole.effort()?;
    let mut out = vec![use_of_grip(car, whole, &effort)?, distribution(car, whole, &effort)?];
    if whole.grip().is_ok() {
        out.extend(bias(car, whole, &effort)?);
        out.push(order(car, whole, &effort)?);
    }
    Ok(out)
}

/// How far the curves go [m/s^2]: past the limit of the tyres, where they are known.
fn reach(car: &WholeCar, whole: &Whole, effort: &Effort<'_>) -> f64 {
    let grip = whole.grip().ok();
    let limit = grip.and_then(|grip| whole.stopping().first_lock(car.car().stop.from, &grip, effort).ok());
    limit.map_or(USUAL_REACH, |limit| 1.15 * limit.deceleration)
}

fn use_of_grip(car: &WholeCar, whole: &Whole, effort: &Effort<'_>) -> Result<Chart, Lack> {
    let stop = &car.car().stop;
    let stopping = whole.stopping();
    let decelerations = steps(0.02 * GRAVITY, reach(car, whole, effort), PLACES);
    let units = &car.car().units;
    let mut series = Vec::new();
    let mut marks = Vec::new();
    for (which, speed) in [stop.from, stop.to.max(SLOWEST)].into_iter().enumerate() {
        let points = curves(&stopping, effort, speed, &decelerations).map_err(wrong)?;
        let words = speed_words(speed, units);
        for (end, pick) in [("front", true), ("rear", false)] {
            let of = |u: vehicle::brake::Utilisation| if pick { u.front } else { u.rear };
            series.push(Curve {
                name: format!("{end} {words}"),
                points: points.iter().map(|p| (p.deceleration, p.utilisation.map_or(f64::NAN, of))).collect(),
            });
        }
        if which == 0 {
            marks.extend(rear_first_from(&points).map(|d| (d, "rear first".to_string())));
        }
    }
    marks.push((stop.deceleration, "the stop".into()));
    Ok(Chart {
        key: "use-of-grip".into(),
        title: "use of grip: braking force over load".into(),
        words: "The higher curve locks first, where it meets the friction of its tyres. UN R13-H, annex 5, wants the front \
                higher for cars on the road."
            .into(),
        x: axis("deceleration", Scale::Acceleration),
        y: axis("force over load", Scale::Ratio),
        series,
        marks,
    })
}

fn distribution(car: &WholeCar, whole: &Whole, effort: &Effort<'_>) -> Result<Chart, Lack> {
    let stop = &car.car().stop;
    let stopping = whole.stopping();
    let decelerations = steps(0.02 * GRAVITY, reach(car, whole, effort), PLACES);
    let points = curves(&stopping, effort, stop.from, &decelerations).map_err(wrong)?;
    let slow = curves(&stopping, effort, stop.to.max(SLOWEST), &decelerations).map_err(wrong)?;
    let units = &car.car().units;
    let line = |name: String, of: &dyn Fn(usize) -> Option<f64>| Curve {
        name,
        points: decelerations.iter().enumerate().map(|(i, d)| (*d, of(i).unwrap_or(f64::NAN))).collect(),
    };
    Ok(Chart {
        key: "front-share".into(),
        title: "front share of the braking".into(),
        words: "Above the ideal line the front locks first, below it the rear. A valve bends the actual line toward the ideal \
                one."
            .into(),
        x: axis("deceleration", Scale::Acceleration),
        y: axis("front share", Scale::Percent),
        series: vec![
            line("actual".into(), &|i| points.get(i)?.actual_share),
            line(format!("ideal {}", speed_words(stop.from, units)), &|i| Some(points.get(i)?.ideal_share)),
            line(format!("ideal {}", speed_words(stop.to, units)), &|i| Some(slow.get(i)?.ideal_share)),
        ],
        marks: vec![(stop.deceleration, "the stop".into())],
    })
}

fn bias(car: &WholeCar, whole: &Whole, effort: &Effort<'_>) -> Result<Option<Chart>, Lack> {
    let Some((system, temperatures)) = parts(effort) else { return Ok(None) };
    let Split::BiasBar { front_share } = system.split else { return Ok(None) };
    let stop = &car.car().stop;
    let grip = whole.grip()?;
    let speeds = [stop.from, (stop.from + stop.to) / 2.0, stop.to.max(SLOWEST)];
    let settings = steps(SETTING_ENDS.0, SETTING_ENDS.1, SETTINGS);
    let rows =
        bias_chart(&whole.stopping(), system, temperatures, &grip, &speeds, &settings).map_err(wrong)?;
    let units = &car.car().units;
    let series = rows
        .chunks(SETTINGS)
        .zip(speeds)
        .map(|(rows, speed)| Curve {
            name: speed_words(speed, units),
            points: rows.iter().map(|row| (row.bar_share, row.limit.deceleration)).collect(),
        })
        .collect();
    Ok(Some(Chart {
        key: "bias".into(),
        title: "greatest deceleration against the bias bar".into(),
        words: "Left of each peak the rear locks first, right of it the front. Stand to the right of every peak that you drive \
                through."
            .into(),
        x: axis("rod force on the front cylinder", Scale::Percent),
        y: axis("before a wheel locks", Scale::Acceleration),
        series,
        marks: vec![(front_share, "now".into())],
    }))
}

fn order(car: &WholeCar, whole: &Whole, effort: &Effort<'_>) -> Result<Chart, Lack> {
    let stop = &car.car().stop;
    let grip = whole.grip()?;
    let stopping = whole.stopping();
    let top = (1.25 * stop.from).min(FASTEST);
    let mut curves = [AxleEnd::Front, AxleEnd::Rear]
        .map(|end| Curve { name: format!("{} first", crate::whole::end_name(end)), points: Vec::new() });
    for speed in steps(SLOWEST, top, SPEEDS) {
        let limit = stopping.first_lock(speed, &grip, effort).map_err(wrong)?;
        let first = limit.first.filter(|_| limit.locks);
        for (curve, end) in curves.iter_mut().zip([AxleEnd::Front, AxleEnd::Rear]) {
            // Both lines meet where both lock together; where neither does the front's stands for the pedal's limit.
            let here = first.is_none_or(|first| first == end);
            curve.points.push((speed, if here { limit.deceleration } else { f64::NAN }));
        }
    }
    let series = curves.into_iter().filter(|c| c.points.iter().any(|p| p.1.is_finite())).collect();
    Ok(Chart {
        key: "lock-order".into(),
        title: "greatest deceleration and which axle locks first".into(),
        words: "With downforce it falls as the speed does: a pedal held down locks on the way.".into(),
        x: axis("speed", Scale::Speed),
        y: axis("before a wheel locks", Scale::Acceleration),
        series,
        marks: vec![(stop.from, "from".into()), (stop.to, "to".into())],
    })
}
