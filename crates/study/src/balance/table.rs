//! Rows of findings from the list of estimates of the one pass.

use crate::estimate::Estimate;
use crate::quantity::{About, Scale};
use crate::stage::{Cell, Finding};
use crate::whole::WholeCar;

/// Hands out estimates in the order in which the figures were listed.
pub(super) struct Table<'a> {
    car: &'a WholeCar,
    estimates: std::vec::IntoIter<Option<Estimate>>,
    /// Of the block that is open.
    block: std::vec::IntoIter<Option<Estimate>>,
}

impl<'a> Table<'a> {
    pub fn new(car: &'a WholeCar, estimates: Vec<Option<Estimate>>) -> Self {
        Self { car, estimates: estimates.into_iter(), block: Vec::new().into_iter() }
    }

    /// Opens the next block, of so many figures; what is left of the last one is passed over.
    pub fn open(&mut self, count: usize) {
        self.block = self.estimates.by_ref().take(count).collect::<Vec<_>>().into_iter();
    }

    /// The next figures as cells.
    pub fn cells(&mut self, columns: usize) -> Vec<Cell> {
        (0..columns).map(|_| Cell::of(self.car, self.block.next().flatten())).collect()
    }

    /// The next figures as a row.
    pub fn row(&mut self, (key, about, scale): (&'static str, About, Scale), columns: usize) -> Finding {
        Finding::new(key, about, scale, self.cells(columns))
    }
}

/// Two columns, row by row.
pub(super) fn by_rows<const N: usize>(columns: [[Option<f64>; N]; 2]) -> Vec<Option<f64>> {
    let [front, rear] = columns;
    front.into_iter().zip(rear).flat_map(|(f, r)| [f, r]).collect()
}

/// Names of columns.
pub(super) fn columns(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_string()).collect()
}
