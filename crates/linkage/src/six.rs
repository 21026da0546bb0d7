//! LU with partial pivoting of the one matrix that the solver meets most: a body on six equations.
//!
//! Written out because the size is known: it takes half the time of the general factorisation, and the general
//! one was a third of the time of a position (`benches/position` of the suspension crate).

const N: usize = 6;

/// A factorised regular matrix.
#[derive(Clone, Debug)]
pub struct Six {
    /// Multipliers below the diagonal, inverse pivots on it, the upper factor above it; rows as pivoted.
    rows: [[f64; N]; N],
    /// Which row of the matrix stands at each place.
    order: [usize; N],
    /// Sign of the determinant.
    sign: f64,
}

impl Six {
    /// Factorises a matrix given row by row; `None` where a pivot is less than `least` of the largest one or is
    /// not finite.
    #[inline]
    pub fn new(matrix: &[f64], least: f64) -> Option<Self> {
        let mut rows = [[0.0; N]; N];
        for (row, given) in rows.iter_mut().zip(matrix.chunks_exact(N)) {
            row.copy_from_slice(given);
        }
        let mut order = [0, 1, 2, 3, 4, 5];
        let (mut sign, mut smallest, mut largest) = (1.0, f64::INFINITY, 0.0f64);
        for k in 0..N {
            let mut pivot = k;
            for i in k + 1..N {
                if rows[i][k].abs() > rows[pivot][k].abs() {
                    pivot = i;
                }
            }
            if pivot != k {
                rows.swap(pivot, k);
                order.swap(pivot, k);
                sign = -sign;
            }
            let size = rows[k][k].abs();
            // Also catches NaN.
            if !(size > 0.0 && size < f64::INFINITY) {
                return None;
            }
            (smallest, largest) = (smallest.min(size), largest.max(size));
            if rows[k][k] < 0.0 {
                sign = -sign;
            }
            let inverse = 1.0 / rows[k][k];
            rows[k][k] = inverse;
            let upper = rows[k];
            for row in &mut rows[k + 1..] {
                let multiplier = row[k] * inverse;
                row[k] = multiplier;
                for j in k + 1..N {
                    row[j] -= multiplier * upper[j];
                }
            }
        }
        (smallest > least * largest).then_some(Self { rows, order, sign })
    }

    /// Solves for one right-hand side; both slices have six places.
    #[expect(clippy::needless_range_loop, reason = "indices as in the formula")]
    #[inline]
    pub fn solve(&self, rhs: &[f64], x: &mut [f64]) {
        let mut y = [0.0; N];
        for i in 0..N {
            let mut sum = rhs[self.order[i]];
            for j in 0..i {
                sum -= self.rows[i][j] * y[j];
            }
            y[i] = sum;
        }
        for i in (0..N).rev() {
            let mut sum = y[i];
            for j in i + 1..N {
                sum -= self.rows[i][j] * y[j];
            }
            y[i] = sum * self.rows[i][i];
        }
        x.copy_from_slice(&y);
    }

    /// Sign of the determinant.
    pub fn sign(&self) -> f64 {
        self.sign
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::{Matrix6, Vector6};

    use super::*;

    /// Against the general factorisation, for matrices that need their rows swapped.
    #[test]
    fn solves_as_the_general_factorisation_does() {
        let mut seed = 1u64;
        let mut random = move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 11) as f64 / (1u64 << 53) as f64 - 0.5
        };
        for _ in 0..500 {
            let matrix = Matrix6::from_fn(|_, _| random());
            let rhs = Vector6::from_fn(|_, _| random());
            let six = Six::new(matrix.transpose().as_slice(), 1e-12).unwrap();
            let mut x = [0.0; 6];
            six.solve(rhs.as_slice(), &mut x);
            let lu = matrix.lu();
            assert!((matrix * Vector6::from(x) - rhs).amax() < 1e-11);
            assert_eq!(six.sign(), lu.determinant().signum());
        }
    }

    #[test]
    fn refuses_what_it_cannot_divide_by() {
        let mut matrix: [f64; 36] = *Matrix6::identity().as_slice().first_chunk().unwrap();
        assert!(Six::new(&matrix, 1e-9).is_some());
        for bad in [0.0, 1e-10, f64::NAN, f64::INFINITY] {
            matrix[14] = bad;
            assert!(Six::new(&matrix, 1e-9).is_none(), "{bad}");
        }
    }
}
