//! A link: a tube or bar with a rod end screwed into each end.

use std::f64::consts::FRAC_PI_4;

use super::figure::not_negative;
use super::member::term;
use super::{EndLoad, GAMMA_M2, Internal, Member, RodEnd};
use crate::check::{Check, Failure, Measure};
use crate::error::SteelError;

/// One end of a link.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkEnd {
    /// Its rod end.
    pub rod_end: RodEnd,
    /// Centre of the ball to where the shank is held, at the jam nut [m].
    pub arm: f64,
    /// Outer diameter of the tube or of the insert in which the thread is tapped [m], for its net section; none where the insert
    /// is stronger than the tube.
    pub tapped: Option<f64>,
}

/// A link. What bends it between its ends (a spring or a bar that sits on it) comes in through [`Internal`].
#[derive(Clone, Debug, PartialEq)]
pub struct Link<'a> {
    /// Its tube or bar.
    pub member: Member<'a>,
    /// Its two ends.
    pub ends: [LinkEnd; 2],
}

impl Link<'_> {
    /// The checks of the tube at its worst station, then those of each end in the order of `ends`.
    ///
    /// # Errors
    /// A figure that no link has.
    pub fn checks(&self, at: &Internal, loads: &[EndLoad; 2]) -> Result<Vec<Check>, SteelError> {
        let mut checks = self.member.checks(at)?;
        for (end, load) in self.ends.iter().zip(loads) {
            checks.extend(end.rod_end.checks(load, end.arm)?);
            if let Some(outer) = end.tapped {
                checks.push(self.net(end, outer, at)?);
            }
        }
        Ok(checks)
    }

    /// Tension of the ring that is left round a tapped thread: `0.9 A_net f_u/gamma_M2`.
    fn net(&self, end: &LinkEnd, outer: f64, at: &Internal) -> Result<Check, SteelError> {
        let thread = end.rod_end.thread.diameter;
        let ring = not_negative("the wall left round the tapped thread", outer - thread)?;
        let area = FRAC_PI_4 * ring * (outer + thread);
        Ok(Check {
            failure: Failure::NetSection,
            demand: at.axial.max(0.0),
            capacity: 0.9 * area * self.member.grade.breaks / GAMMA_M2,
            measure: Measure::Force,
            terms: vec![
                term("A_net", "area left round the tapped thread", area, Measure::Area),
                term("f_u", "tensile strength", self.member.grade.breaks, Measure::Stress),
            ],
            outside: None,
        })
    }
}
