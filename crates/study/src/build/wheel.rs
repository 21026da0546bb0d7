//! Where a wheel stands under a load, and what springs, stops and the bar push with there.
//!
//! The wheel goes along its travel until the work of everything that acts on it is that of what carries it (virtual work):
//! `F . v_C + M . w + W . v = sum F_s MR`. The bar couples left and right: its force is found so that both wheels, each in
//! balance with it, twist it by just that force.

use linkage::Position;
use nalgebra::Vector3;
use suspension::{Measures, Mover, TorqueReaction};
use vehicle::GRAVITY;
use vehicle::platform::{Spring, Stop};

use super::case::{WheelLoad, reaction};
use crate::whole::WholeAxle;

/// Greatest travel that is looked at, each way [m]: no wheel of a car goes farther.
const FARTHEST: f64 = 0.15;

/// Steps in which a balance is looked for [m].
const STEP: f64 = 0.01;

/// Travel found to this [m]: what a spring of 100 N/mm then has wrong is 1e-4 N, and the spring that holds carries that.
const SETTLED: f64 = 1e-9;

/// Rounds for a wheel's travel and for the bar's force; they take four to eight.
const ROUNDS: usize = 40;

/// Steps of the secant method before the balance is looked for step by step: a stop may be met on the way.
const QUICK: usize = 12;

/// One wheel of an axle, seen as the left one.
pub(super) struct Wheel<'a> {
    axle: &'a WholeAxle,
    mover: Mover<'a>,
    /// Length of each element at ride height [m].
    rest: Vec<f64>,
    /// Springs with their force at ride height [N].
    springs: Vec<(usize, Spring, f64)>,
    /// Where it stood last [m].
    travel: f64,
}

/// A wheel that stands.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    /// Travel [m], jounce positive.
    pub travel: f64,
    /// Where the bodies of the corner are.
    pub position: Position<f64>,
    /// Contact point and hub [m].
    pub contact: Vector3<f64>,
    pub hub: Vector3<f64>,
    /// Known pushes of elements [N]: all but the holder's.
    pub elements: Vec<(usize, f64)>,
    /// The element that carries the rest.
    pub holder: usize,
    /// Whether the travel ends before the springs and stops carry the load.
    pub bottomed: bool,
}

impl<'a> Wheel<'a> {
    /// At ride height, the springs carrying `load` [N]; `None` where no spring can.
    pub fn new(axle: &'a WholeAxle, load: f64) -> Option<Self> {
        let mut mover = Mover::new(&axle.corner);
        let m = mover.at(0.0, 0.0).ok()?;
        let rest =
            (0..axle.corner.elements().len()).map(|e| mover.ratio(e).map_or(0.0, |r| r.length)).collect();
        let at_rest = WheelLoad { road: Vector3::new(0.0, 0.0, load), weight: 1.0, ..WheelLoad::default() };
        let carried = work(axle, &m, &at_rest);
        let ratio = |e: usize| mover.ratio(e).map_or(0.0, |r| r.ratio);
        let total: f64 = axle.springs.iter().map(|(e, s)| s.rate * ratio(*e)).sum();
        if total.is_nan() || total.abs() < 1.0 {
            return None;
        }
        let springs = axle.springs.iter().map(|(e, s)| (*e, *s, carried * s.rate / total)).collect();
        Some(Self { axle, mover, rest, springs, travel: 0.0 })
    }

    /// What is left over along the travel [N]: positive where the wheel is pushed on into jounce.
    fn left(&mut self, travel: f64, load: &WheelLoad, bar: f64) -> Option<f64> {
        let m = self.mover.at(travel, 0.0).ok()?;
        let mut left = work(self.axle, &m, load);
        for (element, force) in self.pushes(bar) {
            left -= force * self.mover.ratio(element).map_or(0.0, |r| r.ratio);
        }
        left.is_finite().then_some(left)
    }

    /// Shortening of an element from ride height [m].
    fn shortening(&self, element: usize) -> f64 {
        let length = self.mover.ratio(element).map_or(0.0, |r| r.length);
        self.rest.get(element).copied().unwrap_or(0.0) - length
    }

    /// Forces of all elements where the wheel is [N], compression positive.
    fn pushes(&self, bar: f64) -> Vec<(usize, f64)> {
        let springs = self.springs.iter().map(|(e, s, rest)| (*e, rest + s.at(self.shortening(*e)).0));
        let stops = self.axle.stops.iter().map(|(e, s): &(usize, Stop)| (*e, s.at(self.shortening(*e)).0));
        let bar = self.axle.bar.map(|(e, _)| (e, bar));
        springs.chain(stops).chain(bar).collect()
    }

    /// What carries the wheel along its travel, per travel [N/m].
    fn rate(&self, bar: f64) -> f64 {
        let of = |element: usize, force: f64, rate: f64| {
            self.mover.ratio(element).map_or(0.0, |r| rate * r.ratio * r.ratio + force * r.ratio_rate)
        };
        let springs = self.springs.iter().map(|(e, s, rest)| {
            let (force, rate) = s.at(self.shortening(*e));
            of(*e, rest + force, rate)
        });
        let stops = self.axle.stops.iter().map(|(e, s)| {
            let (force, rate) = s.at(self.shortening(*e));
            of(*e, force, rate)
        });
        springs.chain(stops).sum::<f64>() + self.axle.bar.map_or(0.0, |(e, _)| of(e, bar, 0.0))
    }

    /// Goes to where the wheel is in balance under a load and a push of the bar's link; whether its travel ended before.
    fn settle(&mut self, load: &WheelLoad, bar: f64) -> Option<(f64, bool)> {
        match self.quick(load, bar) {
            Some(travel) => Some((travel, false)),
            None => self.slow(load, bar),
        }
    }

    /// By secants from where the wheel stands, the first by the springs' own rate; `None` where that leads nowhere.
    fn quick(&mut self, load: &WheelLoad, bar: f64) -> Option<f64> {
        let mut travel = self.travel;
        let mut left = self.left(travel, load, bar)?;
        let mut slope = -self.rate(bar);
        for _ in 0..QUICK {
            let step = -left / slope;
            // What carries the wheel pushes back: a slope that does not, or none at all, leads nowhere.
            let pushes_back = slope < 0.0;
            if !pushes_back || (travel + step).abs() > FARTHEST {
                return None;
            }
            travel += step;
            let next = self.left(travel, load, bar)?;
            if step.abs() < SETTLED {
                self.travel = travel;
                return Some(travel);
            }
            slope = (next - left) / step;
            left = next;
        }
        None
    }

    /// Step by step until the balance is passed.
    fn slow(&mut self, load: &WheelLoad, bar: f64) -> Option<(f64, bool)> {
        self.mover.reset();
        let mut at = (0.0_f64, self.left(0.0, load, bar)?);
        let step = if at.1 > 0.0 { STEP } else { -STEP };
        let mut beyond = None;
        while at.0.abs() < FARTHEST {
            let travel = at.0 + step;
            let Some(left) = self.left(travel, load, bar) else { break };
            if left.signum() != at.1.signum() {
                beyond = Some((travel, left));
                break;
            }
            at = (travel, left);
        }
        let Some(mut beyond) = beyond else {
            self.left(at.0, load, bar)?;
            return Some((at.0, true));
        };
        // Between two travels by secants, halved where one end stays (Illinois; G. Dahlquist & A. Bjorck, Numerical Methods
        // (1974), 6.3, remembered).
        let mut travel = at.0;
        for _ in 0..ROUNDS {
            travel = (at.0 * beyond.1 - beyond.0 * at.1) / (beyond.1 - at.1);
            let left = self.left(travel, load, bar)?;
            if left == 0.0 || (beyond.0 - at.0).abs() < SETTLED {
                break;
            }
            if left.signum() == beyond.1.signum() {
                at.1 /= 2.0;
                beyond = (travel, left);
            } else {
                at = beyond;
                beyond = (travel, left);
            }
            if (beyond.0 - at.0).abs() < SETTLED {
                break;
            }
        }
        Some((travel, false))
    }

    /// The wheel as it stands.
    fn stand(&mut self, load: &WheelLoad, bar: f64) -> Option<Stand> {
        let (travel, bottomed) = self.settle(load, bar)?;
        let m = self.mover.measures();
        let mut elements = self.pushes(bar);
        // A stop that is met carries what is left where the travel ends; else the spring does.
        let met = |e: &usize| {
            self.axle.stops.iter().any(|(stop, s)| stop == e && s.at(self.shortening(*e)).0 > 0.0)
        };
        let first = self.springs.first().map(|s| s.0)?;
        let holder =
            if bottomed { elements.iter().map(|(e, _)| *e).find(|e| met(e)).unwrap_or(first) } else { first };
        let mine = elements.iter().position(|(e, _)| *e == holder)?;
        elements.remove(mine);
        let position = self.mover.solver().position().clone();
        Some(Stand { travel, position, contact: m.contact, hub: m.centre, elements, holder, bottomed })
    }
}

/// Work per travel of everything on the wheel [N].
fn work(axle: &WholeAxle, m: &Measures<f64>, load: &WheelLoad) -> f64 {
    let own = -axle.unsprung * GRAVITY * load.weight * m.centre_velocity.z;
    let road = one(m, &load.road, &m.contact, reaction(load, axle.braking, axle.driving));
    let struck = m.contact + Vector3::z() * load.height;
    own + road + one(m, &load.strike, &struck, TorqueReaction::Body)
}

fn one(m: &Measures<f64>, force: &Vector3<f64>, at: &Vector3<f64>, torque: TorqueReaction) -> f64 {
    let moment = (at - m.centre).cross(force);
    let about_axle = match torque {
        TorqueReaction::Body => m.spin.dot(&moment) * m.spin.dot(&m.spin_of_upright),
        TorqueReaction::Upright => 0.0,
    };
    force.dot(&m.centre_velocity) + moment.dot(&m.spin_of_upright) - about_axle
}

/// Both wheels of an axle, each seen as the left one.
pub(super) fn stand(axle: &WholeAxle, at_rest: f64, loads: &[WheelLoad; 2]) -> Option<[Stand; 2]> {
    let mut pair = [Wheel::new(axle, at_rest)?, Wheel::new(axle, at_rest)?];
    let Some((link, rate)) = axle.bar.filter(|_| loads[0] != loads[1]) else {
        let [left, right] = &mut pair;
        return Some([left.stand(&loads[0], 0.0)?, right.stand(&loads[1], 0.0)?]);
    };
    // The bar's push on the left link, minus what its twist makes of it: falls to zero where both agree.
    let mut wrong = |force: f64| -> Option<f64> {
        let [left, right] = &mut pair;
        left.settle(&loads[0], force)?;
        right.settle(&loads[1], -force)?;
        Some(rate * (left.shortening(link) - right.shortening(link)) - force)
    };
    let mut at = (0.0, wrong(0.0)?);
    let mut force = at.1 / 2.0;
    for _ in 0..ROUNDS {
        let now = wrong(force)?;
        let slope = (now - at.1) / (force - at.0);
        if now.abs() < 1e-9 * (1.0 + force.abs()) || !slope.is_finite() || slope == 0.0 {
            break;
        }
        at = (force, now);
        force -= now / slope;
    }
    let [left, right] = &mut pair;
    Some([left.stand(&loads[0], force)?, right.stand(&loads[1], -force)?])
}
