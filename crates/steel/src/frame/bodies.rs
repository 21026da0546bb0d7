//! Which movements of the frame are free: nodes that a tie joins move as one body, and what a foot fixes does not move.
//!
//! A body's six movements `x` (displacement of its reference, rotation) are `B y` by those `y` of its freedoms that no
//! fixed hold takes; a node of it moves by `R B y`, with `R` that of a stiff arm. On a body with one node the freedoms
//! are movements along the car's axes. On a tied body the fixed holds are rows `C x = 0`, and `B` spans what they leave.

#![allow(clippy::indexing_slicing, reason = "matrices of six by indices below six")]

use nalgebra::{DMatrix, Matrix6, RowVector6, Vector3, Vector6};

use super::survey::Groups;
use super::{Frame, Hold, Joint};

/// Squared singular value, over the greatest, below which two fixed holds of one tie say the same.
const SAME_HOLD: f64 = 1e-12;

/// A node, or the nodes of a tie, moving as one.
#[derive(Clone, Debug)]
pub(super) struct Body {
    /// Reference [m].
    pub at: Vector3<f64>,
    /// Movements per freedom; columns without a place are nought.
    pub basis: Matrix6<f64>,
    /// Place of each freedom among those of the whole frame.
    pub places: [Option<usize>; 6],
    /// Its fixed holds.
    pub fixed: Vec<Fixed>,
    /// Length that makes its rotations comparable with displacements [m].
    pub length: f64,
}

/// A movement that a foot fixes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fixed {
    pub node: usize,
    pub axis: usize,
    /// The movement by those of the body.
    pub row: RowVector6<f64>,
    /// Force by which it takes up a wrench on the body; shared evenly with holds that say the same.
    pub takes: RowVector6<f64>,
}

/// Where a node sits on its body.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seat {
    pub body: usize,
    /// Stiff arm from the body's reference [m].
    pub arm: Vector3<f64>,
    /// The node's movements by the body's freedoms.
    pub carry: Matrix6<f64>,
    /// Rotations that nothing resists because all comes on balls.
    pub idle: [bool; 3],
}

/// The bodies, the nodes' seats on them and the number of freedoms.
pub(super) fn bodies(frame: &Frame) -> (Vec<Body>, Vec<Seat>, usize) {
    let mut groups = Groups::new(frame.nodes.len());
    for tie in &frame.ties {
        for pair in tie.nodes.windows(2) {
            if let [a, b] = pair {
                groups.join(*a, *b);
            }
        }
    }
    // A group goes by its least member, which comes first.
    let mut bodies: Vec<Body> = Vec::new();
    let mut seats: Vec<Seat> = Vec::with_capacity(frame.nodes.len());
    let mut members: Vec<usize> = Vec::new();
    for (index, node) in frame.nodes.iter().enumerate() {
        let body = seats.get(groups.of(index)).map_or(bodies.len(), |seat| seat.body);
        match (bodies.get_mut(body), members.get_mut(body)) {
            (Some(body), Some(count)) => {
                body.length = body.length.max((node.at - body.at).norm());
                *count += 1;
            }
            _ => {
                bodies.push(Body::at(node.at));
                members.push(1);
            }
        }
        let arm = bodies.get(body).map_or_else(Vector3::zeros, |body| node.at - body.at);
        seats.push(Seat { body, arm, carry: Matrix6::zeros(), idle: [false; 3] });
    }

    let resisting = resisting(frame);
    for foot in &frame.feet {
        let Some(seat) = seats.get(foot.node) else { continue };
        let Some(body) = bodies.get_mut(seat.body) else { continue };
        let arm = arm(&seat.arm);
        for (axis, _) in foot.hold.iter().enumerate().filter(|(_, hold)| **hold == Hold::Fixed) {
            let row = RowVector6::from_fn(|_, k| arm[(axis, k)]);
            body.fixed.push(Fixed { node: foot.node, axis, row, takes: -row });
        }
    }

    let mut next = 0;
    for (index, (body, members)) in bodies.iter_mut().zip(&members).enumerate() {
        if *members > 1 {
            body.span();
        } else if let Some((seat, resists)) =
            seats.iter_mut().zip(&resisting).find(|(seat, _)| seat.body == index)
        {
            seat.idle = body.along_axes(resists);
        }
        body.number(&mut next);
    }
    for seat in &mut seats {
        if let Some(body) = bodies.get(seat.body) {
            seat.carry = arm(&seat.arm) * body.basis;
        }
    }
    (bodies, seats, next)
}

/// Movements of the end of a stiff arm by those of its root.
pub(super) fn arm(r: &Vector3<f64>) -> Matrix6<f64> {
    let mut carried = Matrix6::identity();
    carried.fixed_view_mut::<3, 3>(0, 3).copy_from(&-r.cross_matrix());
    carried
}

/// Per node: which rotations a tube or a spring resists.
fn resisting(frame: &Frame) -> Vec<[bool; 3]> {
    let mut resisting = vec![[false; 3]; frame.nodes.len()];
    for end in frame.tubes.iter().flat_map(|tube| &tube.ends) {
        if (end.joint == Joint::Welded || end.offset != Vector3::zeros())
            && let Some(node) = resisting.get_mut(end.node)
        {
            *node = [true; 3];
        }
    }
    for foot in &frame.feet {
        if let Some(node) = resisting.get_mut(foot.node) {
            let [_, _, _, turns @ ..] = &foot.hold;
            for (flag, hold) in node.iter_mut().zip(turns) {
                *flag |= matches!(hold, Hold::Spring(_));
            }
        }
    }
    resisting
}

impl Body {
    fn at(at: Vector3<f64>) -> Self {
        Self { at, basis: Matrix6::zeros(), places: [None; 6], fixed: Vec::new(), length: 0.0 }
    }

    /// Freedoms of a lone node: the axes that are not fixed, without rotations that nothing resists. Says which those are.
    fn along_axes(&mut self, resists: &[bool; 3]) -> [bool; 3] {
        self.length = 1.0;
        let fixed = |axis: usize| self.fixed.iter().any(|hold| hold.axis == axis);
        let mut free = [0, 1, 2, 3, 4, 5].map(|axis| !fixed(axis));
        let [_, _, _, turns @ ..] = &mut free;
        let mut idle = [false; 3];
        for ((turn, resists), idle) in turns.iter_mut().zip(resists).zip(&mut idle) {
            *idle = *turn && !resists;
            *turn &= *resists;
        }
        self.basis = Matrix6::from_diagonal(&Vector6::from_fn(|k, _| {
            if free.get(k).copied().unwrap_or(false) { 1.0 } else { 0.0 }
        }));
        idle
    }

    /// Freedoms of a tied body: what its fixed holds leave; and how those share what they take.
    fn span(&mut self) {
        if self.length == 0.0 {
            self.length = 1.0;
        }
        if self.fixed.is_empty() {
            self.basis = Matrix6::identity();
            return;
        }
        let rows = self.rows();
        let eigen = rows.tr_mul(&rows).fixed_view::<6, 6>(0, 0).into_owned().symmetric_eigen();
        let least = SAME_HOLD * eigen.eigenvalues.max();
        let scale = Matrix6::from_diagonal(&self.scale());
        let mut inverse = Matrix6::zeros();
        for (k, (value, vector)) in eigen.eigenvalues.iter().zip(eigen.eigenvectors.column_iter()).enumerate()
        {
            if *value < least {
                self.basis.set_column(k, &(scale * vector));
            } else {
                inverse += vector * vector.transpose() / *value;
            }
        }
        // The least forces whose sum on the body is the reverse of the wrench.
        let takes = -rows * inverse * scale;
        for (hold, takes) in self.fixed.iter_mut().zip(takes.row_iter()) {
            hold.takes = takes.fixed_columns::<6>(0).into_owned();
        }
    }

    /// The fixed holds' rows, rotations as displacements at the body's length.
    fn rows(&self) -> DMatrix<f64> {
        let scale = self.scale();
        DMatrix::from_fn(self.fixed.len(), 6, |i, k| {
            self.fixed.get(i).map_or(0.0, |hold| hold.row[k] * scale[k])
        })
    }

    fn scale(&self) -> Vector6<f64> {
        let turn = 1.0 / self.length;
        Vector6::new(1.0, 1.0, 1.0, turn, turn, turn)
    }

    fn number(&mut self, next: &mut usize) {
        for (place, column) in self.places.iter_mut().zip(self.basis.column_iter()) {
            if column.iter().any(|c| *c != 0.0) {
                *place = Some(*next);
                *next += 1;
            }
        }
    }
}
