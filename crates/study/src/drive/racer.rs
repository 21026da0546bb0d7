//! A car with one choice of holes as Drive wants it: its limits and its laps.

use project::model::Car;
use vehicle::brake::Effort;
use vehicle::lap::{Lap, Start, run};
use vehicle::limits::{Detail, Driver, LimitCar, LimitError, Surface};
use vehicle::platform::PlatformError;
use vehicle::power::{Differential, Power};
use vehicle::tyre::Tyre;
use vehicle::{AxleEnd, GRAVITY};

use super::course::Venue;
use crate::whole::{Lack, Whole, wrong};

/// Share of the tyre's squash by which the rolling radius is less than the free one (common practice, a third).
const ROLLING_SQUASH: f64 = 1.0 / 3.0;

/// Half of what a surface's grip may be off in a sample: the limits are found so far beyond the grips of the courses.
const GRIP_BEYOND: f64 = 0.12;

/// A car ready to be driven.
#[derive(Clone, Debug)]
pub(crate) struct Racer {
    pub whole: Whole,
    pub power: Power,
    pub tyres: [Tyre; 2],
    rolling: f64,
    pub driver: Option<Driver>,
    /// Front share of braking in place of what the brake parts give.
    pub share: Option<f64>,
    /// How much higher the body stands than the file has it, front and rear [m].
    pub ride: [f64; 2],
}

impl Racer {
    pub fn new(car: &Car, whole: Whole) -> Result<Self, Lack> {
        let lack = |what: &str, hint: &str| Lack { what: what.into(), hint: hint.into() };
        let engine = car.engine.as_ref().ok_or_else(|| {
            lack("the engine is not known", "write `[engine]`: torque over engine speed, and the redline")
        })?;
        let gears = car.gearbox.as_ref().ok_or_else(|| {
            lack("the gears are not known", "write `[gearbox]`: ratios, final drive, efficiency")
        })?;
        let tyres = [whole.tyre(AxleEnd::Front)?.clone(), whole.tyre(AxleEnd::Rear)?.clone()];
        let power = Power {
            curve: engine.torque.iter().map(|(w, m)| (*w, m * engine.scale.value)).collect(),
            most: engine.most,
            ratios: gears.ratios.clone(),
            final_drive: gears.final_drive,
            efficiency: gears.efficiency.value.clamp(0.3, 1.0),
            shift: gears.shift.value.max(0.0),
            radius: rolling_radius(&whole),
            differential: if gears.open { Differential::Open } else { Differential::Limited },
        };
        power.check().map_err(wrong)?;
        let driver = car.in_hand.as_ref().map(|hand| Driver {
            rear_reserve: hand.rear_reserve.value.clamp(0.0, 0.95),
            yaw_damping: hand.yaw_damping.value.clamp(0.0, 0.95),
        });
        let rolling = gears.rolling.value.clamp(0.0, 0.2);
        Ok(Self { whole, power, tyres, rolling, driver, share: None, ride: [0.0; 2] })
    }

    fn limit_car(&self) -> Result<LimitCar<'_>, Lack> {
        let brakes = match self.share {
            Some(share) => Effort::Share(share.clamp(0.0, 1.0)),
            None => self.whole.effort()?,
        };
        let [front, rear] = &self.tyres;
        Ok(LimitCar {
            car: self.whole.on_wheels(0.5)?,
            tyres: [front, rear],
            brakes,
            power: Some(&self.power),
            rolling: self.rolling,
            yaw_inertia: self.whole.loads.yaw.unwrap_or(0.0),
            spin_inertia: [AxleEnd::Front, AxleEnd::Rear].map(|end| self.whole.spin_inertia(end)),
            driver: self.driver,
            ride: self.ride,
        })
    }

    /// Its limits at the grips of courses; found in detail where `like` is none, else as far as that went and at few places.
    pub fn limits(&self, grips: &[f64], like: Option<&Surface>, cores: usize) -> Result<Surface, Lack> {
        let car = self.limit_car()?;
        match like {
            None => Surface::new(car, grips, cores),
            Some(fine) => Surface::of(car, grips, fine.found_to(), Detail::Coarse, cores),
        }
        .map_err(|e| lacking(&e))
    }

    /// The front share of the braking in a hard stop.
    pub fn front_share(&self) -> Option<f64> {
        let force = 0.8 * self.whole.loads.mass * GRAVITY;
        let effort = self.whole.effort().ok()?;
        let (front, rear) = effort.forces(effort.effort_for(force)?);
        Some(front / (front + rear))
    }
}

/// What a tyre rolls with where it is driven [m]: half of the loaded radius' squash beyond it.
fn rolling_radius(whole: &Whole) -> f64 {
    let end = if whole.drive_front > 0.5 { AxleEnd::Front } else { AxleEnd::Rear };
    let axle = whole.axle(end);
    let behind = whole.loads.behind / whole.wheelbase;
    let share = if end == AxleEnd::Front { 1.0 - behind } else { behind };
    let load = 0.5 * share * whole.loads.mass * GRAVITY;
    let squash = axle.tyre_rate.map_or(0.0, |rate| load / rate);
    axle.corner.loaded_radius() + squash * (1.0 - ROLLING_SQUASH)
}

fn lacking(error: &LimitError) -> Lack {
    match error {
        LimitError::Figure(e) => wrong(e.clone()),
        LimitError::Platform(PlatformError::Unreachable { .. }) => Lack {
            what: error.to_string(),
            hint: "a car at its limit needs bump and rebound stops, or stiffer springs: `[front.damper.bump-stop]`".into(),
        },
        other => Lack { what: other.to_string(), hint: "`soapstone balance` looks the car over".into() },
    }
}

/// Grips at which limits are wanted for some courses, with room for what a surface's grip may be off.
pub(super) fn grips(venues: &[Venue]) -> Vec<f64> {
    let all: Vec<f64> = venues.iter().flat_map(|v| v.course.grips()).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(0.0, f64::max);
    // Straight lines between three: friction scales nearly so.
    vec![least * (1.0 - GRIP_BEYOND), 0.5 * (least + most), most * (1.0 + GRIP_BEYOND)]
}

/// Runs one venue; `grip` multiplies its surface.
pub(super) fn lap(limits: &Surface, venue: &Venue, grip: f64) -> Lap {
    let start = if venue.standing { Start::From(0.0) } else { Start::Flying };
    let start = if venue.course.closed || start != Start::Flying { start } else { Start::From(ROLLING_IN) };
    if (grip - 1.0).abs() < 1e-12 {
        return run(limits, &venue.course, start);
    }
    let mut course = venue.course.clone();
    for spot in &mut course.spots {
        spot.grip *= grip;
    }
    run(limits, &course, start)
}

/// Speed over the line of an open course that is taken flying [m/s] (own: 40 km/h).
const ROLLING_IN: f64 = 40.0 / 3.6;
