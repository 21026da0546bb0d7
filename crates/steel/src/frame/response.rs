//! What a frame does under a load.

use nalgebra::Vector3;

/// A frame under one load.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// Movement of every node.
    pub moves: Vec<Move>,
    /// What every tube carries.
    pub tubes: Vec<TubeForces>,
    /// What every foot gives: force and moment by which the ground acts on the frame, about the foot's node.
    pub feet: Vec<Wrench>,
    /// What is left out of balance, at the worst node and over the whole frame, over the size of the load: the sum of its
    /// forces and of its moments over the frame's length. Rounding, or the result is not to be trusted.
    pub unbalanced: f64,
}

/// Movement of a node.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Move {
    /// Displacement [m].
    pub shift: Vector3<f64>,
    /// Rotation [rad].
    pub turn: Vector3<f64>,
}

impl Move {
    /// Displacement of the end of a stiff arm [m].
    pub fn at(&self, arm: &Vector3<f64>) -> Vector3<f64> {
        self.shift + self.turn.cross(arm)
    }
}

/// A force and a moment about a node.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wrench {
    /// Force [N].
    pub force: Vector3<f64>,
    /// Moment [N m].
    pub moment: Vector3<f64>,
}

/// What a tube carries, from end to end: no load acts in between, so that all but the moments stays the same.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TubeForces {
    /// Pull [N], tension positive.
    pub axial: f64,
    /// Torque [N m].
    pub torque: f64,
    /// Shear along y [N].
    pub shear_y: f64,
    /// Shear along z [N].
    pub shear_z: f64,
    /// Bending moment about y at either end [N m].
    pub moment_y: [f64; 2],
    /// Bending moment about z at either end [N m].
    pub moment_z: [f64; 2],
}

/// What a cut through a tube carries, in the tube's local axes: force and moment by which the part beyond the cut
/// (toward the second end) acts on the part before. The stress along the tube at (y, z) of the section is
/// `axial/A + moment_y z/I_y - moment_z y/I_z`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Inner {
    /// Pull [N], tension positive.
    pub axial: f64,
    /// Shear along y [N].
    pub shear_y: f64,
    /// Shear along z [N].
    pub shear_z: f64,
    /// Torque [N m].
    pub torque: f64,
    /// Bending moment about y [N m].
    pub moment_y: f64,
    /// Bending moment about z [N m].
    pub moment_z: f64,
}

impl TubeForces {
    /// What a cut carries; `t` from 0 at the first end to 1 at the second.
    pub fn at(&self, t: f64) -> Inner {
        let between = |[first, second]: [f64; 2]| first * (1.0 - t) + second * t;
        Inner {
            axial: self.axial,
            shear_y: self.shear_y,
            shear_z: self.shear_z,
            torque: self.torque,
            moment_y: between(self.moment_y),
            moment_z: between(self.moment_z),
        }
    }
}
