//! Figures of brakes that only the whole car can judge: a valve that never acts, a stop that its tyres cannot give.

use std::ops::Range;

use project::model::Car;
use project::{Diagnostic, Severity};
use units::{Dimension, show};
use vehicle::brake::hydraulics::GREATEST_PEDAL;

use crate::estimate::Estimate;
use crate::present::shown;
use crate::quantity::Scale;
use crate::stop::{SLOWEST, speed_words};
use crate::whole::{Scope, Whole, WholeCar};

/// How many of its ± a stop must lie beyond what the tyres give before it is told.
const SURE: f64 = 2.0;

/// Examines the car and each of its setups that changes more than holes; a car that lacks what this needs is passed over,
/// for *Stop* tells what it lacks.
pub(super) fn check(car: &Car, list: &mut Vec<Diagnostic>) {
    let mut own = of_car(car);
    for setup in &car.setups {
        let Some(changed) = &setup.car else { continue };
        let with =
            |d: Diagnostic| Diagnostic { message: format!("setup `{}`: {}", setup.name, d.message), ..d };
        // What the car as drawn has wrong as well is told once.
        let new = of_car(changed).into_iter().filter(|d| !own.iter().any(|o| o.span == d.span));
        let new: Vec<_> = new.map(with).collect();
        own.extend(new);
    }
    list.extend(own);
}

fn of_car(car: &Car) -> Vec<Diagnostic> {
    let Ok(whole_car) = WholeCar::new(car) else { return Vec::new() };
    let Ok(whole) = whole_car.at(&[]) else { return Vec::new() };
    valve(car, &whole).into_iter().chain(stop(car, &whole_car, &whole)).collect()
}

fn warning(message: String, span: &Range<usize>, hint: &str) -> Diagnostic {
    Diagnostic { severity: Severity::Warning, message, span: Some(span.clone()), hint: Some(hint.into()) }
}

/// A valve whose knee lies beyond what the rear line sees before a wheel locks, at both ends of the stop; without tyres,
/// beyond what the strongest leg gives.
fn valve(car: &Car, whole: &Whole) -> Option<Diagnostic> {
    let reading = car.pedal.as_ref()?.valve.as_ref()?;
    let system = whole.system.as_ref()?;
    let knee = reading.knee.value;
    let pressure = |pedal: f64| system.apply(pedal, whole.discs).rear_pressure;
    let at_lock = || {
        let (grip, effort) = (whole.grip().ok()?, whole.effort().ok()?);
        let limits = [car.stop.from, car.stop.to.max(SLOWEST)]
            .map(|speed| whole.stopping().first_lock(speed, &grip, &effort).ok());
        let [Some(fast), Some(slow)] = limits else { return None };
        (fast.locks && slow.locks).then(|| pressure(fast.effort.max(slow.effort)))
    };
    let words = |p: f64| show::with_unit(p, Dimension::Pressure, &car.units, 1);
    let (reached, when) = match at_lock() {
        Some(reached) => (reached, "when the first wheel locks"),
        None => (pressure(GREATEST_PEDAL), "under the strongest leg"),
    };
    (knee >= reached).then(|| {
        let message = format!(
            "the valve never acts: its knee is {}, and the rear line has {} {when}, discs cold",
            words(knee),
            words(reached)
        );
        warning(message, &reading.span, "check the unit of `knee`; set it lower, or leave the valve out")
    })
}

/// A stated stop that is harder than both axles at their peaks.
fn stop(car: &Car, whole_car: &WholeCar, whole: &Whole) -> Option<Diagnostic> {
    let stated = &car.stop;
    whole.grip().ok().filter(|_| stated.stated)?;
    let greatest =
        |whole: &Whole| whole.stopping().greatest_deceleration(stated.from, &whole.grip().ok()?).ok();
    let [most] = whole_car.estimates(&[], Scope::Figures, |whole| [greatest(whole)]).ok()?;
    let most = most.filter(|most| stated.deceleration > most.value + SURE * most.uncertainty())?;
    let exact = Estimate { value: stated.deceleration, contributions: Vec::new() };
    let words = |estimate: &Estimate| shown(estimate, Scale::Acceleration, &car.units).text();
    let message = format!(
        "the stated stop of {} is harder than the tyres give: {} at {} with both axles at their peak",
        words(&exact),
        words(&most),
        speed_words(stated.from, &car.units)
    );
    Some(warning(
        message,
        &stated.span,
        "state a milder `deceleration`, in g, or look at `friction` of `[tyre]` and the areas of `[aero]`",
    ))
}
