//! A symmetric matrix by its entries, and its sparse Cholesky factor.
//!
//! nalgebra-sparse factors in the order in which the unknowns stand. They are put in the order of Cuthill and McKee, turned
//! round (A. George & J. Liu, Computer Solution of Large Sparse Positive Definite Systems (1981), ch. 4; remembered): what is
//! joined stands near, so that the factor stays narrow.

use std::collections::VecDeque;

use nalgebra::DMatrix;
use nalgebra_sparse::factorization::CscCholesky;
use nalgebra_sparse::{CooMatrix, CscMatrix};

/// An entry of the lower triangle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub row: usize,
    pub col: usize,
    pub val: f64,
}

/// A factored matrix.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    cholesky: CscCholesky<f64>,
    /// Where each unknown stands in the factor.
    places: Vec<usize>,
}

impl Factor {
    /// `None` where the matrix is not positive definite, or has an entry that it has no place for.
    pub fn new(size: usize, entries: &[Entry]) -> Option<Self> {
        let places = places(size, entries);
        let mut matrix = CooMatrix::new(size, size);
        for entry in entries {
            let (row, col) = (*places.get(entry.row)?, *places.get(entry.col)?);
            matrix.push(row, col, entry.val);
            if row != col {
                matrix.push(col, row, entry.val);
            }
        }
        // The factor writes every pivot to the first entry of its column without looking whether that is the diagonal's: a
        // freedom without any stiffness must have one too.
        for k in 0..size {
            matrix.push(k, k, 0.0);
        }
        let cholesky = CscCholesky::factor(&CscMatrix::from(&matrix)).ok()?;
        Some(Self { cholesky, places })
    }

    /// Takes right-hand sides, a column each, to solutions.
    pub fn solve(&self, columns: &mut DMatrix<f64>) {
        let mut ordered = DMatrix::zeros(columns.nrows(), columns.ncols());
        for (unknown, place) in self.places.iter().enumerate() {
            ordered.row_mut(*place).copy_from(&columns.row(unknown));
        }
        self.cholesky.solve_mut(&mut ordered);
        for (unknown, place) in self.places.iter().enumerate() {
            columns.row_mut(unknown).copy_from(&ordered.row(*place));
        }
    }
}

/// Where each unknown goes, so that neighbours stand near each other.
fn places(size: usize, entries: &[Entry]) -> Vec<usize> {
    let mut neighbours: Vec<Vec<usize>> = vec![Vec::new(); size];
    for entry in entries.iter().filter(|entry| entry.row != entry.col) {
        for (own, other) in [(entry.row, entry.col), (entry.col, entry.row)] {
            if let Some(list) = neighbours.get_mut(own) {
                list.push(other);
            }
        }
    }
    for list in &mut neighbours {
        list.sort_unstable();
        list.dedup();
    }
    let degree = |unknown: usize| neighbours.get(unknown).map_or(0, Vec::len);
    let mut starts: Vec<usize> = (0..size).collect();
    starts.sort_by_key(|unknown| degree(*unknown));
    let mut places = vec![usize::MAX; size];
    let mut next = size;
    let mut queue = VecDeque::new();
    let mut seen = vec![false; size];
    // Each piece of the frame that hangs on nothing else begins anew.
    for start in starts {
        queue.push_back(start);
        while let Some(unknown) = queue.pop_front() {
            match seen.get_mut(unknown) {
                Some(seen) if !*seen => *seen = true,
                _ => continue,
            }
            next -= 1;
            if let Some(place) = places.get_mut(unknown) {
                *place = next;
            }
            let mut joined: Vec<usize> = neighbours.get(unknown).cloned().unwrap_or_default();
            joined.sort_by_key(|other| degree(*other));
            queue.extend(joined);
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A chain numbered at random has a factor without fill once it is ordered, and solves.
    #[test]
    fn a_shuffled_chain_is_put_in_order() {
        let order = [3, 7, 0, 5, 2, 8, 1, 6, 4];
        let mut entries: Vec<Entry> = (0..9).map(|k| Entry { row: k, col: k, val: 2.5 }).collect();
        for pair in order.windows(2) {
            entries.push(Entry { row: pair[0].max(pair[1]), col: pair[0].min(pair[1]), val: -1.0 });
        }
        let factor = Factor::new(9, &entries).unwrap();
        assert_eq!(factor.cholesky.l().nnz(), 17);
        let mut full = DMatrix::zeros(9, 9);
        for e in &entries {
            full[(e.row, e.col)] = e.val;
            full[(e.col, e.row)] = e.val;
        }
        let right = DMatrix::from_fn(9, 2, |i, j| (i * 3 + j) as f64 - 4.0);
        let mut solved = right.clone();
        factor.solve(&mut solved);
        assert!((full * solved - right).amax() < 1e-13);
        entries.push(Entry { row: 0, col: 0, val: -9.0 });
        assert!(Factor::new(9, &entries).is_none());
    }

    /// An unknown with no entry at all, or none on the diagonal, is refused, not factored.
    #[test]
    fn an_unknown_without_stiffness_is_refused() {
        let one = |row, col, val| Entry { row, col, val };
        assert!(Factor::new(3, &[one(0, 0, 1.0), one(1, 1, 1.0)]).is_none());
        assert!(Factor::new(3, &[one(0, 0, 1.0), one(2, 1, 0.5), one(2, 2, 1.0)]).is_none());
    }
}
