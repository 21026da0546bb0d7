//! Exact derivatives of positions, screws and second derivatives by anything that the design depends on.
//!
//! The plain solution is lifted into dual numbers and corrected once with the plain factor: for
//! `F(x(p), p) = 0` one has `dx/dp = -J^-1 dF/dp`, and the dual part of `F` at the lifted (constant) `x` is
//! `dF/dp`. The same holds one derivative up for the screw and two up for its rate, taken in that order.

use nalgebra::Vector3;
use num_dual::Dual64;

use crate::model::Linkage;
use crate::solver::Solver;
use crate::state::{Curvature, Motion, Position};

/// A position with its first and second derivatives along a motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Course<T> {
    /// Where everything is.
    pub position: Position<T>,
    /// Screws.
    pub motion: Motion<T>,
    /// Their rates.
    pub curvature: Curvature<T>,
}

impl Solver<'_> {
    /// The present position, motion and curvature (call [`Self::differentiate`] first) with their derivative by
    /// the parameter that `dual` carries: the same linkage with dual numbers in its points or lengths.
    ///
    /// `None` if `dual` is not the same linkage or the gradient is not finite.
    pub fn sensitivity(&mut self, dual: &Linkage<Dual64>) -> Option<Course<Dual64>> {
        let rows = self.linkage().rows().len();
        if dual.rows().len() != rows || dual.bodies() != self.linkage().bodies() {
            return None;
        }
        let mut course = Course {
            position: self.position().lift::<Dual64>(),
            motion: self.motion().lift::<Dual64>(),
            curvature: self.curvature().iter().map(crate::pose::Acceleration::lift).collect(),
        };
        let factor = self.factor()?.clone();
        let mut residual = vec![Dual64::from(0.0); rows];
        let mut rhs = vec![0.0; rows];
        let mut x = vec![0.0; 6 * dual.bodies()];
        let mut correct = |residual: &[Dual64]| -> Vec<(Vector3<f64>, Vector3<f64>)> {
            for (r, d) in rhs.iter_mut().zip(residual) {
                *r = -d.eps;
            }
            factor.solve(&rhs, &mut x);
            x.chunks_exact(6)
                .map(|c| (Vector3::new(c[0], c[1], c[2]), Vector3::new(c[3], c[4], c[5])))
                .collect()
        };
        let dual_part = |v: &Vector3<f64>| v.map(|c| Dual64::new(0.0, c));

        dual.residuals(&course.position, &mut residual);
        for (pose, (shift, turn)) in course.position.poses.iter_mut().zip(correct(&residual)) {
            pose.shift += dual_part(&shift);
            pose.rot += crate::scalar::skew(&dual_part(&turn)) * pose.rot;
        }
        dual.rates(&course.position, &course.motion, &mut residual);
        for (twist, (v, w)) in course.motion.twists.iter_mut().zip(correct(&residual)) {
            twist.v += dual_part(&v);
            twist.w += dual_part(&w);
        }
        dual.second_rates(&course.position, &course.motion, &course.curvature, &mut residual);
        for (acceleration, (a, alpha)) in course.curvature.iter_mut().zip(correct(&residual)) {
            acceleration.a += dual_part(&a);
            acceleration.alpha += dual_part(&alpha);
        }
        Some(course)
    }

    /// The present position, motion and curvature as plain numbers.
    pub fn course(&self) -> Course<f64> {
        Course {
            position: self.position().clone(),
            motion: self.motion().clone(),
            curvature: self.curvature().to_vec(),
        }
    }
}
