//! A rod end, or a spherical bearing on a threaded shank, by the ratings of its maker's sheet.

use std::f64::consts::PI;

use nalgebra::Vector3;

use super::figure::{direction, not_negative, positive, strengths, vector};
use super::member::term;
use super::{GAMMA_M0, GAMMA_M2, Thread};
use crate::check::{Check, Failure, Measure};
use crate::error::SteelError;
use crate::grade::Class;

/// Axial rating over radial rating that is taken where the sheet gives none [-]: 10 to 20 % is usual (makers' design pages;
/// read).
const AXIAL_SHARE: f64 = 0.1;

/// A rod end.
#[derive(Clone, Debug, PartialEq)]
pub struct RodEnd {
    /// Thread of its shank.
    pub thread: Thread,
    /// Static rating across the hole, from the maker's sheet [N].
    pub radial: f64,
    /// Static rating along the hole, if the sheet gives one [N].
    pub axial: Option<f64>,
    /// Strengths of its shank, if the sheet gives them.
    pub shank: Option<Class>,
    /// What the sheet says of loads that change sign; printed with the checks, not worked with.
    pub fatigue: String,
}

/// What acts on the ball of a rod end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndLoad {
    /// Force on the ball from the bracket [N].
    pub force: Vector3<f64>,
    /// Direction of the hole's axis, either way.
    pub hole: Vector3<f64>,
    /// Direction of the shank, from the ball into the link.
    pub shank: Vector3<f64>,
}

impl RodEnd {
    /// Radial and axial rating, both together, thread and shank. `arm`: from the centre of the ball to where the shank is held,
    /// at the jam nut [m].
    ///
    /// # Errors
    /// A figure that no rod end has, or a direction of no length.
    pub fn checks(&self, load: &EndLoad, arm: f64) -> Result<Vec<Check>, SteelError> {
        self.thread.sane()?;
        positive("the radial rating", self.radial)?;
        not_negative("the arm of the shank", arm)?;
        vector("the force on the ball", load.force)?;
        let hole = direction("the axis of the hole", load.hole)?;
        let shank = direction("the direction of the shank", load.shank)?;
        let axial = match self.axial {
            Some(axial) => positive("the axial rating", axial)?,
            None => AXIAL_SHARE * self.radial,
        };
        let outside = self
            .axial
            .is_none()
            .then_some("the sheet gives no rating along the hole; a tenth of the rating across it is taken");

        let along_hole = load.force.dot(&hole);
        let across_hole = (load.force - along_hole * hole).norm();
        let along_hole = along_hole.abs();
        let mut checks = vec![
            rating(Failure::EndRadial, across_hole, self.radial, None),
            rating(Failure::EndAxial, along_hole, axial, outside),
            Check {
                failure: Failure::EndCombined,
                demand: across_hole / self.radial + along_hole / axial,
                capacity: 1.0,
                measure: Measure::Number,
                terms: vec![
                    term("F_r", "force across the hole", across_hole, Measure::Force),
                    term("C_r", "rating across the hole", self.radial, Measure::Force),
                    term("F_a", "force along the hole", along_hole, Measure::Force),
                    term("C_a", "rating along the hole", axial, Measure::Force),
                ],
                outside,
            },
        ];

        // The force is on the ball and `shank` leads into the link: a pull is against it.
        let pull = -load.force.dot(&shank);
        let across = (load.force + pull * shank).norm();
        let area = self.thread.stress_area();
        if let Some(class) = &self.shank {
            strengths("the shank", class.yields, class.breaks)?;
            checks.push(Check {
                failure: Failure::ThreadTension,
                demand: pull.max(0.0),
                capacity: 0.9 * class.breaks * area / GAMMA_M2,
                measure: Measure::Force,
                terms: vec![
                    term("A_s", "stress area of the thread", area, Measure::Area),
                    term("f_ub", "tensile strength of the shank", class.breaks, Measure::Stress),
                ],
                outside: None,
            });
        }
        // The rating is never above what pulls the root of the shank apart: the stress behind it is a lower bound.
        let (limit, unknown) = match &self.shank {
            Some(class) => (class.yields / GAMMA_M0, None),
            None => (
                self.radial / self.thread.core_area(),
                Some(
                    "the sheet gives no strength of the shank; the stress is taken at which its rating pulls the root",
                ),
            ),
        };
        let bending = across * arm / (PI * self.thread.core().powi(3) / 32.0);
        checks.push(Check {
            failure: Failure::EndShank,
            demand: pull.abs() / area + bending,
            capacity: limit,
            measure: Measure::Stress,
            terms: vec![
                term("F_s", "force along the shank", pull.abs(), Measure::Force),
                term("F_q", "force across the shank", across, Measure::Force),
                term("l", "centre of the ball to where the shank is held", arm, Measure::Length),
                term("d_3", "diameter at the root of the thread", self.thread.core(), Measure::Length),
                term("A_s", "stress area of the thread", area, Measure::Area),
            ],
            outside: unknown,
        });
        Ok(checks)
    }
}

/// A force against a rating of the sheet.
fn rating(failure: Failure, demand: f64, capacity: f64, outside: Option<&'static str>) -> Check {
    Check { failure, demand, capacity, measure: Measure::Force, terms: Vec::new(), outside }
}
