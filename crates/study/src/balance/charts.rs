//! Charts: steering in a steady turn, grip in use, yaw mode over speed.

use suspension::AxleEnd;
use vehicle::GRAVITY;
use vehicle::balance::RollingCar;
use vehicle::tyre::{MOST_SLIP_ANGLE, Slip, Tyre};

use super::transfer::axle_masses;
use super::{Case, ENDS, limit_of};
use crate::quantity::Scale;
use crate::stage::{Chart, ChartAxis, Curve, Stage};
use crate::whole::end_name;

/// Points of a curve.
const POINTS: u32 = 40;

/// Part of the lower limit at which the curves end [-]: at the limit itself the slip has no bound.
const UP_TO: f64 = 0.98;

/// Halvings in the search for a slip angle: to 1e-9 of the widest.
const HALVINGS: usize = 30;

/// Slowest speed of the curves [m/s]: 20 km/h.
const SLOWEST: f64 = 20.0 / 3.6;

pub(super) fn all(case: &Case<'_>, stage: &mut Stage) {
    if let Some((limit, rolling)) = limit_of(case.whole) {
        let most = UP_TO * limit.front.min(limit.rear);
        stage.charts.extend(understeer(case, &rolling, most));
        stage.charts.extend(grip(case, &rolling, most));
    }
    stage.charts.extend(modes(case));
}

fn axis(label: &str, scale: Scale) -> ChartAxis {
    ChartAxis { label: label.into(), scale }
}

fn places(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..=POINTS).map(move |i| from + (to - from) * f64::from(i) / f64::from(POINTS))
}

/// Loads of the outer and the inner wheel of each axle at a lateral acceleration [N].
fn loads(rolling: &RollingCar<f64>, lateral: f64) -> Option<[[f64; 2]; 2]> {
    let t = rolling.at(lateral).ok()?;
    let [front, rear] = axle_masses(rolling).map(|mass| 0.5 * mass * GRAVITY);
    let split = |half: f64, moved: f64| {
        let moved = moved.clamp(-half, half);
        [half + moved, half - moved]
    };
    Some([split(front, t.front.total()), split(rear, t.rear.total())])
}

/// Side force of an axle at a slip angle [N]: mean of both senses, for sets with shifts are one-sided.
fn side(tyre: &Tyre, loads: [f64; 2], alpha: f64) -> f64 {
    let at = |alpha: f64, load: f64| tyre.force(&Slip { alpha, ..Slip::rolling(load) }).fy;
    loads.into_iter().map(|load| 0.5 * (at(-alpha, load) - at(alpha, load))).sum()
}

/// Slip angle of an axle that carries its share of the turn, on the rising branch; `None` beyond the peak.
pub(super) fn slip_angles(case: &Case<'_>, rolling: &RollingCar<f64>, lateral: f64) -> Option<[f64; 2]> {
    let (loads, masses) = (loads(rolling, lateral)?, axle_masses(rolling));
    let mut out = [0.0; 2];
    for (i, end) in ENDS.into_iter().enumerate() {
        let tyre = case.whole.tyre(end).ok()?;
        let needed = masses[i] * lateral;
        let linear: f64 = loads[i].into_iter().map(|load| tyre.cornering_stiffness(load)).sum();
        // The force lies below its first slope, so the slip is at least that of the slope.
        let (mut lo, mut hi) = (0.0, needed / linear);
        while side(tyre, loads[i], hi) < needed {
            if hi > MOST_SLIP_ANGLE {
                return None;
            }
            (lo, hi) = (hi, 1.2 * hi);
        }
        for _ in 0..HALVINGS {
            let mid = 0.5 * (lo + hi);
            if side(tyre, loads[i], mid) < needed { lo = mid } else { hi = mid }
        }
        out[i] = 0.5 * (lo + hi);
    }
    Some(out)
}

fn understeer(case: &Case<'_>, rolling: &RollingCar<f64>, most: f64) -> Option<Chart> {
    let points: Vec<_> = places(0.0, most)
        .map(|a| match slip_angles(case, rolling, a) {
            Some([front, rear]) => (a, front - rear),
            None if a == 0.0 => (0.0, 0.0),
            None => (a, f64::NAN),
        })
        .collect();
    Some(Chart {
        key: "understeer".into(),
        title: "steering beyond the bend's own angle".into(),
        words: "Road-wheel angle less L/R (Ackermann) in a steady turn, against lateral acceleration (ISO 4138, constant \
                radius): rising, it understeers; falling, it oversteers. The bend at the end is the tyres' own: which axle \
                gives up. Without roll steer, camber, toe, air and drive."
            .into(),
        x: axis("lateral acceleration", Scale::Acceleration),
        y: axis("steering less L/R", Scale::Angle),
        series: vec![Curve { name: "as it is".into(), points }],
        marks: vec![(case.asked.lateral, "the turn of the tables".into())],
    })
}

fn grip(case: &Case<'_>, rolling: &RollingCar<f64>, most: f64) -> Option<Chart> {
    let masses = axle_masses(rolling);
    let used = |i: usize, end: AxleEnd, a: f64| {
        let (tyre, loads) = (case.whole.tyre(end).ok()?, loads(rolling, a)?);
        let peak: f64 = loads[i].into_iter().map(|load| tyre.lateral_peak(load)).sum();
        Some(masses[i] * a / peak)
    };
    let curve = |(i, end): (usize, AxleEnd)| Curve {
        name: end_name(end).into(),
        points: places(0.0, most).map(|a| (a, used(i, end, a).unwrap_or(f64::NAN))).collect(),
    };
    Some(Chart {
        key: "grip-in-use".into(),
        title: "grip in use in a steady turn".into(),
        words: "Side force of each axle over the most that its two tyres give at their loads there. The upper curve is the \
                axle that gives up first, at 100 %."
            .into(),
        x: axis("lateral acceleration", Scale::Acceleration),
        y: axis("grip in use", Scale::Percent),
        series: ENDS.into_iter().enumerate().map(curve).collect(),
        marks: vec![(case.asked.lateral, "the turn of the tables".into())],
    })
}

/// Yaw damping and frequency over speed.
fn modes(case: &Case<'_>) -> Vec<Chart> {
    let fastest = super::maps::fastest(case);
    let car = case.whole.stopping();
    // What is missing is told by the response.
    let Ok(trim) = case.whole.trim_unbraked(&car) else { return Vec::new() };
    let states: Vec<_> = places(SLOWEST, fastest).map(|v| (v, trim.at(v, 0.0).ok())).collect();
    if states.iter().all(|(_, state)| state.is_none()) {
        return Vec::new();
    }
    let curve = |of: &dyn Fn(&vehicle::balance::Trim) -> f64| {
        let points = states.iter().map(|(v, state)| {
            let settled = state.as_ref().filter(|state| state.modes.natural > 0.0);
            (*v, settled.map_or(f64::NAN, of))
        });
        vec![Curve { name: "steady speed".into(), points: points.collect() }]
    };
    let x = || axis("speed", Scale::Speed);
    let marks: Vec<_> = case.asked.speeds.iter().map(|v| (*v, "a speed of the table".to_string())).collect();
    vec![
        Chart {
            key: "yaw-damping".into(),
            title: "yaw damping over speed".into(),
            words: "How soon a swing of the tail dies at a steady speed: at 1 and above without swinging. The curve ends \
                    where the car diverges."
                .into(),
            x: x(),
            y: axis("damping ratio", Scale::Ratio),
            series: curve(&|state| state.modes.damping),
            marks: marks.clone(),
        },
        Chart {
            key: "yaw-frequency".into(),
            title: "yaw frequency over speed".into(),
            words: "How fast it answers and swings: falling, the car is lazier the faster it goes.".into(),
            x: x(),
            y: axis("frequency", Scale::Frequency),
            series: curve(&|state| state.modes.natural / std::f64::consts::TAU),
            marks,
        },
    ]
}
