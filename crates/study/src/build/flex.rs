//! What the give of the pickups does to toe and camber, through the linkage.
//!
//! Virtual work: a moment `t` on the wheel is held by forces `F_p` of the pickups; when those move by `d_p`, the wheel turns
//! about `t` by `sum F_p . d_p`. With `t` the gradient of toe (or camber) by the wheel's turning, that turn is its change.
//! The spring keeps its length, so that the load of the wheel stays as it is.

use linkage::Frame;
use nalgebra::Vector3;
use steel::load::{Acting, Push, forces};
use suspension::scheme::UPRIGHT;
use suspension::{Mover, TorqueReaction, angle_rates};

use super::forces::Loaded;

/// Change of toe and camber by the movement of each pickup [rad/m], at ride height, left wheel: point, then both.
pub(super) type Influence = Vec<(usize, [Vector3<f64>; 2])>;

/// How every pickup of a corner moves toe and camber; `None` where the corner cannot be held by its spring.
pub(super) fn influence(loaded: &Loaded<'_>) -> Option<Influence> {
    let (axle, whole) = loaded.corner();
    let mut mover = Mover::new(&whole.corner);
    let m = mover.at(0.0, 0.0).ok()?;
    let position = mover.solver().position().clone();
    let holder = whole.springs.first()?.0;
    let spin =
        whole.corner.linkage().frames().direction(&position, Frame::Body(UPRIGHT), whole.corner.spin());
    let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
    let turns = axes.map(|w| angle_rates(&spin, &w));
    let mut out: Influence = Vec::new();
    for which in 0..2 {
        let moment = Vector3::from(turns.map(|(toe, camber)| if which == 0 { toe } else { camber }));
        let pushes = couple(&m.centre, &moment);
        let acting = Acting { wheel: &pushes, elements: &[], holder };
        let held = forces(&axle.scheme, loaded.points(), &whole.corner, &position, &acting).ok()?;
        for at in held.pickups {
            let place = match out.iter().position(|(point, _)| *point == at.point) {
                Some(place) => place,
                None => {
                    out.push((at.point, [Vector3::zeros(); 2]));
                    out.len() - 1
                }
            };
            if let Some((_, by)) = out.get_mut(place)
                && let Some(by) = by.get_mut(which)
            {
                *by += at.force;
            }
        }
    }
    Some(out)
}

/// Forces that are a moment and nothing else, about a point.
fn couple(at: &Vector3<f64>, moment: &Vector3<f64>) -> Vec<Push> {
    // About each axis: a force along the next one, an arm along the one after it. r x F with r = e_z/2 and F = -e_y gives e_x/2.
    let mut pushes = Vec::new();
    for k in 0..3 {
        let unit = |i: usize| Vector3::ith(i % 3, 1.0);
        let (arm, force) = (unit(k + 2) / 2.0, -unit(k + 1) * moment[k]);
        for sign in [1.0, -1.0] {
            pushes.push(Push { at: at + arm * sign, force: force * sign, torque: TorqueReaction::Upright });
        }
    }
    pushes
}

/// Change of toe and camber [rad] by movements of pickups, all as on the left.
pub(super) fn change(influence: &Influence, moves: &[(usize, Vector3<f64>)]) -> [f64; 2] {
    let mut change = [0.0; 2];
    for (point, moved) in moves {
        for (_, by) in influence.iter().filter(|(own, _)| own == point) {
            for (sum, by) in change.iter_mut().zip(by) {
                *sum += by.dot(moved);
            }
        }
    }
    change
}
