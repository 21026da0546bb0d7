//! From the car to the page: where the eye is, and what fills the page.

use nalgebra::Vector3;

use super::FrameView;
use crate::plane::{Rect, Spot};

/// The view from the corner looks this far to the right of straight ahead, and this far down \[deg\].
const AZIMUTH: f64 = 32.0;
const ELEVATION: f64 = 24.0;

/// The least that is shown across the page \[m\]: a single point would need an endless scale.
const LEAST: f64 = 0.05;

/// Farther out nothing of a car lies, and what does is an error of input \[m\].
const FAR: f64 = 1e4;

/// Halvings of the scale's range while fitting: to a millionth of it.
const HALVINGS: usize = 20;

/// A parallel projection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Aim {
    /// What is to the right on the page, in the car.
    right: Vector3<f64>,
    /// What is up on the page, in the car.
    up: Vector3<f64>,
    /// Scale \[px/m\].
    pub px: f64,
    /// Where the car's origin is on the page.
    origin: Spot,
}

impl Aim {
    /// Directions of a view, not yet fitted to a page.
    pub fn of(view: FrameView) -> Self {
        let (right, up) = match view {
            FrameView::Left => (-Vector3::x(), Vector3::z()),
            FrameView::Behind => (-Vector3::y(), Vector3::z()),
            FrameView::Above => (-Vector3::x(), -Vector3::y()),
            FrameView::Corner => {
                // The eye looks along d = (cos e cos a, -cos e sin a, -sin e): right = d x z, up = right x d.
                let (sa, ca) = AZIMUTH.to_radians().sin_cos();
                let (se, ce) = ELEVATION.to_radians().sin_cos();
                (Vector3::new(-sa, -ca, 0.0), Vector3::new(ca * se, -sa * se, ce))
            }
        };
        Self { right, up, px: 1.0, origin: (0.0, 0.0) }
    }

    /// Right and down on the page, of a direction in the car.
    pub fn flat(&self, v: &Vector3<f64>) -> Spot {
        (self.right.dot(v), -self.up.dot(v))
    }

    /// How much of a direction comes toward the eye.
    pub fn near(&self, v: &Vector3<f64>) -> f64 {
        self.right.cross(&self.up).dot(v)
    }

    /// A place of the car on the page.
    pub fn spot(&self, at: &Vector3<f64>) -> Spot {
        let (right, down) = self.flat(at);
        (self.origin.0 + right * self.px, self.origin.1 + down * self.px)
    }

    /// Fills a part of the page with some places, each with a way from it on the page \[px\]. What has a fixed size
    /// on the page, such as an arrow, leaves less for the scale; where it alone is too large it is ignored.
    pub fn fit(&mut self, places: &[(Vector3<f64>, Spot)], plot: &Rect) {
        let bare = self.extent(places, 1.0, 0.0);
        let (wide, high) = (plot.width().max(1.0), plot.height().max(1.0));
        let most = (wide / bare.width().max(LEAST)).min(high / bare.height().max(LEAST));
        let holds = |px: f64| {
            let extent = self.extent(places, px, 1.0);
            extent.width() <= wide && extent.height() <= high
        };
        let (mut px, mut over) = (0.0, most);
        if holds(most) || !holds(0.0) {
            px = most;
        } else {
            for _ in 0..HALVINGS {
                let half = (px + over) / 2.0;
                if holds(half) { px = half } else { over = half }
            }
        }
        // As good as nothing is left for the frame itself.
        let px = if px < most * 1e-3 { most } else { px };
        let extent = self.extent(places, px, 1.0);
        self.px = px;
        self.origin = (
            (plot.left + plot.right - extent.left - extent.right) / 2.0,
            (plot.top + plot.bottom - extent.top - extent.bottom) / 2.0,
        );
    }

    /// The box around some places at a scale about the car's origin, with a share of their ways.
    fn extent(&self, places: &[(Vector3<f64>, Spot)], px: f64, share: f64) -> Rect {
        let spots = places.iter().map(|(at, way)| {
            let (right, down) = self.flat(at);
            (right * px + way.0 * share, down * px + way.1 * share)
        });
        let around = spots.fold(None, |around: Option<Rect>, (x, y)| {
            let r = around.unwrap_or(Rect { left: x, top: y, right: x, bottom: y });
            let (left, top) = (r.left.min(x), r.top.min(y));
            Some(Rect { left, top, right: r.right.max(x), bottom: r.bottom.max(y) })
        });
        around.unwrap_or_default()
    }
}

/// Whether a place can be drawn.
pub(crate) fn usable(at: &Vector3<f64>) -> bool {
    at.iter().all(|v| v.abs() <= FAR)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_view_shows_what_it_says() {
        let [forward, left, up] = [Vector3::x(), Vector3::y(), Vector3::z()];
        let (behind, side) = (Aim::of(FrameView::Behind), Aim::of(FrameView::Left));
        let (above, corner) = (Aim::of(FrameView::Above), Aim::of(FrameView::Corner));
        // Toward the eye is what the view's name says.
        assert_eq!((side.near(&left), behind.near(&-forward), above.near(&up)), (1.0, 1.0, 1.0));
        assert!(corner.near(&left) > 0.3 && corner.near(&-forward) > 0.3 && corner.near(&up) > 0.3);
        // Up is up (down the page is positive), forward and left are to the left.
        assert!([side, behind, corner].iter().all(|a| a.flat(&up).1 < -0.8));
        assert!([side, above, corner].iter().all(|a| a.flat(&forward).0 < -0.4));
        assert!([behind, corner].iter().all(|a| a.flat(&left).0 < -0.4));
        assert!(above.flat(&left).1 > 0.9);
        for aim in [side, behind, above, corner] {
            assert!((aim.right.norm() - 1.0).abs() < 1e-12 && (aim.up.norm() - 1.0).abs() < 1e-12);
            assert!(aim.right.dot(&aim.up).abs() < 1e-12);
        }
    }

    #[test]
    fn arrows_of_fixed_size_stay_in_the_plot() {
        let plot = Rect::sized(10.0, 20.0, 300.0, 200.0);
        for size in [0.0, 0.001, 1.0, 1e3] {
            let ends = [Vector3::zeros(), Vector3::new(0.0, size, size)];
            let places = ends.map(|at| [(at, (60.0, -40.0)), (at, (0.0, 0.0))]).concat();
            let mut aim = Aim::of(FrameView::Behind);
            aim.fit(&places, &plot);
            for (at, way) in &places {
                let spot = aim.spot(at);
                assert!(plot.grown(0.5).has((spot.0 + way.0, spot.1 + way.1)), "{size} {spot:?}");
            }
        }
    }
}
