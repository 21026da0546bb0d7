//! The frame's stiffness over its freedoms, scaled to a diagonal of ones, and its sparse factor.
//!
//! Scaled so, a freedom's pivot says what part of its own stiffness the rest of the frame leaves it; displacements and
//! rotations compare. `L L'` is sparse.

use nalgebra::{DMatrix, Matrix6};

use super::bodies::{Body, Seat, bodies};
use super::element::Element;
use super::loose;
use super::sparse::{Entry, Factor};
use super::survey::survey;
use super::{Foot, Frame, FrameError};

/// A frame whose stiffness is factored: loads can be put on.
#[derive(Clone, Debug)]
pub struct Factored {
    pub(super) names: Vec<String>,
    pub(super) elements: Vec<Element>,
    pub(super) feet: Vec<Foot>,
    pub(super) bodies: Vec<Body>,
    pub(super) seats: Vec<Seat>,
    /// Per freedom, by what its displacement is divided.
    pub(super) scale: Vec<f64>,
    /// None where nothing is free.
    factor: Option<Factor>,
}

impl Frame {
    /// Looks the frame over, assembles its stiffness and factors it.
    ///
    /// # Errors
    /// Whatever is wrong with the frame, named by its node or tube: see [`FrameError`]. A frame in which something can
    /// move with nothing to hold it is refused, with the node that moves most.
    pub fn factor(&self) -> Result<Factored, FrameError> {
        let elements = survey(self)?;
        let (bodies, seats, freedoms) = bodies(self);
        let mut entries = Vec::with_capacity(elements.len() * 80);
        let mut diagonal = vec![0.0; freedoms];
        let mut put = |rows: &[Option<usize>; 6], columns: &[Option<usize>; 6], block: &Matrix6<f64>| {
            for (row, line) in rows.iter().zip(block.row_iter()) {
                for (column, value) in columns.iter().zip(line.iter()) {
                    let (Some(row), Some(column)) = (*row, *column) else { continue };
                    if row == column
                        && let Some(sum) = diagonal.get_mut(row)
                    {
                        *sum += value;
                    }
                    if row >= column {
                        entries.push(Entry { row, col: column, val: *value });
                    }
                }
            }
        };
        for element in &elements {
            let [first, second] = element.nodes;
            let (Some(a), Some(b)) = (seats.get(first), seats.get(second)) else { continue };
            // Ends on one stiff body: nothing strains the tube.
            if a.body == b.body {
                continue;
            }
            let (Some(body_a), Some(body_b)) = (bodies.get(a.body), bodies.get(b.body)) else { continue };
            let [shape_a, shape_b] = element.shape();
            let (g_a, g_b) = (shape_a * a.carry, shape_b * b.carry);
            let (k_a, k_b) = (element.stiffness() * g_a, element.stiffness() * g_b);
            put(&body_a.places, &body_a.places, &g_a.tr_mul(&k_a));
            put(&body_b.places, &body_b.places, &g_b.tr_mul(&k_b));
            put(&body_a.places, &body_b.places, &g_a.tr_mul(&k_b));
            put(&body_b.places, &body_a.places, &g_b.tr_mul(&k_a));
        }
        for foot in &self.feet {
            let Some(seat) = seats.get(foot.node) else { continue };
            let Some(body) = bodies.get(seat.body) else { continue };
            let springs = Matrix6::from_diagonal(&super::solve::rates(foot));
            put(&body.places, &body.places, &seat.carry.tr_mul(&(springs * seat.carry)));
        }

        // A freedom without any stiffness keeps its scale; the search for what is loose finds it.
        let scale: Vec<f64> = diagonal.iter().map(|&d| if d > 0.0 { d.sqrt() } else { 1.0 }).collect();
        for entry in &mut entries {
            if let (Some(row), Some(column)) = (scale.get(entry.row), scale.get(entry.col)) {
                entry.val /= row * column;
            }
        }
        let factor = if freedoms == 0 {
            None
        } else {
            let factor = Factor::new(freedoms, &entries);
            let held = factor.as_ref().is_some_and(|factor| loose::held(factor, freedoms));
            if !held {
                if let Some(found) = loose::find(self, &bodies, &seats, &scale, &entries) {
                    return Err(found);
                }
                if factor.is_none() {
                    return Err(FrameError::TooFarApart);
                }
            }
            factor
        };
        let names = self.nodes.iter().map(|node| node.name.clone()).collect();
        Ok(Factored { names, elements, feet: self.feet.clone(), bodies, seats, scale, factor })
    }
}

impl Factored {
    /// Number of freedoms.
    pub fn freedoms(&self) -> usize {
        self.scale.len()
    }

    /// Takes forces on the freedoms (scaled, a column a case) to displacements (scaled).
    pub(super) fn back(&self, right: &mut DMatrix<f64>) {
        if let Some(factor) = &self.factor {
            factor.solve(right);
        }
    }
}
