//! Newton's method for a few balances, its matrix by differences.

use nalgebra::{Const, DimMin, SMatrix, SVector};

/// How a search goes.
pub(crate) struct Search<const N: usize> {
    /// Longest step of each unknown.
    pub longest: [f64; N],
    /// Step of the differences, as a share of the longest.
    pub difference: f64,
    /// A step smaller than this share of the longest ends the search.
    pub settled: f64,
    /// Steps at most.
    pub most: usize,
}

impl<const N: usize> Search<N> {
    /// Where nothing is left over, from a place near it; `None` where the search does not end.
    pub fn run(
        &self,
        mut x: SVector<f64, N>,
        left_over: impl Fn(&SVector<f64, N>) -> SVector<f64, N>,
    ) -> Option<SVector<f64, N>>
    where
        Const<N>: DimMin<Const<N>, Output = Const<N>>,
    {
        for _ in 0..self.most {
            let left = left_over(&x);
            let mut matrix = SMatrix::<f64, N, N>::zeros();
            for (i, longest) in self.longest.iter().enumerate() {
                let by = longest * self.difference;
                let mut moved = x;
                if let Some(unknown) = moved.get_mut(i) {
                    *unknown += by;
                }
                matrix.set_column(i, &((left_over(&moved) - left) / by));
            }
            let mut step = -matrix.lu().solve(&left)?;
            let longest = step.iter().zip(self.longest).map(|(s, l)| s.abs() / l).fold(0.0, f64::max);
            if !longest.is_finite() {
                return None;
            }
            if longest > 1.0 {
                step /= longest;
            }
            x += step;
            if longest < self.settled {
                return Some(x);
            }
        }
        None
    }
}
