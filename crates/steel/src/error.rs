//! What can be wrong with what is handed to this crate.

use thiserror::Error;

/// Why a part, a section or a frame cannot be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SteelError {
    /// A figure that no part has.
    #[error("{what} is {value}, which no part has")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// Its value, SI.
        value: f64,
    },
}
