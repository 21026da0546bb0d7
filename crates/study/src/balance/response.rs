//! Steering response at two speeds: gains, yaw mode, rise of the yaw rate.

use vehicle::balance::{SingleTrack, Trim};

use super::step::yaw_step;
use super::table::Table;
use super::{Asked, Case, texts_turn as texts, wrong};
use crate::estimate::COVERAGE;
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};
use crate::whole::{Lack, Whole};

const ROWS: usize = 6;

/// Trimmed state at a steady speed.
pub(super) fn steady(whole: &Whole, speed: f64) -> Result<Trim, Lack> {
    let car = whole.stopping();
    whole.trim_unbraked(&car)?.at(speed, 0.0).map_err(wrong)
}

/// Single track of a trimmed state.
fn track(whole: &Whole, trim: &Trim) -> Option<SingleTrack<f64>> {
    let car = whole.stopping();
    Some(SingleTrack {
        mass: car.mass,
        yaw_inertia: whole.loads.yaw?,
        front: car.cg_behind_front,
        rear: car.wheelbase - car.cg_behind_front,
        front_stiffness: trim.front_stiffness,
        rear_stiffness: trim.rear_stiffness,
    })
}

fn at(whole: &Whole, speed: f64) -> [Option<f64>; ROWS] {
    let Ok(trim) = steady(whole, speed) else { return [None; ROWS] };
    let Some(track) = track(whole, &trim) else { return [None; ROWS] };
    let gains = track.steady(speed).ok();
    let modes = trim.modes;
    let step = yaw_step(&track, speed);
    let some = |x: f64| (x > 0.0).then_some(x);
    [
        gains.map(|g| g.yaw),
        gains.map(|g| 1.0 / g.lateral),
        some(modes.natural / std::f64::consts::TAU),
        some(modes.natural).map(|_| modes.damping),
        step.map(|s| s.rise),
        step.map(|s| s.overshoot),
    ]
}

pub(super) fn figures(whole: &Whole, asked: &Asked) -> Vec<Option<f64>> {
    super::table::by_rows(asked.speeds.map(|speed| at(whole, speed)))
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    let rows = [
        ("yaw-gain", texts::YAW_GAIN, Scale::Ratio),
        ("steer-per-lateral", texts::STEER_PER_LATERAL, Scale::AnglePerAcceleration),
        ("yaw-frequency", texts::YAW_FREQUENCY, Scale::Frequency),
        ("yaw-damping", texts::YAW_DAMPING, Scale::Ratio),
        ("yaw-rise", texts::YAW_RISE, Scale::Time),
        ("yaw-overshoot", texts::YAW_OVERSHOOT, Scale::Percent),
    ];
    let mut rows: Vec<_> = rows.into_iter().map(|row| table.row(row, 2)).collect();
    let mut words = Vec::new();
    let mut any = false;
    for (column, speed) in case.asked.speeds.into_iter().enumerate() {
        let trim = match steady(case.whole, speed) {
            Ok(trim) => trim,
            Err(lack) => {
                stage.lack(lack);
                continue;
            }
        };
        any = true;
        let near = rows.iter().any(|row| row.key == "steer-per-lateral" && may_diverge(row, column));
        let why = if trim.outside {
            "a load is outside the range of the tyre's figures"
        } else {
            "within its ± the car may diverge at this speed: the ± says too little"
        };
        for row in &mut rows {
            if let Some(cell) = row.cells.get_mut(column) {
                let taken = std::mem::take(cell);
                *cell = if taken.estimate.is_some() {
                    taken.marked(trim.outside || near, why)
                } else {
                    Cell::word("none").marked(true, "the car diverges at this speed")
                };
            }
        }
        words.push(words_at(case, speed, &trim));
    }
    if any {
        let columns = case.asked.speeds.map(|speed| format!("at {}", speed_text(case, speed))).into();
        stage.groups.push(Group { title: "Steering response".into(), columns, rows, words });
    }
}

/// A speed without decimals.
fn speed_text(case: &Case<'_>, speed: f64) -> String {
    let (scale, units) = (Scale::Speed, case.units());
    format!("{:.0} {}", speed * scale.factor(units), scale.unit(units))
}

/// Whether the steering for a lateral acceleration may be zero within its ±: there a car diverges.
fn may_diverge(row: &Finding, column: usize) -> bool {
    let estimate = row.cells.get(column).and_then(|cell| cell.estimate.as_ref());
    estimate.is_some_and(|e| e.value <= COVERAGE * e.uncertainty())
}

/// Damping below which a car is felt to swing [-] (common practice; W. Milliken & D. Milliken have figures of this kind,
/// remembered), for the words alone.
const SWINGS: f64 = 0.5;

fn words_at(case: &Case<'_>, speed: f64, trim: &Trim) -> String {
    let at = speed_text(case, speed);
    if !trim.modes.stable {
        format!("At {at} the car does not come back by itself from any disturbance.")
    } else if trim.modes.damping < SWINGS {
        format!("At {at} it swings several times after a flick of the wheel: leave it time between inputs.")
    } else if trim.modes.damping < 1.0 {
        format!("At {at} it settles after a flick of the wheel with little swinging.")
    } else {
        format!("At {at} it settles without swinging.")
    }
}
