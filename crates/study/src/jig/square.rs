//! Cross measures: on a frame that is square and the same on both sides, left to right is as long as right to left.

use super::JigRow;
use super::points::{JigRole, Side};

/// Two pickups measured crosswise.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagonal {
    /// One pickup.
    pub a: String,
    /// The other.
    pub b: String,
    /// From `a` on the left to `b` on the right \[m\].
    pub left_to_right: f64,
    /// From `a` on the right to `b` on the left \[m\].
    pub right_to_left: f64,
    /// By how much the first grows over the second for each unit by which the left side stands ahead of the right one
    /// \[m/m\]: a diagonal with a small one says little.
    pub per_ahead: f64,
}

impl Diagonal {
    /// The first less the second \[m\]; zero on a frame that is the same on both sides.
    pub fn difference(&self) -> f64 {
        self.left_to_right - self.right_to_left
    }
}

/// The diagonals of every two pickups that guide the wheel, holes not taken.
pub(super) fn diagonals(rows: &[JigRow]) -> Vec<Diagonal> {
    let taken = |row: &&JigRow| matches!(row.role, JigRole::Pickup | JigRole::Rack) && row.hole.is_none();
    let on = |side: Side| rows.iter().filter(taken).filter(move |row| row.side == side);
    let (left, right): (Vec<_>, Vec<_>) = (on(Side::Left).collect(), on(Side::Right).collect());
    let mut all = Vec::new();
    let pairs = left.iter().zip(&right).enumerate();
    for (i, (a_left, a_right)) in pairs {
        for (b_left, b_right) in left.iter().zip(&right).skip(i + 1) {
            let (first, second) = (a_left.in_car - b_right.in_car, a_right.in_car - b_left.in_car);
            let (long, other) = (first.norm(), second.norm());
            if long <= f64::EPSILON || other <= f64::EPSILON {
                continue;
            }
            // |a_L - b_R| grows by its x part when a_L goes ahead, |a_R - b_L| shrinks by its own.
            let per_ahead = first.x / long + second.x / other;
            all.push(Diagonal {
                a: a_left.point.clone(),
                b: b_left.point.clone(),
                left_to_right: long,
                right_to_left: other,
                per_ahead,
            });
        }
    }
    all.sort_by(|one, two| two.per_ahead.abs().total_cmp(&one.per_ahead.abs()));
    all
}
