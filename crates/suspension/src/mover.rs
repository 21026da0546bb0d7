//! Moves a corner to a travel and a rack position and measures it there.

use linkage::{Dual64, Solver, Unreachable};

use crate::corner::Corner;
use crate::measures::{Measures, Ratio};

/// Rates of the inputs for a motion of pure travel.
const ALONG_TRAVEL: [f64; 2] = [1.0, 0.0];

/// Rates of the inputs for a motion of the rack at fixed travel.
const ALONG_RACK: [f64; 2] = [0.0, 1.0];

/// A corner together with the solver that moves it. Moves are cheapest in small steps along travel: each
/// starts from where the last one ended.
#[derive(Clone, Debug)]
pub struct Mover<'a> {
    corner: &'a Corner<f64>,
    solver: Solver<'a>,
}

impl<'a> Mover<'a> {
    /// Starts at ride height.
    pub fn new(corner: &'a Corner<f64>) -> Self {
        Self { corner, solver: Solver::new(corner.linkage()) }
    }

    /// The corner.
    pub fn corner(&self) -> &'a Corner<f64> {
        self.corner
    }

    /// The solver, at the present position.
    pub fn solver(&mut self) -> &mut Solver<'a> {
        &mut self.solver
    }

    /// Back to ride height, rack in the middle.
    pub fn reset(&mut self) {
        self.solver.reset();
    }

    /// Finds the position at the present inputs after a rod was given another length.
    ///
    /// # Errors
    /// If there is none near.
    pub fn assemble(&mut self) -> Result<(), Unreachable> {
        self.solver.assemble()
    }

    /// Goes to a travel [m] and a rack position [m] and measures the wheel there.
    ///
    /// # Errors
    /// If the corner stops on the way; it stays at the last position reached.
    pub fn at(&mut self, travel: f64, rack: f64) -> Result<Measures<f64>, Unreachable> {
        self.solver.go_to(&[travel, rack])?;
        self.solver.differentiate(&ALONG_TRAVEL)?;
        Ok(self.measures())
    }

    /// Measures at the present position, along travel (as the last [`Self::at`] left it).
    pub fn measures(&self) -> Measures<f64> {
        Measures::from_parts(
            self.corner,
            self.solver.position(),
            self.solver.motion(),
            self.solver.curvature(),
        )
    }

    /// Length and motion ratio of an element at the present position.
    pub fn ratio(&self, element: usize) -> Option<Ratio<f64>> {
        Some(self.corner.elements().get(element)?.ratio(
            self.corner,
            self.solver.position(),
            self.solver.motion(),
            self.solver.curvature(),
        ))
    }

    /// Screw of the upright for a unit of rack travel at fixed wheel travel; `None` without a rack or at a
    /// dead point. Leaves the solver differentiated along travel.
    pub fn steer_screw(&mut self) -> Option<linkage::Twist<f64>> {
        if !self.corner.has_rack() {
            return None;
        }
        self.solver.differentiate(&ALONG_RACK).ok()?;
        let twist = self.solver.motion().twists.first().copied();
        self.solver.differentiate(&ALONG_TRAVEL).ok()?;
        twist
    }

    /// Measures at the present position with their derivative by the parameter that `dual` carries (the same
    /// corner in dual numbers). Measure along travel first ([`Self::at`]).
    pub fn sensitivity(&mut self, dual: &Corner<Dual64>) -> Option<Measures<Dual64>> {
        let course = self.solver.sensitivity(dual.linkage())?;
        Some(Measures::of(dual, &course.position, &course.motion, &course.curvature))
    }
}
