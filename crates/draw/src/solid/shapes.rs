//! Tubes, rings, balls, slabs, coils as triangles.

use std::f64::consts::TAU;

use nalgebra::Vector3;

/// Shorter than this has no direction \[m\].
const LEAST: f64 = 1e-6;

/// Triangles that share corners.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shape {
    pub vertices: Vec<[f32; 3]>,
    pub triangles: Vec<[u16; 3]>,
}

impl Shape {
    fn vertex(&mut self, at: &Vector3<f64>) -> Option<u16> {
        let index = u16::try_from(self.vertices.len()).ok()?;
        self.vertices.push([at.x as f32, at.y as f32, at.z as f32]);
        Some(index)
    }

    /// Joins rings of equally many corners, one after the other; `closed` joins the last to the first.
    fn skin(&mut self, rings: &[Vec<u16>], closed: bool) {
        let pairs = if closed { rings.len() } else { rings.len().saturating_sub(1) };
        for i in 0..pairs {
            let (Some(a), Some(b)) = (rings.get(i), rings.get((i + 1) % rings.len())) else { continue };
            let (next_a, next_b) = (a.iter().cycle().skip(1), b.iter().cycle().skip(1));
            for (((&p, &q), &r), &s) in a.iter().zip(b).zip(next_a).zip(next_b) {
                self.triangles.push([p, r, q]);
                self.triangles.push([r, s, q]);
            }
        }
    }

    /// Corners on a circle, turning from `u` to `v`; `None` when there are too many.
    fn circle(
        &mut self,
        centre: &Vector3<f64>,
        u: &Vector3<f64>,
        v: &Vector3<f64>,
        radius: f64,
        sides: usize,
    ) -> Option<Vec<u16>> {
        (0..sides)
            .map(|i| {
                let (sin, cos) = (TAU * i as f64 / sides as f64).sin_cos();
                self.vertex(&(centre + (u * cos + v * sin) * radius))
            })
            .collect()
    }

    /// Closes a ring with a fan; `outward` where the ring turns about the way it faces.
    fn cap(&mut self, ring: &[u16], outward: bool) {
        let Some(&first) = ring.first() else { return };
        for pair in ring.get(1..).unwrap_or_default().windows(2) {
            if let [a, b] = *pair {
                self.triangles.push(if outward { [first, a, b] } else { [first, b, a] });
            }
        }
    }

    /// A round bar between two points, closed at its ends.
    pub fn tube(&mut self, a: &Vector3<f64>, b: &Vector3<f64>, radius: f64, sides: usize) {
        let Some((u, v)) = perpendiculars(&(b - a)) else { return };
        let (Some(near), Some(far)) =
            (self.circle(a, &u, &v, radius, sides), self.circle(b, &u, &v, radius, sides))
        else {
            return;
        };
        self.cap(&near, false);
        self.cap(&far, true);
        self.skin(&[near, far], false);
    }

    /// A tyre-like ring: outer tread with rounded shoulders, open middle.
    pub fn ring(
        &mut self,
        centre: &Vector3<f64>,
        axis: &Vector3<f64>,
        outer: f64,
        inner: f64,
        width: f64,
        sides: usize,
    ) {
        let Some((u, v)) = perpendiculars(axis) else { return };
        let axis = axis.normalize();
        let half = width / 2.0;
        let shoulder = (outer - inner) * 0.35;
        let section = [
            (inner, -half * 0.92),
            (outer - shoulder, -half),
            (outer, -half * 0.72),
            (outer, half * 0.72),
            (outer - shoulder, half),
            (inner, half * 0.92),
        ];
        let rings: Option<Vec<Vec<u16>>> = section
            .iter()
            .map(|(radius, along)| self.circle(&(centre + axis * *along), &u, &v, *radius, sides))
            .collect();
        if let Some(rings) = rings {
            self.skin(&rings, true);
        }
    }

    /// A small ball: an octahedron with its edges once divided would be rounder; this is enough for a mark.
    pub fn ball(&mut self, at: &Vector3<f64>, radius: f64) {
        let (u, v, w) = (Vector3::x(), Vector3::y(), Vector3::z());
        let ring = |shape: &mut Self, lat: f64| {
            let (sin, cos) = lat.sin_cos();
            shape.circle(&(at + w * (radius * sin)), &u, &v, radius * cos, 8)
        };
        let rings: Option<Vec<Vec<u16>>> = [-0.9, 0.0, 0.9].into_iter().map(|lat| ring(self, lat)).collect();
        let Some(rings) = rings else { return };
        if let (Some(low), Some(high)) = (rings.first(), rings.last()) {
            self.cap(low, false);
            self.cap(high, true);
        }
        self.skin(&rings, false);
    }

    /// A flat plate with thickness `2 half` from its outline.
    pub fn slab(&mut self, outline: &[Vector3<f64>], half: f64) {
        let Some(first) = outline.first() else { return };
        // Newell's normal.
        let normal: Vector3<f64> = outline
            .iter()
            .zip(outline.iter().cycle().skip(1))
            .map(|(p, q)| (p - first).cross(&(q - first)))
            .sum();
        let Some(normal) = normal.try_normalize(1e-12) else { return };
        let mut face = |side: f64| -> Option<Vec<u16>> {
            outline.iter().map(|p| self.vertex(&(p + normal * (side * half)))).collect()
        };
        let (Some(low), Some(high)) = (face(-1.0), face(1.0)) else { return };
        let flat: Vec<(f64, f64)> = match perpendiculars(&normal) {
            Some((u, v)) => outline.iter().map(|p| (p.dot(&u), p.dot(&v))).collect(),
            None => return,
        };
        for [a, b, c] in ears(&flat) {
            let corner = |face: &[u16], i: usize| face.get(i).copied().unwrap_or_default();
            self.triangles.push([corner(&high, a), corner(&high, b), corner(&high, c)]);
            self.triangles.push([corner(&low, a), corner(&low, c), corner(&low, b)]);
        }
        self.skin(&[low, high], false);
    }

    /// A spring: a thin bar wound round the line.
    pub fn coil(&mut self, a: &Vector3<f64>, b: &Vector3<f64>, radius: f64, wire: f64) {
        const TURNS: usize = 6;
        const STEPS: usize = 10;
        const SIDES: usize = 4;
        let Some((u, v)) = perpendiculars(&(b - a)) else { return };
        let count = TURNS * STEPS;
        let along = (b - a).normalize();
        let rings: Option<Vec<Vec<u16>>> = (0..=count)
            .map(|i| {
                let (sin, cos) = (TAU * (i % STEPS) as f64 / STEPS as f64).sin_cos();
                let out = u * cos + v * sin;
                let centre = a + (b - a) * (i as f64 / count as f64) + out * radius;
                self.circle(&centre, &along, &out, wire, SIDES)
            })
            .collect();
        let Some(rings) = rings else { return };
        if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
            self.cap(first, false);
            self.cap(last, true);
        }
        self.skin(&rings, false);
    }
}

/// Two unit vectors square to a direction and to one another: `u x v` runs along it.
fn perpendiculars(along: &Vector3<f64>) -> Option<(Vector3<f64>, Vector3<f64>)> {
    let along = along.try_normalize(LEAST).filter(|a| a.iter().all(|c| c.is_finite()))?;
    let other = if along.z.abs() < 0.8 { Vector3::z() } else { Vector3::x() };
    let u = along.cross(&other).try_normalize(LEAST)?;
    Some((u, along.cross(&u)))
}

/// Triangles of a simple polygon that turns counter-clockwise, by cutting ears; what is left of a faulty outline is
/// left out.
fn ears(flat: &[(f64, f64)]) -> Vec<[usize; 3]> {
    let turn =
        |a: (f64, f64), b: (f64, f64), c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let at = |i: usize| flat.get(i).copied().unwrap_or_default();
    let mut left: Vec<usize> = (0..flat.len()).collect();
    let mut out = Vec::new();
    while left.len() >= 3 {
        let n = left.len();
        let corner = |i: usize| left.get(i % n).copied().unwrap_or_default();
        let ear = (0..n).find(|&i| {
            let (a, b, c) = (corner(i + n - 1), corner(i), corner(i + 1));
            turn(at(a), at(b), at(c)) > 0.0
                && left.iter().filter(|p| ![a, b, c].contains(p)).all(|&p| {
                    let p = at(p);
                    turn(at(a), at(b), p) < 0.0 || turn(at(b), at(c), p) < 0.0 || turn(at(c), at(a), p) < 0.0
                })
        });
        let Some(i) = ear else { break };
        out.push([corner(i + n - 1), corner(i), corner(i + 1)]);
        left.remove(i);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Volume by the divergence theorem: positive where the triangles face outward.
    fn volume(shape: &Shape) -> f64 {
        let at = |i: u16| Vector3::from(shape.vertices[usize::from(i)].map(f64::from));
        shape.triangles.iter().map(|[a, b, c]| at(*a).dot(&at(*b).cross(&at(*c))) / 6.0).sum()
    }

    #[track_caller]
    fn check(make: impl Fn(&mut Shape), expect: f64, tolerance: f64) {
        let mut shape = Shape::default();
        make(&mut shape);
        let found = volume(&shape);
        assert!((found - expect).abs() <= tolerance * expect, "{found} {expect}");
    }

    #[test]
    fn shapes_are_solid_and_face_outward() {
        let (a, b) = (Vector3::new(0.3, 0.2, 0.1), Vector3::new(0.1, 0.9, 0.4));
        let pi = std::f64::consts::PI;
        check(|s| s.tube(&a, &b, 0.05, 64), pi * 0.05 * 0.05 * (b - a).norm(), 0.01);
        check(|s| s.ring(&a, &Vector3::y(), 0.3, 0.2, 0.2, 64), pi * (0.09 - 0.04) * 0.2, 0.2);
        check(|s| s.ball(&a, 0.05), 4.0 / 3.0 * pi * 0.05f64.powi(3), 0.35);
        let wire = 6.0 * TAU * 0.03;
        // Its sections stand square to the circle, not to the rising wire.
        check(|s| s.coil(&a, &b, 0.03, 0.004), 2.0 * 0.004 * 0.004 * wire, 0.05);
        // An L, either way round.
        let l = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)];
        let mut outline: Vec<Vector3<f64>> = l.iter().map(|(x, z)| Vector3::new(*x, 0.4, *z)).collect();
        check(|s| s.slab(&outline, 0.05), 0.4, 1e-5);
        outline.reverse();
        check(|s| s.slab(&outline, 0.05), 0.4, 1e-5);
    }
}
