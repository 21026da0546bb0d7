//! What a run comes to, in the figures of its standard (remembered; none could be read).

use super::manoeuvre::{Manoeuvre, SteadyTurn};
use super::model::Runner;
use super::run::Sample;

/// What a manoeuvre comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Summary {
    /// A straight stop.
    Stop(Stop),
    /// Brakes in a turn.
    BrakedTurn(BrakedTurn),
    /// A step of the steering.
    Response(Response),
    /// A slowly growing turn.
    Turn(Turn),
}

/// A straight stop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stop {
    /// Way until the end of the run [m], and speed there [m/s].
    pub way: f64,
    /// See [`Self::way`].
    pub speed: f64,
    /// Mean deceleration by speed and way, `(v0^2 - v1^2)/(2 s)` [m/s^2].
    pub mean: f64,
    /// Greatest deceleration [m/s^2].
    pub greatest: f64,
    /// Greatest pitch, nose down [rad].
    pub pitch: f64,
    /// Least load of the rear axle [N].
    pub rear_least: f64,
    /// How far the centre of gravity left the straight at most [m].
    pub aside: f64,
}

/// Brakes in a turn (ISO 7975, remembered): what the first second brings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BrakedTurn {
    /// Yaw rate one second after the brakes, over that of the first circle at the speed then, `v/R` [-]. Above one the
    /// car turns in, below it goes wide.
    pub yaw_ratio: f64,
    /// Greatest such ratio within the second [-].
    pub yaw_ratio_most: f64,
    /// Change of the side-slip angle after one second, and the greatest one within it [rad]; the sign is that of a turn
    /// to the left: negative where the tail comes out.
    pub side_slip: f64,
    /// See [`Self::side_slip`].
    pub side_slip_most: f64,
    /// Mean deceleration over the second [m/s^2].
    pub deceleration: f64,
    /// How far the centre of gravity is outside the first circle after one second [m]; negative inside.
    pub outside: f64,
    /// Time that the run lasted, where less than a second [s]; the figures are those of its end.
    pub at: f64,
}

/// A step of the steering (ISO 7401, remembered). Times are counted from where the steering stands half way.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Response {
    /// Steady yaw rate [rad/s], lateral acceleration [m/s^2], side-slip angle [rad]: means over the last fifth.
    pub yaw_rate: f64,
    /// See [`Self::yaw_rate`].
    pub across: f64,
    /// See [`Self::yaw_rate`].
    pub side_slip: f64,
    /// Yaw rate per road-wheel angle [1/s].
    pub gain: f64,
    /// Time until nine tenths of the steady yaw rate [s]; `None` where it is not reached.
    pub rise: Option<f64>,
    /// The same of lateral acceleration [s].
    pub across_rise: Option<f64>,
    /// Time until the greatest yaw rate [s].
    pub peak: f64,
    /// Greatest yaw rate over the steady one, less one [-].
    pub overshoot: f64,
    /// Steady side-slip angle times the peak's time [rad s]: the figure TB.
    pub tb: f64,
}

/// What ended the growth of lateral acceleration.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Limit {
    /// Nothing: the run ended before.
    #[default]
    None,
    /// The front wheels slide: more steering or speed gives no more.
    Wide,
    /// The car spins.
    Spins,
    /// It falls over.
    Tips,
}

/// A slowly growing turn (ISO 4138, remembered). Gradients are slopes by lateral acceleration, by least squares between
/// 1 and 4 m/s^2.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Turn {
    /// Understeer gradient [rad/(m/s^2)]: road-wheel angle beyond `L/R`; positive where the car needs more.
    pub understeer: Option<f64>,
    /// Roll gradient [rad/(m/s^2)].
    pub roll: Option<f64>,
    /// Side-slip gradient [rad/(m/s^2)].
    pub side_slip: Option<f64>,
    /// Greatest lateral acceleration kept for half a second [m/s^2], and what ended it.
    pub greatest: f64,
    /// See [`Self::greatest`].
    pub limit: Limit,
}

/// The standard's second.
const SECOND: f64 = 1.0;

/// Lateral accelerations between which gradients are taken [m/s^2].
const GRADIENT: [f64; 2] = [1.0, 4.0];

/// Share by which the curvature falls behind that asked for, or the growth of lateral acceleration behind that of a
/// linear car, where the car has gone wide (own).
const WIDE: f64 = 0.1;

/// How long a lateral acceleration must be kept to count [s] (own).
const KEPT: f64 = 0.5;

/// Samples that a slope needs at least.
const LEAST_SAMPLES: f64 = 4.0;

pub(super) fn summarise(
    runner: &Runner<'_, '_>,
    manoeuvre: &Manoeuvre,
    samples: &[Sample],
    ended: Limit,
) -> Summary {
    let none = Sample::default();
    let first = samples.first().unwrap_or(&none);
    match manoeuvre {
        Manoeuvre::StraightStop(_) => Summary::Stop(stop(first, samples)),
        Manoeuvre::BrakingInTurn(_) => Summary::BrakedTurn(braked_turn(first, samples)),
        Manoeuvre::StepSteer(_) => Summary::Response(response(first, samples)),
        Manoeuvre::SteadyTurn(m) => Summary::Turn(turn(runner, m, samples, ended)),
    }
}

fn most(samples: &[Sample], of: impl Fn(&Sample) -> f64) -> f64 {
    samples.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
}

fn stop(first: &Sample, samples: &[Sample]) -> Stop {
    let last = samples.last().unwrap_or(first);
    let way = (last.centre[0] - first.centre[0]).hypot(last.centre[1] - first.centre[1]);
    Stop {
        way,
        speed: last.speed,
        mean: if way > 0.0 { (first.speed.powi(2) - last.speed.powi(2)) / (2.0 * way) } else { 0.0 },
        greatest: most(samples, |s| -s.along),
        pitch: most(samples, |s| s.attitude.pitch),
        rear_least: -most(samples, |s| -(s.load[2] + s.load[3])),
        aside: most(samples, |s| (s.centre[1] - first.centre[1]).abs()),
    }
}

fn braked_turn(first: &Sample, samples: &[Sample]) -> BrakedTurn {
    let within: Vec<&Sample> = samples.iter().take_while(|s| s.time <= SECOND + 1e-9).collect();
    let last = within.last().copied().unwrap_or(first);
    let left = first.yaw_rate.signum();
    let radius = first.speed / first.yaw_rate.abs();
    let ratio = |s: &Sample| s.yaw_rate * left * radius / s.speed;
    let slip = |s: &Sample| (s.side_slip - first.side_slip) * left;
    // The first circle's middle: a radius to the inside of the velocity.
    let toward = first.yaw + first.side_slip + left * std::f64::consts::FRAC_PI_2;
    let middle = [first.centre[0] + radius * toward.cos(), first.centre[1] + radius * toward.sin()];
    let strongest = |f: &dyn Fn(&Sample) -> f64| {
        within.iter().map(|s| f(s)).fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a })
    };
    BrakedTurn {
        yaw_ratio: ratio(last),
        yaw_ratio_most: within.iter().map(|s| ratio(s)).fold(f64::NEG_INFINITY, f64::max),
        side_slip: slip(last),
        side_slip_most: strongest(&slip),
        deceleration: if last.time > 0.0 { (first.speed - last.speed) / last.time } else { 0.0 },
        outside: (last.centre[0] - middle[0]).hypot(last.centre[1] - middle[1]) - radius,
        at: last.time,
    }
}

fn response(first: &Sample, samples: &[Sample]) -> Response {
    let Some(last) = samples.last() else { return Response::default() };
    let tail = &samples[samples.len() - samples.len().div_ceil(5)..];
    let mean = |of: &dyn Fn(&Sample) -> f64| tail.iter().map(of).sum::<f64>() / tail.len().max(1) as f64;
    let (yaw_rate, across, side_slip) = (mean(&|s| s.yaw_rate), mean(&|s| s.across), mean(&|s| s.side_slip));
    // When a signal first reaches a level, between samples by a straight line.
    let reaches = |of: &dyn Fn(&Sample) -> f64, level: f64| {
        samples.windows(2).find_map(|pair| {
            let (a, b) = (of(&pair[0]), of(&pair[1]));
            (a < level && b >= level)
                .then(|| pair[0].time + (level - a) / (b - a) * (pair[1].time - pair[0].time))
        })
    };
    let turned = last.rack - first.rack;
    let half = reaches(&|s| (s.rack - first.rack) / turned, 0.5).unwrap_or(0.0);
    let rise = reaches(&|s| s.yaw_rate / yaw_rate, 0.9).map(|t| t - half);
    let across_rise = reaches(&|s| s.across / across, 0.9).map(|t| t - half);
    let top = samples.iter().max_by(|a, b| (a.yaw_rate / yaw_rate).total_cmp(&(b.yaw_rate / yaw_rate)));
    let top = top.unwrap_or(last);
    let peak = top.time - half;
    Response {
        yaw_rate,
        across,
        side_slip,
        gain: yaw_rate / mean(&|s| s.steer),
        rise,
        across_rise,
        peak,
        overshoot: (top.yaw_rate / yaw_rate - 1.0).max(0.0),
        tb: side_slip * peak,
    }
}

fn turn(runner: &Runner<'_, '_>, manoeuvre: &SteadyTurn, samples: &[Sample], ended: Limit) -> Turn {
    let left = samples.get(samples.len() / 2).map_or(1.0, |s| if s.yaw_rate < 0.0 { -1.0 } else { 1.0 });
    let base = runner.wheelbase();
    // Up to where the last gradient is taken for the first time: what a spin brings is none.
    let rising = samples.iter().position(|s| s.across * left > GRADIENT[1]).unwrap_or(samples.len());
    let part = || samples.iter().take(rising).filter(|s| s.across * left >= GRADIENT[0] && s.speed > 0.0);
    // Slope by least squares; a few samples at least.
    let slope = |of: &dyn Fn(&Sample) -> f64| {
        let n = part().count() as f64;
        let (x, y) = part().fold((0.0, 0.0), |(x, y), s| (x + s.across * left, y + of(s)));
        let (x, y) = (x / n, y / n);
        let (xx, xy) = part().fold((0.0, 0.0), |(xx, xy), s| {
            let d = s.across * left - x;
            (xx + d * d, xy + d * (of(s) - y))
        });
        (n >= LEAST_SAMPLES && xx > 0.0).then(|| xy / xx)
    };
    let every = samples.get(1).map_or(KEPT, |s| s.time);
    let window = ((KEPT / every).round() as usize).clamp(1, samples.len().max(1));
    let kept = |part: &[Sample]| part.iter().map(|s| s.across * left).fold(f64::INFINITY, f64::min);
    let greatest = samples.windows(window).map(kept).fold(0.0, f64::max);
    let wide = samples.last().is_some_and(|last| match manoeuvre {
        SteadyTurn::Radius { radius, .. } => {
            last.yaw_rate.abs() / last.speed.max(0.1) * radius.abs() < 1.0 - WIDE
        }
        // Half of the greatest steering was turned for the last few per cent.
        SteadyTurn::Speed { .. } => {
            samples.get(samples.len() / 2).is_some_and(|s| s.across * left > (1.0 - WIDE) * greatest)
        }
    });
    Turn {
        understeer: slope(&|s| (s.steer - base * s.yaw_rate / s.speed) * left),
        roll: slope(&|s| s.attitude.roll * left),
        side_slip: slope(&|s| s.side_slip * left),
        greatest,
        limit: if ended == Limit::None && wide { Limit::Wide } else { ended },
    }
}
