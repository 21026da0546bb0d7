//! From the pedal to the end: the motion over time, sampled, and what it comes to.

use super::PedalError;
use super::integrate;
use super::model::{Look, State, Stopper, at};
use crate::error::{not_negative, within};
use crate::platform::Attitude;

/// How the brakes are put on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Speed before [m/s].
    pub speed: f64,
    /// Brake torque at one front and one rear wheel in the end [Nm].
    pub torque: [f64; 2],
    /// Time in which the torques rise from zero, evenly [s].
    pub rise_time: f64,
    /// Time to follow the car for [s]; the run ends before where the car is slower than `SLOWEST`.
    pub duration: f64,
}

/// The car at one time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sample {
    /// Since the pedal was touched [s].
    pub time: f64,
    /// Speed [m/s].
    pub speed: f64,
    /// Deceleration [m/s^2].
    pub deceleration: f64,
    /// Load of the front and the rear axle [N].
    pub load: [f64; 2],
    /// Pitch [rad], nose down positive.
    pub pitch: f64,
    /// Rise of the body at each axle [m].
    pub rise: [f64; 2],
    /// Travel of the wheels of each axle [m], jounce positive.
    pub travel: [f64; 2],
    /// Its rate [m/s].
    pub rate: [f64; 2],
    /// Braking force of each axle on the road [N].
    pub brake: [f64; 2],
    /// Slip of each axle as it has built up [-], negative under the brakes.
    pub slip: [f64; 2],
    /// Springs and stops of one wheel, by its travel [N].
    pub spring: [f64; 2],
    /// Dampers of one wheel, by its travel [N], positive in jounce.
    pub damper: [f64; 2],
}

/// What a stop comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Summary {
    /// Load of the rear axle before [N].
    pub rear_before: f64,
    /// Least load of the rear axle [N].
    pub rear_least: f64,
    /// When it stands there [s].
    pub least_at: f64,
    /// Load of the rear axle in the end [N]: mean of the last tenth of the run.
    pub rear_final: f64,
    /// How far it dips below that [N]: final less least.
    pub dip: f64,
    /// From when on the rear load stays within 5 % of its whole change about the final one [s]; `None` if it does not
    /// or does not change.
    pub settled: Option<f64>,
    /// Roughness of the rear load once the torque is full [-]: root mean square about its moving mean over 0.1 s, over
    /// the final load. What the rear tyres feel of the wheels' own swing.
    pub roughness: f64,
    /// Whether a wheel of the front, rear axle locked.
    pub locked: [bool; 2],
    /// Whether the wheels of the front, rear axle left the road.
    pub left_road: [bool; 2],
    /// Whether an axle moved farther than its linkage could be followed: what comes after is an extrapolation.
    pub beyond: [bool; 2],
}

/// A stop followed over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Stopped {
    /// Every `EVERY` seconds.
    pub samples: Vec<Sample>,
    /// What it comes to.
    pub summary: Summary,
    /// Steps that the integration took.
    pub steps: usize,
    /// Greatest fault of the energy balance, as a share of the energy that the brakes, tyres, dampers and the air took
    /// [-]: a check of the computation with every run.
    pub energy_error: f64,
}

/// Time between samples [s].
pub const EVERY: f64 = 0.005;

/// Speed at which a run ends [m/s]: below it slip has little meaning.
pub const SLOWEST: f64 = 3.0;

/// Longest run [s].
pub const LONGEST_RUN: f64 = 20.0;

/// Share of the change of the rear load within which it has settled [-].
pub const SETTLED: f64 = 0.05;

/// Width of the moving mean of the roughness [s]: one swing of a wheel.
pub const WINDOW: f64 = 0.1;

/// Rear load changes below this share of itself are no change [-].
const NO_CHANGE: f64 = 1e-3;

/// A wheel that turns slower than this share of rolling is locked [-].
const LOCKED: f64 = 0.05;

/// Relative tolerance of a step, against the state or its scale, whichever is greater; a halving of it moves loads by
/// less than 0.5 N.
const TOLERANCE: f64 = 1e-5;

/// Sizes below which a state needs no relative accuracy: metres, radians, metres a second, slip, joules.
const SCALE: State = [0.05, 0.05, 0.05, 0.05, 10.0, 0.5, 0.5, 0.5, 0.5, 30.0, 30.0, 0.05, 0.05, 1e4, 10.0];

/// First step and the least one [s].
const FIRST_STEP: f64 = 1e-3;
const LEAST_STEP: f64 = 1e-9;

/// Steps at most a second of the run, where a common car takes a hundred: an explicit method would crawl on a stiffer
/// one, and seconds would pass.
const MOST_STEPS: f64 = 2e4;

impl Stopper<'_> {
    /// Follows the car from rolling freely at a speed through the pedal.
    ///
    /// # Errors
    /// Figures that no stop has; a motion that cannot be followed.
    pub fn run(&self, press: &Press) -> Result<Stopped, PedalError> {
        within("duration", press.duration, EVERY, LONGEST_RUN)?;
        within(
            "rise time of the brakes",
            not_negative("rise time of the brakes", press.rise_time)?,
            0.0,
            10.0,
        )?;
        for t in press.torque {
            within("brake torque at one wheel", t, 0.0, super::steady::MOST_TORQUE)?;
        }
        let torque = |t: f64| {
            let share = if t >= press.rise_time { 1.0 } else { t / press.rise_time };
            press.torque.map(|full| full * share)
        };
        let mut y = self.steady_state(press.speed, [0.0; 2])?;
        let mut look = self.look(&y, torque(0.0));
        let before = self.look(&y, [0.0; 2]);
        let start = before.energy;
        let count = (press.duration / EVERY + 1e-9).floor() as usize + 1;
        let mut samples = Vec::with_capacity(count);
        samples.push(self.sample(0.0, &y, &before));
        let mut flags = Summary::default();
        let (mut t, mut h, mut steps, mut wrong) = (0.0, FIRST_STEP, 0usize, 0.0f64);
        let most = (MOST_STEPS * press.duration.max(1.0)) as usize;
        while samples.len() < count && y[at::SPEED] > SLOWEST {
            if h < LEAST_STEP || steps > most {
                return Err(PedalError::Lost { time: t });
            }
            // The end of the rise is a corner of the torque: a step ends there.
            let corner = press.rise_time - t;
            let length = if corner > LEAST_STEP { h.min(corner) } else { h };
            // The last look of a step is at its end.
            let mut last = look;
            let f = |time: f64, y: &State| {
                last = self.look(y, torque(time));
                last.rates
            };
            let step = integrate::step(f, (t, &y, &look.rates), length, &SCALE, TOLERANCE);
            steps += 1;
            if step.error.is_nan() || step.error > 1.0 {
                h = length * step.factor().min(0.9);
                continue;
            }
            let end = t + length;
            while samples.len() < count {
                let time = EVERY * samples.len() as f64;
                if time > end {
                    break;
                }
                let state = step.within((time - t) / length);
                if state[at::SPEED] <= SLOWEST {
                    break;
                }
                let look = self.look(&state, torque(time));
                samples.push(self.sample(time, &state, &look));
            }
            (t, y) = (end, step.y);
            look = last;
            h = (length * step.factor()).max(h.min(length));
            wrong = wrong.max((look.energy + y[at::LOST] - start).abs());
            self.mark(&y, &look, &mut flags);
        }
        let summary = summarise(&samples, press.rise_time, flags);
        Ok(Stopped {
            samples,
            summary,
            steps,
            energy_error: wrong / y[at::LOST].abs().max(f64::MIN_POSITIVE),
        })
    }

    fn mark(&self, y: &State, look: &Look, flags: &mut Summary) {
        for i in 0..2 {
            let wheel = &look.wheels[i];
            flags.locked[i] |= y[at::SPIN + i] * wheel.rolling < LOCKED * y[at::SPEED];
            flags.left_road[i] |= wheel.load <= 0.0;
            let [lo, hi] = self.axles[i].table.range();
            flags.beyond[i] |= !(lo <= y[at::TRAVEL + i] && y[at::TRAVEL + i] <= hi);
        }
    }

    fn sample(&self, time: f64, y: &State, look: &Look) -> Sample {
        let attitude = Attitude { rise: y[at::RISE], pitch: y[at::PITCH], roll: 0.0 };
        Sample {
            time,
            speed: y[at::SPEED],
            deceleration: -look.rates[at::SPEED],
            load: look.wheels.map(|w| 2.0 * w.load),
            pitch: attitude.pitch,
            rise: self.stands.map(|s| attitude.rise_at(s)),
            travel: [y[at::TRAVEL], y[at::TRAVEL + 1]],
            rate: [y[at::RATE], y[at::RATE + 1]],
            brake: look.wheels.map(|w| -2.0 * w.along),
            slip: [y[at::SLIP], y[at::SLIP + 1]],
            spring: look.wheels.map(|w| w.spring),
            damper: look.wheels.map(|w| w.damper),
        }
    }
}

fn summarise(samples: &[Sample], rise_time: f64, flags: Summary) -> Summary {
    let Some(first) = samples.first() else { return flags };
    let rear = |s: &Sample| s.load[1];
    let mean = |part: &[Sample]| part.iter().map(rear).sum::<f64>() / part.len().max(1) as f64;
    let rear_final = mean(&samples[samples.len() - samples.len().div_ceil(10)..]);
    let least = samples.iter().min_by(|a, b| rear(a).total_cmp(&rear(b))).unwrap_or(first);
    let change = (rear_final - rear(first)).abs();
    let astray = samples.iter().rposition(|s| (rear(s) - rear_final).abs() > SETTLED * change);
    let settled = match astray {
        _ if change < NO_CHANGE * rear(first) => None,
        None => Some(0.0),
        Some(i) => samples.get(i + 1).map(|s| s.time),
    };
    let half = (WINDOW / EVERY / 2.0).round() as usize;
    let full = samples.iter().position(|s| s.time >= rise_time).unwrap_or(samples.len()) + half;
    let mut squares = (0.0, 0usize);
    for i in full..samples.len().saturating_sub(half) {
        squares.0 += (rear(&samples[i]) - mean(&samples[i - half..=i + half])).powi(2);
        squares.1 += 1;
    }
    Summary {
        rear_before: rear(first),
        rear_least: rear(least),
        least_at: least.time,
        rear_final,
        dip: rear_final - rear(least),
        settled,
        roughness: (squares.0 / squares.1.max(1) as f64).sqrt() / rear_final.abs().max(1.0),
        ..flags
    }
}
