//! Numbers that fill a cube evenly, whichever part of their row is taken.

/// Bases of the axes: the first primes.
const PRIMES: [u64; 16] = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53];

/// Number of the row on an axis, between 0 and 1: the digits of the index in the axis' base, behind the point in reverse
/// (J. Halton, Numer. Math. 2 (1960) 84, remembered). From the seventeenth axis on bases come again with another shift:
/// such axes are no longer independent of those before.
pub(super) fn halton(index: u64, axis: usize) -> f64 {
    let base = PRIMES.get(axis % PRIMES.len()).copied().unwrap_or(2);
    let (mut left, mut place, mut sum) = (index, 1.0, 0.0);
    while left > 0 {
        place /= base as f64;
        sum += place * (left % base) as f64;
        left /= base;
    }
    (sum + 0.61 * (axis / PRIMES.len()) as f64).fract()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers by hand; even filling: the mean of `N` numbers is a half to `1/N` times a few digits.
    #[test]
    fn rows_fill_their_axis() {
        let first: Vec<f64> = (1..6).map(|i| halton(i, 0)).collect();
        assert_eq!(first, [0.5, 0.25, 0.75, 0.125, 0.625]);
        assert!((halton(1, 1) - 1.0 / 3.0).abs() < 1e-15 && (halton(5, 1) - 7.0 / 9.0).abs() < 1e-15);
        for axis in 0..20 {
            let all: Vec<f64> = (0..3000).map(|i| halton(i, axis)).collect();
            let mean = all.iter().sum::<f64>() / 3000.0;
            assert!(
                (mean - 0.5).abs() < 0.02 && all.iter().all(|v| (0.0..1.0).contains(v)),
                "{axis}: {mean}"
            );
        }
    }
}
