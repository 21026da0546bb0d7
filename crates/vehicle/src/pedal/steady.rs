//! The car that brakes steadily: where the motion settles, and about which it swings.

use nalgebra::Vector6;

use super::PedalError;
use super::model::{Look, State, Stopper, at};
use crate::aero::FASTEST;
use crate::error::within;
use crate::newton::Search;
use crate::platform::Attitude;

/// The car under steady braking at one speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// Deceleration [m/s^2].
    pub deceleration: f64,
    /// Load of each axle [N].
    pub load: [f64; 2],
    /// Braking force of each axle [N].
    pub brake: [f64; 2],
    /// Pitch [rad], nose down positive.
    pub pitch: f64,
    /// Rise of the body at each axle [m].
    pub rise: [f64; 2],
    /// Travel of the wheels of each axle [m], jounce positive.
    pub travel: [f64; 2],
    /// Slip of each axle [-], negative under the brakes.
    pub slip: [f64; 2],
}

/// Greatest brake torque at one wheel taken for one [Nm].
pub(super) const MOST_TORQUE: f64 = 1e5;

/// Steps in which the torque is brought up: each is then near the last.
const STAGES: usize = 8;

/// What is unknown of a steady state.
const UNKNOWN: [usize; 6] = [at::RISE, at::PITCH, at::TRAVEL, at::TRAVEL + 1, at::SLIP, at::SLIP + 1];

/// How a stage is searched: steps of rise [m], pitch [rad], travels [m], slips [-].
const SEARCH: Search<6> =
    Search { longest: [0.02, 0.02, 0.02, 0.02, 0.01, 0.01], difference: 5e-6, settled: 1e-9, most: 40 };

impl Stopper<'_> {
    /// The steady state at a speed [m/s] under brake torques at one wheel of each axle [Nm]. No torque: the car rolls
    /// freely.
    ///
    /// # Errors
    /// A wheel would lock or leave the road.
    pub fn steady(&self, speed: f64, torque: [f64; 2]) -> Result<Steady, PedalError> {
        let y = self.steady_state(speed, torque)?;
        let look = self.look(&y, torque);
        let attitude = Attitude { rise: y[at::RISE], pitch: y[at::PITCH], roll: 0.0 };
        Ok(Steady {
            deceleration: -look.rates[at::SPEED],
            load: look.wheels.map(|w| 2.0 * w.load),
            brake: look.wheels.map(|w| -2.0 * w.along),
            pitch: attitude.pitch,
            rise: self.stands.map(|s| attitude.rise_at(s)),
            travel: [y[at::TRAVEL], y[at::TRAVEL + 1]],
            slip: [y[at::SLIP], y[at::SLIP + 1]],
        })
    }

    pub(crate) fn steady_state(&self, speed: f64, torque: [f64; 2]) -> Result<State, PedalError> {
        within("speed", speed, super::run::SLOWEST, FASTEST)?;
        for t in torque {
            within("brake torque at one wheel", t, 0.0, MOST_TORQUE)?;
        }
        let mut x = Vector6::zeros();
        let stages = if torque == [0.0; 2] { 1 } else { STAGES };
        for stage in 1..=stages {
            let part = torque.map(|t| t * stage as f64 / stages as f64);
            x = self.settle(x, speed, part).ok_or(PedalError::NotSteady)?;
        }
        self.standing(&x, speed, torque)
    }

    /// As [`Self::steady_state`], searched from a steady state near it, at the same speed.
    pub(crate) fn steady_near(&self, near: &State, torque: [f64; 2]) -> Result<State, PedalError> {
        let x = Vector6::from(UNKNOWN.map(|state| near[state]));
        let speed = near[at::SPEED];
        let x = self.settle(x, speed, torque).ok_or(PedalError::NotSteady)?;
        self.standing(&x, speed, torque)
    }

    /// The state with these unknowns, if all wheels roll on the road.
    fn standing(&self, x: &Vector6<f64>, speed: f64, torque: [f64; 2]) -> Result<State, PedalError> {
        let (y, look) = self.at_rest(x, speed, torque);
        let on_road = look.wheels.iter().all(|w| w.load > 0.0) && y[at::SPIN] > 0.0 && y[at::SPIN + 1] > 0.0;
        if on_road { Ok(y) } else { Err(PedalError::NotSteady) }
    }

    fn settle(&self, x: Vector6<f64>, speed: f64, torque: [f64; 2]) -> Option<Vector6<f64>> {
        SEARCH.run(x, |x| self.left_over(x, speed, torque))
    }

    /// The state with these unknowns when nothing moves but the car, along.
    fn at_rest(&self, x: &Vector6<f64>, speed: f64, torque: [f64; 2]) -> (State, Look) {
        let mut y = [0.0; at::COUNT];
        y[at::SPEED] = speed;
        for (i, state) in UNKNOWN.into_iter().enumerate() {
            y[state] = x[i];
        }
        let wheels = self.look(&y, torque).wheels;
        for (i, w) in wheels.iter().enumerate() {
            y[at::SPIN + i] = speed * (1.0 + x[4 + i]) / w.rolling;
        }
        let look = self.look(&y, torque);
        (y, look)
    }

    fn left_over(&self, x: &Vector6<f64>, speed: f64, torque: [f64; 2]) -> Vector6<f64> {
        let (y, look) = self.at_rest(x, speed, torque);
        let r = &look.rates;
        // The wheels slow with the car.
        let slowing = |i: usize| r[at::SPIN + i] - r[at::SPEED] * y[at::SPIN + i] / speed;
        Vector6::new(r[at::RISING], r[at::PITCHING], r[at::RATE], r[at::RATE + 1], slowing(0), slowing(1))
    }
}
