//! What a point of a linkage can move with.

/// What carries a point or a direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Frame {
    /// Fixed.
    Ground,
    /// A moving body, by index.
    Body(usize),
    /// A carriage: it slides along a fixed direction by the value of an input, and does not turn.
    Carriage(usize),
}
