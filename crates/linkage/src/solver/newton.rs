//! Newton's method on all equations at once.

use nalgebra::Vector3;

use super::Solver;
use crate::error::StopReason;
use crate::factor::Factor;

/// Newton's method stops after a step smaller than this [m, and rad times 1 m]. Convergence is quadratic with
/// a constant of the order of 1/link length, so the error left is of the order of 1e-15 m.
pub const LAST_STEP: f64 = 3e-8;

/// Iterations allowed to one position. From a predicted start it takes one to three.
pub const MOST_ITERATIONS: usize = 30;

/// Longest Newton step taken whole: beyond it the linear model is not to be trusted [m; rad].
pub const LONGEST_STEP: (f64, f64) = (0.25, 0.5);

/// Residual [m] at which a position with redundant equations counts as satisfied.
pub const RESIDUAL_TOLERANCE: f64 = 1e-10;

impl Solver<'_> {
    pub(super) fn linearise(&mut self) {
        let columns = self.unknown.len();
        self.gradient.fill(0.0);
        for ((row, gradient), residual) in
            self.linkage.rows().iter().zip(self.gradient.chunks_exact_mut(columns.max(1))).zip(&mut self.rhs)
        {
            *residual = row.linearise(self.linkage.frames(), &self.position, gradient);
        }
    }

    pub(super) fn newton(&mut self, orientation: f64) -> Result<f64, StopReason> {
        self.iterate(orientation, None)
    }

    pub(super) fn newton_toward(&mut self, misfit: &[f64], share: f64) -> Result<f64, StopReason> {
        self.iterate(0.0, Some((misfit, share)))
    }

    /// Newton's method from the present position; returns the total correction. `orientation` is that of the
    /// branch to stay on (0: any). With `offset`, the residuals are to become the given misfit times a share
    /// instead of zero.
    fn iterate(&mut self, orientation: f64, offset: Option<(&[f64], f64)>) -> Result<f64, StopReason> {
        let mut total = 0.0;
        let mut previous = f64::INFINITY;
        let rows = self.rhs.len();
        self.moved();
        for _ in 0..MOST_ITERATIONS {
            self.effort.iterations += 1;
            self.linearise();
            if let Some((misfit, share)) = offset {
                for (r, m) in self.rhs.iter_mut().zip(misfit) {
                    *r -= share * m;
                }
            }
            let size = self.rhs.iter().fold(0.0f64, |s, r| s.max(r.abs()));
            // Far from the solution a residual may grow for one step; steadily growing means none is near.
            if !size.is_finite() || size > 4.0 * previous.max(1e-9) {
                return Err(StopReason::NoPosition);
            }
            previous = size;
            self.factor = Factor::new(&self.gradient, rows, self.unknown.len());
            let Some(factor) = &self.factor else { return Err(StopReason::NoPosition) };
            let regular = factor.is_regular();
            if orientation != 0.0 && factor.orientation() != orientation {
                return Err(StopReason::Toggle);
            }
            factor.solve(&self.rhs, &mut self.unknown);
            let step = self.apply();
            total += step;
            if step.is_nan() {
                return Err(StopReason::NoPosition);
            }
            if step < LAST_STEP {
                if !regular {
                    self.linearise();
                    let left = self.rhs.iter().enumerate().fold(0.0f64, |s, (i, r)| {
                        s.max((r - offset.map_or(0.0, |(m, share)| m[i] * share)).abs())
                    });
                    if left > RESIDUAL_TOLERANCE {
                        return Err(StopReason::Toggle);
                    }
                }
                for pose in &mut self.position.poses {
                    pose.tidy();
                }
                self.factor_near = true;
                self.factor_offset = step;
                return Ok(total);
            }
        }
        Err(StopReason::NoPosition)
    }

    /// Takes the step in `unknown`, shortened where it is too long; returns its size.
    fn apply(&mut self) -> f64 {
        let (mut shift2, mut turn2) = (0.0f64, 0.0f64);
        for x in self.unknown.chunks_exact(6) {
            shift2 = shift2.max(x[0] * x[0] + x[1] * x[1] + x[2] * x[2]);
            turn2 = turn2.max(x[3] * x[3] + x[4] * x[4] + x[5] * x[5]);
        }
        let scale = 1.0 / 1.0f64.max(shift2.sqrt() / LONGEST_STEP.0).max(turn2.sqrt() / LONGEST_STEP.1);
        for (pose, x) in self.position.poses.iter_mut().zip(self.unknown.chunks_exact(6)) {
            let (shift, turn) = halves(x);
            pose.step(&(shift * -scale), &(turn * -scale));
        }
        // f64::max drops NaN, a sum keeps it.
        let check: f64 = self.unknown.iter().sum();
        if check.is_finite() { shift2.max(turn2).sqrt() * scale } else { f64::NAN }
    }
}

/// The linear and the angular half of a body's six unknowns.
#[inline]
pub(super) fn halves(x: &[f64]) -> (Vector3<f64>, Vector3<f64>) {
    (Vector3::new(x[0], x[1], x[2]), Vector3::new(x[3], x[4], x[5]))
}
