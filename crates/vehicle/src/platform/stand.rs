//! Puts the car on its wheels: loads, spring forces and tyre lengths that hold it at ride height.

use nalgebra::Vector3;

use super::road::Attitude;
use super::solve::{Platform, Seven};
use super::wheel::Wheel;
use super::{Car, Demand, PlatformError, WHEELS};
use crate::GRAVITY;

/// Greatest mass [kg] and rate [N/m] taken for those of a car: beyond it a balance drowns in rounding.
const GREATEST: f64 = 1e10;

impl<'c> Platform<'c> {
    /// Puts the car on its wheels: the springs carry it at ride height, whatever force the file states for them.
    ///
    /// # Errors
    /// Figures that no car has; an axle without a spring; a centre of gravity that is not between the axles.
    pub fn new(car: Car<'c>) -> Result<Self, PlatformError> {
        check(&car)?;
        let [front, rear] = &car.axles;
        let mut wheels =
            [Wheel::new(front, 1.0), Wheel::new(front, -1.0), Wheel::new(rear, 1.0), Wheel::new(rear, -1.0)];
        for (wheel, name) in wheels.iter_mut().zip(WHEELS) {
            if !wheel.go(0.0, 0.0) {
                return Err(PlatformError::Unreachable { wheel: name, travel: 0.0 });
            }
        }
        let road = Attitude::default().road();
        let contact = |wheel: &Wheel<'_>| wheel.contact(&road).place.x;
        let stands = [contact(&wheels[0]), contact(&wheels[2])];
        let unsprung: f64 = wheels.iter().map(|w| w.unsprung).sum();
        let weight = (car.sprung + unsprung) * GRAVITY;
        // Sum of loads = weight; moments about the origin, x forward.
        let moment = car.sprung * car.sprung_centre.x
            + wheels.iter().map(|w| w.unsprung * w.at.place.centre.x).sum::<f64>();
        let rear_load = (moment * GRAVITY - weight * stands[0]) / (stands[1] - stands[0]);
        let loads = [(weight - rear_load) / 2.0, rear_load / 2.0];
        for (load, axle) in loads.iter().zip(["front", "rear"]) {
            if *load <= 0.0 || load.is_nan() {
                return Err(PlatformError::Tips { axle, load: *load * 2.0 });
            }
        }
        for (i, wheel) in wheels.iter_mut().enumerate() {
            let load = loads[i / 2];
            let (radius, _) = wheel.over(&road);
            wheel.free_radius = radius + load / wheel.tyre_rate;
            let contact = wheel.contact(&road);
            let weighs = road.up * (-wheel.unsprung * GRAVITY);
            let carried =
                wheel.work(&(road.up * load), &contact.place, None) + weighs.dot(&wheel.at.place.velocity);
            preload(wheel, carried).ok_or(PlatformError::NoSpring { axle: ["front", "rear"][i / 2] })?;
            wheel.settle_in();
        }
        Ok(Self { car, wheels, weight, stands, x: Seven::zeros(), lifting: false })
    }
}

impl Platform<'_> {
    /// Turns the spring perches so that the body stands higher at rest, by so much over each axle [m], up positive. All
    /// else, stops as well, is counted from ride height on, as before. Where a stop holds the body at rest the perches go as
    /// far as they would without it.
    ///
    /// # Errors
    /// A wheel that cannot go there; springs that the wheel does not compress there; no balance at rest.
    pub fn set_ride(&mut self, rise: [f64; 2]) -> Result<(), PlatformError> {
        let mut asked = rise;
        for _ in 0..PERCHED {
            self.perch(asked)?;
            let state = self.solve(&Demand::default())?;
            // Tilted, the body leans a little more on one axle.
            let missed: [f64; 2] = std::array::from_fn(|i| rise[i] - state.attitude.rise_at(self.stands[i]));
            if missed.iter().all(|m| m.abs() < LEVEL) {
                break;
            }
            asked = std::array::from_fn(|i| asked[i] + missed[i].clamp(-MISSED, MISSED));
        }
        Ok(())
    }

    /// The perches that would carry a body so much higher under the loads of ride height.
    fn perch(&mut self, rise: [f64; 2]) -> Result<(), PlatformError> {
        self.reset();
        let up = Vector3::z();
        let level = Attitude::default().road();
        let loads = self.wheels.each_mut().map(|wheel| {
            wheel.read(0.0);
            wheel.contact(&level).load
        });
        for (i, wheel) in self.wheels.iter_mut().enumerate() {
            let travel = -rise[i / 2];
            if !wheel.go(travel, 0.0) {
                return Err(PlatformError::Unreachable { wheel: WHEELS[i], travel });
            }
            let road = Attitude { rise: rise[i / 2], ..Attitude::default() }.road();
            let place = wheel.at.place.centre - up * wheel.over(&road).0;
            let carried = wheel.work(&(up * loads[i]), &place, None)
                + (up * (-wheel.unsprung * GRAVITY)).dot(&wheel.at.place.velocity);
            preload(wheel, carried).ok_or(PlatformError::NoSpring { axle: ["front", "rear"][i / 2] })?;
            let shortenings: Vec<f64> =
                wheel.springs.iter().map(|(e, ..)| wheel.shortening(*e).map_or(0.0, |s| s.0)).collect();
            for ((_, spring, force), short) in wheel.springs.iter_mut().zip(shortenings) {
                *force -= spring.at(short).0;
            }
            wheel.go(0.0, 0.0);
            wheel.settle_in();
        }
        Ok(())
    }
}

/// How often the perches are turned at most, how near is near enough [m], and the most that is corrected at once [m].
const PERCHED: usize = 4;
const LEVEL: f64 = 1e-6;
const MISSED: f64 = 5e-3;

/// Gives the springs the force that carries a wheel at ride height, each by its rate; `None` where none can.
fn preload(wheel: &mut Wheel<'_>, carried: f64) -> Option<()> {
    let ratios: Vec<f64> = wheel.springs.iter().map(|(e, ..)| wheel.ratio(*e).unwrap_or(0.0)).collect();
    let total: f64 = wheel.springs.iter().zip(&ratios).map(|((_, s, _), r)| s.rate * r).sum();
    let rate: f64 = wheel.springs.iter().zip(&ratios).map(|((_, s, _), r)| s.rate * r * r).sum();
    if rate <= LEAST_RATE || rate.is_nan() || total == 0.0 {
        return None;
    }
    for (_, spring, force) in &mut wheel.springs {
        *force = carried * spring.rate / total;
    }
    Some(())
}

/// Least rate at the wheel that carries a car [N/m].
const LEAST_RATE: f64 = 1.0;

fn check(car: &Car<'_>) -> Result<(), PlatformError> {
    let usable = |v: f64| v.is_finite() && v > 0.0 && v < GREATEST;
    let figure = |what, axle, value| Err(PlatformError::Figure { what, axle, value });
    if !usable(car.sprung) {
        return figure("sprung mass", "whole", car.sprung);
    }
    if !car.sprung_centre.iter().all(|v| v.abs() < 100.0) {
        return figure("place of the sprung mass", "whole", car.sprung_centre.amax());
    }
    if let Some(air) = &car.air {
        air.check().map_err(PlatformError::Air)?;
    }
    for (what, share) in
        [("front share of braking", car.brake_front), ("front share of the drive", car.drive_front)]
    {
        if !(0.0..=1.0).contains(&share) {
            return figure(what, "whole", share);
        }
    }
    for rig in &car.axles {
        let axle = rig.name();
        if !(rig.unsprung >= 0.0 && rig.unsprung < GREATEST) {
            return figure("unsprung mass", axle, rig.unsprung);
        }
        if !usable(rig.tyre_rate) {
            return figure("tyre rate", axle, rig.tyre_rate);
        }
        let rates = rig.springs.iter().map(|(_, s)| s.rate).chain(rig.bar.map(|b| b.1));
        if let Some(rate) = rates.into_iter().find(|r| !(*r >= 0.0 && *r < GREATEST)) {
            return figure("spring or bar rate", axle, rate);
        }
    }
    Ok(())
}
