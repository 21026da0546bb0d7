//! A space frame of welded tubes: how it gives under loads on its nodes, and what its tubes and feet then carry.
//!
//! Straight tubes of one section join nodes; they stretch, bend in two planes, twist and, where their shear area is
//! finite, shear (Timoshenko's beam: S. P. Timoshenko, Philosophical Magazine 41 (1921), p. 744; stiffness as in
//! J. S. Przemieniecki, Theory of Matrix Structural Analysis (1968), ch. 5; remembered). Displacements are small, the
//! steel is elastic, loads act on nodes or on stiff arms of nodes: a tube's own weight is for the caller to place there.
//! Second-order effects are left out: a slender strut's buckling is a check of its own.
//!
//! [`Frame::factor`] looks the frame over and factors its stiffness once; [`Factored::solve`] answers any number of loads.

mod bodies;
mod element;
mod error;
mod factor;
mod loose;
mod mass;
mod response;
mod solve;
mod sparse;
mod survey;

use nalgebra::{Matrix3, Vector3};

use crate::grade::Grade;
use crate::section::Section;

pub use error::{FrameError, Motion};
pub use factor::Factored;
pub use mass::Mass;
pub use response::{Inner, Move, Response, TubeForces, Wrench};
pub use solve::UNBALANCED;
pub use survey::{LARGEST, LARGEST_COORDINATE, SHORTEST, SMALLEST};

/// Sine of the angle to the vertical below which a tube counts as an upright; about one degree.
pub const UPRIGHT: f64 = 0.02;

/// A frame: what it is made of and where it is held. Plain figures; [`Frame::factor`] says what is wrong with them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Frame {
    /// Places where tubes meet or loads act.
    pub nodes: Vec<Node>,
    /// Tubes between them.
    pub tubes: Vec<Tube>,
    /// Plates and blocks so stiff that their nodes move as one body.
    pub ties: Vec<Tie>,
    /// Where the frame is held.
    pub feet: Vec<Foot>,
}

/// A place where tubes meet, a load acts or the frame is held.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Its name, for messages.
    pub name: String,
    /// Its place [m].
    pub at: Vector3<f64>,
}

/// A straight tube.
#[derive(Clone, Debug, PartialEq)]
pub struct Tube {
    /// Its name, for messages.
    pub name: String,
    /// Its two ends; the local x runs from the first to the second.
    pub ends: [TubeEnd; 2],
    /// Direction to which the section's z turns as far as the tube lets it. Without one: the car's z, or its x for
    /// an upright (see [`UPRIGHT`]).
    pub up: Option<Vector3<f64>>,
    /// Its section.
    pub section: Section,
    /// Its steel.
    pub grade: Grade,
}

/// One end of a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TubeEnd {
    /// Index of the node it hangs on.
    pub node: usize,
    /// Stiff arm from the node to the end of the tube's centre line [m].
    pub offset: Vector3<f64>,
    /// How it is joined there.
    pub joint: Joint,
}

/// How a tube's end is joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// Welded: forces and moments go through.
    Welded,
    /// A ball: no bending moment, no torque.
    Ball,
}

/// Nodes that move as one stiff body: a plate, a block, a casting.
#[derive(Clone, Debug, PartialEq)]
pub struct Tie {
    /// Its name, for messages.
    pub name: String,
    /// Indices of its nodes.
    pub nodes: Vec<usize>,
}

/// Where the frame is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// Index of the node.
    pub node: usize,
    /// How: displacement along x, y, z, then rotation about x, y, z, all of the car's axes.
    pub hold: [Hold; 6],
}

/// How one of a foot's six movements is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hold {
    /// Not at all.
    Free,
    /// Without any give.
    Fixed,
    /// By a spring of this rate [N/m], or [N m/rad] about an axis.
    Spring(f64),
}

/// A load on a node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Index of the node.
    pub node: usize,
    /// Stiff arm from the node to where the force acts [m].
    pub arm: Vector3<f64>,
    /// Force [N].
    pub force: Vector3<f64>,
    /// Moment [N m].
    pub moment: Vector3<f64>,
}

impl TubeEnd {
    /// Welded to a node, at the node itself.
    pub fn welded(node: usize) -> Self {
        Self { node, offset: Vector3::zeros(), joint: Joint::Welded }
    }

    /// On a ball at a node itself.
    pub fn ball(node: usize) -> Self {
        Self { node, offset: Vector3::zeros(), joint: Joint::Ball }
    }
}

impl Foot {
    /// All six movements without give.
    pub fn fixed(node: usize) -> Self {
        Self { node, hold: [Hold::Fixed; 6] }
    }

    /// Held in place, free to turn.
    pub fn pinned(node: usize) -> Self {
        use Hold::{Fixed, Free};
        Self { node, hold: [Fixed, Fixed, Fixed, Free, Free, Free] }
    }
}

impl Load {
    /// A force [N] at a node itself.
    pub fn force(node: usize, force: Vector3<f64>) -> Self {
        Self { node, arm: Vector3::zeros(), force, moment: Vector3::zeros() }
    }

    /// A moment [N m] on a node.
    pub fn moment(node: usize, moment: Vector3<f64>) -> Self {
        Self { node, arm: Vector3::zeros(), force: Vector3::zeros(), moment }
    }
}

impl Frame {
    /// Where a tube's centre line begins and ends [m]; `None` for a tube or node that is not there.
    pub fn line(&self, tube: usize) -> Option<[Vector3<f64>; 2]> {
        let [first, second] = &self.tubes.get(tube)?.ends;
        let at = |end: &TubeEnd| Some(self.nodes.get(end.node)?.at + end.offset);
        Some([at(first)?, at(second)?])
    }

    /// A tube's local axes as rows: along it, the section's y, the section's z. `None` as for [`Frame::line`], for a tube
    /// without length, and where `up` lies along the tube.
    pub fn axes(&self, tube: usize) -> Option<Matrix3<f64>> {
        self.tubes.get(tube)?.axes(self.line(tube)?)
    }
}

impl Tube {
    /// Local axes of the tube along a line.
    fn axes(&self, [start, end]: [Vector3<f64>; 2]) -> Option<Matrix3<f64>> {
        let along = (end - start).try_normalize(SHORTEST)?;
        let usual = if along.xy().norm() < UPRIGHT { Vector3::x() } else { Vector3::z() };
        // Direction alone counts; what is left across the tube must be more than rounding.
        let up = self.up.unwrap_or(usual).try_normalize(0.0)?;
        let z = (up - along * along.dot(&up)).try_normalize(survey::LEAST_ACROSS)?;
        let y = z.cross(&along);
        Some(Matrix3::from_rows(&[along.transpose(), y.transpose(), z.transpose()]))
    }
}
