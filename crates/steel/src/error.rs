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
    /// Walls that leave no hollow.
    #[error("a wall of {wall} m leaves no hollow in a tube of {size} m: give a thinner wall, or a bar")]
    Wall {
        /// Wall [m].
        wall: f64,
        /// Least outer size [m].
        size: f64,
    },
    /// Corners that are rounder than the tube is wide.
    #[error("corners of radius {corner} m do not fit on a tube of {size} m: at most half of that")]
    Corner {
        /// Outer radius of the corners [m].
        corner: f64,
        /// Least outer size [m].
        size: f64,
    },
}
