//! From the forces of the road to those in links, pickups, springs and bars, by the linkage's own reactions.
//!
//! Every body of a corner is in equilibrium at the position where it stands: `J' r + load = 0`, with the same Jacobian
//! that gives its motion. No planar statics, no rule of who carries what. Where a spring or a bar link sits on a link,
//! that link is a body and takes its share in bending.

mod carried;
mod joint;

use linkage::{End, Frame, Loads, Position, Row, reactions};
use nalgebra::Vector3;
use suspension::scheme::{Scheme, UPRIGHT};
use suspension::{Corner, TorqueReaction};

use crate::error::SteelError;

pub use carried::{Carried, Cut};

/// Share of the largest load that may be left out of balance on any body (a force, or a moment over a metre).
pub const LEFT_OUT: f64 = 1e-9;

/// A force on the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Where it acts, in the car's axes [m].
    pub at: Vector3<f64>,
    /// Force [N].
    pub force: Vector3<f64>,
    /// What reacts its moment about the wheel's axle: the body where it comes through a half-shaft.
    pub torque: TorqueReaction,
}

/// What acts on one corner beside its joints.
#[derive(Clone, Copy, Debug)]
pub struct Acting<'a> {
    /// Forces on the wheel: of the road, of its weight.
    pub wheel: &'a [Push],
    /// Springs, stops and bar links that push with a known force: element and compression [N].
    pub elements: &'a [(usize, f64)],
    /// The element that carries what is left along the wheel's travel: a spring, or a damper on its stop.
    pub holder: usize,
}

/// A force on one end of a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// Point, by its index in the scheme.
    pub point: usize,
    /// Where it stands [m].
    pub place: Vector3<f64>,
    /// Force [N].
    pub force: Vector3<f64>,
    /// Moment [N m], where the joint holds one.
    pub moment: Vector3<f64>,
}

/// Tension of a straight link or of a leg of an arm that nothing sits on.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Its name in the scheme.
    pub name: String,
    /// Its ends by their index in the scheme: at the body, at the wheel.
    pub points: [usize; 2],
    /// Where they stand [m].
    pub ends: [Vector3<f64>; 2],
    /// Tension [N]; compression negative.
    pub tension: f64,
}

/// Forces in one corner, left side.
#[derive(Clone, Debug, PartialEq)]
pub struct Forces {
    /// Links and legs that carry nothing.
    pub legs: Vec<Leg>,
    /// Links and arms on which a spring, a damper or a bar link sits.
    pub carried: Vec<Carried>,
    /// Forces on the body of the car, where links, springs and bars meet it.
    pub pickups: Vec<At>,
    /// Compression of every element [N].
    pub elements: Vec<f64>,
    /// Moment that a half-shaft takes to the final drive on the body [N m].
    pub through_shaft: Vector3<f64>,
    /// Largest force [N], or moment over a metre, that any body was left with.
    pub unbalanced: f64,
}

/// Forces in a corner at a position under what acts on it. `points` are those that the corner was built from.
///
/// # Errors
/// If the numbers are not finite, or if the joints and the holder cannot carry the load, so that the corner would move.
pub fn forces(
    scheme: &Scheme,
    points: &[Vector3<f64>],
    corner: &Corner<f64>,
    q: &Position<f64>,
    acting: &Acting<'_>,
) -> Result<Forces, SteelError> {
    let linkage = corner.linkage();
    let frames = linkage.frames();
    let mut loads = Loads::none(linkage.bodies());
    let spin = frames.direction(q, Frame::Body(UPRIGHT), corner.spin());
    let hub = frames.point(q, corner.centre());
    let mut size: f64 = 0.0;
    let mut through_shaft = Vector3::zeros();
    for push in acting.wheel {
        loads.add_force(linkage, q, corner.centre(), push.force);
        let moment = (push.at - hub).cross(&push.force);
        let about_axle = match push.torque {
            TorqueReaction::Body => spin * spin.dot(&moment),
            TorqueReaction::Upright => Vector3::zeros(),
        };
        loads.add_moment(UPRIGHT, moment - about_axle);
        through_shaft += about_axle;
        size = size.max(push.force.amax()).max(moment.amax());
    }
    let mut compression = vec![0.0; corner.elements().len()];
    let along = |inner: &End<f64>, outer: &End<f64>| {
        let way = frames.point(q, outer) - frames.point(q, inner);
        way / way.norm()
    };
    for (element, force) in acting.elements {
        let Some(span) = corner.elements().get(*element) else { continue };
        let out = along(&span.inner, &span.outer) * *force;
        loads.add_force(linkage, q, &span.outer, out);
        loads.add_force(linkage, q, &span.inner, -out);
        if let Some(sum) = compression.get_mut(*element) {
            *sum += force;
        }
        size = size.max(force.abs());
    }
    let holder = corner.elements().get(acting.holder).ok_or(SteelError::NoHolder)?;
    let hold: Row<f64> = Row::Distance {
        a: holder.inner,
        b: holder.outer,
        length: (frames.point(q, &holder.outer) - frames.point(q, &holder.inner)).norm(),
    };
    let found = reactions(linkage, q, &loads, std::slice::from_ref(&hold)).ok_or(SteelError::NotFinite)?;
    if found.unbalanced.is_nan() || found.unbalanced > LEFT_OUT * size.max(1.0) {
        return Err(SteelError::GivesWay { left: found.unbalanced });
    }
    let own = found.values.last().copied().unwrap_or(0.0);
    if let Some(sum) = compression.get_mut(acting.holder) {
        *sum += own;
    }
    let mut joints =
        joint::Joints { linkage, points, q, reactions: &found, out: Vec::new(), legs: Vec::new() };
    for (index, joint) in scheme.joints.iter().enumerate() {
        joints.take(index, joint);
    }
    let joint::Joints { out: mut sides, legs, .. } = joints;
    let legs = legs_named(scheme, legs);
    for (element, (span, drawn)) in corner.elements().iter().zip(&scheme.elements).enumerate() {
        let force = compression.get(element).copied().unwrap_or(0.0);
        let out = along(&span.inner, &span.outer) * force;
        for (end, on, force) in [(&span.inner, drawn.inner, -out), (&span.outer, drawn.outer, out)] {
            let at = At { point: on.point, place: frames.point(q, end), force, moment: Vector3::zeros() };
            sides.push((end.frame, at));
        }
    }
    let pickups =
        sides.iter().filter(|(frame, _)| !matches!(frame, Frame::Body(_))).map(|(_, at)| *at).collect();
    let carried = carried::carried(scheme, &sides);
    Ok(Forces { legs, carried, pickups, elements: compression, through_shaft, unbalanced: found.unbalanced })
}

/// Rods under the names that the scheme's legs have.
fn legs_named(scheme: &Scheme, rods: Vec<Leg>) -> Vec<Leg> {
    let lengths: Vec<(&str, usize, usize)> = scheme.lengths().collect();
    let named = rods.into_iter().map(|rod| match lengths.iter().find(|l| l.0 == rod.name) {
        Some((_, inner, _)) if *inner == rod.points[1] => {
            let ([a, b], [p, r]) = (rod.points, rod.ends);
            Leg { points: [b, a], ends: [r, p], ..rod }
        }
        _ => rod,
    });
    named.collect()
}

impl Forces {
    /// The same on the other side of the car: y reversed.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let over = |v: &Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
        // A moment is an axial vector: its x and z turn round.
        let turned = |v: &Vector3<f64>| Vector3::new(-v.x, v.y, -v.z);
        let at =
            |a: &At| At { place: over(&a.place), force: over(&a.force), moment: turned(&a.moment), ..*a };
        Self {
            legs: self.legs.iter().map(|l| Leg { ends: l.ends.map(|e| over(&e)), ..l.clone() }).collect(),
            carried: self.carried.iter().map(|c| c.mirrored(&over, &at)).collect(),
            pickups: self.pickups.iter().map(at).collect(),
            through_shaft: turned(&self.through_shaft),
            ..self.clone()
        }
    }
}
