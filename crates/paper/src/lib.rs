//! Results on paper: pages of text, tables and drawings, and templates at true scale.
//!
//! A page is an SVG in true millimetres. [`flow`] breaks headings, paragraphs, tables and figures into pages,
//! [`template`] lays a plate out at 1:1, [`document`] puts head and foot on every page and numbers them; [`pdf`]
//! and [`png`] turn the same SVG into a file's bytes. Lengths on paper are in millimetres throughout, x to the
//! right and y down from the upper left corner. Pure functions: the date is an argument, and the same input gives
//! the same bytes. Meaning is never in a colour: pages are greys, dashes and words.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod font;
pub mod sheet;

pub mod document;
pub mod flow;

pub mod pdf;
pub mod png;

pub mod book;
pub mod build;
pub mod card;
pub mod jig;
pub mod scene;
pub mod stage;
pub mod template;

mod error;

/// What to beware of, at the foot of every page.
pub const CAUTION: &str = "Planning figures, not an approval: a structural change must be checked by a licensed engineer and \
                       satisfy local road law and the sanctioning body's rules. Weld away from fuel, batteries and lines; \
                       test step by step, away from people.";

pub use document::{Document, Head};
pub use error::PaperError;
pub use font::Fonts;
/// The font database of [`Fonts::with_fallback`].
pub use usvg::fontdb;
