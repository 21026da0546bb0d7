//! Loads on a factored frame: movements, forces in tubes and feet, and what is left out of balance.
//!
//! One step of refinement: what the first answer leaves out of balance, summed tube by tube instead of by the assembled
//! stiffness, goes through the factor once more.

#![allow(clippy::indexing_slicing, reason = "matrices by indices below the size they were made with")]

use nalgebra::{DMatrix, Matrix6, Vector3, Vector6};

use super::bodies::arm;
use super::element::Element;
use super::survey::{LARGEST, place, within};
use super::{Factored, Foot, FrameError, Hold, Load, Move, Response, TubeForces, Wrench};

/// What may be left out of balance, over the size of the load, in an answer that is given. Ordinary frames leave 1e-13.
pub const UNBALANCED: f64 = 1e-6;

/// Moment on a node of balls, over the moments of the loads that make it up, that is still rounding.
const NO_MOMENT: f64 = 1e-9;

impl Factored {
    /// What the frame does under each of a number of loads.
    ///
    /// # Errors
    /// A load on a node that is not there or with a figure that is no number; a moment on a node that is held by balls
    /// alone; an answer that leaves more than [`UNBALANCED`] out of balance.
    pub fn solve(&self, cases: &[Vec<Load>]) -> Result<Vec<Response>, FrameError> {
        let loads: Vec<Vec<Vector6<f64>>> =
            cases.iter().map(|case| self.loads(case)).collect::<Result<_, _>>()?;
        let mut moves = self.movements(&loads);
        let left: Vec<_> = loads.iter().zip(&moves).map(|(load, moves)| self.left(load, moves).0).collect();
        for (moves, more) in moves.iter_mut().zip(self.movements(&left)) {
            for (moves, more) in moves.iter_mut().zip(more) {
                *moves += more;
            }
        }
        let answer = |(load, moves): (&Vec<_>, &Vec<_>)| {
            let response = self.response(load, moves);
            if response.unbalanced <= UNBALANCED { Ok(response) } else { Err(FrameError::TooFarApart) }
        };
        loads.iter().zip(&moves).map(answer).collect()
    }

    /// How a point on a stiff arm [m] of a node gives: its displacement and rotation by a force and a moment there,
    /// 6 by 6, symmetric [m/N, rad/N, m/(N m), rad/(N m)].
    ///
    /// # Errors
    /// A node that is not there or is held by balls alone, an arm that is no number.
    pub fn give(&self, node: usize, point: &Vector3<f64>) -> Result<Matrix6<f64>, FrameError> {
        let (Some(seat), Some(name)) = (self.seats.get(node), self.names.get(node)) else {
            let count = self.seats.len();
            return Err(FrameError::UnknownNode { what: "a point".to_owned(), node, count });
        };
        place(point, || format!("an arm at node `{name}`"))?;
        if seat.idle.contains(&true) {
            return Err(FrameError::MomentOnBalls { node: name.clone(), moment: 1.0 });
        }
        let carry = arm(point);
        let units: Vec<_> = (0..6)
            .map(|axis| {
                let mut loads = vec![Vector6::zeros(); self.seats.len()];
                if let Some(load) = loads.get_mut(node) {
                    *load = carry.row(axis).transpose();
                }
                loads
            })
            .collect();
        let mut give = Matrix6::zeros();
        for (axis, moves) in self.movements(&units).iter().enumerate() {
            if let Some(moves) = moves.get(node) {
                give.set_column(axis, &(carry * moves));
            }
        }
        Ok((give + give.transpose()) / 2.0)
    }

    /// Point of a tube's centre line at rest [m], `t` from 0 to 1; `None` for a tube that is not there.
    pub fn rest(&self, tube: usize, t: f64) -> Option<Vector3<f64>> {
        let element = self.elements.get(tube)?;
        Some(element.start + element.axes.row(0).transpose() * (element.length * t))
    }

    /// Displacement of that point under a load [m]: for drawing, times an exaggeration. Between its ends a tube strays
    /// from their line by its bending alone, `L^2/(E I) (M_1 (t^2/2 - t^3/6 - t/3) + M_2 (t^3/6 - t/6))`: shear is the same
    /// all along and leaves a straight line straight.
    pub fn moved(&self, response: &Response, tube: usize, t: f64) -> Option<Vector3<f64>> {
        let element = self.elements.get(tube)?;
        let forces = response.tubes.get(tube)?;
        let [first, second] = element.nodes;
        let [arm_first, arm_second] = element.offsets;
        let line = response.moves.get(first)?.at(&arm_first) * (1.0 - t)
            + response.moves.get(second)?.at(&arm_second) * t;
        let stray = |[first, second]: [f64; 2], rigidity: f64| {
            let (square, cube) = (t * t, t * t * t);
            element.length.powi(2) / rigidity
                * (first * (square / 2.0 - cube / 6.0 - t / 3.0) + second * (cube / 6.0 - t / 6.0))
        };
        let [about_y, about_z] = element.bending;
        let local = Vector3::new(0.0, stray(forces.moment_z, about_z), -stray(forces.moment_y, about_y));
        Some(line + element.axes.tr_mul(&local))
    }

    /// Loads summed about their nodes.
    fn loads(&self, case: &[Load]) -> Result<Vec<Vector6<f64>>, FrameError> {
        let mut sums = vec![Vector6::zeros(); self.seats.len()];
        let mut sizes = vec![0.0; self.seats.len()];
        for load in case {
            let (Some(name), Some(sum), Some(size)) =
                (self.names.get(load.node), sums.get_mut(load.node), sizes.get_mut(load.node))
            else {
                let count = self.seats.len();
                return Err(FrameError::UnknownNode { what: "a load".to_owned(), node: load.node, count });
            };
            within(&load.force, LARGEST, || format!("a force on node `{name}`"))?;
            within(&load.moment, LARGEST, || format!("a moment on node `{name}`"))?;
            place(&load.arm, || format!("the arm of a load on node `{name}`"))?;
            let moment = load.moment + load.arm.cross(&load.force);
            *sum += joined(&load.force, &moment);
            *size += load.moment.norm() + load.arm.norm() * load.force.norm();
        }
        for (((sum, size), seat), name) in sums.iter().zip(&sizes).zip(&self.seats).zip(&self.names) {
            for (axis, _) in seat.idle.iter().enumerate().filter(|(_, idle)| **idle) {
                let moment = sum[3 + axis];
                if moment.abs() > NO_MOMENT * size {
                    return Err(FrameError::MomentOnBalls { node: name.clone(), moment });
                }
            }
        }
        Ok(sums)
    }

    /// Movements of all nodes, by what acts on them, a case each.
    fn movements(&self, cases: &[Vec<Vector6<f64>>]) -> Vec<Vec<Vector6<f64>>> {
        let mut right = DMatrix::zeros(self.scale.len(), cases.len());
        for (column, loads) in cases.iter().enumerate() {
            for (load, seat) in loads.iter().zip(&self.seats) {
                let Some(body) = self.bodies.get(seat.body) else { continue };
                let on = seat.carry.tr_mul(load);
                for (place, value) in body.places.iter().zip(on.iter()) {
                    let Some(place) = *place else { continue };
                    right[(place, column)] += value / self.scale.get(place).copied().unwrap_or(1.0);
                }
            }
        }
        self.back(&mut right);
        let moves = |column: usize| {
            self.seats
                .iter()
                .map(|seat| {
                    let Some(body) = self.bodies.get(seat.body) else { return Vector6::zeros() };
                    let mut freedoms = Vector6::zeros();
                    for (freedom, place) in freedoms.iter_mut().zip(&body.places) {
                        if let Some(place) = *place {
                            *freedom = right[(place, column)] / self.scale.get(place).copied().unwrap_or(1.0);
                        }
                    }
                    seat.carry * freedoms
                })
                .collect()
        };
        (0..cases.len()).map(moves).collect()
    }

    /// What tubes and springs leave of the loads on the nodes, and the forces in the tubes.
    fn left(&self, loads: &[Vector6<f64>], moves: &[Vector6<f64>]) -> (Vec<Vector6<f64>>, Vec<Vector6<f64>>) {
        let mut left = loads.to_vec();
        let mut tubes = Vec::with_capacity(self.elements.len());
        for element in &self.elements {
            let [first, second] = element.nodes;
            let forces = match (moves.get(first), moves.get(second)) {
                (Some(a), Some(b)) if !self.same_body(element) => element.forces([a, b]),
                _ => Vector6::zeros(),
            };
            let [on_first, on_second] = element.at_nodes(&forces);
            for (node, on) in [(first, on_first), (second, on_second)] {
                if let Some(left) = left.get_mut(node) {
                    *left -= on;
                }
            }
            tubes.push(forces);
        }
        for foot in &self.feet {
            if let (Some(left), Some(moves)) = (left.get_mut(foot.node), moves.get(foot.node)) {
                *left -= rates(foot).component_mul(moves);
            }
        }
        (left, tubes)
    }

    fn same_body(&self, element: &Element) -> bool {
        let [first, second] = element.nodes.map(|node| self.seats.get(node).map(|seat| seat.body));
        first == second
    }

    fn response(&self, loads: &[Vector6<f64>], moves: &[Vector6<f64>]) -> Response {
        let (mut left, forces) = self.left(loads, moves);
        let mut feet: Vec<Vector6<f64>> = self
            .feet
            .iter()
            .map(|foot| {
                moves.get(foot.node).map_or_else(Vector6::zeros, |moves| -rates(foot).component_mul(moves))
            })
            .collect();

        // What is left on a body with fixed holds is theirs to take.
        let mut on_bodies = vec![Vector6::zeros(); self.bodies.len()];
        for (left, seat) in left.iter().zip(&self.seats) {
            if let Some(on) = on_bodies.get_mut(seat.body) {
                *on += arm(&seat.arm).tr_mul(left);
            }
        }
        for (body, on) in self.bodies.iter().zip(&on_bodies) {
            for hold in &body.fixed {
                let force = hold.takes.tr_dot(on);
                let foot = self.feet.iter().position(|foot| foot.node == hold.node);
                if let Some(foot) = foot.and_then(|foot| feet.get_mut(foot)) {
                    foot[hold.axis] += force;
                }
                if let Some(left) = left.get_mut(hold.node) {
                    left[hold.axis] += force;
                }
            }
        }
        Response {
            unbalanced: self.unbalanced(loads, &left, &feet),
            moves: moves.iter().map(|m| Move { shift: upper(m), turn: lower(m) }).collect(),
            tubes: self.elements.iter().zip(&forces).map(|(element, f)| carried(element, f)).collect(),
            feet: feet.iter().map(|w| Wrench { force: upper(w), moment: lower(w) }).collect(),
        }
    }

    /// The worst of the bodies and of the whole, over the size of the load.
    fn unbalanced(&self, loads: &[Vector6<f64>], left: &[Vector6<f64>], feet: &[Vector6<f64>]) -> f64 {
        let centre = self.bodies.first().map_or_else(Vector3::zeros, |body| body.at);
        let at =
            |seat: &super::bodies::Seat| self.bodies.get(seat.body).map_or(centre, |body| body.at) + seat.arm;
        let length = self
            .seats
            .iter()
            .map(|seat| (at(seat) - centre).norm())
            .chain(self.elements.iter().map(|element| element.length))
            .fold(0.0, f64::max);
        let size: f64 = loads.iter().map(|load| upper(load).norm() + lower(load).norm() / length).sum();
        if size == 0.0 {
            return 0.0;
        }
        let over = |wrench: &Vector6<f64>| (upper(wrench).norm().max(lower(wrench).norm() / length)) / size;

        let mut on_bodies = vec![Vector6::zeros(); self.bodies.len()];
        let mut whole = Vector6::zeros();
        for ((left, load), seat) in left.iter().zip(loads).zip(&self.seats) {
            if let Some(on) = on_bodies.get_mut(seat.body) {
                *on += arm(&seat.arm).tr_mul(left);
            }
            whole += arm(&(at(seat) - centre)).tr_mul(load);
        }
        for (foot, given) in self.feet.iter().zip(feet) {
            if let Some(seat) = self.seats.get(foot.node) {
                whole += arm(&(at(seat) - centre)).tr_mul(given);
            }
        }
        on_bodies.iter().map(over).fold(over(&whole), f64::max)
    }
}

/// Rates of a foot's springs, nought where there is none.
pub(super) fn rates(foot: &Foot) -> Vector6<f64> {
    Vector6::from_iterator(foot.hold.iter().map(|hold| match hold {
        Hold::Spring(rate) => *rate,
        Hold::Free | Hold::Fixed => 0.0,
    }))
}

/// What a tube carries, from the moments that act on its ends: those at the first end are the reverse of a cut's.
fn carried(element: &Element, forces: &Vector6<f64>) -> TubeForces {
    let moment_y = [-forces[2], forces[3]];
    let moment_z = [-forces[4], forces[5]];
    TubeForces {
        axial: forces[0],
        torque: forces[1],
        shear_y: -(forces[4] + forces[5]) / element.length,
        shear_z: (forces[2] + forces[3]) / element.length,
        moment_y,
        moment_z,
    }
}

fn joined(force: &Vector3<f64>, moment: &Vector3<f64>) -> Vector6<f64> {
    Vector6::new(force.x, force.y, force.z, moment.x, moment.y, moment.z)
}

fn upper(v: &Vector6<f64>) -> Vector3<f64> {
    v.fixed_rows::<3>(0).into_owned()
}

fn lower(v: &Vector6<f64>) -> Vector3<f64> {
    v.fixed_rows::<3>(3).into_owned()
}
