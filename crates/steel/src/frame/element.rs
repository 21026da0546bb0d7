//! One tube as a beam, by six deformations instead of twelve displacements.
//!
//! What strains a tube: its stretch, its twist, and the turning of either end against the line between its ends, about y
//! and z. Each plane's two end moments follow from the two turnings; stretch gives the pull, twist the torque. End
//! forces built from these six are in balance by themselves, whatever rounding does, and a ball needs no condensation: with
//! `phi = 12 E I/(G A_s L^2)`, end moments per turning are
//! welded at both ends: `E I/L/(1+phi) [[4+phi, 2-phi], [2-phi, 4+phi]]`;
//! a ball at one end: `E I/L * 3/(1+phi/4)` at the other, nothing at the ball; balls at both: nothing.

#![allow(clippy::indexing_slicing, reason = "matrices of six by fixed indices")]

use nalgebra::{Matrix2, Matrix3, Matrix6, Vector3, Vector6};

use super::{Joint, Tube};

/// A tube, ready for the solver.
#[derive(Clone, Debug)]
pub(super) struct Element {
    /// Nodes of its ends.
    pub nodes: [usize; 2],
    /// Where its centre line begins [m].
    pub start: Vector3<f64>,
    /// Length of the centre line [m].
    pub length: f64,
    /// Local axes as rows.
    pub axes: Matrix3<f64>,
    /// Stiff arms from the nodes [m].
    pub offsets: [Vector3<f64>; 2],
    /// `E I` about y and z [N m^2].
    pub bending: [f64; 2],
    /// Pull, torque, moments about y at both ends, about z at both ends, per deformation.
    stiffness: Matrix6<f64>,
    /// Deformations per movement (displacement, rotation) of either node.
    shape: [Matrix6<f64>; 2],
}

impl Element {
    pub(super) fn new(tube: &Tube, line: [Vector3<f64>; 2], axes: Matrix3<f64>) -> Self {
        let [start, end] = line;
        let length = (end - start).norm();
        let section = &tube.section;
        let (young, shear) = (tube.grade.young, tube.grade.shear);
        let welded = tube.ends.map(|end| end.joint == Joint::Welded);
        let bending = [young * section.second_y, young * section.second_z];

        let mut stiffness = Matrix6::zeros();
        stiffness[(0, 0)] = young * section.area / length;
        stiffness[(1, 1)] = if welded == [true, true] { shear * section.torsion / length } else { 0.0 };
        // Bending about y shears along z, and the other way round.
        for (at, rigidity, area) in [(2, bending[0], section.shear_z), (4, bending[1], section.shear_y)] {
            let phi = 12.0 * rigidity / (shear * area * length * length);
            stiffness.fixed_view_mut::<2, 2>(at, at).copy_from(&(plane(phi, welded) * (rigidity / length)));
        }

        let offsets = tube.ends.map(|end| end.offset);
        let shape = [0, 1].map(|k| {
            let mut carried = Matrix6::zeros();
            carried.fixed_view_mut::<3, 3>(0, 0).copy_from(&axes);
            let offset = if k == 0 { offsets[0] } else { offsets[1] };
            carried.fixed_view_mut::<3, 3>(0, 3).copy_from(&(-axes * offset.cross_matrix()));
            carried.fixed_view_mut::<3, 3>(3, 3).copy_from(&axes);
            strains(k == 0, length) * carried
        });
        let nodes = tube.ends.map(|end| end.node);
        Self { nodes, start, length, axes, offsets, bending, stiffness, shape }
    }

    /// Deformations by the movements of one node: what [`Element::forces`] takes, summed over both.
    pub(super) fn shape(&self) -> &[Matrix6<f64>; 2] {
        &self.shape
    }

    /// Stiffness against deformations.
    pub(super) fn stiffness(&self) -> &Matrix6<f64> {
        &self.stiffness
    }

    /// Pull, torque and end moments at the nodes' movements.
    pub(super) fn forces(&self, moves: [&Vector6<f64>; 2]) -> Vector6<f64> {
        let [first, second] = &self.shape;
        self.stiffness * (first * moves[0] + second * moves[1])
    }

    /// What the tube asks of its nodes: forces and moments about them that act on the tube.
    pub(super) fn at_nodes(&self, forces: &Vector6<f64>) -> [Vector6<f64>; 2] {
        let [first, second] = &self.shape;
        [first.tr_mul(forces), second.tr_mul(forces)]
    }
}

/// End moments per turning of the ends in one plane, over `E I/L`.
fn plane(phi: f64, welded: [bool; 2]) -> Matrix2<f64> {
    let one = 3.0 / (1.0 + phi / 4.0);
    match welded {
        [true, true] => Matrix2::new(4.0 + phi, 2.0 - phi, 2.0 - phi, 4.0 + phi) / (1.0 + phi),
        [true, false] => Matrix2::new(one, 0.0, 0.0, 0.0),
        [false, true] => Matrix2::new(0.0, 0.0, 0.0, one),
        [false, false] => Matrix2::zeros(),
    }
}

/// Deformations per displacement and rotation of one end of the tube, in local axes.
fn strains(first: bool, length: f64) -> Matrix6<f64> {
    let sign = if first { -1.0 } else { 1.0 };
    let own = if first { 0 } else { 1 };
    let mut b = Matrix6::zeros();
    b[(0, 0)] = sign;
    b[(1, 3)] = sign;
    // The line between the ends turns by -(w_2 - w_1)/L about y and by (v_2 - v_1)/L about z.
    for end in 0..2 {
        b[(2 + end, 2)] = sign / length;
        b[(4 + end, 1)] = -sign / length;
    }
    b[(2 + own, 4)] = 1.0;
    b[(4 + own, 5)] = 1.0;
    b
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Static condensation by numbers: the rotation of the ball eliminated from the welded tube's matrix.
    #[test]
    fn a_ball_is_what_condensation_leaves() {
        for phi in [0.0, 0.3, 5.0] {
            let k = plane(phi, [true, true]);
            let left = k[(0, 0)] - k[(0, 1)] * k[(1, 0)] / k[(1, 1)];
            assert!((left / plane(phi, [true, false])[(0, 0)] - 1.0).abs() < 1e-14, "phi {phi}");
            assert_eq!(plane(phi, [true, false])[(0, 0)], plane(phi, [false, true])[(1, 1)]);
        }
    }
}
