//! Why the linkage goes no further.

use nalgebra::DMatrix;

use super::Solver;
use crate::error::{StopReason, Unreachable};
use crate::row::Row;
use crate::singular::Singular;

/// Least singular value over the largest at which a stop is put down to links in line. A stop is located to
/// [`LEAST_INPUT_STEP`], and that value falls with the root of the distance; sound corners have 0.03 and more.
const TOGGLE: f64 = 0.01;

impl Solver<'_> {
    /// Describes the present position as the last one reached. What binds: the joints that weigh most in the
    /// combination of equations that is nearest to contradicting itself (the left singular vector of the
    /// smallest singular value), which at a toggle is the pattern of the forces that grow without bound.
    pub(super) fn stuck(&mut self, share: f64, mut reason: StopReason) -> Unreachable {
        self.linearise();
        let columns = self.unknown.len();
        let mut weights: Vec<(f64, &str)> = Vec::new();
        // Transposed: its right vectors are the left ones of the gradient.
        let transposed = DMatrix::from_column_slice(columns, self.rhs.len(), &self.gradient);
        if let Some(singular) = Singular::new(transposed) {
            let u = singular.right.column(singular.right.ncols() - 1);
            let rank = usize::min(columns, self.rhs.len());
            if singular.values[rank - 1] < TOGGLE * singular.values[0] {
                reason = StopReason::Toggle;
            }
            for joint in self.linkage.joints() {
                let drive = self.linkage.rows()[joint.rows.clone()]
                    .iter()
                    .any(|r| matches!(r, Row::Offset { input: Some(_), .. } | Row::Turn { .. }));
                if !drive {
                    weights.push((u.rows(joint.rows.start, joint.rows.len()).norm(), &joint.name));
                }
            }
        }
        weights.sort_by(|a, b| b.0.total_cmp(&a.0));
        let largest = weights.first().map_or(0.0, |w| w.0);
        let binding =
            weights.iter().filter(|w| w.0 > 0.5 * largest).take(3).map(|w| w.1.to_string()).collect();
        Unreachable { reached: self.position.inputs.clone(), share: share.clamp(0.0, 1.0), reason, binding }
    }
}
