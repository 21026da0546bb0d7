//! Places on the ground as they lie on a page: turned so that their long side lies along it.

use crate::plane::{Rect, Spot};

/// From the ground to the page.
pub(crate) struct Aim {
    /// Cosine and sine of the turn that lays the long side along the page.
    pub turn: (f64, f64),
    pub px: f64,
    pub origin: Spot,
}

impl Aim {
    pub fn turned(&self, at: [f64; 2]) -> Spot {
        let (c, s) = self.turn;
        (c * at[0] + s * at[1], s * at[0] - c * at[1])
    }

    pub fn spot(&self, at: [f64; 2]) -> Spot {
        let (x, y) = self.turned(at);
        (self.origin.0 + x * self.px, self.origin.1 + y * self.px)
    }

    /// So that all places fit on a part of the page, their long side along it.
    pub fn fit(all: &[[f64; 2]], plot: &Rect) -> Self {
        let n = all.len().max(1) as f64;
        let mean = [0, 1].map(|k: usize| all.iter().filter_map(|p| p.get(k)).sum::<f64>() / n);
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for p in all {
            let (dx, dy) = (p[0] - mean[0], p[1] - mean[1]);
            (xx, xy, yy) = (xx + dx * dx, xy + dx * dy, yy + dy * dy);
        }
        let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
        let mut aim = Self { turn: (angle.cos(), angle.sin()), px: 1.0, origin: (0.0, 0.0) };
        let (mut lo, mut hi) = ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY));
        for p in all {
            let (x, y) = aim.turned(*p);
            lo = (lo.0.min(x), lo.1.min(y));
            hi = (hi.0.max(x), hi.1.max(y));
        }
        let (wide, high) = ((hi.0 - lo.0).max(1.0), (hi.1 - lo.1).max(1.0));
        aim.px = (plot.width().max(1.0) / wide).min(plot.height().max(1.0) / high);
        aim.origin = (
            0.5 * (plot.left + plot.right) - 0.5 * (lo.0 + hi.0) * aim.px,
            0.5 * (plot.top + plot.bottom) - 0.5 * (lo.1 + hi.1) * aim.px,
        );
        aim
    }
}
