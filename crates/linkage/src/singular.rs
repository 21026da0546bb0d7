//! Singular values by one-sided Jacobi rotations.
//!
//! Why not the library's: the bidiagonal iteration of nalgebra 0.35 loses all digits on about one rank-deficient
//! 6 by 6 matrix in a hundred (its issue 1172), and rank-deficient matrices are what this crate asks about.
//! Jacobi's method is slower, shorter, and exact to rounding for every matrix of unit rows: J. Demmel & K.
//! Veselic, Jacobi's method is more accurate than QR, SIAM J. Matrix Anal. Appl. 13 (1992), algorithm 4.1
//! (remembered).

use nalgebra::DMatrix;

/// Rounds over all pairs of columns. Convergence is quadratic at the end; six to ten are usual.
const MOST_SWEEPS: usize = 60;

/// Two columns count as square to each other below this cosine: the rounding of a product of thirty numbers,
/// so that it can be reached.
const SQUARE: f64 = 4e-15;

/// A column below this share of the whole matrix is nothing but rounding: not worth turning.
const NOTHING: f64 = 1e-18;

/// `A V = B`, `V` orthogonal, the columns of `B` square to each other and as long as the singular values.
#[derive(Clone, Debug)]
pub struct Singular {
    /// Singular values, largest first: one a column of `A`, also where `A` has fewer rows.
    pub values: Vec<f64>,
    /// Right singular vectors `V`, in columns. Those of zero values span the motions that `A` does not see.
    pub right: DMatrix<f64>,
    /// `A V`: left singular vectors times their values.
    scaled_left: DMatrix<f64>,
}

impl Singular {
    /// Decomposes a matrix; `None` if it is empty or not finite.
    pub fn new(matrix: DMatrix<f64>) -> Option<Self> {
        let columns = matrix.ncols();
        if matrix.nrows() == 0 || columns == 0 || !matrix.iter().all(|x| x.is_finite()) {
            return None;
        }
        // A power of two, so that squares neither overflow nor vanish and nothing is rounded.
        let largest = matrix.amax();
        let scale = if largest > 0.0 { largest.log2().floor().exp2() } else { 1.0 };
        let mut b = matrix / scale;
        let mut v = DMatrix::identity(columns, columns);
        let nothing = NOTHING * b.norm();
        for _ in 0..MOST_SWEEPS {
            let mut turned = false;
            for p in 0..columns {
                for q in p + 1..columns {
                    turned |= make_square(&mut b, &mut v, p, q, nothing);
                }
            }
            if !turned {
                break;
            }
        }
        let lengths: Vec<f64> = b.column_iter().map(|c| c.norm()).collect();
        let mut order: Vec<usize> = (0..columns).collect();
        order.sort_by(|i, j| lengths[*j].total_cmp(&lengths[*i]));
        Some(Self {
            values: order.iter().map(|i| lengths[*i] * scale).collect(),
            right: v.select_columns(&order),
            scaled_left: b.select_columns(&order) * scale,
        })
    }

    /// How many values exceed a cut.
    pub fn rank(&self, cut: f64) -> usize {
        self.values.iter().filter(|s| **s > cut).count()
    }

    /// The pseudo-inverse, values up to the cut counting as zero.
    pub fn pseudo_inverse(&self, cut: f64) -> DMatrix<f64> {
        let rank = self.rank(cut);
        let mut v = self.right.columns(0, rank).into_owned();
        let mut u = self.scaled_left.columns(0, rank).into_owned();
        for (k, s) in self.values[..rank].iter().enumerate() {
            v.column_mut(k).unscale_mut(*s);
            u.column_mut(k).unscale_mut(*s);
        }
        v * u.transpose()
    }
}

/// Turns columns p < q of `b` (and of `v` along) until they are square to each other; false if they were.
fn make_square(b: &mut DMatrix<f64>, v: &mut DMatrix<f64>, p: usize, q: usize, nothing: f64) -> bool {
    let (x, y) = two_columns(b, p, q);
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (s, t) in x.iter().zip(y.iter()) {
        xx += s * s;
        yy += t * t;
        xy += s * t;
    }
    if xy.abs() <= SQUARE * (xx * yy).sqrt() || xx.min(yy).sqrt() <= nothing {
        return false;
    }
    // tan of the smaller angle that makes x.y vanish: t^2 + 2 z t - 1 = 0, z = (y.y - x.x)/(2 x.y)
    let z = (yy - xx) / (2.0 * xy);
    let tan = z.signum() / (z.abs() + (1.0 + z * z).sqrt());
    let cos = 1.0 / (1.0 + tan * tan).sqrt();
    let sin = cos * tan;
    for m in [b, v] {
        let (x, y) = two_columns(m, p, q);
        for (s, t) in x.iter_mut().zip(y) {
            (*s, *t) = (cos * *s - sin * *t, sin * *s + cos * *t);
        }
    }
    true
}

#[inline]
fn two_columns(m: &mut DMatrix<f64>, p: usize, q: usize) -> (&mut [f64], &mut [f64]) {
    let height = m.nrows();
    let (head, tail) = m.as_mut_slice().split_at_mut(q * height);
    (&mut head[p * height..(p + 1) * height], &mut tail[..height])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rounding through some ten sweeps over thirty columns.
    const ROUNDING: f64 = 1e-13;

    fn numbers(mut seed: u64) -> impl FnMut() -> f64 {
        move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 11) as f64 / (1u64 << 52) as f64 - 1.0
        }
    }

    #[track_caller]
    fn check(a: &DMatrix<f64>, rank: usize) {
        let s = Singular::new(a.clone()).unwrap();
        let largest = s.values[0].max(f64::MIN_POSITIVE);
        assert!((&s.scaled_left * s.right.transpose() - a).amax() <= ROUNDING * largest);
        let eye = DMatrix::identity(a.ncols(), a.ncols());
        assert!((s.right.transpose() * &s.right - eye).amax() <= ROUNDING);
        assert_eq!(s.rank(1e-10 * largest), rank, "{:?}", s.values);
        // A A+ A = A, and A+ A is symmetric.
        let inverse = s.pseudo_inverse(1e-10 * largest);
        let condition = largest / s.values[..rank].last().copied().unwrap_or(largest);
        let back = a * &inverse * a - a;
        assert!(back.amax() <= ROUNDING * condition * largest, "{}", back.amax() / largest);
        let onto = &inverse * a;
        assert!((&onto - onto.transpose()).amax() <= ROUNDING * condition);
    }

    #[test]
    fn decomposes_matrices_of_every_shape_and_rank() {
        let mut random = numbers(3);
        for (rows, columns) in [(6, 6), (12, 12), (30, 30), (8, 6), (5, 6), (24, 30), (1, 6), (6, 1)] {
            for lost in 0..3 {
                for _ in 0..20 {
                    let full = usize::min(rows, columns);
                    if lost >= full {
                        continue;
                    }
                    let left = DMatrix::from_fn(rows, full - lost, |_, _| random());
                    let right = DMatrix::from_fn(full - lost, columns, |_, _| random());
                    check(&(left * right), full - lost);
                }
            }
        }
    }

    #[test]
    fn knows_repeated_rows_and_ones() {
        // Rows as ball joints make them: many zeros and ones, one row twice.
        let mut random = numbers(5);
        for _ in 0..300 {
            let mut a =
                DMatrix::from_fn(6, 6, |i, j| if i < 3 { f64::from(u8::from(i == j)) } else { random() });
            let twice = a.row(3).into_owned();
            a.row_mut(5).copy_from(&twice);
            check(&a, 5);
        }
        check(&DMatrix::zeros(6, 6), 0);
        check(&DMatrix::identity(6, 6), 6);
        assert!(Singular::new(DMatrix::zeros(0, 6)).is_none());
        assert!(Singular::new(DMatrix::from_element(2, 2, f64::NAN)).is_none());
    }

    #[test]
    fn does_not_mind_the_scale() {
        let mut random = numbers(7);
        for scale in [1e-200, 1e-9, 1e9, 1e200] {
            check(&DMatrix::from_fn(6, 6, |_, _| scale * random()), 6);
        }
    }
}
