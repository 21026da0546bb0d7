//! The file's figures through the statics, in one number type.

use std::ops::Range;

use linkage::scalar::{Real, constant};
use nalgebra::Vector3;
use project::model::{Car, Weighing};
use vehicle::mass::{Entry, Level, Load, Lump, Tilted, ledger};
use vehicle::{Corners, Footprint, VehicleError};

use super::feed::Feed;
use super::lower::{footprints, inertia, load, radius, tilt, unsprung};
use super::weight::Weight;
use super::{WeighError, plain};

/// All results of one run.
pub(super) struct Outcome<T: Real> {
    pub states: Vec<Solved<T>>,
    pub tilted: Option<Tilted<T>>,
    /// Where the wheels stand after the ledger.
    pub footprint: Footprint<T>,
    /// Cross weight as weighed.
    pub cross: T,
}

/// The car with one load.
pub(super) struct Solved<T: Real> {
    pub name: String,
    pub estimated: bool,
    found: Vec<Option<T>>,
    after: Vec<Option<T>>,
    /// After the ledger.
    pub lump: Lump<T>,
}

impl<T: Real> Outcome<T> {
    pub(super) fn value(&self, state: usize, after: bool, weight: Weight) -> Option<T> {
        let solved = self.states.get(state)?;
        let list = if after { &solved.after } else { &solved.found };
        list.get(weight.index()).copied().flatten()
    }
}

/// What stays the same from lump to lump.
struct Shared<T: Real> {
    height_known: bool,
    cross: T,
    /// Unsprung mass of each axle and its height.
    unsprung: Option<[(T, T); 2]>,
    span: Range<usize>,
}

/// Works everything out with deviations; without inertia where what is known of it contradicts itself.
pub(super) fn solve<T: Real, D: Fn(usize) -> T>(
    car: &Car,
    feed: &mut Feed<D>,
    with_inertia: bool,
) -> Result<Outcome<T>, WeighError> {
    let weighing = car.weigh.as_ref().ok_or(WeighError::NoScales)?;
    let scales = weighing.level.as_ref().ok_or(WeighError::NoScales)?;
    let wrong = |span: &Range<usize>| {
        let span = span.clone();
        move |error| WeighError::Wrong { error, span }
    };
    let (found_at, after_at) = footprints(car, scales, feed)?;
    let names = ["front left", "front right", "rear left", "rear right"];
    let mut readings = [constant::<T>(0.0); 4];
    for ((reading, name), scale) in readings.iter_mut().zip(names).zip(&scales.scales) {
        *reading = feed.take(|| format!("scale at the {name}"), scale);
    }
    let level = Level { scales: Corners::from_array(readings), footprint: found_at };
    let on_wheels = level.solve().map_err(wrong(&scales.span))?;
    let unsprung = unsprung(weighing, feed);
    let tilted = match &weighing.raised {
        Some(raised) => {
            let raised_scales = tilt(car, weighing, raised, &level, unsprung, feed)?;
            Some(raised_scales.solve().map_err(wrong(&raised.span))?)
        }
        None => None,
    };
    // Not that of the car, which may have been settled by this very weighing.
    let stated = weighing.stated_height.filter(|_| tilted.is_none());
    let height = tilted
        .map(|t| t.height)
        .or_else(|| stated.map(|h| feed.take(|| "stated height of the centre of gravity".into(), &h)));
    let mut lump = Lump {
        mass: on_wheels.mass,
        centre: Vector3::new(on_wheels.x, on_wheels.y, height.unwrap_or(constant(0.0))),
        inertia: None,
        estimated: true,
    };
    if with_inertia && height.is_some() {
        inertia(&mut lump, weighing, &found_at, feed).map_err(wrong(&scales.span))?;
    }
    let driver = weighing.driver.as_ref().map(|part| load(part, "the driver", feed));
    let tank = weighing.fuel.as_ref().map(|part| load(part, "a full tank", feed));
    let fuel_in: T = feed.take(|| "fuel in the car when weighed".into(), &weighing.fuel_in);
    let fuel_share: T = feed.take(|| "fuel to run with".into(), &weighing.fuel_share);
    let mut lines = Vec::new();
    for (parts, out) in [(&weighing.parts_out, true), (&weighing.parts_in, false)] {
        for part in parts {
            let what = if out { "taken out" } else { "put in" };
            let load = load(part, &format!("{} {what}", part.name), feed);
            lines.push(if out { Entry::Out(load) } else { Entry::In(load) });
        }
    }
    let blame = |error: VehicleError| {
        let name = match &error {
            VehicleError::NoMassLeft { part } | VehicleError::ImpossibleInertia { part } => {
                Some(part.as_str())
            }
            _ => None,
        };
        let parts = weighing.parts_out.iter().chain(&weighing.parts_in);
        let part = name.and_then(|name| parts.clone().find(|p| name.starts_with(p.name.as_str())));
        WeighError::Wrong { error, span: part.map_or_else(|| weighing.span.clone(), |p| p.span.clone()) }
    };
    // Off the scales: what was only along for the weighing comes out first.
    let was_in = loads(driver.as_ref().filter(|_| weighing.driver_in), tank.as_ref(), fuel_in);
    let out: Vec<Entry<T>> = was_in.into_iter().map(Entry::Out).collect();
    let found = lump.after_all(&out).map_err(blame)?;
    let after = found.after_all(&lines).map_err(blame)?;

    let shared = Shared {
        height_known: height.is_some(),
        cross: on_wheels.cross_share,
        unsprung: unsprung.map(|[f, r]| [(f, radius(car.front.as_ref())), (r, radius(car.rear.as_ref()))]),
        span: weighing.span.clone(),
    };
    let mut states = Vec::new();
    for (name, with_driver, fuel) in cases(weighing, fuel_in, fuel_share) {
        let put: Vec<Entry<T>> = loads(driver.as_ref().filter(|_| with_driver), tank.as_ref(), fuel)
            .into_iter()
            .map(Entry::In)
            .collect();
        let (one, two) = (found.after_all(&put).map_err(blame)?, after.after_all(&put).map_err(blame)?);
        states.push(Solved {
            name,
            estimated: one.estimated || two.estimated,
            found: figures(&one, &found_at, &shared)?,
            after: figures(&two, &after_at, &shared)?,
            lump: two,
        });
    }
    Ok(Outcome { states, tilted, footprint: after_at, cross: on_wheels.cross_share })
}

/// Names of the loads, whether the driver is in, and the share of fuel: as weighed, empty, ready to run.
fn cases<T: Real>(weighing: &Weighing, fuel_in: T, fuel_share: T) -> Vec<(String, bool, T)> {
    let zero = constant(0.0);
    let (driver, fuel) = (weighing.driver.is_some(), weighing.fuel.is_some());
    let mut list = vec![("as weighed".to_string(), weighing.driver_in, fuel_in)];
    let as_weighed = (weighing.driver_in && driver, if fuel { plain(fuel_in) } else { 0.0 });
    let per_cent = |share: T| format!("{:.0} %", 100.0 * plain(share));
    if as_weighed != (false, 0.0) {
        list.push(("empty".into(), false, zero));
    }
    let run_fuel = if fuel { plain(fuel_share) } else { 0.0 };
    if (driver, run_fuel) != as_weighed && (driver || run_fuel > 0.0) {
        let words = match (driver, run_fuel > 0.0) {
            (true, true) => format!("driver, fuel {}", per_cent(fuel_share)),
            (true, false) => "driver".into(),
            _ => format!("fuel {}", per_cent(fuel_share)),
        };
        list.push((words, driver, fuel_share));
    } else if list.len() > 1 && (driver, run_fuel) == as_weighed {
        // It was weighed ready to run: that state is the last one, by which the car is judged.
        list.reverse();
    }
    list
}

fn loads<T: Real>(driver: Option<&Load<T>>, tank: Option<&Load<T>>, share: T) -> Vec<Load<T>> {
    // A part-full tank keeps its centre: a cell is foamed, and sloshing is not modelled.
    let fuel =
        tank.filter(|_| plain(share) > 0.0).map(|tank| Load { mass: tank.mass * share, ..tank.clone() });
    driver.cloned().into_iter().chain(fuel).collect()
}

/// The results of one lump, in the order of [`Weight::ALL`].
fn figures<T: Real>(
    lump: &Lump<T>,
    at: &Footprint<T>,
    shared: &Shared<T>,
) -> Result<Vec<Option<T>>, WeighError> {
    let wrong = |error| WeighError::Wrong { error, span: shared.span.clone() };
    let corners = lump.corner_masses(at, shared.cross).map_err(wrong)?;
    let mass = lump.mass;
    let inertia = lump.principal();
    let rest = match shared.unsprung {
        Some([front, rear]) => Some(ledger::sprung(lump, at.wheelbase, front, rear).map_err(wrong)?),
        None => None,
    };
    let height = |z: T| shared.height_known.then_some(z);
    Ok(Weight::ALL
        .into_iter()
        .map(|weight| match weight {
            Weight::Mass => Some(mass),
            Weight::Behind => Some(-lump.centre.x),
            Weight::Left => Some(lump.centre.y),
            Weight::Height => height(lump.centre.z),
            Weight::FrontShare => Some(corners.front() / mass),
            Weight::LeftShare => Some(corners.left() / mass),
            Weight::Cross => Some(corners.cross() / mass),
            Weight::FrontLeft => Some(corners.front_left),
            Weight::FrontRight => Some(corners.front_right),
            Weight::RearLeft => Some(corners.rear_left),
            Weight::RearRight => Some(corners.rear_right),
            Weight::Roll => inertia.map(|i| i.x),
            Weight::Pitch => inertia.map(|i| i.y),
            Weight::Yaw => inertia.map(|i| i.z),
            Weight::SprungMass => rest.map(|s| s.mass),
            Weight::SprungHeight => rest.and_then(|s| height(s.centre.z)),
        })
        .collect())
}
