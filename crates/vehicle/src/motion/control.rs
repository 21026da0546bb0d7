//! What the driver does: brakes, engine, steering, over time and by what the car does.

use super::MotionError;
use super::manoeuvre::{Manoeuvre, SteadyTurn};
use super::model::{Inputs, Runner, State, at};
use super::steady::{Demand, Steady};
use crate::error::{VehicleError, not_negative, positive, within};

/// Quickness of the driver's arms [rad/s], damped critically: 3 Hz (own; nothing here hangs on it).
const ARMS: f64 = 19.0;

/// Share of the error of curvature that is steered at once, and per second (own: slow manoeuvres, no driver's model).
const AT_ONCE: f64 = 0.3;
const PER_SECOND: f64 = 2.0;

/// Acceleration asked per error of speed [1/s], and its growth [1/s^2] (own).
const PACE: f64 = 2.0;
const PACE_GROWS: f64 = 1.0;

/// How the rack is moved.
#[derive(Clone, Copy, Debug)]
enum Hands {
    /// Not at all.
    Held,
    /// Half a cosine over a time.
    Step { by: f64, over: f64 },
    /// At a rate [m/s], after the arms' time.
    Ramp { rate: f64, over: f64 },
    /// So that the car keeps this curvature [1/m].
    Path(f64),
}

/// How torque is put on.
#[derive(Clone, Copy, Debug)]
enum Feet {
    /// As at the start.
    Still,
    /// Engine off and brakes on, evenly over a time.
    Brakes { sum: f64, over: f64 },
    /// So that the speed follows this, by speed and rate.
    Pace { speed: f64, rate: f64 },
}

/// A driver for one manoeuvre.
#[derive(Clone, Copy, Debug)]
pub(super) struct Driver {
    hands: Hands,
    feet: Feet,
    /// Sum of torques at the start [Nm].
    before: f64,
    /// Rack at the start, its travel per road-wheel angle and that per curvature.
    rack: f64,
    per_curvature: f64,
    most_rack: f64,
    /// Mass times radius: torque per acceleration.
    lever: f64,
    /// Times at which something sets in or ends [s].
    pub corners: [f64; 2],
}

impl Driver {
    /// The driver, and the car as it runs before. `Steady` is where the manoeuvre starts.
    pub fn new(runner: &mut Runner<'_, '_>, manoeuvre: &Manoeuvre) -> Result<(Self, Steady), MotionError> {
        let base = runner.wheelbase();
        let gain = runner.rack_per_angle();
        let mut driver = Self {
            hands: Hands::Held,
            feet: Feet::Still,
            before: 0.0,
            rack: 0.0,
            per_curvature: gain * base,
            most_rack: runner.most_rack,
            lever: runner.mass * (runner.axles[0].free_radius + runner.axles[1].free_radius) / 2.0,
            corners: [0.0; 2],
        };
        let start = match manoeuvre {
            Manoeuvre::StraightStop(m) => {
                driver.brakes(runner, m.speed, m.deceleration, m.rise_time)?;
                driver.hands = Hands::Path(0.0);
                runner.steady(&Demand { speed: m.speed, ..Demand::default() })?
            }
            Manoeuvre::BrakingInTurn(m) => {
                driver.brakes(runner, m.speed, m.deceleration, m.rise_time)?;
                runner.steady(&Demand { speed: m.speed, across: m.across, along: 0.0 })?
            }
            Manoeuvre::StepSteer(m) => {
                positive("rise time of the steering", m.rise_time)?;
                let turn = runner.steady(&Demand { speed: m.speed, across: m.across, along: 0.0 })?;
                let start = runner.steady(&Demand { speed: m.speed, ..Demand::default() })?;
                driver.hands = Hands::Step { by: turn.rack - start.rack, over: m.rise_time };
                driver.corners[0] = m.rise_time;
                start
            }
            Manoeuvre::SteadyTurn(SteadyTurn::Radius { radius, speed, rate }) => {
                let size = within("radius", radius.abs(), 5.0, 1e4)?;
                not_negative("rate of speed", *rate)?;
                driver.hands = Hands::Path(size.recip().copysign(*radius));
                driver.feet = Feet::Pace { speed: *speed, rate: *rate };
                runner.steady(&Demand { speed: *speed, across: speed * speed / radius, along: 0.0 })?
            }
            Manoeuvre::SteadyTurn(SteadyTurn::Speed { speed, rate }) => {
                within("rate of the road-wheel angle", *rate, -1.0, 1.0)?;
                if gain == 0.0 {
                    return Err(MotionError::NotSteered { angle_deg: 1.0 });
                }
                driver.hands = Hands::Ramp { rate: rate * gain, over: 0.2 };
                driver.corners[0] = 0.2;
                driver.feet = Feet::Pace { speed: *speed, rate: 0.0 };
                runner.steady(&Demand { speed: *speed, ..Demand::default() })?
            }
        };
        (driver.before, driver.rack) = (start.torque, start.rack);
        Ok((driver, start))
    }

    fn brakes(
        &mut self,
        runner: &mut Runner<'_, '_>,
        speed: f64,
        deceleration: f64,
        over: f64,
    ) -> Result<(), MotionError> {
        let most = 50.0;
        let deceleration = positive("deceleration", within("deceleration", deceleration, 0.0, most)?)?;
        let over = within("rise time of the brakes", over, 0.0, 10.0)?;
        let sum = runner.steady(&Demand { speed, along: -deceleration, across: 0.0 })?.torque;
        if sum >= 0.0 {
            // The air alone slows the car more.
            return Err(VehicleError::NoBrakeForce.into());
        }
        self.feet = Feet::Brakes { sum, over };
        self.corners[1] = over;
        Ok(())
    }

    /// Sets what a manoeuvre ends in exactly: rounding would leave the rack creeping.
    pub fn settle(&self, time: f64, y: &mut State) {
        if let Hands::Step { by, over } = self.hands
            && time == over
        {
            (y[at::RACK], y[at::RACK_SPEED]) = (self.rack + by, 0.0);
        }
    }

    /// What is done at a time and state.
    #[inline]
    pub fn inputs(&self, runner: &Runner<'_, '_>, time: f64, y: &State) -> Inputs {
        let speed = y[at::SPEED];
        let (mut inputs, pace) = match self.feet {
            Feet::Still => (runner.torques(self.before), 0.0),
            Feet::Brakes { sum, over } => {
                let share = if time >= over { 1.0 } else { time / over };
                let mut inputs = runner.torques(sum * share);
                inputs.drive = runner.torques(self.before.max(0.0) * (1.0 - share)).drive;
                (inputs, 0.0)
            }
            Feet::Pace { speed: from, rate } => {
                let slow = from + rate * time - speed;
                let asked = rate + PACE * slow + PACE_GROWS * y[at::PACE];
                let sum = self.before + self.lever * asked;
                (runner.torques(sum), slow)
            }
        };
        let mut path = 0.0;
        inputs.rack = match self.hands {
            Hands::Held => 0.0,
            Hands::Step { by, over } if time < over => {
                let turn = std::f64::consts::PI / over;
                by / 2.0 * turn * turn * (turn * time).cos()
            }
            Hands::Step { .. } => 0.0,
            Hands::Ramp { rate, over } => {
                if time < over {
                    rate / over
                } else {
                    0.0
                }
            }
            Hands::Path(curvature) => {
                let across = y[at::SPEED + 1] + y[at::TURN + 2] * runner.centre.x;
                let wide = curvature - y[at::TURN + 2] / speed.hypot(across).max(1.0);
                let asked = self.rack + self.per_curvature * (AT_ONCE * wide + PER_SECOND * y[at::PATH]);
                let reached = asked.clamp(-self.most_rack, self.most_rack);
                // A rack at its end adds up no more.
                if asked == reached {
                    path = wide;
                }
                ARMS * ARMS * (reached - y[at::RACK]) - 2.0 * ARMS * y[at::RACK_SPEED]
            }
        };
        (inputs.path, inputs.pace) = (path, pace);
        inputs
    }
}
