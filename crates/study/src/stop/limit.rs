//! The greatest deceleration before a wheel locks, at the speeds of the stop.

use project::model::End;
use units::UnitSystem;

use super::{LOAD_RANGE, first_word, parts, texts};
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group};
use crate::whole::{Lack, Scope, Whole, WholeCar, wrong};

/// A speed for people.
pub(crate) fn speed_words(speed: f64, units: &UnitSystem) -> String {
    Scale::Speed.whole(speed, units)
}

pub(super) fn group(car: &WholeCar, whole: &Whole, holes: &[(End, usize)]) -> Result<Group, Lack> {
    let stop = &car.car().stop;
    let speeds = [stop.from, stop.to.max(SLOWEST)];
    whole.grip()?;
    whole.effort()?;
    let limit = |whole: &Whole, speed: f64| {
        let (effort, grip) = (whole.effort().ok()?, whole.grip().ok()?);
        whole.stopping().first_lock(speed, &grip, &effort).ok()
    };
    let mut rows = Vec::new();
    let mut estimates = Vec::new();
    for speed in speeds {
        let found = car.estimates(holes, Scope::Figures, |whole| {
            let Some(l) = limit(whole, speed) else { return [None; 4] };
            let share = l.front_force / (l.front_force + l.rear_force);
            let ideal = whole.stopping().ideal_share(speed, l.deceleration);
            [Some(l.deceleration), Some(l.effort), Some(share), Some(ideal)]
        })?;
        let (effort, grip) = (whole.effort()?, whole.grip()?);
        let nominal = whole.stopping().first_lock(speed, &grip, &effort).map_err(wrong)?;
        estimates.push((found, nominal));
    }
    let cells = |k: usize| -> Vec<Cell> {
        let of = |(found, nominal): &([Option<crate::Estimate>; 4], vehicle::brake::Limit)| {
            Cell::of(car, found.get(k).cloned().flatten()).marked(nominal.outside, LOAD_RANGE)
        };
        estimates.iter().map(of).collect()
    };
    rows.push(Finding::new("greatest-deceleration", texts::GREATEST, Scale::Acceleration, cells(0)));
    let words = estimates.iter().map(|(_, n)| Cell::word(first_word(n.first, n.locks))).collect();
    rows.push(Finding::new("first-lock", texts::FIRST_LOCK, Scale::Ratio, words));
    let by_pedal = whole.effort().is_ok_and(|effort| parts(&effort).is_some());
    if by_pedal {
        rows.push(Finding::new("pedal-at-limit", texts::PEDAL, Scale::Force, cells(1)));
    }
    rows.push(Finding::new("front-share", texts::FRONT_SHARE, Scale::Percent, cells(2)));
    rows.push(Finding::new("ideal-share", texts::IDEAL_SHARE, Scale::Percent, cells(3)));
    let units = &car.car().units;
    Ok(Group {
        title: "Before a wheel locks".into(),
        columns: speeds.iter().map(|speed| format!("at {}", speed_words(*speed, units))).collect(),
        rows,
        words: estimates
            .first()
            .and_then(|(found, nominal)| verdict(found.get(2)?.as_ref()?, found.get(3)?.as_ref()?, nominal))
            .into_iter()
            .collect(),
    })
}

/// Slowest speed at which the limit is looked at [m/s]: below it air and drag say nothing more.
pub(crate) const SLOWEST: f64 = 1.0;

/// Whether the lock order is sure: the share against the ideal one, with the ± of their difference.
fn verdict(
    share: &crate::Estimate,
    ideal: &crate::Estimate,
    limit: &vehicle::brake::Limit,
) -> Option<String> {
    if !limit.locks {
        return Some(
            "The greatest pedal force locks nothing: a smaller master cylinder, a longer pedal or larger pistons would."
                .into(),
        );
    }
    let (difference, doubt) = share.difference(ideal);
    let points = 100.0 * difference;
    let order = if difference > 0.0 {
        "the front locks first: stable, it goes straight on"
    } else {
        "the rear locks first: the tail comes round"
    };
    let sure = if share.ties_with(ideal) {
        format!("the ± of {:.1} does not let one say so", 100.0 * doubt)
    } else {
        format!("more than twice its ± of {:.1}, so it can be said", 100.0 * doubt)
    };
    Some(format!(
        "At speed the front makes {points:+.1} points of the braking against the ideal share, so {order}; {sure}."
    ))
}
