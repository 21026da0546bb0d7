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
    /// No spring or damper of that number carries the corner.
    #[error("no spring or damper carries the corner")]
    NoHolder,
    /// Numbers that are not finite went in or came out.
    #[error("the forces are not finite numbers")]
    NotFinite,
    /// The joints cannot carry the load.
    #[error("the joints do not hold the load: {left:.1} N are left over")]
    GivesWay {
        /// Largest force [N], or moment over a metre, left over.
        left: f64,
    },
}
