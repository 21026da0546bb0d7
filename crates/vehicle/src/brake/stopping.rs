//! The stop as it runs: distance, time, heat of each axle.
//!
//! `t = int dv/a(v)`, `s = int v dv/a(v)`, heat of an axle `int F v dv/a(v)`, by Simpson's rule over speed: a(v) is a
//! quasi-steady deceleration (no pitch, no tyre lag; both shorten the first tenths of a real stop's deceleration).

use crate::AxleEnd;
use crate::aero::FASTEST;
use crate::brake::limit::{Effort, Grip, StoppingCar};
use crate::error::{VehicleError, finite, positive, within};
use crate::root::root;

/// Panels of Simpson's rule; a smooth a(v) is then integrated to 1e-9, one with a kink to 1e-5.
pub const PANELS: usize = 100;

/// Least deceleration of a stop [m/s^2]: with less it is no stop, and the distance has no bound.
pub const LEAST_DECELERATION: f64 = 0.05;

/// What the driver does with the pedal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Driver {
    /// Keeps the first axle at the verge of locking at every speed.
    Verge,
    /// Holds one effort (pedal force, or total force for a fixed share) [N]. An axle asked for more than its grip slides
    /// with the stated share of its peak friction.
    Steady {
        /// Effort.
        effort: f64,
        /// Friction of a locked wheel over its peak [-].
        sliding: f64,
    },
}

/// A stop.
#[derive(Clone, Copy, Debug)]
pub struct StopRun<'a> {
    /// The car.
    pub car: &'a StoppingCar,
    /// Grip.
    pub grip: Grip<'a>,
    /// Brakes.
    pub effort: Effort<'a>,
    /// Driver.
    pub driver: Driver,
    /// Speed at its start [m/s].
    pub from: f64,
    /// Speed at its end [m/s].
    pub to: f64,
    /// Time from the cue to full effort, speed held [s].
    pub reaction: f64,
}

/// What a stop takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopped {
    /// Distance under the brakes [m].
    pub distance: f64,
    /// Distance during the reaction time [m].
    pub reaction_distance: f64,
    /// Time under the brakes [s].
    pub time: f64,
    /// Deceleration at the start [m/s^2].
    pub first_deceleration: f64,
    /// Deceleration at the end [m/s^2].
    pub last_deceleration: f64,
    /// Mean over the distance from 0.8 to 0.1 of the first speed [m/s^2] (71/320/EEC, annex II, 1.1.2, read; its
    /// formula remembered): `(v_b^2 - v_e^2)/(2 s)`.
    pub mean_developed: f64,
    /// Heat made by the front brakes and sliding tyres [J].
    pub front_heat: f64,
    /// Heat made at the rear [J].
    pub rear_heat: f64,
    /// Work of the drag [J].
    pub drag_work: f64,
    /// Highest speed at which a wheel slides, and which axle; only a steady driver lets one.
    pub slides: Option<(AxleEnd, f64)>,
    /// Whether a load left a tyre's range.
    pub outside: bool,
}

#[derive(Clone, Copy)]
struct Instant {
    deceleration: f64,
    front: f64,
    rear: f64,
    slides: Option<AxleEnd>,
    outside: bool,
}

impl StopRun<'_> {
    fn instant(&self, speed: f64) -> Result<Instant, VehicleError> {
        match self.driver {
            Driver::Verge => {
                let l = self.car.first_lock(speed, &self.grip, &self.effort)?;
                Ok(Instant {
                    deceleration: l.deceleration,
                    front: l.front_force,
                    rear: l.rear_force,
                    slides: None,
                    outside: l.outside,
                })
            }
            Driver::Steady { effort, sliding } => Ok(self.steady(speed, effort, sliding)),
        }
    }

    /// Deceleration at which forces, limited by grip at the loads of that deceleration, balance. The forces change less
    /// than in proportion to it, so the balance is single.
    fn steady(&self, speed: f64, effort: f64, sliding: f64) -> Instant {
        let (ask_front, ask_rear) = self.effort.forces(effort);
        let give = |end, ask: f64, load: f64| {
            let most = self.grip.force(end, load);
            if ask <= most { (ask, false) } else { (sliding * most, true) }
        };
        let at = |a: f64| {
            let loads = self.car.loads(speed, a);
            let front = give(AxleEnd::Front, ask_front, loads.front);
            let rear = give(AxleEnd::Rear, ask_rear, loads.rear);
            (front, rear, loads)
        };
        let miss = |a: f64| {
            let ((f, _), (r, _), loads) = at(a);
            (f + r + loads.drag) / self.car.mass - a
        };
        let most = self.car.deceleration(speed, ask_front, ask_rear);
        let deceleration = root(miss, 0.0, most * (1.0 + 1e-12) + 1e-12);
        let ((front, front_slides), (rear, rear_slides), loads) = at(deceleration);
        let slides = match (front_slides, rear_slides) {
            (_, true) => Some(AxleEnd::Rear),
            (true, false) => Some(AxleEnd::Front),
            _ => None,
        };
        Instant { deceleration, front, rear, slides, outside: self.grip.outside(&loads) }
    }

    fn check(&self) -> Result<(), VehicleError> {
        self.car.check()?;
        self.effort.check()?;
        within("speed", self.from, 0.1, FASTEST)?;
        within("final speed", self.to, 0.0, self.from)?;
        within("reaction time", self.reaction, 0.0, 10.0)?;
        if let Driver::Steady { effort, sliding } = self.driver {
            positive("braking effort", effort)?;
            within("sliding friction share", sliding, 0.1, 1.0)?;
        }
        Ok(())
    }

    /// Time, distance, heats front and rear, and work of drag between two speeds.
    fn between(&self, from: f64, to: f64, stopped: &mut Stopped) -> Result<[f64; 5], VehicleError> {
        let mut sum = [0.0; 5];
        let step = (from - to) / PANELS as f64;
        for i in 0..=2 * PANELS {
            let v = from - 0.5 * step * i as f64;
            let weight = if i == 0 || i == 2 * PANELS {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            let now = self.instant(v)?;
            let a = finite("deceleration", now.deceleration)?;
            if a < LEAST_DECELERATION {
                return Err(VehicleError::NoBrakeForce);
            }
            let drag = self.car.aero.forces(v).drag;
            let terms = [1.0 / a, v / a, now.front * v / a, now.rear * v / a, drag * v / a];
            for (s, t) in sum.iter_mut().zip(terms) {
                *s += weight * step / 6.0 * t;
            }
            stopped.outside |= now.outside;
            if i == 0 {
                stopped.first_deceleration = a;
            }
            stopped.last_deceleration = a;
            if let (Some(end), None) = (now.slides, stopped.slides) {
                stopped.slides = Some((end, v));
            }
        }
        Ok(sum)
    }
}

/// Runs a stop.
///
/// # Errors
/// Figures that no car has; brakes that do not slow it.
pub fn stop(run: &StopRun<'_>) -> Result<Stopped, VehicleError> {
    run.check()?;
    let mut s = Stopped {
        distance: 0.0,
        reaction_distance: run.from * run.reaction,
        time: 0.0,
        first_deceleration: 0.0,
        last_deceleration: 0.0,
        mean_developed: 0.0,
        front_heat: 0.0,
        rear_heat: 0.0,
        drag_work: 0.0,
        slides: None,
        outside: false,
    };
    let (high, low) = (0.8 * run.from, 0.1 * run.from);
    let mut spare = s;
    let developed = run.between(high, low, &mut spare)?[1];
    s.mean_developed = (high * high - low * low) / (2.0 * developed);
    [s.time, s.distance, s.front_heat, s.rear_heat, s.drag_work] = run.between(run.from, run.to, &mut s)?;
    Ok(s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::GRAVITY;
    use crate::aero::Aero;

    fn car(aero: Aero) -> StoppingCar {
        StoppingCar { mass: 1000.0, wheelbase: 2.5, cg_behind_front: 1.2, cg_height: 0.5, aero }
    }

    fn run<'a>(car: &'a StoppingCar, mu: f64, driver: Driver, from: f64) -> StopRun<'a> {
        StopRun {
            car,
            grip: Grip::Constant { front: mu, rear: mu },
            effort: Effort::Share(0.7),
            driver,
            from,
            to: 0.0,
            reaction: 0.5,
        }
    }

    /// T. Gillespie (1992), ch. 3, example 1 (remembered): 3635 lb, 60 mph, 2000 lb of brake force: 17.72 ft/s^2, 218 ft
    /// (218.55), 4.97 s, 437 100 ft-lb, mean power 160 hp; with the book's 32.2 ft/s^2.
    #[test]
    fn a_published_stop() {
        let (pound, foot) = (4.448_221_615_260_5, 0.3048);
        let c = StoppingCar { mass: 3635.0 * pound / (32.2 * foot), ..car(Aero::NONE) };
        let steady = Driver::Steady { effort: 2000.0 * pound, sliding: 1.0 };
        let s = stop(&run(&c, 1.5, steady, 88.0 * foot)).unwrap();
        assert!((s.first_deceleration / foot - 17.72).abs() < 0.005);
        assert!((s.distance / foot - 218.55).abs() < 0.005);
        assert!((s.time - 4.97).abs() < 0.005);
        let energy = (s.front_heat + s.rear_heat) / (pound * foot);
        assert!((energy - 437_100.0).abs() < 50.0, "{energy}");
        assert!((energy / s.time / 550.0 - 160.0).abs() < 0.5);
        assert!((s.reaction_distance - 44.0 * foot).abs() < 1e-9);
    }

    /// Kinetic energy is heat and drag work (invariant), with air and a moving limit.
    #[test]
    fn energy_balance() {
        let aero = Aero { density: 1.2, drag_area: 1.0, drag_height: 0.5, front_area: 0.6, rear_area: 1.1 };
        let c = car(aero);
        for driver in [Driver::Verge, Driver::Steady { effort: 9000.0, sliding: 0.8 }] {
            let s = stop(&StopRun { to: 10.0, ..run(&c, 1.1, driver, 70.0) }).unwrap();
            let kinetic = 0.5 * 1000.0 * (70.0f64.powi(2) - 100.0);
            assert!(((s.front_heat + s.rear_heat + s.drag_work) / kinetic - 1.0).abs() < 1e-6);
            assert!(s.first_deceleration > s.last_deceleration);
        }
    }

    /// Constant force and drag: `s = m/(2 k) ln(1 + k v^2/F)`, `k = rho C_x S/2` (closed form, own).
    #[test]
    fn drag_in_closed_form() {
        let aero = Aero { density: 1.2, drag_area: 1.0, ..Aero::NONE };
        let c = car(aero);
        let s = stop(&run(&c, 2.0, Driver::Steady { effort: 6000.0, sliding: 1.0 }, 60.0)).unwrap();
        let k = 0.6;
        let expected = 1000.0 / (2.0 * k) * (1.0f64 + k * 3600.0 / 6000.0).ln();
        assert!((s.distance - expected).abs() < 1e-7, "{} {expected}", s.distance);
    }

    /// Too much pedal: both axles slide, the car slows by sliding friction alone (own).
    #[test]
    fn all_wheels_sliding() {
        let c = car(Aero::NONE);
        let s = stop(&run(&c, 1.0, Driver::Steady { effort: 50_000.0, sliding: 0.8 }, 30.0)).unwrap();
        assert!((s.first_deceleration - 0.8 * GRAVITY).abs() < 1e-9);
        assert!((s.mean_developed - 0.8 * GRAVITY).abs() < 1e-9);
        assert_eq!(s.slides, Some((AxleEnd::Rear, 30.0)));
    }
}
