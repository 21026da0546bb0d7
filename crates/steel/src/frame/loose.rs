//! Finds what can move with nothing to hold it.
//!
//! The softest movements are the eigenvectors of the scaled stiffness with the least eigenvalues. A factored frame is
//! tried with a few inverse iterations. What looks soft is searched with a stiffness a trace higher all over, whose factor
//! always exists: subspace iteration, then the small eigenproblem within (K.-J. Bathe, Finite Element Procedures (1996),
//! sec. 11.6; remembered). nalgebra's symmetric eigenvalues there, not its singular values, which go wrong on a
//! matrix of low rank.

#![allow(clippy::indexing_slicing, reason = "matrices by indices below the size they were made with")]

use nalgebra::{DMatrix, DVector, Vector3, Vector6};

use super::bodies::{Body, Seat};
use super::sparse::{Entry, Factor};
use super::{Frame, FrameError, Motion};

/// Least eigenvalue of the scaled stiffness that counts as held. A mechanism's is rounding, below 1e-15 on frames tried;
/// at 1e-12 four digits of a displacement are left.
const HELD: f64 = 1e-12;

/// Eigenvalue by inverse iteration below which a frame is searched.
const DOUBTFUL: f64 = 1e-8;

/// Stiffness that is added to every freedom for the search, of its own.
const TRACE: f64 = 1e-10;

/// Movements that are searched at once.
const WIDTH: usize = 12;

/// Steps of the search. A movement of eigenvalue 1e-6 fades by 1e4 a step against one that nothing holds.
const STEPS: usize = 8;

/// Part of a movement that is left beside earlier ones, below which it is made of them.
const DEPENDENT: f64 = 1e-10;

/// Part of the greatest movement from which a node counts as moving.
const MOVING: f64 = 0.01;

/// Part by which a movement must be greater to be named before an earlier one.
const GREATER: f64 = 1e-6;

/// Whether the factor's softest movement is surely held.
pub(super) fn held(factor: &Factor, freedoms: usize) -> bool {
    let mut trial = start(freedoms, 3);
    let mut growth = 0.0;
    for _ in 0..3 {
        let before = lengths(&trial);
        factor.solve(&mut trial);
        let after = lengths(&trial);
        growth = 0.0;
        for (column, (before, after)) in before.iter().zip(&after).enumerate() {
            growth = f64::max(growth, after / before);
            if !after.is_normal() {
                return false;
            }
            for row in 0..freedoms {
                trial[(row, column)] /= after;
            }
        }
    }
    growth < 1.0 / DOUBTFUL
}

/// The movement that nothing holds, in words; `None` if all is held.
pub(super) fn find(
    frame: &Frame,
    bodies: &[Body],
    seats: &[Seat],
    scale: &[f64],
    entries: &[Entry],
) -> Option<FrameError> {
    let movements = free_movements(scale.len(), entries)?;
    // Movements of all nodes, a column each, rotations as displacements of a mean tube's ends about its
    // middle: what tips over is named by what moves away.
    let length = mean_length(frame) / 2.0;
    let mut nodes = DMatrix::zeros(6 * seats.len(), movements.ncols());
    for (column, movement) in movements.column_iter().enumerate() {
        for (node, seat) in seats.iter().enumerate() {
            let Some(body) = bodies.get(seat.body) else { continue };
            let freedoms = Vector6::from_fn(|k, _| {
                let place = body.places.get(k).copied().flatten();
                place.map_or(0.0, |place| movement[place] / scale.get(place).copied().unwrap_or(1.0))
            });
            let mut moves = seat.carry * freedoms;
            moves.fixed_rows_mut::<3>(3).scale_mut(length);
            nodes.fixed_view_mut::<6, 1>(6 * node, column).copy_from(&moves);
        }
    }
    orthonormal(&mut nodes);

    // Of all movements spanned, the one that is most a single movement of a single node.
    let mut most = (0.0, 0);
    for (row, line) in nodes.row_iter().enumerate() {
        let part = line.norm_squared();
        if part > most.0 * (1.0 + GREATER) {
            most = (part, row);
        }
    }
    let movement = &nodes * nodes.row(most.1).transpose();
    let of = |node: usize| -> [Vector3<f64>; 2] {
        [0, 3].map(|at| Vector3::from_fn(|k, _| movement[6 * node + at + k]))
    };
    let size = |node: usize| {
        let [shift, turn] = of(node);
        shift.norm().max(turn.norm())
    };
    let node = most.1 / 6;
    let [shift, turn] = of(node);
    let motion = if turn.norm() > shift.norm() {
        Motion::Turn(direction(turn)?)
    } else {
        Motion::Shift(direction(shift)?)
    };
    let others = (0..seats.len()).filter(|&other| other != node && size(other) > MOVING * size(node)).count();
    Some(FrameError::Loose { node: super::survey::name(frame, node), motion, others })
}

/// Movements of the freedoms with no stiffness, scaled, a column each.
fn free_movements(freedoms: usize, entries: &[Entry]) -> Option<DMatrix<f64>> {
    let mut raised = entries.to_vec();
    raised.extend((0..freedoms).map(|k| Entry { row: k, col: k, val: TRACE }));
    let factor = Factor::new(freedoms, &raised)?;
    let mut trial = start(freedoms, WIDTH.min(freedoms));
    let mut basis = DMatrix::zeros(0, 0);
    for _ in 0..STEPS {
        factor.solve(&mut trial);
        basis = trial.clone();
        orthonormal(&mut basis);
        trial.clone_from(&basis);
    }
    // The stiffness itself within the subspace.
    let mut through = DMatrix::zeros(freedoms, basis.ncols());
    for entry in entries {
        for column in 0..basis.ncols() {
            through[(entry.row, column)] += entry.val * basis[(entry.col, column)];
            if entry.row != entry.col {
                through[(entry.col, column)] += entry.val * basis[(entry.row, column)];
            }
        }
    }
    let within = basis.tr_mul(&through);
    let within = (&within + within.transpose()) / 2.0;
    if within.iter().any(|c| !c.is_finite()) {
        return None;
    }
    let eigen = within.symmetric_eigen();
    let columns: Vec<DVector<f64>> = eigen
        .eigenvalues
        .iter()
        .zip(eigen.eigenvectors.column_iter())
        .filter(|(value, _)| **value < HELD)
        .map(|(_, vector)| &basis * vector)
        .collect();
    if columns.is_empty() { None } else { Some(DMatrix::from_columns(&columns)) }
}

/// Gram and Schmidt's, twice over; columns that depend on earlier ones fall out.
fn orthonormal(columns: &mut DMatrix<f64>) {
    let mut kept: Vec<DVector<f64>> = Vec::with_capacity(columns.ncols());
    for column in columns.column_iter() {
        let mut column = column.into_owned();
        let whole = column.norm();
        for _ in 0..2 {
            for earlier in &kept {
                let part = earlier.dot(&column);
                column.axpy(-part, earlier, 1.0);
            }
        }
        let left = column.norm();
        if left > DEPENDENT * whole && left.is_normal() {
            kept.push(column / left);
        }
    }
    *columns =
        if kept.is_empty() { DMatrix::zeros(columns.nrows(), 0) } else { DMatrix::from_columns(&kept) };
}

/// The axis or direction of length 1, its greatest part positive.
fn direction(v: Vector3<f64>) -> Option<Vector3<f64>> {
    let unit = v.try_normalize(f64::MIN_POSITIVE)?;
    Some(if unit[unit.iamax()] < 0.0 { -unit } else { unit })
}

fn mean_length(frame: &Frame) -> f64 {
    let lengths = (0..frame.tubes.len()).filter_map(|k| frame.line(k)).map(|[a, b]| (b - a).norm());
    let (sum, count) = lengths.fold((0.0, 0.0), |(sum, count), length| (sum + length, count + 1.0));
    if count > 0.0 { sum / count } else { 1.0 }
}

fn lengths(columns: &DMatrix<f64>) -> Vec<f64> {
    columns.column_iter().map(|column| column.norm()).collect()
}

/// Fixed numbers from -0.5 to 0.5 without any pattern of a frame (Weyl's sequence of the golden section).
fn start(rows: usize, columns: usize) -> DMatrix<f64> {
    let mut at = 0.5;
    DMatrix::from_fn(rows, columns, |_, _| {
        at = (at + 0.618_033_988_749_895_f64) % 1.0;
        at - 0.5
    })
}
