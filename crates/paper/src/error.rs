//! What can go wrong between a page and a file.

use thiserror::Error;

/// Why a page did not become a file.
#[derive(Debug, Error)]
pub enum PaperError {
    /// A page's SVG is not well formed: a drawing placed on it is broken.
    #[error("page {page} cannot be read as SVG")]
    Svg {
        /// Which page, from 1.
        page: usize,
        /// What is wrong with it.
        source: usvg::Error,
    },
    /// There is no such page.
    #[error("there is no page {page}: the document has {count}")]
    NoPage {
        /// Which page was asked for, from 1.
        page: usize,
        /// How many there are.
        count: usize,
    },
    /// There is nothing to be written.
    #[error("the document has no page: nothing was said")]
    Empty,
    /// A page has no size, or one that a picture cannot have.
    #[error("page {page} would be {width:.0} by {height:.0}: ask for a resolution between 20 and 1200 dpi")]
    Size {
        /// Which page, from 1.
        page: usize,
        /// Its width, points or pixels.
        width: f64,
        /// Its height, points or pixels.
        height: f64,
    },
    /// The PDF cannot be written.
    #[error("the PDF cannot be written: {0}")]
    Pdf(krilla::error::KrillaError),
    /// A picture cannot be encoded.
    #[error("page {page} cannot be encoded as PNG: {reason}")]
    Png {
        /// Which page, from 1.
        page: usize,
        /// What the encoder says.
        reason: String,
    },
}
