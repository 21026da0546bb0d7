//! Load moved in a steady turn, and the wheel that lifts first.

use suspension::AxleEnd;
use vehicle::GRAVITY;
use vehicle::balance::{AxleTransfer, RollingCar};

use super::table::{Table, columns};
use super::{Asked, Case, ENDS, limit_of, texts};
use crate::quantity::Scale;
use crate::stage::{Group, Stage};
use crate::whole::{Whole, end_name};

/// Mass that each axle carries on the road [kg].
pub(super) fn axle_masses(c: &RollingCar<f64>) -> [f64; 2] {
    [
        c.sprung_mass * c.front_share + c.front.unsprung_mass,
        c.sprung_mass * (1.0 - c.front_share) + c.rear.unsprung_mass,
    ]
}

/// Lateral acceleration at which the inner wheel of each axle leaves the road [m/s^2]: what moves grows in proportion.
fn lifts(rolling: &RollingCar<f64>) -> Option<[f64; 2]> {
    let one = rolling.at(1.0).ok()?;
    let [front, rear] = axle_masses(rolling).map(|mass| 0.5 * mass * GRAVITY);
    Some([front / one.front.total(), rear / one.rear.total()])
}

pub(super) fn figures(whole: &Whole, asked: &Asked) -> Vec<Option<f64>> {
    let rolling = whole.rolling().ok();
    let moved = rolling.and_then(|r| r.at(asked.lateral).ok());
    let mut out = Vec::with_capacity(18);
    let parts: [fn(&AxleTransfer<f64>) -> f64; 4] =
        [|a| a.geometric, |a| a.elastic, |a| a.unsprung, AxleTransfer::total];
    for part in parts {
        let both = moved.map(|t| [part(&t.front), part(&t.rear)]);
        out.extend([both.map(|b| b[0]), both.map(|b| b[1]), both.map(|b| b[0] + b[1])]);
    }
    let share = moved.map(|t| t.front_share);
    out.extend([share, share.map(|s| 1.0 - s), None]);
    // Load that moves toward the inner wheel never lifts it.
    let lifts = rolling.as_ref().and_then(lifts);
    let positive = |i: usize| lifts.map(|l| l[i]).filter(|a| *a > 0.0);
    out.extend([positive(0), positive(1), None]);
    out
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    let rows = [
        ("moved-geometric", texts::MOVED_GEOMETRIC, Scale::Force),
        ("moved-elastic", texts::MOVED_ELASTIC, Scale::Force),
        ("moved-unsprung", texts::MOVED_UNSPRUNG, Scale::Force),
        ("moved", texts::MOVED, Scale::Force),
        ("moved-share", texts::MOVED_SHARE, Scale::Percent),
        ("lifts-at", texts::LIFTS, Scale::Acceleration),
    ];
    let mut rows: Vec<_> = rows.into_iter().map(|row| table.row(row, 3)).collect();
    // What it needs is told by the roll.
    let Ok(rolling) = case.whole.rolling() else { return };
    if rolling.at(case.asked.lateral).is_err() {
        return;
    }
    let limit = limit_of(case.whole).map(|(limit, _)| limit.front.min(limit.rear));
    let lifts = lifts(&rolling);
    let mut words = vec![first_lift(case, lifts, limit)];
    let loads = inner_and_outer(&rolling, case.asked.lateral);
    for (column, end) in ENDS.into_iter().enumerate() {
        let outside = match (&case.whole.axle(end).tyre, loads) {
            (Some(tyre), Some(loads)) => loads[column].into_iter().any(|load| tyre.outside_load(load)),
            (None, Some(loads)) => loads[column][0] < 0.0,
            _ => false,
        };
        for row in &mut rows {
            let lifting = row.key == "lifts-at";
            if let Some(cell) = row.cells.get_mut(column) {
                let beyond = lifts.zip(limit).is_some_and(|(lifts, limit)| lifts[column] > limit);
                let marked = std::mem::take(cell);
                *cell = if lifting {
                    marked.marked(beyond, "the tyres let go before")
                } else {
                    marked.marked(
                        outside,
                        "a load is outside the range of the tyre's figures, or a wheel lifts",
                    )
                };
            }
        }
    }
    words.push(
        "How much moves in all is the car's (mass, height, track) and changes little; the split between front and rear is \
         what bars, springs and roll centres decide: the axle that moves more loses grip to the other."
            .into(),
    );
    let how = if case.asked.by_limit {
        "about 0.8 of the lower axle's limit"
    } else {
        "taken because the tyres' limit is not known"
    };
    stage.groups.push(Group {
        title: format!("Load moved across at {} ({how})", case.lateral_text()),
        columns: columns(&["front", "rear", "whole car"]),
        rows,
        words,
    });
}

/// Loads of the inner and the outer wheel of each axle [N].
fn inner_and_outer(rolling: &RollingCar<f64>, lateral: f64) -> Option<[[f64; 2]; 2]> {
    let t = rolling.at(lateral).ok()?;
    let [front, rear] = axle_masses(rolling).map(|mass| 0.5 * mass * GRAVITY);
    let (f, r) = (t.front.total(), t.rear.total());
    Some([[front - f, front + f], [rear - r, rear + r]])
}

fn first_lift(case: &Case<'_>, lifts: Option<[f64; 2]>, limit: Option<f64>) -> String {
    let Some([front, rear]) = lifts else { return String::new() };
    let of = |a: f64| if a > 0.0 { a } else { f64::INFINITY };
    let (end, at) =
        if of(front) < of(rear) { (AxleEnd::Front, of(front)) } else { (AxleEnd::Rear, of(rear)) };
    match limit {
        Some(limit) if at > limit => "No wheel lifts before the tyres let go.".into(),
        _ if !at.is_finite() => "No wheel lifts.".into(),
        _ => format!(
            "The inner {} wheel lifts first, at {}; from there on that axle can move no more load, and the other one takes \
             all further roll.",
            end_name(end),
            case.text(at, Scale::Acceleration)
        ),
    }
}
