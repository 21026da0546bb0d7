//! A flat plate as a drawing: coordinates in its own plane, its outline, distances to the edge.

use nalgebra::{Vector2, Vector3};

/// A plate with an origin at its first corner, `u` along its first edge and `v` square to it, into the plate.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateFrame {
    /// First corner [m].
    pub origin: Vector3<f64>,
    /// Unit vector along the first edge.
    pub u: Vector3<f64>,
    /// Unit vector in the plate, square to `u`, toward the plate's middle.
    pub v: Vector3<f64>,
    /// Outline in (u, v) [m].
    pub outline: Vec<Vector2<f64>>,
}

impl PlateFrame {
    /// The frame of an outline; `None` with fewer than three corners or no area.
    pub fn new(corners: &[Vector3<f64>]) -> Option<Self> {
        let origin = *corners.first()?;
        let edge = corners.get(1)? - origin;
        let u = edge.try_normalize(1e-6)?;
        // Newell's normal: twice the area vector, sound for any flat outline.
        let normal: Vector3<f64> = (0..corners.len())
            .map(|i| (corners[i] - origin).cross(&(corners[(i + 1) % corners.len()] - origin)))
            .sum();
        let normal = normal.try_normalize(1e-9)?;
        let v = normal.cross(&u).try_normalize(1e-6)?;
        let outline =
            corners.iter().map(|c| Vector2::new((c - origin).dot(&u), (c - origin).dot(&v))).collect();
        Some(Self { origin, u, v, outline })
    }

    /// A place of the plate in space [m].
    pub fn place(&self, at: &Vector2<f64>) -> Vector3<f64> {
        self.origin + self.u * at.x + self.v * at.y
    }

    /// A point in space as seen square onto the plate [m].
    pub fn locate(&self, point: &Vector3<f64>) -> Vector2<f64> {
        let r = point - self.origin;
        Vector2::new(r.dot(&self.u), r.dot(&self.v))
    }

    /// Distance to the nearest edge [m]: positive inside the outline, negative outside.
    pub fn margin(&self, at: &Vector2<f64>) -> f64 {
        let n = self.outline.len();
        let mut distance = f64::INFINITY;
        let mut inside = false;
        for i in 0..n {
            let (a, b) = (self.outline[i], self.outline[(i + 1) % n]);
            let edge = b - a;
            let along = ((at - a).dot(&edge) / edge.norm_squared().max(1e-18)).clamp(0.0, 1.0);
            distance = distance.min((at - a - edge * along).norm());
            if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
        if inside { distance } else { -distance }
    }

    /// Smallest and largest corner of the outline's box [m].
    pub fn bounds(&self) -> (Vector2<f64>, Vector2<f64>) {
        let start = (Vector2::repeat(f64::INFINITY), Vector2::repeat(f64::NEG_INFINITY));
        self.outline.iter().fold(start, |(lo, hi), p| (lo.inf(p), hi.sup(p)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_a_rectangle_either_way_round() {
        let corners = [
            Vector3::new(-2.0, 0.4, 0.2),
            Vector3::new(-2.1, 0.4, 0.2),
            Vector3::new(-2.1, 0.4, 0.35),
            Vector3::new(-2.0, 0.4, 0.35),
        ];
        for flip in [false, true] {
            let mut corners = corners.to_vec();
            if flip {
                corners.reverse();
            }
            let plate = PlateFrame::new(&corners).unwrap();
            let at = plate.locate(&Vector3::new(-2.03, 0.4, 0.25));
            assert!((plate.margin(&at) - 0.03).abs() < 1e-12);
            assert!((plate.place(&at) - Vector3::new(-2.03, 0.4, 0.25)).norm() < 1e-12);
            let off = plate.locate(&Vector3::new(-2.03, 0.4, 0.37));
            assert!((plate.margin(&off) + 0.02).abs() < 1e-12);
        }
    }

    #[test]
    fn an_outline_without_area_has_no_frame() {
        assert_eq!(PlateFrame::new(&[Vector3::zeros(), Vector3::x(), Vector3::x() * 2.0]), None);
    }
}
