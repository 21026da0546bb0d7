//! Distance and time of the stop.

use project::model::End;
use vehicle::brake::{Driver, StopRun, Stopped, stop};

use super::limit::speed_words;
use super::{LOAD_RANGE, texts};
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group};
use crate::whole::{Lack, Scope, Whole, WholeCar, wrong};

fn run(whole: &Whole, from: f64, to: f64, driver: Driver) -> Result<Stopped, Lack> {
    let car = whole.stopping();
    let (grip, effort) = (whole.grip()?, whole.effort()?);
    stop(&StopRun { car: &car, grip, effort, driver, from, to, reaction: 0.0 }).map_err(wrong)
}

pub(super) fn group(car: &WholeCar, whole: &Whole, holes: &[(End, usize)]) -> Result<Group, Lack> {
    let stated = &car.car().stop;
    let ends = [stated.to, 0.0];
    let ends = if stated.to > 0.0 { &ends[..] } else { &ends[1..] };
    let mut columns = Vec::new();
    let mut cells: [Vec<Cell>; 3] = Default::default();
    let units = &car.car().units;
    for to in ends {
        let nominal = run(whole, stated.from, *to, Driver::Verge)?;
        let found = car.estimates(holes, Scope::Figures, |whole| {
            let Ok(s) = run(whole, stated.from, *to, Driver::Verge) else { return [None; 3] };
            let mean = (stated.from * stated.from - to * to) / (2.0 * s.distance);
            [Some(s.distance), Some(s.time), Some(mean)]
        })?;
        for (column, estimate) in cells.iter_mut().zip(found) {
            column.push(Cell::of(car, estimate).marked(nominal.outside, LOAD_RANGE));
        }
        let end = if *to > 0.0 { format!("to {}", speed_words(*to, units)) } else { "to rest".into() };
        columns.push(end);
    }
    let [distance, time, mean] = cells;
    Ok(Group {
        title: format!(
            "From {}, the first axle held at the verge of locking",
            speed_words(stated.from, units)
        ),
        columns,
        rows: vec![
            Finding::new("stopping-distance", texts::DISTANCE, Scale::Distance, distance),
            Finding::new("stopping-time", texts::TIME, Scale::Time, time),
            Finding::new("mean-deceleration", texts::MEAN, Scale::Acceleration, mean),
        ],
        words: vec![
            "No driver keeps to the verge all the way, and the time until the pedal is down is not in it."
                .into(),
        ],
    })
}
