//! Rectangles and lines on the page \[px\].

/// A point on the page, x to the right and y down.
pub(crate) type Spot = (f64, f64);

/// An upright rectangle on the page \[px\].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Rect {
    /// From its upper left corner and its size.
    pub fn sized(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    /// A square about a point, `reach` each way.
    pub fn around(at: (f64, f64), reach: f64) -> Self {
        Self { left: at.0 - reach, top: at.1 - reach, right: at.0 + reach, bottom: at.1 + reach }
    }

    /// Whether the two have some area in common.
    pub fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether the other one lies inside.
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    /// Whether a point lies inside.
    pub fn has(&self, at: (f64, f64)) -> bool {
        self.left <= at.0 && at.0 <= self.right && self.top <= at.1 && at.1 <= self.bottom
    }

    /// The same, larger (or smaller) by `by` on every side.
    pub fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// Width.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// The part of a line inside (Liang and Barsky's clipping); `None` if there is none, or an end is not finite.
    pub fn clip(&self, a: (f64, f64), b: (f64, f64)) -> Option<((f64, f64), (f64, f64))> {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        let sides =
            [(-dx, a.0 - self.left), (dx, self.right - a.0), (-dy, a.1 - self.top), (dy, self.bottom - a.1)];
        for (towards, room) in sides {
            if !(towards.is_finite() && room.is_finite()) {
                return None;
            }
            if towards == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if towards < 0.0 {
                from = from.max(room / towards);
            } else {
                to = to.min(room / towards);
            }
        }
        (from < to).then_some(((a.0 + dx * from, a.1 + dy * from), (a.0 + dx * to, a.1 + dy * to)))
    }

    /// Whether a line passes through.
    pub fn crossed_by(&self, a: (f64, f64), b: (f64, f64)) -> bool {
        // The boxes first: most lines are nowhere near.
        if a.0.max(b.0) < self.left
            || a.0.min(b.0) > self.right
            || a.1.max(b.1) < self.top
            || a.1.min(b.1) > self.bottom
        {
            return false;
        }
        self.clip(a, b).is_some()
    }
}

/// A point between two.
pub(crate) fn between(a: Spot, b: Spot, share: f64) -> Spot {
    (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
}

/// Distance between two points.
pub(crate) fn distance(a: Spot, b: Spot) -> f64 {
    (b.0 - a.0).hypot(b.1 - a.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clips_to_the_page() {
        let page = Rect::sized(0.0, 0.0, 100.0, 50.0);
        assert_eq!(page.clip((-50.0, 25.0), (150.0, 25.0)), Some(((0.0, 25.0), (100.0, 25.0))));
        assert_eq!(page.clip((10.0, 60.0), (90.0, 60.0)), None);
        assert_eq!(page.clip((10.0, f64::NAN), (90.0, 60.0)), None);
        assert!(page.crossed_by((-1e6, -1e6), (1e6, 1e6)));
        assert!(!page.crossed_by((-10.0, 40.0), (20.0, 70.0)));
    }
}
