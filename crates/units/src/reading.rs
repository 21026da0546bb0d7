//! What a written quantity comes to.

/// A reading: SI value and, where written, its standard uncertainty in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Value in the SI unit of its dimension.
    pub value: f64,
    /// Standard uncertainty (one sigma), same unit as the value, never negative; `None` where nothing was written.
    pub uncertainty: Option<f64>,
}
