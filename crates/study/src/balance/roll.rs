//! Roll: stiffness, centres, gradient and frequency.

use vehicle::GRAVITY;

use super::table::{Table, columns};
use super::{Asked, Case, ENDS, texts, wrong};
use crate::quantity::Scale;
use crate::stage::{Group, Stage};
use crate::whole::Whole;

/// Roll beyond which the sums for small angles are off by a per cent and more [rad]: about 8 deg (sine against angle, own).
const SMALL_ROLL: f64 = 0.14;

/// Roll per lateral acceleration [rad/(m/s^2)].
pub(super) fn gradient(whole: &Whole) -> Option<f64> {
    Some(whole.rolling().ok()?.at(1.0).ok()?.roll)
}

/// Roll frequency [Hz] of the sprung mass about the roll axis; the wheels' share of the car's inertia is taken off at
/// half a track from the middle.
fn frequency(whole: &Whole) -> Option<f64> {
    let (rolling, inertia) = (whole.rolling().ok()?, whole.loads.roll?);
    let lever = rolling.roll_lever();
    let held =
        rolling.front.roll_stiffness + rolling.rear.roll_stiffness - rolling.sprung_mass * GRAVITY * lever;
    let height = whole.loads.height;
    let wheels: f64 = [rolling.front, rolling.rear]
        .iter()
        .map(|a| a.unsprung_mass * ((a.track / 2.0).powi(2) + (a.unsprung_height - height).powi(2)))
        .sum();
    let moved = rolling.sprung_mass * (rolling.sprung_height - height).powi(2);
    let about = inertia - wheels - moved + rolling.sprung_mass * lever * lever;
    (held > 0.0 && about > 0.0).then(|| (held / about).sqrt() / std::f64::consts::TAU)
}

pub(super) fn figures(whole: &Whole, _: &Asked) -> Vec<Option<f64>> {
    let parts = ENDS.map(|end| whole.roll_stiffness(end).ok());
    let [springs, bars] =
        [parts.map(|p| p.map(|(springs, _)| springs)), parts.map(|p| p.map(|(_, bar)| bar))];
    let sum = |both: [Option<f64>; 2]| Some(both[0]? + both[1]?);
    let rolling = whole.rolling().ok();
    let tyres = [rolling.map(|r| r.front.roll_stiffness), rolling.map(|r| r.rear.roll_stiffness)];
    let share = sum(tyres).zip(tyres[0]).map(|(all, front)| front / all);
    let [front, rear] = ENDS.map(|end| whole.axle(end).measures.roll_centre_height());
    let (_, behind, _) = whole.sprung();
    let under = front + (rear - front) * behind / whole.wheelbase;
    let mut out = Vec::with_capacity(24);
    for row in [springs, bars, tyres] {
        out.extend([row[0], row[1], sum(row)]);
    }
    out.extend([share, share.map(|s| 1.0 - s), None]);
    out.extend([Some(front), Some(rear), Some(under)]);
    out.extend([None, None, rolling.map(|r| r.roll_lever())]);
    out.extend([None, None, gradient(whole)]);
    out.extend([None, None, frequency(whole)]);
    out
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    let rows = [
        ("roll-stiffness-springs", texts::ROLL_SPRINGS, Scale::RollStiffness),
        ("roll-stiffness-bar", texts::ROLL_BAR, Scale::RollStiffness),
        ("roll-stiffness", texts::ROLL_STIFFNESS, Scale::RollStiffness),
        ("roll-stiffness-share", texts::ROLL_SHARE, Scale::Percent),
        ("roll-axis", texts::ROLL_AXIS, Scale::Length),
        ("roll-lever", texts::ROLL_LEVER, Scale::Length),
        ("roll-gradient", texts::ROLL_GRADIENT, Scale::AnglePerAcceleration),
        ("roll-frequency", texts::ROLL_FREQUENCY, Scale::Frequency),
    ];
    let mut rows: Vec<_> = rows.into_iter().map(|row| table.row(row, 3)).collect();
    if let Err(lack) = case.whole.rolling().and_then(|r| r.at(1.0).map_err(wrong)) {
        stage.lack(lack);
    }
    let mut words = Vec::new();
    if let Some(gradient) = gradient(case.whole) {
        let roll = gradient * case.asked.lateral;
        words.push(format!(
            "At {} the body leans {}, springs, bars and tyres together.",
            case.lateral_text(),
            case.text(roll, Scale::Angle)
        ));
        for row in rows.iter_mut().filter(|row| row.key == "roll-gradient") {
            row.cells = std::mem::take(&mut row.cells)
                .into_iter()
                .map(|cell| {
                    let known = cell.estimate.is_some();
                    cell.marked(known && roll.abs() > SMALL_ROLL, "the sums are for small angles")
                })
                .collect();
        }
    }
    stage.groups.push(Group {
        title: "Roll".into(),
        columns: columns(&["front", "rear", "whole car"]),
        rows,
        words,
    });
}
