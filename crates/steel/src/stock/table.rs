//! Tubes, boxes, flats and bars on the shelf.

use std::sync::OnceLock;

use super::shape;
use crate::grade::same;
use crate::section::Shape;

/// A size on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// As people write it: `box 60x40x3`, `tube 1 x 0.095 in`.
    pub name: String,
    /// Its outline.
    pub shape: Shape,
    /// Mass a metre as printed in a table, of the nominal wall [kg/m]; none where no table was at hand.
    pub mass: Option<f64>,
    /// Where the size and the mass come from.
    pub source: String,
}

/// Round tubes, metric then inch.
pub fn tubes() -> &'static [Size] {
    static TABLE: OnceLock<Vec<Size>> = OnceLock::new();
    TABLE.get_or_init(|| {
        sizes(&[include_str!("../../data/tubes_metric.csv"), include_str!("../../data/tubes_inch.csv")])
    })
}

/// Square and rectangular tubes, metric then inch. `hss` sizes carry the design wall, 0.93 of the nominal one.
pub fn boxes() -> &'static [Size] {
    static TABLE: OnceLock<Vec<Size>> = OnceLock::new();
    TABLE.get_or_init(|| {
        sizes(&[include_str!("../../data/boxes_metric.csv"), include_str!("../../data/boxes_inch.csv")])
    })
}

/// Flat bars, metric then inch.
pub fn flats() -> &'static [Size] {
    static TABLE: OnceLock<Vec<Size>> = OnceLock::new();
    TABLE.get_or_init(|| sizes(&[include_str!("../../data/flats.csv")]))
}

/// Round bars, metric then inch.
pub fn bars() -> &'static [Size] {
    static TABLE: OnceLock<Vec<Size>> = OnceLock::new();
    TABLE.get_or_init(|| sizes(&[include_str!("../../data/bars.csv")]))
}

/// The size of that name in any of the tables; capitals and spaces do not matter.
pub fn find(name: &str) -> Option<&'static Size> {
    [tubes(), boxes(), flats(), bars()].into_iter().flatten().find(|size| same(&size.name, name))
}

/// Reads tables of sizes. A row that is none is left out: a test counts them.
fn sizes(tables: &[&'static str]) -> Vec<Size> {
    tables
        .iter()
        .flat_map(|table| rows(table))
        .filter_map(|cells| {
            let [name, mass, source] = *cells.as_slice() else { return None };
            Some(Size {
                name: name.to_owned(),
                shape: shape(name).ok()?,
                mass: mass.parse().ok(),
                source: source.to_owned(),
            })
        })
        .collect()
}

/// Rows of a table below its head, by cells. The tables are our own and have no commas within cells.
pub(crate) fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    table
        .lines()
        .skip(1)
        .filter(|line| !line.trim().is_empty())
        .map(|line| line.split(',').map(str::trim).collect())
}
