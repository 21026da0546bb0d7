//! The car in steady motion: straight, in a turn, or under a kept deceleration. Where a manoeuvre starts, and what it
//! settles in.

use nalgebra::SVector;

use super::MotionError;
use super::model::{Inputs, Look, Runner, State, at};
use crate::aero::FASTEST;
use crate::error::within;
use crate::newton::Search;
use crate::platform::{self, Attitude};

/// What is asked of the car.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Demand {
    /// Speed [m/s].
    pub speed: f64,
    /// Rate of speed [m/s^2], forward positive.
    pub along: f64,
    /// Lateral acceleration of the centre of gravity [m/s^2], to the left positive.
    pub across: f64,
}

/// The car in steady motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Steady {
    /// Place of the rack [m], and mean road-wheel angle there with the car at ride height [rad].
    pub rack: f64,
    /// See [`Self::rack`].
    pub angle: f64,
    /// Yaw rate [rad/s].
    pub yaw_rate: f64,
    /// Side-slip angle at the centre of gravity [rad].
    pub side_slip: f64,
    /// Sum of the torques at the wheels [Nm]; negative under the brakes.
    pub torque: f64,
    /// Attitude of the body.
    pub attitude: Attitude,
    /// Travels [m], loads [N], forces along and across each wheel [N].
    pub travel: [f64; 4],
    /// See [`Self::travel`].
    pub load: [f64; 4],
    /// See [`Self::travel`].
    pub force: [[f64; 2]; 4],
    pub(super) state: State,
}

/// Slowest speed of a motion [m/s]: below it slip has little meaning.
pub const SLOWEST: f64 = 2.0;

/// Unknowns: rise, pitch, roll, travels, slips along, speed across at the origin, yaw rate, torque, rack.
const COUNT: usize = 15;
const TRAVEL: usize = 3;
const KAPPA: usize = 7;
const ACROSS: usize = 11;
const YAW: usize = 12;
const TORQUE: usize = 13;
const RACK: usize = 14;

type Unknown = SVector<f64, COUNT>;

/// How a stage is searched; rounding allowed for.
const SEARCH: Search<COUNT> = Search {
    longest: [0.02, 0.02, 0.02, 0.02, 0.02, 0.02, 0.02, 0.01, 0.01, 0.01, 0.01, 0.5, 0.1, 500.0, 0.01],
    difference: 1e-6,
    settled: 1e-8,
    most: 60,
};

/// Lateral and longitudinal acceleration of a stage [m/s^2]: each is then near the last.
const STAGE: [f64; 2] = [2.0, 2.0];

impl Runner<'_, '_> {
    /// Steady motion: at constant speed straight or in a turn; under a kept deceleration the body and the wheels stand
    /// still against the car, and the turn keeps its radius.
    ///
    /// # Errors
    /// Beyond what the tyres give or the rack reaches.
    pub fn steady(&mut self, demand: &Demand) -> Result<Steady, MotionError> {
        within("speed", demand.speed, SLOWEST, FASTEST)?;
        within("rate of speed", demand.along, -50.0, 50.0)?;
        within("lateral acceleration", demand.across, -50.0, 50.0)?;
        let none =
            || MotionError::NotSteady { speed: demand.speed, along: demand.along, across: demand.across };
        if self.most_rack == 0.0 && demand.across != 0.0 {
            return Err(none());
        }
        let stages = (demand.across / STAGE[0]).abs().max((demand.along / STAGE[1]).abs()).ceil().max(1.0);
        let mut x = Unknown::zeros();
        for stage in 1..=stages as usize {
            let share = stage as f64 / stages;
            let part =
                Demand { speed: demand.speed, along: demand.along * share, across: demand.across * share };
            if stage == 1 {
                x = self.guess(&part);
            } else {
                // On a straight line from rest.
                x *= share / ((stage - 1) as f64 / stages);
            }
            x = SEARCH.run(x, |x| self.stand(x, &part).2).ok_or_else(none)?;
        }
        let (y, look, _) = self.stand(&x, demand);
        let on_road = look.wheels.iter().any(|w| w.load > 0.0) && (0..4).all(|i| y[at::SPIN + i] > 0.0);
        if !on_road || x[RACK].abs() > self.most_rack.max(1e-9) {
            return Err(none());
        }
        Ok(Steady {
            rack: x[RACK],
            angle: self.road_wheel_angle(x[RACK]),
            yaw_rate: look.yaw_rate,
            side_slip: look.speed[1].atan2(look.speed[0]),
            torque: x[TORQUE],
            attitude: Attitude { rise: x[0], pitch: x[1], roll: x[2] },
            travel: std::array::from_fn(|i| x[TRAVEL + i]),
            load: look.wheels.map(|w| w.load),
            force: look.wheels.map(|w| w.force),
            state: y,
        })
    }

    /// From the platform, which knows loads and travels, and a car on two wheels.
    fn guess(&mut self, demand: &Demand) -> Unknown {
        let mut x = Unknown::zeros();
        let asked =
            platform::Demand { speed: demand.speed, along: demand.along, across: demand.across, rack: 0.0 };
        let Ok(stands) = self.platform.solve(&asked) else { return x };
        (x[0], x[1], x[2]) = (stands.attitude.rise, stands.attitude.pitch, stands.attitude.roll);
        let (v, base) = (demand.speed, self.wheelbase());
        let yaw = demand.across / v;
        let mut slip = [0.0; 2];
        for (axle, s) in slip.iter_mut().enumerate() {
            let wheels = &stands.wheels[2 * axle..2 * axle + 2];
            let stiffness: f64 =
                wheels.iter().map(|w| self.axles[axle].tyre.cornering_stiffness(w.load.max(1.0))).sum();
            *s = -wheels.iter().map(|w| w.across).sum::<f64>() / stiffness.max(1.0);
        }
        for (i, wheel) in stands.wheels.iter().enumerate() {
            x[TRAVEL + i] = wheel.travel;
            let stiffness = self.axles[i / 2].tyre.slip_stiffness(wheel.load.max(1.0)).max(1.0);
            x[KAPPA + i] = (wheel.along / stiffness).clamp(-0.05, 0.05);
            x[TORQUE] += wheel.along * self.axles[i / 2].free_radius;
        }
        x[YAW] = yaw;
        x[ACROSS] = v * slip[1] + base * yaw - yaw * self.stands[0];
        x[RACK] = self.rack_per_angle() * (base * yaw / v + slip[1] - slip[0]);
        x
    }

    /// Torques at the wheels for their sum [Nm]: brakes by the car's brake share, engine by its drive share.
    pub(super) fn torques(&self, sum: f64) -> Inputs {
        let mut inputs = Inputs::default();
        let (share, of) = if sum < 0.0 {
            (self.brake_front, &mut inputs.brake)
        } else {
            (self.drive_front, &mut inputs.drive)
        };
        *of = [share, share, 1.0 - share, 1.0 - share].map(|s| s * sum.abs() / 2.0);
        inputs
    }

    /// The state with these unknowns, and what is left over of the balances.
    fn stand(&self, x: &Unknown, demand: &Demand) -> (State, Look, Unknown) {
        let mut near = self.near;
        let mut y = [0.0; at::COUNT];
        (y[at::RISE], y[at::PITCH], y[at::ROLL]) = (x[0], x[1], x[2]);
        let road = Attitude { rise: x[0], pitch: x[1], roll: x[2] }.road();
        let v = road.along * demand.speed + road.across * x[ACROSS];
        let w = road.up * x[YAW];
        for k in 0..3 {
            y[at::SPEED + k] = v[k];
            y[at::TURN + k] = w[k];
        }
        for i in 0..4 {
            y[at::TRAVEL + i] = x[TRAVEL + i];
            y[at::KAPPA + i] = x[KAPPA + i];
        }
        y[at::RACK] = x[RACK];
        let inputs = self.torques(x[TORQUE]);
        // The wheels' speeds do not hang on their spins, nor on the slip that these have built up.
        let rolls = self.look(&y, &inputs, &mut near).wheels;
        for (i, wheel) in rolls.iter().enumerate() {
            let [along, across] = wheel.speed;
            y[at::SPIN + i] = (along + along.abs() * x[KAPPA + i]) / wheel.rolling;
            y[at::ALPHA + i] = across / along.abs().max(f64::MIN_POSITIVE);
        }
        let look = self.look(&y, &inputs, &mut near);
        let r = &look.rates;
        let slowing = demand.along / demand.speed;
        let mut left = Unknown::zeros();
        for k in 0..3 {
            left[k] = r[at::SPEED + k] - road.along[k] * demand.along;
            left[3 + k] = r[at::TURN + k] - road.up[k] * x[YAW] * slowing;
        }
        for i in 0..4 {
            left[6 + i] = r[at::RATE + i];
            left[10 + i] = (r[at::SPIN + i] - y[at::SPIN + i] * slowing) * 0.1;
        }
        left[14] = if self.most_rack > 0.0 { look.acceleration[1] - demand.across } else { x[RACK] };
        (y, look, left)
    }
}
