//! Stop: what happens under the brakes. Lock order, bias, pedal effort, distance and heat, from the pedal to the disc.

mod bias;
mod charts;
mod distance;
mod heat;
mod limit;
mod stated;
mod texts;
mod time;

use project::model::{Car, End};
use vehicle::AxleEnd;
use vehicle::brake::{Effort, System};

use crate::stage::Stage;
use crate::whole::{Lack, Whole, WholeCar, wrong};

pub(crate) use limit::{SLOWEST, speed_words};

/// Why a figure is marked: a tyre works at a load for which its figures were not given.
pub(crate) const LOAD_RANGE: &str = "a tyre's load is outside the range for which its figures hold";

/// Works the stage out for a choice of holes.
pub fn stop(car: &Car, holes: &[(End, usize)]) -> Stage {
    let mut stage = Stage::default();
    let whole_car = match WholeCar::new(car) {
        Ok(whole_car) => whole_car,
        Err(lack) => {
            stage.lack(lack);
            return stage;
        }
    };
    let whole = match whole_car.at(holes).and_then(checked) {
        Ok(whole) => whole,
        Err(lack) => {
            stage.lack(lack);
            return stage;
        }
    };
    stage.take(limit::group(&whole_car, &whole, holes));
    stage.take(stated::group(&whole_car, &whole, holes));
    stage.take(bias::group(&whole_car, &whole, holes));
    stage.take(distance::group(&whole_car, &whole, holes));
    match heat::group(&whole_car, &whole) {
        Ok((group, chart)) => {
            stage.groups.push(group);
            stage.charts.push(chart);
        }
        Err(lack) => stage.lack(lack),
    }
    match time::group(&whole_car, &whole) {
        Ok((group, charts)) => {
            stage.groups.push(group);
            stage.charts.extend(charts);
        }
        Err(lack) => stage.lack(lack),
    }
    match charts::charts(&whole_car, &whole) {
        Ok(charts) => stage.charts.splice(0..0, charts).for_each(drop),
        Err(lack) => stage.lack(lack),
    }
    stage.notes = texts::notes(&whole_car, &whole);
    stage
}

/// The car, its brakes being such that they can work.
fn checked(whole: Whole) -> Result<Whole, Lack> {
    if let Some(system) = &whole.system {
        system.check(vehicle::brake::hydraulics::GREATEST_PEDAL).map_err(wrong)?;
    }
    Ok(whole)
}

/// The brakes as parts; `None` where only the share is known.
fn parts<'w>(effort: &Effort<'w>) -> Option<(&'w System, [f64; 2])> {
    match effort {
        Effort::Pedal(system, temperatures) => Some((system, *temperatures)),
        Effort::Share(_) => None,
    }
}

/// An axle in a word, or what stands for both.
fn first_word(first: Option<AxleEnd>, locks: bool) -> &'static str {
    match (locks, first) {
        (false, _) => "neither: the pedal is the limit",
        (true, Some(AxleEnd::Front)) => "front",
        (true, Some(AxleEnd::Rear)) => "rear",
        (true, None) => "both together",
    }
}
