//! Figures of the car that follow from others of its file: worked out once, so that all that asks for them gets the same.

use std::sync::Arc;

use project::model::{Car, Value};

use crate::whole::{Scope, Whole, WholeCar};

/// Puts the frame into the ledger where the file wants that, and gives a car the height of its centre of gravity that its weighing says, in the state in which it runs, and the front
/// share of the braking that its brake parts make in the stated stop; its setups too. Leaves what the file states where it
/// has no more.
pub fn settle(car: &mut Car) {
    for own in car.setups.iter_mut().filter_map(|setup| setup.car.as_mut()) {
        settle(Arc::make_mut(own));
    }
    crate::build::put_in(car);
    if let Some(height) = crate::weigh::weighed_height(car) {
        car.cg_height = Some(height);
    }
    if let Some(share) = share_of_parts(car) {
        car.brake_front_share = Some(share);
    }
}

fn share_of_parts(car: &Car) -> Option<Value> {
    let parts = car.pedal.is_some()
        && [&car.front, &car.rear].iter().all(|a| a.as_ref().is_some_and(|a| a.brake.is_some()));
    if !parts {
        return None;
    }
    let whole = WholeCar::new(car).ok()?;
    let stop = &car.stop;
    let share = |whole: &Whole| {
        let (front, rear) = whole.stated_forces(stop).ok()?;
        (front + rear > 0.0).then(|| front / (front + rear))
    };
    let [estimate] = whole.estimates(&[], Scope::Figures, |whole| [share(whole)]).ok()?;
    estimate.map(|share| Value { value: share.value, uncertainty: share.uncertainty() })
}
