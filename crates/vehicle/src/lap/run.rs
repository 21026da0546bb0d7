//! The passes over the course.

use super::road::RoadAt;
use super::{Bound, Lap, Sample, Start};
use crate::limits::Limits;
use crate::venue::Course;

/// Rounds until a flying lap ends as it began; the second one already does, but for a car that needs more than a lap to
/// reach its speed.
const ROUNDS: usize = 4;

/// Agreement of the speeds at which a round is closed [m/s].
const CLOSED: f64 = 1e-6;

/// Speed below which a car that cannot go on stands still [m/s].
const STANDS: f64 = 0.05;

struct Road {
    at: RoadAt,
    limit: f64,
    crest: bool,
}

/// The car's state on its way: gear, and the time without drive that is left.
#[derive(Clone, Copy)]
struct Gear {
    now: usize,
    idle: f64,
}

/// Runs a car over a course.
pub fn run(car: &impl Limits, course: &Course, start: Start) -> Lap {
    let road: Vec<Road> = course
        .spots
        .iter()
        .map(|spot| {
            let at = RoadAt::new(spot);
            let (limit, crest) = at.limit(car);
            Road { at, limit, crest }
        })
        .collect();
    let closed = course.closed && start == Start::Flying;
    let back = backward(car, &road, course.step, closed);
    let first = match start {
        Start::Flying => back.first().copied().unwrap_or(0.0),
        Start::From(speed) => speed.min(back.first().copied().unwrap_or(0.0)),
    };
    let mut state = Gear { now: car.best_gear(first), idle: 0.0 };
    let mut speed = first;
    let mut lap = forward(car, &road, course, &back, &mut speed, &mut state, closed);
    if closed {
        for _ in 1..ROUNDS {
            let before = lap.samples.first().map_or(0.0, |s| s.speed);
            if (speed - before).abs() < CLOSED {
                break;
            }
            lap = forward(car, &road, course, &back, &mut speed, &mut state, closed);
        }
    }
    lap
}

/// The least acceleration that the car has at a place [m/s^2], gravity included.
#[inline]
fn slowest(car: &impl Limits, at: &RoadAt, speed: f64) -> f64 {
    let asked = at.asked(speed);
    RoadAt::at_load(&asked, speed, |v, a| car.braking(v, a, at.grip)) + at.along
}

/// Greatest speeds from which every later limit can still be met.
fn backward(car: &impl Limits, road: &[Road], step: f64, closed: bool) -> Vec<f64> {
    let n = road.len();
    let mut speed: Vec<f64> = road.iter().map(|r| r.limit).collect();
    // A closed course is gone twice round, so that what begins after the line is seen before it.
    let rounds = if closed { 2 * n } else { n.saturating_sub(1) };
    for k in 0..rounds {
        let to = if closed { (2 * n - k) % n } else { n - 1 - k };
        let from = if to == 0 { n - 1 } else { to - 1 };
        let (Some(here), Some(next)) = (road.get(from), road.get(to)) else { continue };
        let (Some(after), Some(limit)) = (speed.get(to).copied(), speed.get(from).copied()) else { continue };
        let a = slowest(car, &next.at, after);
        let square = after * after;
        let guess = (square - 2.0 * step * a).max(0.0).sqrt().min(here.limit);
        let b = slowest(car, &here.at, guess);
        let entry = (square - step * (a + b)).max(0.0).sqrt();
        if let Some(slot) = speed.get_mut(from) {
            *slot = limit.min(entry);
        }
    }
    speed
}

/// Greatest acceleration at a place [m/s^2], gravity included, and what bounds it.
#[inline]
fn fastest(car: &impl Limits, at: &RoadAt, speed: f64, gear: Gear) -> (f64, Bound) {
    let asked = at.asked(speed);
    let coast = RoadAt::at_load(&asked, speed, |v, a| car.coast(v, a, at.grip));
    if gear.idle > 0.0 {
        return (coast + at.along, Bound::Change);
    }
    let grip = RoadAt::at_load(&asked, speed, |v, a| car.traction(v, a, at.grip));
    let engine = match car.push(gear.now, speed) {
        Some(push) => coast + push,
        None => return (coast.min(grip) + at.along, Bound::Gearing),
    };
    if grip < engine { (grip + at.along, Bound::Traction) } else { (engine + at.along, Bound::Engine) }
}

fn forward(
    car: &impl Limits,
    road: &[Road],
    course: &Course,
    back: &[f64],
    speed: &mut f64,
    gear: &mut Gear,
    closed: bool,
) -> Lap {
    let n = road.len();
    let step = course.step;
    let mut samples = Vec::with_capacity(n);
    let (mut time, mut changes) = (0.0, 0);
    let (mut greatest, mut least) = (0.0f64, f64::INFINITY);
    let legs = if closed || course.closed { n } else { n - 1 };
    let sections = course.sections.len().max(1);
    let mut times = vec![0.0; sections];
    let mut section = 0;
    for (i, here) in road.iter().enumerate() {
        let v = *speed;
        greatest = greatest.max(v);
        least = least.min(v);
        let asked = here.at.asked(v);
        if i >= legs {
            let last = samples.last().map_or((0.0, Bound::Engine), |s: &Sample| (s.along, s.bound));
            samples.push(Sample {
                time,
                speed: v,
                along: last.0,
                across: asked.across,
                gear: gear.now,
                bound: last.1,
            });
            break;
        }
        let next = (i + 1) % n;
        let (Some(there), Some(most)) = (road.get(next), back.get(next).copied()) else { break };
        let (a, mut bound) = fastest(car, &here.at, v, *gear);
        let guess = (v * v + 2.0 * step * a).max(0.0).sqrt().min(there.limit);
        let (b, _) = fastest(car, &there.at, guess, *gear);
        let free = (v * v + step * (a + b)).max(STANDS * STANDS).sqrt();
        let after = free.min(most);
        let along = (after * after - v * v) / (2.0 * step);
        if after < free {
            bound = if most >= there.limit {
                if there.crest {
                    Bound::Crest
                } else if there.limit >= car.fastest() {
                    Bound::Gearing
                } else {
                    Bound::Corner
                }
            } else {
                let n = asked.load.max(super::LEAST_LOAD);
                car.held(v / n.sqrt(), asked.across.abs() / n, here.at.grip)
                    .map_or(Bound::Brakes, Bound::Driver)
            };
        }
        samples.push(Sample { time, speed: v, along, across: asked.across, gear: gear.now, bound });
        let took = 2.0 * step / (v + after).max(STANDS);
        time += took;
        let way = step * i as f64;
        while course.sections.get(section + 1).is_some_and(|s| s.from <= way + 0.5 * step) {
            section += 1;
        }
        if let Some(slot) = times.get_mut(section) {
            *slot += took;
        }
        gear.idle = (gear.idle - took).max(0.0);
        let braked = matches!(bound, Bound::Brakes | Bound::Driver(_) | Bound::Corner | Bound::Crest);
        change(car, gear, after, braked, &mut changes);
        *speed = after;
    }
    Lap { time, samples, sections: times, greatest, least, changes }
}

/// So much harder must another gear push before it is taken.
const WORTH: f64 = 1.03;

/// So far ahead of the speed the gear is chosen.
const AHEAD: f64 = 1.01;

/// So far below the end of a lower gear must the speed be before it is taken again without braking: a car loses a little
/// while it changes up, and would change back.
const AGAIN: f64 = 1.12;

/// Takes the gear that the next place wants. With the brakes on or lifted there is time enough for any; else one at a time,
/// without drive while it lasts.
fn change(car: &impl Limits, gear: &mut Gear, speed: f64, braked: bool, changes: &mut usize) {
    // A little ahead: at the very end of a gear the car would stay there.
    let best = if braked { car.best_gear(speed) } else { car.best_gear(AHEAD * speed) };
    if best == gear.now || gear.idle > 0.0 {
        return;
    }
    if braked {
        gear.now = best;
        return;
    }
    let push = |gear: usize| car.push(gear, speed);
    let now = car.push(gear.now, AHEAD * speed).and(push(gear.now));
    if best > gear.now {
        let next = push(gear.now + 1);
        if now.is_none() || next.zip(now).is_some_and(|(next, now)| next > WORTH * now) {
            gear.now += 1;
            gear.idle = car.shift();
            *changes += 1;
        }
    } else if car.push(best, AGAIN * speed).is_some()
        && push(best).zip(now).is_some_and(|(lower, now)| lower > WORTH * now)
    {
        gear.now = best;
        gear.idle = car.shift();
    }
}
