//! Links and arms on which something sits: what bends them.

use linkage::Frame;
use nalgebra::Vector3;
use suspension::scheme::{Scheme, UPRIGHT};

use super::At;

/// A link or an arm with all forces that act on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// Its name: `link.lower-aft`, `lower-arm`.
    pub name: String,
    /// From the middle of its ends at the body to its end at the wheel [m].
    pub axis: [Vector3<f64>; 2],
    /// Forces on it.
    pub forces: Vec<At>,
    /// Internal forces where something sits, just inside and just outside of it.
    pub cuts: Vec<Cut>,
}

/// Internal forces of a link at a cut across its axis: what the part toward the wheel does to the part toward the body.
/// Of an arm: those of both legs together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Distance along the axis from the inner end [m].
    pub along: f64,
    /// Tension [N].
    pub axial: f64,
    /// Across the axis [N].
    pub shear: f64,
    /// Torque about the axis [N m], right-handed about the way to the wheel.
    pub torque: f64,
    /// Bending moment [N m].
    pub bending: f64,
    /// The part of the bending that turns an arm in its own plane [N m]: its legs take it as a couple of pull and push.
    /// Zero for a link.
    pub in_plane: f64,
}

pub(super) fn carried(scheme: &Scheme, sides: &[(Frame, At)]) -> Vec<Carried> {
    let bodies = scheme.bodies.iter().enumerate().filter(|(i, _)| *i != UPRIGHT);
    bodies.filter_map(|(i, name)| one(scheme, name, Frame::Body(i), sides)).collect()
}

fn one(scheme: &Scheme, name: &str, frame: Frame, sides: &[(Frame, At)]) -> Option<Carried> {
    let forces: Vec<At> = sides.iter().filter(|(f, _)| *f == frame).map(|(_, at)| *at).collect();
    let point = |end: &str| scheme.point(&format!("{name}.{end}"));
    let place = |point: usize| forces.iter().find(|at| at.point == point).map(|at| at.place);
    let inner: Vec<Vector3<f64>> =
        ["body", "body-fore", "body-aft"].iter().filter_map(|end| place(point(end)?)).collect();
    let outer = ["upright", "ball"].iter().find_map(|end| place(point(end)?))?;
    let start = inner.iter().sum::<Vector3<f64>>() / (inner.len().max(1) as f64);
    let way = outer - start;
    let length = way.norm();
    if inner.is_empty() || length < linkage::LEAST_LENGTH {
        return None;
    }
    let axis = way / length;
    let normal = match inner.as_slice() {
        [fore, aft] => (aft - fore).cross(&axis).try_normalize(linkage::LEAST_LENGTH).unwrap_or_default(),
        _ => Vector3::zeros(),
    };
    let along = |at: &At| axis.dot(&(at.place - start));
    let mut places: Vec<f64> = forces.iter().map(along).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < SAME_PLACE);
    let cuts = places
        .iter()
        .flat_map(|s| [(*s, *s - SAME_PLACE), (*s, *s + SAME_PLACE)])
        .map(|(s, cut)| {
            let here = start + axis * s;
            let beyond = || forces.iter().filter(|at| along(at) > cut);
            let force: Vector3<f64> = beyond().map(|at| at.force).sum();
            let moment: Vector3<f64> =
                beyond().map(|at| (at.place - here).cross(&at.force) + at.moment).sum();
            let axial = axis.dot(&force);
            let torque = axis.dot(&moment);
            Cut {
                along: s,
                axial,
                shear: (force - axis * axial).norm(),
                torque,
                bending: (moment - axis * torque).norm(),
                in_plane: normal.dot(&moment).abs(),
            }
        })
        .collect();
    Some(Carried { name: name.to_string(), axis: [start, outer], forces, cuts })
}

/// Two places along a link nearer than this are one [m].
const SAME_PLACE: f64 = 1e-6;

impl Carried {
    pub(super) fn mirrored(
        &self,
        over: &impl Fn(&Vector3<f64>) -> Vector3<f64>,
        at: &impl Fn(&At) -> At,
    ) -> Self {
        Self {
            axis: self.axis.map(|a| over(&a)),
            forces: self.forces.iter().map(at).collect(),
            // A torque about an axis turns with the hand; force, shear and bending are sizes.
            cuts: self.cuts.iter().map(|c| Cut { torque: -c.torque, ..*c }).collect(),
            ..self.clone()
        }
    }

    /// Length of the axis [m].
    pub fn length(&self) -> f64 {
        let [from, to] = self.axis;
        (to - from).norm()
    }
}
