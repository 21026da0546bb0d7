//! What the car weighs and where: scales, raised scales, the ledger, driver and fuel, each result with its ±.
//!
//! The statics are those of [`vehicle::mass`]; here the file's figures go through them, plain for the value and once
//! more with a unit derivative for every uncertain figure.

mod explain;
mod feed;
mod lower;
mod notes;
mod perch;
mod solve;
mod weight;

use std::ops::Range;

use linkage::Dual64;
use linkage::scalar::Real;
use project::model::{Car, Value};
use thiserror::Error;
use vehicle::VehicleError;
use vehicle::mass::Tilted;

use crate::estimate::Estimate;
use feed::Feed;
use solve::{Outcome, solve};

pub use explain::{EXPLAINED, about_weight, explain_weight};
pub use feed::Input;
pub(crate) use lower::unsprung_name;
pub use perch::PerchAdvice;
pub use weight::Weight;

/// Why nothing can be said about the car's weight.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum WeighError {
    /// The file has no scales.
    #[error("the file has no weighing")]
    NoScales,
    /// A figure of the car is missing.
    #[error("{what} is not known")]
    Missing {
        /// What.
        what: &'static str,
        /// What to write.
        hint: &'static str,
        /// Place in the file of what needs it.
        span: Range<usize>,
    },
    /// Figures that no car has, or that contradict each other.
    #[error("{error}")]
    Wrong {
        /// What is wrong.
        error: VehicleError,
        /// Place in the file.
        span: Range<usize>,
    },
}

impl WeighError {
    /// What to do about it.
    pub fn hint(&self) -> String {
        match self {
            Self::NoScales => "write `[weigh.level]` with what each of the four scales says".into(),
            Self::Missing { hint, .. } => (*hint).into(),
            Self::Wrong { error, .. } => error.hint().into(),
        }
    }

    /// Place in the file.
    pub fn span(&self) -> Option<Range<usize>> {
        match self {
            Self::NoScales => None,
            Self::Missing { span, .. } | Self::Wrong { span, .. } => Some(span.clone()),
        }
    }
}

/// The car with one load of driver and fuel, before and after the ledger.
#[derive(Clone, Debug)]
pub struct LoadState {
    /// What is in the car: `as weighed`, `empty`, `driver, fuel 50 %`.
    pub name: String,
    /// As found: what was on the scales.
    found: Vec<Option<Estimate>>,
    /// After the ledger.
    after: Vec<Option<Estimate>>,
    /// Whether the inertia rests on an estimate.
    pub estimated: bool,
}

/// Share of a ± by which two equal contributions to it may differ by rounding.
const ROUNDING: f64 = 1e-9;

impl LoadState {
    /// As found.
    pub fn found(&self, weight: Weight) -> Option<&Estimate> {
        self.found.get(weight.index())?.as_ref()
    }

    /// After the ledger.
    pub fn after(&self, weight: Weight) -> Option<&Estimate> {
        self.after.get(weight.index())?.as_ref()
    }

    /// After less before: errors that both share cancel.
    pub fn change(&self, weight: Weight) -> Option<Estimate> {
        let (found, after) = (self.found(weight)?, self.after(weight)?);
        // What both share entirely is gone, and so is the rounding of it.
        let size = ROUNDING * after.uncertainty().max(found.uncertainty());
        let less = |a: f64, f: f64| if (a - f).abs() <= size { 0.0 } else { a - f };
        let pairs = after.contributions.iter().zip(&found.contributions);
        let contributions = pairs.map(|(a, f)| less(*a, *f)).collect();
        Some(Estimate { value: after.value - found.value, contributions })
    }
}

/// All that the weighing says.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// Uncertain figures that went in, in the order of every [`Estimate::contributions`].
    pub inputs: Vec<Input>,
    /// As weighed, empty, and ready to run; those that are the same once.
    pub states: Vec<LoadState>,
    /// Whether parts were taken out or put in.
    pub ledger: bool,
    /// The car with one end raised, where it was.
    pub raised: Option<Tilted<f64>>,
    /// What to turn, where there is a wish.
    pub perches: Option<PerchAdvice>,
    /// What is assumed.
    pub notes: Vec<String>,
}

impl Weighed {
    /// The state in which the car is judged: with driver and fuel as far as the file has them.
    pub fn ready(&self) -> Option<&LoadState> {
        self.states.last()
    }

    /// Which figures the ± of a result comes from, largest first, with their share of the variance.
    pub fn sources_of_doubt(&self, estimate: &Estimate) -> Vec<(&str, f64)> {
        let total: f64 = estimate.contributions.iter().map(|c| c * c).sum();
        let shares =
            estimate.contributions.iter().zip(&self.inputs).map(|(c, i)| (i.name.as_str(), c * c / total));
        let mut list: Vec<_> = shares.filter(|(_, share)| *share >= 0.02).collect();
        list.sort_by(|a, b| b.1.total_cmp(&a.1));
        list
    }
}

/// Works a car's weighing out; `None` where the file has none.
///
/// # Errors
/// [`WeighError`]: figures that are missing or contradict each other, with their place in the file.
pub fn weigh(car: &Car) -> Result<Weighed, WeighError> {
    let Some(weighing) = car.weigh.as_ref().filter(|w| w.level.is_some()) else {
        return Err(WeighError::NoScales);
    };
    let mut feed = Feed::recording(exact as fn(usize) -> f64);
    let (plain, inertia) = match solve(car, &mut feed, true) {
        Err(WeighError::Wrong { error: VehicleError::ImpossibleInertia { .. }, .. }) => {
            feed = Feed::recording(exact as fn(usize) -> f64);
            (solve(car, &mut feed, false)?, false)
        }
        other => (other?, true),
    };
    let inputs = feed.into_inputs();
    let duals = (0..inputs.len())
        .map(|i| {
            let seed = |j| Dual64::new(0.0, f64::from(u8::from(i == j)));
            solve(car, &mut Feed::new(seed), inertia)
        })
        .collect::<Result<Vec<Outcome<Dual64>>, WeighError>>()?;
    let gather = |state: usize, after: bool| -> Vec<Option<Estimate>> {
        let of = |outcome: &Outcome<Dual64>, w: Weight| outcome.value(state, after, w).map(|d| d.eps);
        Weight::ALL
            .into_iter()
            .map(|w| {
                let value = plain.value(state, after, w)?;
                let contributions = duals
                    .iter()
                    .zip(&inputs)
                    .map(|(dual, input)| of(dual, w).unwrap_or(0.0) * input.uncertainty)
                    .map(|c| if c.is_finite() { c } else { 0.0 })
                    .collect();
                Some(Estimate { value, contributions })
            })
            .collect()
    };
    let states = plain
        .states
        .iter()
        .enumerate()
        .map(|(i, s)| LoadState {
            name: s.name.clone(),
            found: gather(i, false),
            after: gather(i, true),
            estimated: s.estimated,
        })
        .collect();
    let ledger = !weighing.parts_in.is_empty() || !weighing.parts_out.is_empty();
    Ok(Weighed {
        notes: notes::notes(car, weighing, ledger, inertia),
        perches: perch::advice(car, weighing, &plain),
        raised: plain.tilted,
        inputs,
        states,
        ledger,
    })
}

/// Height of the centre of gravity that the weighing says, in the state in which the car runs; `None` where it says
/// none.
pub(crate) fn weighed_height(car: &Car) -> Option<Value> {
    let weighed = weigh(car).ok()?;
    let height = weighed.ready()?.after(Weight::Height)?;
    Some(Value { value: height.value, uncertainty: height.uncertainty() }).filter(|h| h.value > 0.0)
}

/// No deviation.
fn exact(_: usize) -> f64 {
    0.0
}

/// A plain number.
fn plain<T: Real>(value: T) -> f64 {
    value.re()
}

#[cfg(test)]
mod tests;
