//! What is to be drawn of one axle at one position, as plain data: SI, ISO 8855 axes, body-fixed.
//!
//! The body stands still and the road moves: at a travel the ground is drawn where the tyres stand, in roll it is
//! tilted. So a pickup on the body stays where the file has it.

mod build;
mod carried;
mod figures;
mod topology;

use nalgebra::Vector3;
use project::model::End;

pub use carried::Role;
pub use figures::{Anti, Figures, Through};
pub use topology::{Line, LineKind};

/// Width at which tyres are drawn \[m\]: the file does not state one, and nothing is computed from it.
pub const ASSUMED_TYRE_WIDTH: f64 = 0.2;

/// One axle at one position.
#[derive(Clone, Debug)]
pub struct Scene {
    /// Name of the car.
    pub car: String,
    /// Front or rear.
    pub end: End,
    /// Kind of the suspension as written in the file.
    pub kind: String,
    /// Named points of the left corner; vertex `i` of a side is point `i`.
    pub points: Vec<Point>,
    /// Links and all else that is drawn as a line between two vertices.
    pub lines: Vec<Line>,
    /// The left corner.
    pub left: Side,
    /// The right corner, in the car's axes (y negative).
    pub right: Side,
    /// Candidate holes of the left corner.
    pub holes: Vec<Hole>,
    /// Plates of the left corner.
    pub plates: Vec<Plate>,
    /// The other axle's wheels, left and right; `None` where the wheelbase is not known.
    pub far: Option<Far>,
    /// Wheelbase \[m\].
    pub wheelbase: Option<f64>,
    /// Height of the centre of gravity above ground at ride height \[m\].
    pub cg_height: Option<f64>,
    /// What the construction lines are made from.
    pub figures: Figures,
}

/// One corner at its position.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// The wheel.
    pub wheel: Wheel,
    /// Where the tyre touches the ground \[m\].
    pub contact: Vector3<f64>,
    /// The points, then the places that only lines need \[m\].
    pub at: Vec<Vector3<f64>>,
}

/// A wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    /// Centre \[m\].
    pub centre: Vector3<f64>,
    /// Spin axis, out of the car (unit vector).
    pub spin: Vector3<f64>,
    /// Loaded radius \[m\].
    pub radius: f64,
    /// Width of the tyre \[m\]: assumed, [`ASSUMED_TYRE_WIDTH`].
    pub width: f64,
    /// Radius of the rim \[m\], where the file states its diameter.
    pub rim: Option<f64>,
}

/// The wheels of the other axle.
#[derive(Clone, Debug, PartialEq)]
pub struct Far {
    /// Left and right.
    pub wheels: [Wheel; 2],
    /// The file has no such axle: its wheels are drawn like those of this one.
    pub assumed: bool,
}

/// A named point.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Name in the scheme and in the file, such as `link.lower-fore.body`.
    pub key: String,
    /// Name for people, such as `lower-fore, body end`.
    pub label: String,
    /// What it moves with.
    pub role: Role,
    /// Where it is at ride height \[m\]: what the file says, or the hole in use.
    pub design: Vector3<f64>,
}

/// A candidate hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Name.
    pub name: String,
    /// Index of the point it is for.
    pub point: usize,
    /// Place \[m\].
    pub at: Vector3<f64>,
    /// Whether the point is in this hole.
    pub in_use: bool,
}

/// A plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Name.
    pub name: String,
    /// Index of the point its holes are for.
    pub point: usize,
    /// Outline \[m\].
    pub outline: Vec<Vector3<f64>>,
}

impl Scene {
    /// A point's name by which files and scripts know it.
    pub fn point(&self, key: &str) -> Option<usize> {
        self.points.iter().position(|p| p.key == key)
    }

    /// The two ends of a line on one side \[m\].
    pub fn ends(&self, line: &Line, side: &Side) -> Option<(Vector3<f64>, Vector3<f64>)> {
        Some((*side.at.get(line.from)?, *side.at.get(line.to)?))
    }

    /// The word for this axle, `front` or `rear`, and for the other one.
    pub fn end_names(&self) -> (&'static str, &'static str) {
        match self.end {
            End::Front => ("front", "rear"),
            End::Rear => ("rear", "front"),
        }
    }

    /// +1 where the other axle lies ahead of this one, else -1: the sign of x toward it.
    pub fn toward_other(&self) -> f64 {
        match self.end {
            End::Front => -1.0,
            End::Rear => 1.0,
        }
    }
}
