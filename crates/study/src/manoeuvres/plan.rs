//! What is driven: the file's stop, and what `[manoeuvre]` says; where it says nothing, what the standards are remembered to
//! ask.

use project::model::Car;
use vehicle::motion::{BrakingInTurn, StepSteer, StraightStop};

/// Radius of the braked turn (ISO 7975 as remembered: 100 m) [m], its lateral acceleration (5 m/s^2), and how hard the
/// brakes are pressed in it: from gently to hard [m/s^2].
const TURN_RADIUS: f64 = 100.0;
const TURN_ACROSS: f64 = 5.0;
const BRAKES: [f64; 3] = [2.0, 4.0, 6.0];

/// Speed of the step and its lateral acceleration (ISO 7401 as remembered: 100 km/h, 4 m/s^2).
const STEP_SPEED: f64 = 100.0 / 3.6;
const STEP_ACROSS: f64 = 4.0;

/// Time in which the wheel is turned (ISO 7401 as remembered: at least 200 to 500 deg/s at the steering wheel) [s].
const STEP_RISE: f64 = 0.15;

/// The brakes come on in this time (ISO 7975 as remembered: within 0.4 s) [s].
const BRAKE_RISE: f64 = 0.2;

/// Circle on which slopes are taken (ISO 4138 as remembered: 100 m, at least 30 m) [m].
const CIRCLE: f64 = 100.0;

/// Rate of the road-wheel angle of the growing turn [rad/s], and how far it grows at most [rad].
const TURN_RATE: f64 = 0.7 * std::f64::consts::PI / 180.0;
const TURN_MOST: f64 = 14.0 * std::f64::consts::PI / 180.0;

/// What is driven.
pub(crate) struct Plan {
    pub stop: StraightStop,
    pub braked: Vec<BrakingInTurn>,
    pub step: StepSteer,
    pub circle: f64,
    pub turn_rate: f64,
    pub turn_time: f64,
}

impl Plan {
    pub fn of(car: &Car) -> Self {
        let said = car.manoeuvre.as_ref();
        let radius = said.and_then(|m| m.turn_radius).unwrap_or(TURN_RADIUS);
        let across = said.and_then(|m| m.turn_across).unwrap_or(TURN_ACROSS);
        let brakes = said.map(|m| m.brakes.clone()).filter(|b| !b.is_empty());
        let speed = (across * radius).sqrt();
        let braked = brakes
            .unwrap_or_else(|| BRAKES.to_vec())
            .into_iter()
            .map(|deceleration| BrakingInTurn { speed, across, deceleration, rise_time: BRAKE_RISE });
        Self {
            stop: StraightStop {
                speed: car.stop.from,
                deceleration: car.stop.deceleration,
                rise_time: car.stop.rise.max(0.02),
            },
            braked: braked.collect(),
            step: StepSteer {
                speed: said.and_then(|m| m.step_speed).unwrap_or(STEP_SPEED),
                across: said.and_then(|m| m.step_across).unwrap_or(STEP_ACROSS),
                rise_time: STEP_RISE,
            },
            circle: said.and_then(|m| m.circle).unwrap_or(CIRCLE),
            turn_rate: TURN_RATE,
            turn_time: TURN_MOST / TURN_RATE,
        }
    }
}
