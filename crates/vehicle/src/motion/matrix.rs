//! The car's six balances after the wheels' travels are taken out of them.
//!
//! A mass `m` at `r` that moves by `t` per travel gives the body's equations `m J'(1 - t t'/t.t) J` with `J = [1, -[r]x]`:
//! along its own way the body does not carry it. So the matrix of ten is solved as one of six (Schur complement).

#![allow(
    clippy::needless_range_loop,
    reason = "rows and columns by their numbers, as the formulas have them"
)]

use nalgebra::Vector3;

/// Six by six; the lower half is used.
type Six = [[f64; 6]; 6];

/// Matrix and right side under assembly: velocity of the body's origin, then angular velocity, in the body's axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Balance {
    mass: Six,
    force: [f64; 6],
}

/// What of a wheel's motion comes back once the body's acceleration is known.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Travel {
    /// Push along the travel over its inertia [m/s^2 per unit travel].
    own: f64,
    /// Way per travel over its square, and its moment about the origin.
    way: Vector3<f64>,
    moment: Vector3<f64>,
}

impl Travel {
    /// Acceleration of the travel.
    #[inline]
    pub fn rate(&self, along: &Vector3<f64>, turning: &Vector3<f64>) -> f64 {
        self.own - self.way.dot(along) - self.moment.dot(turning)
    }
}

impl Balance {
    /// A rigid body: mass, centre, and inertia about its centre by its axes.
    pub fn body(mass: f64, centre: &Vector3<f64>, inertia: &[f64; 3]) -> Self {
        let mut balance = Self { mass: [[0.0; 6]; 6], force: [0.0; 6] };
        balance.point(mass, centre);
        for (i, own) in inertia.iter().enumerate() {
            balance.mass[3 + i][3 + i] += own;
        }
        balance
    }

    /// A mass that moves with the body.
    #[inline]
    fn point(&mut self, mass: f64, r: &Vector3<f64>) {
        let m = &mut self.mass;
        for i in 0..3 {
            m[i][i] += mass;
        }
        let moment = r * mass;
        // [r]x below the diagonal block.
        m[3][1] -= moment.z;
        m[3][2] += moment.y;
        m[4][0] += moment.z;
        m[4][2] -= moment.x;
        m[5][0] -= moment.y;
        m[5][1] += moment.x;
        let square = moment.dot(r);
        for i in 0..3 {
            m[3 + i][3 + i] += square;
            for j in 0..=i {
                m[3 + i][3 + j] -= moment[i] * r[j];
            }
        }
    }

    /// Force and moment about the origin on the body.
    #[inline]
    pub fn push(&mut self, force: &Vector3<f64>, moment: &Vector3<f64>) {
        for i in 0..3 {
            self.force[i] += force[i];
            self.force[3 + i] += moment[i];
        }
    }

    /// A wheel's mass at `r` that moves by `way` per travel, with the push along its travel; what acts on the body by it
    /// stands in [`Self::push`].
    #[inline]
    pub fn wheel(&mut self, mass: f64, r: &Vector3<f64>, way: &Vector3<f64>, push: f64) -> Travel {
        self.point(mass, r);
        let square = way.norm_squared();
        let moment = r.cross(way);
        let b = [way.x, way.y, way.z, moment.x, moment.y, moment.z];
        let (share, own) = (mass / square, push / (mass * square));
        for i in 0..6 {
            for j in 0..=i {
                self.mass[i][j] -= share * b[i] * b[j];
            }
            self.force[i] -= mass * own * b[i];
        }
        Travel { own, way: way / square, moment: moment / square }
    }

    /// Accelerations: of the body's origin (as its axes see it) and of its turning. Cholesky's factors; not a number
    /// where the matrix is none of masses.
    #[inline]
    pub fn solve(mut self) -> (Vector3<f64>, Vector3<f64>) {
        let (m, f) = (&mut self.mass, &mut self.force);
        for j in 0..6 {
            let mut pivot = m[j][j];
            for k in 0..j {
                pivot -= m[j][k] * m[j][k];
            }
            let inverse = 1.0 / pivot.sqrt();
            m[j][j] = inverse;
            for i in j + 1..6 {
                let mut sum = m[i][j];
                for k in 0..j {
                    sum -= m[i][k] * m[j][k];
                }
                m[i][j] = sum * inverse;
            }
        }
        for i in 0..6 {
            for k in 0..i {
                f[i] -= m[i][k] * f[k];
            }
            f[i] *= m[i][i];
        }
        for i in (0..6).rev() {
            for k in i + 1..6 {
                f[i] -= m[k][i] * f[k];
            }
            f[i] *= m[i][i];
        }
        (Vector3::new(f[0], f[1], f[2]), Vector3::new(f[3], f[4], f[5]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{SMatrix, SVector};

    /// Against the ten equations solved as they stand, by another method (LU of nalgebra).
    #[test]
    fn the_small_matrix_is_the_large_one() {
        let v = |x: f64, y: f64, z: f64| Vector3::new(x, y, z);
        let rows = |r: &Vector3<f64>| {
            SMatrix::<f64, 3, 6>::from_fn(|i, j| {
                if j < 3 { f64::from(i == j) } else { -r.cross_matrix()[(i, j - 3)] }
            })
        };
        let (centre, inertia) = (v(-1.2, 0.02, 0.5), [400.0, 1300.0, 1500.0]);
        let mut balance = Balance::body(1000.0, &centre, &inertia);
        let mut large = SMatrix::<f64, 10, 10>::zeros();
        let mut right = SVector::<f64, 10>::zeros();
        let add = |large: &mut SMatrix<f64, 10, 10>,
                   mass: f64,
                   r: &Vector3<f64>,
                   own: Option<(usize, Vector3<f64>)>| {
            let mut j = SMatrix::<f64, 3, 10>::zeros();
            j.fixed_view_mut::<3, 6>(0, 0).copy_from(&rows(r));
            if let Some((i, way)) = own {
                j.set_column(6 + i, &way);
            }
            *large += j.transpose() * j * mass;
        };
        add(&mut large, 1000.0, &centre, None);
        for i in 0..3 {
            large[(3 + i, 3 + i)] += inertia[i];
        }
        let (force, moment) = (v(300.0, -2000.0, -900.0), v(50.0, 700.0, -80.0));
        balance.push(&force, &moment);
        for i in 0..3 {
            right[i] += force[i];
            right[3 + i] += moment[i];
        }
        let mut travels = [Travel::default(); 4];
        for (i, travel) in travels.iter_mut().enumerate() {
            let k = i as f64;
            let r = v(if i < 2 { 0.0 } else { -2.5 }, if i % 2 == 0 { 0.7 } else { -0.7 }, 0.3);
            let (way, push) = (v(0.1 - 0.05 * k, 0.04 * k, 1.0), 900.0 - 500.0 * k);
            *travel = balance.wheel(30.0 + k, &r, &way, push);
            add(&mut large, 30.0 + k, &r, Some((i, way)));
            right[6 + i] = push;
        }
        let expected = large.lu().solve(&right).unwrap();
        let (along, turning) = balance.solve();
        for i in 0..3 {
            assert!((along[i] - expected[i]).abs() < 1e-10 && (turning[i] - expected[3 + i]).abs() < 1e-10);
        }
        for (i, travel) in travels.iter().enumerate() {
            assert!((travel.rate(&along, &turning) - expected[6 + i]).abs() < 1e-9);
        }
    }
}
