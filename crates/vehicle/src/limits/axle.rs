//! One axle's tyres by what their limits need: peaks over load and inclination, slip angle over the grip in use.

use crate::power::Differential;
use crate::tyre::{Slip, Tyre};

/// Loads at which the peaks are known.
const LOADS: usize = 14;

/// Inclinations at which the side peak is known: none, and this to either side [rad] (4 degrees; beyond it the parabola
/// through the three goes on).
const LEAN: f64 = 0.07;

/// Nodes of the slip angle over the use of grip.
const SLIPS: usize = 24;

/// Between them.
const GAP: f64 = 1.0 / (SLIPS - 1) as f64;

/// The tyres of an axle, at one grip of the road.
#[derive(Clone, Debug)]
pub(super) struct Tyres {
    /// Load between the nodes [N].
    step: f64,
    /// Peak along [N]; peak across [N] upright, leaning left, leaning right.
    along: [f64; LOADS],
    across: [[f64; 3]; LOADS],
    /// Slip angle of the side peak [rad].
    angle: [f64; LOADS],
    /// Use of grip at shares `i/(SLIPS - 1)` of the slip angle of the peak, at the axle's load at rest.
    used: [f64; SLIPS],
    /// Change of the use by that share.
    slope: [f64; SLIPS],
}

/// A tyre's greatest forces.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Peak {
    pub along: f64,
    pub across: f64,
    pub angle: f64,
}

/// What an axle's tyres do under a longitudinal and a side force.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Used {
    /// Longitudinal force of the left and right wheel [N].
    pub along: [f64; 2],
    /// Greatest side force of each with these [N].
    pub across: [f64; 2],
    /// The same without longitudinal force.
    pub free_across: f64,
    /// Longitudinal force asked over the greatest one there is [-].
    pub use_along: f64,
}

impl Tyres {
    /// `rest` is a wheel's load at rest, `most` the greatest load that may come [N].
    pub fn new(tyre: &Tyre, rest: f64, most: f64) -> Self {
        let step = most / (LOADS - 1) as f64;
        let load = |i: usize| step * i as f64;
        let mut peaks = Self {
            step,
            along: std::array::from_fn(|i| tyre.braking_peak(load(i)).0),
            across: [[0.0; 3]; LOADS],
            angle: [0.0; LOADS],
            used: [0.0; SLIPS],
            slope: [0.0; SLIPS],
        };
        for i in 0..LOADS {
            let (upright, angle) = tyre.side_peak(load(i), 0.0);
            let lean = |by: f64| tyre.side_peak(load(i), by).0;
            peaks.across[i] = match tyre {
                Tyre::Simple(_) => [upright; 3],
                Tyre::Magic(_) => [upright, lean(-LEAN), lean(LEAN)],
            };
            peaks.angle[i] = angle;
        }
        let (most, angle) = tyre.side_peak(rest, 0.0);
        let side = |alpha: f64| tyre.force(&Slip { alpha, ..Slip::rolling(rest) }).fy;
        for i in 1..SLIPS {
            let alpha = angle * i as f64 / (SLIPS - 1) as f64;
            let use_of_grip = 0.5 * (side(-alpha) - side(alpha)) / most;
            // Shifts of a set may bend the curve near its top: it is taken as rising to 1.
            peaks.used[i] = use_of_grip.clamp(peaks.used[i - 1], 1.0);
        }
        peaks.used[SLIPS - 1] = 1.0;
        for i in 0..SLIPS {
            let (a, b) = (i.saturating_sub(1), (i + 1).min(SLIPS - 1));
            peaks.slope[i] = (peaks.used[b] - peaks.used[a]) / ((b - a) as f64 * GAP);
        }
        peaks
    }

    /// Peaks at a load [N] and an inclination [rad], positive with the top to the right; `grip` scales friction and so
    /// the slip angle of the peak.
    #[inline]
    pub fn peak(&self, load: f64, inclination: f64, grip: f64) -> Peak {
        let at = (load / self.step).clamp(0.0, (LOADS - 1) as f64);
        let i = (at as usize).min(LOADS - 2);
        let t = at - i as f64;
        let mix = |a: f64, b: f64| a + (b - a) * t;
        let [upright, left, right] = std::array::from_fn(|k| mix(self.across[i][k], self.across[i + 1][k]));
        // The parabola through the three inclinations, held at its ends.
        let lean = (inclination / LEAN).clamp(-2.0, 2.0);
        let across = upright + lean * (0.5 * (right - left) + lean * (0.5 * (right + left) - upright));
        Peak {
            along: grip * mix(self.along[i], self.along[i + 1]),
            across: grip * across.max(0.0),
            angle: grip * mix(self.angle[i], self.angle[i + 1]),
        }
    }

    /// Share of the peak's slip angle for a use of grip [-], and the change of the use by that share.
    #[inline]
    pub fn share_of_angle(&self, used: f64) -> (f64, f64) {
        let used = used.clamp(0.0, 1.0);
        let above = self.used.partition_point(|u| *u < used).clamp(1, SLIPS - 1);
        let (a, b) = (self.used[above - 1], self.used[above]);
        let t = if b > a { (used - a) / (b - a) } else { 1.0 };
        let slope = self.slope[above - 1] * (1.0 - t) + self.slope[above] * t;
        ((above as f64 - 1.0 + t) * GAP, slope)
    }
}

/// Shares a longitudinal force between the wheels of an axle, and finds what side force that leaves.
pub(super) fn share(total: f64, peaks: &[Peak; 2], differential: Differential) -> Used {
    let most = [peaks[0].along, peaks[1].along];
    let ask = total.abs();
    let small = most[0].min(most[1]);
    let both = most[0] + most[1];
    let (wheels, cap) = if total >= 0.0 && differential == Differential::Limited {
        let each = if both > 0.0 { ask / both } else { 0.0 };
        ([most[0] * each, most[1] * each], both)
    } else if ask <= 2.0 * small {
        ([ask / 2.0; 2], if total < 0.0 { both } else { 2.0 * small })
    } else if total < 0.0 {
        // Pressed alike: the wheel that slides gives what it can, the other one the rest.
        (most.map(|m| if m <= small { small } else { ask - small }), both)
    } else {
        ([ask / 2.0; 2], 2.0 * small)
    };
    let use_along = if cap > 0.0 {
        ask / cap
    } else if ask > 0.0 {
        f64::INFINITY
    } else {
        0.0
    };
    let left = |i: usize| {
        let part = if most[i] > 0.0 { wheels[i] / most[i] } else { 1.0 };
        peaks[i].across * (1.0 - part * part).max(0.0).sqrt()
    };
    let sign = total.signum();
    Used {
        along: [sign * wheels[0], sign * wheels[1]],
        across: [left(0), left(1)],
        free_across: peaks[0].across + peaks[1].across,
        use_along,
    }
}
