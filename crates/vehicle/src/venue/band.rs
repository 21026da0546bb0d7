//! Symmetric positive systems with a narrow band.

/// A matrix by its lower band: `rows[i][k]` stands in row `i`, column `i - k`.
pub(super) struct Band<const B: usize> {
    rows: Vec<[f64; B]>,
}

impl<const B: usize> Band<B> {
    pub fn zeros(count: usize) -> Self {
        Self { rows: vec![[0.0; B]; count] }
    }

    /// Adds `weight r r^T` for a row `r` with few entries at `first`, `first + 1`, ...
    pub fn add(&mut self, first: usize, row: &[f64], weight: f64) {
        for (a, x) in row.iter().enumerate() {
            for (b, y) in row.iter().enumerate().take(a + 1) {
                if let Some(slot) = self.rows.get_mut(first + a).and_then(|r| r.get_mut(a - b)) {
                    *slot += weight * x * y;
                }
            }
        }
    }

    /// Adds to the element in row `i`, `k` columns before the diagonal.
    pub fn couple(&mut self, i: usize, k: usize, value: f64) {
        if let Some(slot) = self.rows.get_mut(i).and_then(|r| r.get_mut(k)) {
            *slot += value;
        }
    }

    /// The element in row `i`, `k` columns before the diagonal.
    pub fn at(&self, i: usize, k: usize) -> f64 {
        self.rows.get(i).and_then(|r| r.get(k)).copied().unwrap_or(0.0)
    }

    /// The product with a vector.
    pub fn times(&self, x: &[f64]) -> Vec<f64> {
        let get = |i: usize| x.get(i).copied().unwrap_or(0.0);
        (0..self.rows.len())
            .map(|i| {
                let mut sum = self.at(i, 0) * get(i);
                for k in 1..B {
                    if i >= k {
                        sum += self.at(i, k) * get(i - k);
                    }
                    sum += self.at(i + k, k) * get(i + k);
                }
                sum
            })
            .collect()
    }

    /// Solves for several right sides by `L D L^T` (any textbook), in place of the matrix. Where a pivot vanishes its
    /// unknown stays zero.
    pub fn solve(mut self, rights: &mut [&mut Vec<f64>]) {
        let count = self.rows.len();
        for j in 0..count {
            let pivot = self.at(j, 0);
            if pivot <= 0.0 || !pivot.is_finite() {
                for right in &mut *rights {
                    if let Some(slot) = right.get_mut(j) {
                        *slot = 0.0;
                    }
                }
                continue;
            }
            let column: [f64; B] =
                std::array::from_fn(|k| if k == 0 { pivot } else { self.at(j + k, k) / pivot });
            for a in 1..B {
                for b in 1..=a {
                    let take =
                        column.get(a).copied().unwrap_or(0.0) * column.get(b).copied().unwrap_or(0.0) * pivot;
                    if let Some(slot) = self.rows.get_mut(j + a).and_then(|r| r.get_mut(a - b)) {
                        *slot -= take;
                    }
                }
            }
            for (k, value) in column.iter().enumerate().skip(1) {
                if let Some(slot) = self.rows.get_mut(j + k).and_then(|r| r.get_mut(k)) {
                    *slot = *value;
                }
            }
            for right in &mut *rights {
                let own = right.get(j).copied().unwrap_or(0.0);
                for (k, value) in column.iter().enumerate().skip(1) {
                    if let Some(slot) = right.get_mut(j + k) {
                        *slot -= value * own;
                    }
                }
            }
        }
        for j in (0..count).rev() {
            let pivot = self.at(j, 0);
            if pivot <= 0.0 || !pivot.is_finite() {
                continue;
            }
            for right in &mut *rights {
                let mut own = right.get(j).copied().unwrap_or(0.0) / pivot;
                for k in 1..B {
                    own -= self.at(j + k, k) * right.get(j + k).copied().unwrap_or(0.0);
                }
                if let Some(slot) = right.get_mut(j) {
                    *slot = own;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against nalgebra's Cholesky on a random matrix of three bands.
    #[test]
    fn as_a_dense_solver() {
        let mut seed = 3u64;
        let mut random = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 11) as f64 / (1u64 << 53) as f64 - 0.5
        };
        let n = 40;
        let mut band = Band::<4>::zeros(n);
        let mut dense = nalgebra::DMatrix::<f64>::zeros(n, n);
        for i in 0..n - 3 {
            let row = [random(), random(), random(), random()];
            band.add(i, &row, 1.0 + random());
        }
        for i in 0..n {
            band.add(i, &[1.0], 0.3);
            for k in 0..4.min(i + 1) {
                dense[(i, i - k)] = band.at(i, k);
                dense[(i - k, i)] = band.at(i, k);
            }
        }
        let right: Vec<f64> = (0..n).map(|_| random()).collect();
        let want = dense.clone().cholesky().unwrap().solve(&nalgebra::DVector::from_vec(right.clone()));
        let product = band.times(want.as_slice());
        let mut got = right.clone();
        band.solve(&mut [&mut got]);
        for i in 0..n {
            assert!((got[i] - want[i]).abs() < 1e-10 && (product[i] - right[i]).abs() < 1e-10);
        }
    }
}
