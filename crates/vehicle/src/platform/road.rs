//! The road as the body sees it.

use nalgebra::Vector3;

/// Where the road is in the body's axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Attitude {
    /// How far the body's origin (on the road at ride height, under the middle of the front axle) has risen [m].
    pub rise: f64,
    /// Pitch of the body [rad], ISO 8855: nose down positive.
    pub pitch: f64,
    /// Roll of the body [rad], ISO 8855: right side down positive.
    pub roll: f64,
}

/// The road's axes in the body's: forward, left, up, each with its derivatives by pitch and roll left out: they are
/// found where needed by the cross product.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Road {
    pub along: Vector3<f64>,
    pub across: Vector3<f64>,
    pub up: Vector3<f64>,
    /// A point of the road [m]: the one under the body's origin.
    pub point: Vector3<f64>,
}

impl Attitude {
    /// The body's axes turn from the road's by pitch about y, then roll about x; a road vector is seen in the body as
    /// `Rx(-roll) Ry(-pitch) v`.
    pub(crate) fn road(&self) -> Road {
        let (sp, cp) = self.pitch.sin_cos();
        let (sr, cr) = self.roll.sin_cos();
        // Ry(-p) columns: x -> (c, 0, s), y -> (0, 1, 0), z -> (-s, 0, c); then Rx(-r): (y, z) -> (c y + s z, -s y + c z).
        let turn = |v: Vector3<f64>| Vector3::new(v.x, cr * v.y + sr * v.z, -sr * v.y + cr * v.z);
        let up = turn(Vector3::new(-sp, 0.0, cp));
        Road {
            along: turn(Vector3::new(cp, 0.0, sp)),
            across: turn(Vector3::y()),
            up,
            // `n . (0 - point) = rise`.
            point: up * -self.rise,
        }
    }

    /// Change of the body's height over the road at a place of its centreline, `x` forward [m]; up positive.
    pub fn rise_at(&self, x: f64) -> f64 {
        self.rise - self.pitch.sin() * x
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_the_right_way() {
        let road = Attitude { rise: 0.01, pitch: 0.02, roll: 0.0 }.road();
        // Nose down: up leans forward... as the body sees it, up leans back: its front is nearer the road.
        assert!(road.up.x < 0.0);
        let above = |p: Vector3<f64>| road.up.dot(&(p - road.point));
        assert!((above(Vector3::zeros()) - 0.01).abs() < 1e-15);
        assert!(above(Vector3::x()) < 0.0, "the nose is down");
        let road = Attitude { rise: 0.0, pitch: 0.0, roll: 0.02 }.road();
        assert!(road.up.dot(&Vector3::new(0.0, -1.0, 0.0)) < 0.0, "the right side is down");
        let road = Attitude { rise: -0.02, pitch: 0.05, roll: -0.03 }.road();
        assert!((road.along.cross(&road.across) - road.up).norm() < 1e-15);
        let attitude = Attitude { rise: 0.01, pitch: 0.02, roll: 0.0 };
        let road = attitude.road();
        let p = Vector3::new(-2.6, 0.0, 0.0);
        assert!((road.up.dot(&(p - road.point)) - attitude.rise_at(-2.6)).abs() < 1e-15);
    }
}
