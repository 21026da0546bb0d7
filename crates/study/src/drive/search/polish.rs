//! From a setting to a better one, along one axis after the other.

use std::sync::atomic::Ordering;

use super::{Search, Setting};
use crate::drive::Way;

/// First step along an axis, as a share of its range, and the last.
const FIRST: f64 = 0.2;
const LAST: f64 = 0.02;

/// Rounds of steps at most.
const ROUNDS: usize = 12;

/// A change of a time by less than this is none [s]: beyond what a lap is worked out to (own).
pub(super) const SAME: f64 = 5e-4;

/// What is made small.
pub(super) struct Aim<'a> {
    /// Of the times on all venues.
    pub cost: &'a (dyn Fn(&[f64]) -> f64 + Sync),
    /// Axes that may be changed.
    pub axes: &'a [usize],
    /// Whether the hole may be changed.
    pub hole: bool,
}

/// The best setting found from a start, with its times. Ends with what there is when stopped.
pub(super) fn polish(
    search: &Search,
    start: (Setting, Vec<f64>),
    aim: &Aim<'_>,
    way: &Way<'_>,
) -> (Setting, Vec<f64>) {
    let (mut best, mut times) = start;
    let mut cost = (aim.cost)(&times);
    let mut step = FIRST;
    let mut take = |other: Setting, best: &mut Setting| {
        let found = search.times(&other);
        let its = (aim.cost)(&found);
        let better = its < cost - SAME;
        if better {
            (*best, times, cost) = (other, found, its);
        }
        better
    };
    let stopped = || way.stop.load(Ordering::Relaxed);
    for _ in 0..ROUNDS {
        let mut moved = false;
        if aim.hole {
            for hole in (0..search.bases.len()).filter(|hole| *hole != best.hole).collect::<Vec<_>>() {
                if stopped() {
                    break;
                }
                moved |= take(Setting { hole, ..best.clone() }, &mut best);
            }
        }
        for i in aim.axes {
            let Some(axis) = search.space.axes.get(*i) else { continue };
            let Some(at) = best.values.get(*i).copied() else { continue };
            let range = axis.to - axis.from;
            let places: Vec<f64> = if axis.smooth() {
                [step, -step].iter().map(|s| (at + s * range).clamp(axis.from, axis.to)).collect()
            } else {
                vec![1.0 - at]
            };
            for place in places.into_iter().filter(|p| (p - at).abs() > 1e-9) {
                if stopped() {
                    break;
                }
                let mut other = best.clone();
                if let Some(value) = other.values.get_mut(*i) {
                    *value = place;
                }
                if take(other, &mut best) {
                    moved = true;
                    break;
                }
            }
        }
        if stopped() {
            break;
        }
        if !moved {
            if step <= LAST {
                break;
            }
            step *= 0.5;
        }
    }
    (best, times)
}
