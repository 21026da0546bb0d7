//! From the start to the end: the motion over time, sampled.

use super::MotionError;
use super::control::Driver;
use super::manoeuvre::Manoeuvre;
use super::model::{Look, Runner, State, at};
use super::steady::SLOWEST;
use super::summary::{Limit, Summary, summarise};
use crate::error::{positive, within};
use crate::pedal::integrate;
use crate::platform::Attitude;

/// The car at one time: all that a drawing from above and from the side needs. Wheels in the order front left, front
/// right, rear left, rear right.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sample {
    /// Since the start [s].
    pub time: f64,
    /// Place of the body's origin (under the middle of the front axle) on the road [m]; the start is at zero, heading
    /// along x, y to the left.
    pub place: [f64; 2],
    /// Place of the centre of gravity over the road [m].
    pub centre: [f64; 2],
    /// Heading [rad], to the left positive.
    pub yaw: f64,
    /// Speed of the centre of gravity [m/s].
    pub speed: f64,
    /// Side-slip angle at the centre of gravity [rad]: its velocity against the heading, to the left positive.
    pub side_slip: f64,
    /// Yaw rate [rad/s].
    pub yaw_rate: f64,
    /// Acceleration of the centre of gravity along and across the heading, on the road [m/s^2].
    pub along: f64,
    /// See [`Self::along`].
    pub across: f64,
    /// Attitude of the body.
    pub attitude: Attitude,
    /// Travel of each wheel [m], jounce positive.
    pub travel: [f64; 4],
    /// Load of each tyre [N].
    pub load: [f64; 4],
    /// Force of the road along each wheel's heading and across it [N].
    pub force: [[f64; 2]; 4],
    /// Slip along as it has built up [-], negative under the brakes.
    pub kappa: [f64; 4],
    /// Slip angle as it has built up [rad].
    pub alpha: [f64; 4],
    /// Heading of each wheel against the body [rad], to the left positive.
    pub heading: [f64; 4],
    /// Camber of each wheel against the road [rad], top out positive.
    pub camber: [f64; 4],
    /// Turning speed of each wheel [rad/s].
    pub spin: [f64; 4],
    /// Mean heading of the front wheels [rad].
    pub steer: f64,
    /// Travel of the rack [m].
    pub rack: f64,
    /// Brake torque of each axle [Nm], both wheels.
    pub brake: [f64; 2],
    /// Drive torque of each axle [Nm], both wheels.
    pub drive: [f64; 2],
}

/// What befell the wheels on the way, in the order of [`Sample`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Flags {
    /// The wheel locked: it turned slower than a twentieth of rolling.
    pub locked: [bool; 4],
    /// It left the road.
    pub left_road: [bool; 4],
    /// It moved farther than its linkage could be followed: what comes after is an extrapolation.
    pub beyond: [bool; 4],
    /// Its tyre went outside the loads for which it was given.
    pub outside_load: [bool; 4],
    /// The rack went beyond its greatest travel.
    pub rack_beyond: bool,
}

/// A manoeuvre followed over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// At equal times, the first at the start.
    pub samples: Vec<Sample>,
    /// What it comes to, by its standard.
    pub summary: Summary,
    /// What befell the wheels.
    pub flags: Flags,
    /// Steps that the integration took.
    pub steps: usize,
    /// Greatest fault of the energy balance, as a share of the kinetic energy at the start [-]: a check of the
    /// computation with every run.
    pub energy_error: f64,
}

/// Longest run [s].
pub const LONGEST_RUN: f64 = 200.0;

/// A wheel that turns slower than this share of rolling is locked [-].
const LOCKED: f64 = 0.05;

/// Side-slip angle at which a run ends: the car has spun [rad].
pub const SPUN: f64 = 1.0;

/// Roll at which a run ends: the car falls over [rad].
pub const TIPPED: f64 = 0.5;

/// Relative tolerance of a step, against the state or its scale, whichever is greater; a halving of it moves loads by
/// less than a newton.
const TOLERANCE: f64 = 1e-5;

/// Sizes below which a state needs no relative accuracy.
#[rustfmt::skip]
const SCALE: State = [
    10.0, 10.0, 1.0, 0.05, 0.05, 0.05, // place, yaw, rise, pitch, roll
    0.05, 0.05, 0.05, 0.05, // travels
    10.0, 10.0, 1.0, 1.0, 1.0, 1.0, // velocity, turning
    0.5, 0.5, 0.5, 0.5, 30.0, 30.0, 30.0, 30.0, // rates, spins
    0.05, 0.05, 0.05, 0.05, 0.1, 0.1, 0.1, 0.1, // slips
    0.05, 0.5, 1e4, 1.0, 10.0, // rack, its speed, energy, what the driver adds up
];

/// First step and the least one [s].
const FIRST_STEP: f64 = 1e-3;
const LEAST_STEP: f64 = 1e-9;

/// Steps at most a second of the run, where a common car takes a hundred: an explicit method would crawl on a stiffer
/// one.
const MOST_STEPS: f64 = 2e4;

impl Runner<'_, '_> {
    /// Drives a manoeuvre for a time [s] and samples it every so often [s]. The run ends before where the car is slower
    /// than 2 m/s, has spun, or falls over.
    ///
    /// # Errors
    /// Figures that no manoeuvre has; a start that cannot be; a motion that cannot be followed.
    pub fn run(&mut self, manoeuvre: &Manoeuvre, time: f64, every: f64) -> Result<Run, MotionError> {
        self.drive(manoeuvre, (time, every), None)
    }

    /// As [`Self::run`] with steps of one length [s], for tests of convergence: no error is controlled.
    ///
    /// # Errors
    /// As [`Self::run`].
    pub fn run_in_steps(
        &mut self,
        manoeuvre: &Manoeuvre,
        time: f64,
        every: f64,
        step: f64,
    ) -> Result<Run, MotionError> {
        within("step", step, 1e-5, 0.1)?;
        self.drive(manoeuvre, (time, every), Some(step))
    }

    fn drive(
        &mut self,
        manoeuvre: &Manoeuvre,
        (time, every): (f64, f64),
        fixed: Option<f64>,
    ) -> Result<Run, MotionError> {
        let every = within("time between samples", positive("time between samples", every)?, 1e-4, 10.0)?;
        let time = within("time", time, every, LONGEST_RUN)?;
        let (driver, start) = Driver::new(self, manoeuvre)?;
        let mut y = start.state;
        let runner = &*self;
        let mut near = runner.near;
        let mut look = runner.look(&y, &driver.inputs(runner, 0.0, &y), &mut near);
        let energy = look.energy;
        let kinetic = 0.5 * runner.mass * (look.speed[0].powi(2) + look.speed[1].powi(2));
        let count = (time / every + 1e-9).floor() as usize + 1;
        let mut samples = Vec::with_capacity(count);
        samples.push(runner.sample(0.0, &y, &look, &driver));
        let mut flags = Flags::default();
        let (mut t, mut h, mut steps, mut wrong) = (0.0, fixed.unwrap_or(FIRST_STEP), 0usize, 0.0f64);
        let most = (MOST_STEPS * time.max(1.0)) as usize;
        while samples.len() < count {
            if h < LEAST_STEP || steps > most {
                return Err(MotionError::Lost { time: t });
            }
            // What the driver does has a corner where something ends: a step ends there too.
            let corner = driver.corners.into_iter().filter(|c| *c > t).fold(f64::INFINITY, f64::min);
            let end = if t + h * (1.0 + 1e-9) >= corner { corner } else { t + h };
            let length = end - t;
            let mut last = look;
            let f = |time: f64, y: &State| {
                // Up to a corner the driver does what he did before it: seen from behind it, the step's last looks would
                // spoil its order.
                let time = if time >= corner { corner.next_down() } else { time };
                last = runner.look(y, &driver.inputs(runner, time, y), &mut near);
                last.rates
            };
            let step = integrate::step(f, (t, &y, &look.rates), length, &SCALE, TOLERANCE);
            steps += 1;
            if fixed.is_none() && (step.error.is_nan() || step.error > 1.0) {
                h = length * step.factor().min(0.9);
                continue;
            }
            while samples.len() < count {
                let when = every * samples.len() as f64;
                if when > end {
                    break;
                }
                let state = step.within((when - t) / length);
                let look = runner.look(&state, &driver.inputs(runner, when, &state), &mut near);
                samples.push(runner.sample(when, &state, &look, &driver));
            }
            (t, y) = (end, step.y);
            look = last;
            if end == corner {
                driver.settle(end, &mut y);
                look = runner.look(&y, &driver.inputs(runner, end, &y), &mut near);
            }
            if fixed.is_none() {
                h = (length * step.factor()).max(h.min(length));
            }
            wrong = wrong.max((look.energy + y[at::LOST] - energy).abs());
            if !wrong.is_finite() {
                return Err(MotionError::Lost { time: t });
            }
            runner.mark(&y, &look, &mut flags);
            let spun = look.speed[1].atan2(look.speed[0]).abs() > SPUN;
            if look.speed[0] < SLOWEST || spun || y[at::ROLL].abs() > TIPPED {
                break;
            }
        }
        // The last step may have gone on below what is followed.
        let spent =
            |s: &Sample| s.speed < SLOWEST || s.side_slip.abs() > SPUN || s.attitude.roll.abs() > TIPPED;
        let ends = samples.iter().position(spent).unwrap_or(samples.len());
        samples.truncate(ends.max(1));
        let end = look.speed[1].atan2(look.speed[0]).abs() > SPUN;
        let fell = y[at::ROLL].abs() > TIPPED;
        let ended = if fell {
            Limit::Tips
        } else if end {
            Limit::Spins
        } else {
            Limit::None
        };
        let summary = summarise(runner, manoeuvre, &samples, ended);
        Ok(Run { samples, summary, flags, steps, energy_error: wrong / kinetic })
    }

    fn mark(&self, y: &State, look: &Look, flags: &mut Flags) {
        for (i, wheel) in look.wheels.iter().enumerate() {
            let axle = &self.axles[i / 2];
            flags.locked[i] |= y[at::SPIN + i] * wheel.rolling < LOCKED * wheel.speed[0];
            flags.left_road[i] |= wheel.load <= 0.0;
            flags.outside_load[i] |= axle.tyre.outside_load(wheel.load);
            let [lo, hi] = axle.table.range();
            flags.beyond[i] |= !(lo <= y[at::TRAVEL + i] && y[at::TRAVEL + i] <= hi);
        }
        flags.rack_beyond |= y[at::RACK].abs() > self.most_rack * 1.001 + 1e-9;
    }

    fn sample(&self, time: f64, y: &State, look: &Look, driver: &Driver) -> Sample {
        let inputs = driver.inputs(self, time, y);
        let attitude = Attitude { rise: y[at::RISE], pitch: y[at::PITCH], roll: y[at::ROLL] };
        let road = attitude.road();
        let (sin, cos) = y[at::YAW].sin_cos();
        let ahead = self.centre.dot(&road.along);
        let left = self.centre.dot(&road.across);
        let four = |from: usize| [y[from], y[from + 1], y[from + 2], y[from + 3]];
        let heading = look.wheels.map(|w| w.heading);
        let pair = |torque: [f64; 4]| [torque[0] + torque[1], torque[2] + torque[3]];
        let place = [y[at::PLACE], y[at::PLACE + 1]];
        Sample {
            time,
            place,
            centre: [place[0] + cos * ahead - sin * left, place[1] + sin * ahead + cos * left],
            yaw: y[at::YAW],
            speed: look.speed[0].hypot(look.speed[1]),
            side_slip: look.speed[1].atan2(look.speed[0]),
            yaw_rate: look.yaw_rate,
            along: look.acceleration[0],
            across: look.acceleration[1],
            attitude,
            travel: four(at::TRAVEL),
            load: look.wheels.map(|w| w.load),
            force: look.wheels.map(|w| w.force),
            kappa: four(at::KAPPA),
            alpha: four(at::ALPHA).map(f64::atan),
            heading,
            camber: look.wheels.map(|w| w.camber),
            spin: four(at::SPIN),
            steer: (heading[0] + heading[1]) / 2.0,
            rack: y[at::RACK],
            brake: pair(inputs.brake),
            drive: pair(inputs.drive),
        }
    }
}
