//! The stage Balance: will it be steady, and will it turn? Rates and frequencies, roll and load transfer, bars, understeer
//! and limits, steering response, what frees the car; charts, and maps of stability over speed and deceleration.
//!
//! Formulas are `vehicle::balance`'s; what is worked out here says so. Every figure of the tables comes from one pass over
//! all uncertain inputs ([`WholeCar::estimate_list`]).

mod bars;
mod charts;
mod free;
mod handling;
mod holes;
mod maps;
mod notes;
mod response;
mod ride;
mod roll;
mod step;
mod table;
mod texts;
mod texts_turn;
mod transfer;

use project::model::{Car, End};
use suspension::AxleEnd;
use units::UnitSystem;
use vehicle::GRAVITY;

use crate::estimate::Estimate;
use crate::explain::Term;
use crate::present::shown;
use crate::quantity::Scale;
use crate::stage::Stage;
use crate::whole::{Lack, Scope, Whole, WholeCar, wrong};
use table::Table;

/// Share of the lower axle's limit at which a steady turn is looked at [-] (own: near enough to the limit to show what
/// load transfer does, and within what the tyre figures hold for).
const SHARE_OF_LIMIT: f64 = 0.8;

/// Step to which that lateral acceleration is rounded down [m/s^2], so that setups are looked at alike: 0.1 g (own).
const STEP: f64 = 0.1 * GRAVITY;

/// Lateral acceleration where the limit is not known [m/s^2]: 0.8 g (own).
const WITHOUT_TYRES: f64 = 0.8 * GRAVITY;

/// Speed of a tight course [m/s]: 60 km/h (own).
const TIGHT: f64 = 60.0 / 3.6;

/// Least difference between the two speeds at which the response is shown [m/s] (own).
const APART: f64 = 3.0;

/// Both ends, in the order of the columns.
const ENDS: [AxleEnd; 2] = [AxleEnd::Front, AxleEnd::Rear];

/// What the tables look at: the same for every deviation of the car.
#[derive(Clone, Copy, Debug)]
struct Asked {
    /// Lateral acceleration of the steady turn [m/s^2].
    lateral: f64,
    /// Whether that rests on the tyres' limit.
    by_limit: bool,
    /// Speeds of the steering response [m/s].
    speeds: [f64; 2],
}

/// A car that is looked at.
struct Case<'a> {
    car: &'a WholeCar,
    holes: &'a [(End, usize)],
    whole: &'a Whole,
    asked: Asked,
}

impl Case<'_> {
    fn units(&self) -> &UnitSystem {
        &self.car.car().units
    }

    /// An exact value in the reader's units.
    fn text(&self, value: f64, scale: Scale) -> String {
        shown(&Estimate { value, contributions: Vec::new() }, scale, self.units()).text()
    }

    /// A figure that went into a result.
    fn term(&self, symbol: &str, meaning: &str, value: f64, scale: Scale) -> Term {
        Term { symbol: symbol.into(), meaning: meaning.into(), value: self.text(value, scale) }
    }

    fn lateral_text(&self) -> String {
        self.text(self.asked.lateral, Scale::Acceleration)
    }
}

/// Figures of a block of rows, row by row; as many for every car.
type Figures = fn(&Whole, &Asked) -> Vec<Option<f64>>;

/// Makes groups of them.
type Groups = fn(&Case<'_>, &mut Table<'_>, &mut Stage);

const BLOCKS: [(Figures, Groups); 7] = [
    (handling::figures, handling::groups),
    (ride::figures, ride::groups),
    (roll::figures, roll::groups),
    (transfer::figures, transfer::groups),
    (bars::figures, bars::groups),
    (response::figures, response::groups),
    (free::figures, free::groups),
];

/// All that Balance has to say of a car with some holes chosen (the file's own places where none is).
pub fn balance(car: &Car, holes: &[(End, usize)]) -> Stage {
    let mut stage = Stage::default();
    match whole(car, holes, &mut stage) {
        Ok(()) => {}
        Err(lack) => stage.lack(lack),
    }
    stage
}

fn whole(car: &Car, holes: &[(End, usize)], stage: &mut Stage) -> Result<(), Lack> {
    let car = WholeCar::new(car)?;
    let whole = car.at(holes)?;
    let asked = asked(&whole, car.car());
    let case = Case { car: &car, holes, whole: &whole, asked };
    let estimates = car.estimate_list(holes, Scope::All, |whole| {
        BLOCKS.iter().flat_map(|(figures, _)| figures(whole, &asked)).collect()
    })?;
    let mut table = Table::new(&car, estimates);
    for (figures, groups) in BLOCKS {
        table.open(figures(&whole, &asked).len());
        groups(&case, &mut table, stage);
    }
    holes::all(&case, stage);
    charts::all(&case, stage);
    maps::all(&case, stage);
    notes::all(&case, stage);
    Ok(())
}

/// What is looked at, from the car as the file has it.
fn asked(whole: &Whole, car: &Car) -> Asked {
    let limit = limit_of(whole).map(|(limit, _)| limit.front.min(limit.rear));
    let below = limit.map(|limit| ((SHARE_OF_LIMIT * limit / STEP + 1e-9).floor() * STEP).max(STEP));
    let from = car.stop.from;
    let speeds = if from > TIGHT + APART { [TIGHT, from] } else { [from, TIGHT + 2.0 * APART] };
    Asked { lateral: below.unwrap_or(WITHOUT_TYRES), by_limit: below.is_some(), speeds }
}

/// Limits of the axles and the car in roll, where all that they need is known.
fn limit_of(whole: &Whole) -> Option<(vehicle::balance::CorneringLimit, vehicle::balance::RollingCar<f64>)> {
    let rolling = whole.rolling().ok()?;
    let limit = whole.cornering(&rolling).ok()?.limit().ok()?;
    Some((limit, rolling))
}

#[cfg(test)]
mod tests;
