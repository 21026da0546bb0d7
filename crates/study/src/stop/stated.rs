//! The stated stop: loads, forces, pressures and what is left of the grip.

use project::model::{End, StatedStop};
use vehicle::AxleEnd;

use super::limit::speed_words;
use super::{LOAD_RANGE, parts, texts};
use crate::estimate::Estimate;
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group};
use crate::whole::{Lack, Scope, Whole, WholeCar};

/// Figures of both axles, then those of the pedal.
type Figures = [Option<f64>; 13];

fn figures(whole: &Whole, stop: &StatedStop) -> Result<Figures, Lack> {
    let effort = whole.effort()?;
    let loads = whole.stopping().loads(stop.from, stop.deceleration);
    let asked = whole.stated_effort(stop)?;
    let (front, rear) = effort.forces(asked);
    let use_of = |force: f64, load: f64| (load > 0.0).then_some(force / load);
    let reserve = |end: AxleEnd, force: f64, load: f64| {
        let most = whole.grip().ok()?.force(end, load);
        let side = 2.0 * whole.tyre(end).ok()?.lateral_peak(load / 2.0);
        let used = force / most;
        Some(side * (1.0 - used * used).max(0.0).sqrt())
    };
    let applied = parts(&effort).map(|(system, temperatures)| system.apply(asked, temperatures));
    Ok([
        Some(loads.front),
        Some(loads.rear),
        Some(front),
        Some(rear),
        use_of(front, loads.front),
        use_of(rear, loads.rear),
        reserve(AxleEnd::Front, front, loads.front),
        reserve(AxleEnd::Rear, rear, loads.rear),
        applied.map(|a| a.front_pressure),
        applied.map(|a| a.rear_outlet),
        applied.map(|a| a.front_torque),
        applied.map(|a| a.rear_torque),
        applied.map(|_| asked),
    ])
}

pub(super) fn group(car: &WholeCar, whole: &Whole, holes: &[(End, usize)]) -> Result<Group, Lack> {
    let stop = &car.car().stop;
    figures(whole, stop)?;
    let found = car.estimates(holes, Scope::Figures, |whole| figures(whole, stop).unwrap_or([None; 13]))?;
    let outside =
        whole.grip().is_ok_and(|grip| grip.outside(&whole.stopping().loads(stop.from, stop.deceleration)));
    let cell = |k: usize| Cell::of(car, found.get(k).cloned().flatten());
    let pair = |k: usize| vec![cell(k).marked(outside, LOAD_RANGE), cell(k + 1).marked(outside, LOAD_RANGE)];
    let known = |k: usize| found.get(k).is_some_and(Option::is_some);
    let mut rows = vec![
        Finding::new("axle-load", texts::LOAD, Scale::Force, pair(0)),
        Finding::new("brake-force", texts::FORCE, Scale::Force, pair(2)),
        Finding::new("use-of-grip", texts::USE, Scale::Ratio, pair(4)),
    ];
    if known(6) {
        rows.push(Finding::new("reserve", texts::RESERVE, Scale::Force, pair(6)));
    }
    if known(8) {
        rows.push(Finding::new("line-pressure", texts::PRESSURE, Scale::Pressure, pair(8)));
        rows.push(Finding::new("brake-torque", texts::TORQUE, Scale::Torque, pair(10)));
        let pedal = vec![cell(12), Cell::default()];
        rows.push(Finding::new("pedal-force", texts::PEDAL, Scale::Force, pedal));
    }
    let units = &car.car().units;
    let g = stop.deceleration * Scale::Acceleration.factor(units);
    let taken = if stop.stated { "" } else { ", taken as none is stated" };
    Ok(Group {
        title: format!("In a stop of {g:.2} g at {}{taken}", speed_words(stop.from, units)),
        columns: vec!["front".into(), "rear".into()],
        rows,
        words: slides(&found).into_iter().collect(),
    })
}

/// What there is to say where an axle is asked for more than it has.
fn slides(found: &[Option<Estimate>; 13]) -> Option<String> {
    let none_left = |k: usize| found.get(k).and_then(Option::as_ref).is_some_and(|e| e.value <= 0.0);
    let (front, rear) = (none_left(6), none_left(7));
    let which = match (front, rear) {
        (true, true) => "Both axles lock",
        (true, false) => "The front locks",
        (false, true) => "The rear locks, and the car turns round",
        (false, false) => return None,
    };
    Some(format!(
        "{which} in this stop: the figures below the lock are those that the pedal asks for, not what the road gives."
    ))
}
