//! What a place of the road does to the car.

use crate::GRAVITY;
use crate::limits::Limits;
use crate::venue::Spot;

/// Least share of the weight that the road must carry [-]: on a crest that leaves less the speed is held down (own; with
/// none the car flies, and before that nothing here holds).
pub const LEAST_LOAD: f64 = 0.2;

/// A place of the road for a car that moves at a speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoadAt {
    /// Curvature by the way, and its share in the plane of the road and square to it [1/m].
    flat: f64,
    square: f64,
    /// Gravity across the road to the left, square to it, and along [m/s^2].
    left: f64,
    down: f64,
    /// Along the path, forward positive [m/s^2].
    pub along: f64,
    /// Share of the tyres' friction [-].
    pub grip: f64,
}

/// What the car has to do at a place: lateral acceleration in the road's plane, and its load in g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Asked {
    pub across: f64,
    pub load: f64,
}

impl RoadAt {
    /// A turn to the left on a road whose left side is low: `a = v^2 k cos b - g sin b`, `n g = g cos b cos t + v^2 (k sin
    /// b + k_v)` with `k` the curvature in plan, `b` the bank, `t` the grade, `k_v` the curvature of the profile.
    pub fn new(spot: &Spot) -> Self {
        let (sin_bank, cos_bank) = spot.bank.sin_cos();
        let slope = 1.0 / (1.0 + spot.grade * spot.grade).sqrt();
        Self {
            flat: spot.curvature * cos_bank,
            square: spot.curvature * sin_bank + spot.hollow,
            left: GRAVITY * sin_bank,
            down: GRAVITY * cos_bank * slope,
            along: -GRAVITY * spot.grade * slope,
            grip: spot.grip,
        }
    }

    #[inline]
    pub(super) fn asked(&self, speed: f64) -> Asked {
        let square = speed * speed;
        Asked { across: square * self.flat - self.left, load: (self.down + square * self.square) / GRAVITY }
    }

    /// Looks a limit up at the load that the road makes.
    #[inline]
    pub(super) fn at_load(asked: &Asked, speed: f64, look: impl Fn(f64, f64) -> f64) -> f64 {
        let n = asked.load.max(LEAST_LOAD);
        if n == 1.0 {
            return look(speed, asked.across.abs());
        }
        n * look(speed / n.sqrt(), asked.across.abs() / n)
    }

    /// Greatest speed at which the tyres hold the car on the path [m/s], and whether a crest is why.
    pub(super) fn limit(&self, limits: &impl Limits) -> (f64, bool) {
        let most = limits.fastest();
        // Positive where it is too fast.
        let over = |v: f64| {
            let asked = self.asked(v);
            if asked.load < LEAST_LOAD {
                return f64::INFINITY;
            }
            asked.across.abs() - Self::at_load(&asked, v, |v, _| limits.across(v, self.grip))
        };
        if over(most) <= 0.0 {
            return (most, false);
        }
        let (mut lo, mut hi) = (0.0, most);
        // Without air and crests it is sqrt(a/k) at once; three steps of that close the bracket to a hair.
        let bend = self.flat.abs().max(1e-9);
        for _ in 0..4 {
            let guess = {
                let mid = if lo > 0.0 { lo } else { 0.5 * most };
                let asked = self.asked(mid);
                ((Self::at_load(&asked, mid, |v, _| limits.across(v, self.grip))
                    + self.left * self.flat.signum())
                .max(0.0)
                    / bend)
                    .sqrt()
            };
            if lo < guess && guess < hi {
                if over(guess) > 0.0 { hi = guess } else { lo = guess }
            }
            let near = lo + 0.01;
            if near < hi && over(near) > 0.0 {
                hi = near;
            }
        }
        while hi - lo > 1e-6 * most {
            let mid = 0.5 * (lo + hi);
            if over(mid) > 0.0 { hi = mid } else { lo = mid }
        }
        (lo, self.asked(hi).load < LEAST_LOAD)
    }
}
