//! Drilling patterns at true scale: print, check the bars, tape to the plate, punch, drill.
//!
//! A [`Pattern`] is a plate as plain data, in millimetres in its own plane: x to the right and y up, as it is seen
//! by the one who drills. [`of_plate`] makes one from a plate of the car file, for the left side and as the mirror
//! for the right. [`Drawing`] is its geometry by purpose (cut, drill, mark), for a cutting file as well as for
//! paper; [`sheets`] lays it out on pages with the list of distances by which it is checked.

mod drawing;
mod labels;
mod list;
mod pages;
mod pattern;
mod plate;
mod strip;
mod tiling;

pub use drawing::{Drawing, Mark, Ring, drawing};
pub use pages::sheets;
pub use pattern::{Datum, Direction, Distance, Pattern, PatternHole, TemplateError};
pub use plate::{Clearance, of_plate};
