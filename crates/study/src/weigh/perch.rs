//! Turns of the spring perches toward wished corner weights.

use project::model::{Axle, Car, End, EndRates, Weighing, Wish};
use vehicle::mass::{PerchCorner, PerchPlan, Perches};
use vehicle::{Corners, Footprint, VehicleError};

use super::solve::Outcome;
use crate::explain::explain;
use crate::quantity::Quantity;
use crate::subject::Subject;

/// What to turn, or what is missing for it.
#[derive(Clone, Debug, PartialEq)]
pub enum PerchAdvice {
    /// Turns for the state ready to run.
    Turn {
        /// Corner weights before, front left, front right, rear left, rear right \[kg\].
        present: Corners<f64>,
        /// What was wished \[kg\].
        wish: Corners<f64>,
        /// The turns.
        plan: PerchPlan,
    },
    /// Figures that the file lacks.
    Lacks(Vec<String>),
    /// Figures that no car has.
    Wrong(VehicleError),
}

/// The advice, where there is a wish.
pub(super) fn advice(car: &Car, weighing: &Weighing, outcome: &Outcome<f64>) -> Option<PerchAdvice> {
    let wish = weighing.wish?;
    let mut lacks = Vec::new();
    let front = corner(car, End::Front, &weighing.front, &mut lacks);
    let rear = corner(car, End::Rear, &weighing.rear, &mut lacks);
    let (Some(front), Some(rear)) = (front, rear) else { return Some(PerchAdvice::Lacks(lacks)) };
    let bar = |end: &EndRates| end.bar_rate.map_or(0.0, |rate| rate.value);
    let perches = Perches {
        corners: Corners { front_left: front, front_right: front, rear_left: rear, rear_right: rear },
        footprint: outcome.footprint,
        front_bar: bar(&weighing.front),
        rear_bar: bar(&weighing.rear),
    };
    Some(plan(&perches, outcome, &wish, &outcome.footprint).unwrap_or_else(PerchAdvice::Wrong))
}

fn plan(
    perches: &Perches,
    outcome: &Outcome<f64>,
    wish: &Wish,
    at: &Footprint<f64>,
) -> Result<PerchAdvice, VehicleError> {
    let nothing = VehicleError::NotPositive { name: "mass", value: 0.0 };
    let lump = outcome.states.last().map(|state| state.lump).ok_or(nothing)?;
    let present = lump.corner_masses(at, outcome.cross)?;
    let wish = match wish {
        Wish::Cross(share) => lump.corner_masses(at, *share)?,
        Wish::Corners(corners) => Corners::from_array(*corners),
    };
    Ok(PerchAdvice::Turn { present, wish, plan: perches.plan(&present, &wish)? })
}

/// One end's spring: as stated, else from the spring that the file has.
fn corner(car: &Car, end: End, rates: &EndRates, lacks: &mut Vec<String>) -> Option<PerchCorner> {
    let own = car.axle(end).and_then(|axle| spring(car, axle));
    let wheel_rate = own.map(|own| own.0).or(rates.wheel_rate.map(|v| v.value));
    let motion_ratio = own.map(|own| own.1).or(rates.motion_ratio.map(|v| v.value));
    let tyre_rate = rates.tyre_rate.map(|v| v.value);
    let pitch = rates.perch.map(|v| v.value);
    let named = [
        ("wheel-rate", wheel_rate.is_none()),
        ("motion-ratio", motion_ratio.is_none()),
        ("tyre-rate", tyre_rate.is_none()),
        ("perch", pitch.is_none()),
    ];
    let table = end.name();
    lacks.extend(named.iter().filter(|n| n.1).map(|(key, _)| format!("`{key}` in `[weigh.{table}]`")));
    Some(PerchCorner {
        wheel_rate: wheel_rate?,
        tyre_rate: tyre_rate?,
        motion_ratio: motion_ratio?,
        pitch: pitch?,
    })
}

/// Wheel rate and motion ratio of the file's own spring at ride height.
fn spring(car: &Car, axle: &Axle) -> Option<(f64, f64)> {
    let element = axle.scheme.elements.iter().position(|e| e.rate.is_some())?;
    let subject = Subject::new(car, axle.end).ok()?;
    let of = |quantity| Some(explain(&subject, quantity, &[], 0.0).ok()?.result?.value);
    let rate = of(Quantity::WheelRate(element))?;
    let ratio = of(Quantity::MotionRatio(element))?;
    (rate > 0.0 && ratio > 0.0).then_some((rate, ratio))
}
