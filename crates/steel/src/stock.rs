//! Sizes that can be bought, and how sizes are written.
//!
//! The tables stand in `data/*.csv`, each row with its source. They are what is commonly on the shelf, not a promise that
//! it is: any own size is read by [`shape`].

mod bolts;
mod shape;
mod table;

pub use bolts::{BoltSize, bolt, bolts};
pub use shape::shape;
pub(crate) use table::rows;
pub use table::{Size, bars, boxes, find, flats, tubes};
