//! Drawings and charts, made once as SVG text: the same on the screen, on paper and in a file.
//!
//! A [`Scene`] is one axle at one position as plain data; [`views`] draws it to scale from the left, from behind
//! and from above; [`chart`] draws curves; [`frame()`](frame::frame) a loaded space frame; [`solid`] makes it a mesh that can be turned about; [`style`] has the
//! one stylesheet. Pure functions: nothing here reads or writes, and no number is worked out here that has a name
//! elsewhere.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

mod aim;
mod labels;
mod plane;

pub mod svg;

pub mod scene;

pub mod views;

pub mod chart;
pub mod frame;
pub mod motion;
pub mod solid;
pub mod style;
pub mod track;
pub mod weights;

pub use labels::text_width;
pub use plane::Rect;
pub use scene::Scene;
pub use views::{Fit, Overlays, Show, View, ViewMap, ViewOptions};
