//! From the forces of the road to those in links, pickups, springs and bars, by the linkage's own reactions.
//!
//! Every body of a corner is in equilibrium at the position where it stands: `J' r + load = 0`, with the same Jacobian
//! that gives its motion. No planar statics, no rule of who carries what. Where a spring or a bar link sits on a link,
//! that link is a body and takes its share in bending.

mod carried;
mod joint;

use linkage::{Frame, Frames, Loads, Position, Row, reactions};
use nalgebra::Vector3;
use suspension::scheme::{Scheme, UPRIGHT};
use suspension::{Corner, Span, TorqueReaction};

use crate::error::SteelError;

pub use carried::{Carried, Cut};

/// Share of the largest load that may be left out of balance on any body (a force, or a moment over a metre).
pub const LEFT_OUT: f64 = 1e-9;

/// A holder that would have to push with more than this many times the largest load stands at its dead point and does
/// not carry: a motion ratio of a few ten-thousandths. Real springs push with one to ten times the wheel's load.
pub const MOST_TIMES: f64 = 3e3;

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
    /// Its ends by their index in the scheme: at the body, at the wheel; a rod between other bodies as it is drawn.
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
    /// Forces on the body of the car, where links, springs and bars meet it: on the rack where a tie rod ends there, on
    /// the arm of the bar where a bar link does.
    pub pickups: Vec<At>,
    /// Compression of every element [N].
    pub elements: Vec<f64>,
    /// Moment that a half-shaft takes to the final drive (or the brake) on the body [N m], about the wheel's axle.
    pub through_shaft: Vector3<f64>,
    /// Largest force [N], or moment over a metre, that any body was left with.
    pub unbalanced: f64,
}

/// Forces in a corner at a position under what acts on it. `points` are those that the corner was built from.
///
/// # Errors
/// If a number is not finite, an element is not there, or the joints and the holder cannot carry the load, so that the
/// corner would move: as where the holder stands at its dead point.
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
    let road = Road::of(corner, q, acting.wheel)?;
    loads.add_force(linkage, q, corner.centre(), road.force);
    loads.add_moment(UPRIGHT, road.moment - road.through_shaft);
    let mut size = road.size;
    let mut compression = vec![0.0; corner.elements().len()];
    for (element, force) in acting.elements {
        let (Some(span), Some(sum)) = (corner.elements().get(*element), compression.get_mut(*element)) else {
            return Err(SteelError::Figure {
                what: "the number of a spring or bar link",
                value: *element as f64,
            });
        };
        if !force.is_finite() {
            return Err(SteelError::NotFinite);
        }
        let out = outward(frames, q, span) * *force;
        loads.add_force(linkage, q, &span.outer, out);
        loads.add_force(linkage, q, &span.inner, -out);
        *sum += force;
        size = size.max(force.abs());
    }
    let own = compression.get_mut(acting.holder).zip(corner.elements().get(acting.holder));
    let (own, holder) = own.ok_or(SteelError::NoHolder)?;
    let hold: Row<f64> = Row::Distance {
        a: holder.inner,
        b: holder.outer,
        length: (frames.point(q, &holder.outer) - frames.point(q, &holder.inner)).norm(),
    };
    let found = reactions(linkage, q, &loads, std::slice::from_ref(&hold)).ok_or(SteelError::NotFinite)?;
    let held = found.values.last().copied().unwrap_or(0.0);
    if !found.values.iter().all(|value| value.is_finite()) || !found.unbalanced.is_finite() {
        return Err(SteelError::NotFinite);
    }
    let size = size.max(1.0);
    if held.abs() > MOST_TIMES * size {
        // What would be left over if the holder did nothing, which is what it does.
        let without = reactions(linkage, q, &loads, &[]).ok_or(SteelError::NotFinite)?;
        return Err(SteelError::GivesWay { left: without.unbalanced });
    }
    *own += held;
    let mut joints =
        joint::Joints { scheme, linkage, points, q, reactions: &found, out: Vec::new(), legs: Vec::new() };
    for (index, joint) in scheme.joints.iter().enumerate() {
        joints.take(index, joint);
    }
    let joint::Joints { out: mut sides, legs, .. } = joints;
    let legs = legs_named(scheme, legs);
    for ((span, drawn), force) in corner.elements().iter().zip(&scheme.elements).zip(&compression) {
        let out = outward(frames, q, span) * *force;
        for (end, on, force) in [(&span.inner, drawn.inner, -out), (&span.outer, drawn.outer, out)] {
            let at = At { point: on.point, place: frames.point(q, end), force, moment: Vector3::zeros() };
            sides.push((end.frame, at));
        }
    }
    let unbalanced = found.unbalanced.max(left_over(linkage.bodies(), &road, &sides));
    if unbalanced > LEFT_OUT * size {
        return Err(SteelError::GivesWay { left: unbalanced });
    }
    let pickups =
        sides.iter().filter(|(frame, _)| !matches!(frame, Frame::Body(_))).map(|(_, at)| *at).collect();
    let carried = carried::carried(scheme, &sides);
    let through_shaft = road.through_shaft;
    Ok(Forces { legs, carried, pickups, elements: compression, through_shaft, unbalanced })
}

/// What acts on a wheel as one force at its centre and a moment.
struct Road {
    hub: Vector3<f64>,
    force: Vector3<f64>,
    /// About the wheel centre, with what goes through the half-shaft.
    moment: Vector3<f64>,
    through_shaft: Vector3<f64>,
    /// Largest single force [N], or moment over a metre.
    size: f64,
}

impl Road {
    fn of(corner: &Corner<f64>, q: &Position<f64>, pushes: &[Push]) -> Result<Self, SteelError> {
        let frames = corner.linkage().frames();
        let spin = frames.direction(q, Frame::Body(UPRIGHT), corner.spin());
        let zero = Vector3::zeros();
        let hub = frames.point(q, corner.centre());
        let mut road = Self { hub, force: zero, moment: zero, through_shaft: zero, size: 0.0 };
        for push in pushes {
            let moment = (push.at - hub).cross(&push.force);
            if !push.force.iter().chain(&moment).all(|c| c.is_finite()) {
                return Err(SteelError::NotFinite);
            }
            road.force += push.force;
            road.moment += moment;
            if push.torque == TorqueReaction::Body {
                road.through_shaft += spin * spin.dot(&moment);
            }
            road.size = road.size.max(push.force.amax()).max(moment.amax());
        }
        Ok(road)
    }
}

/// From the inner end of an element to the outer one (unit vector): its compression pushes the outer end that way.
fn outward(frames: &Frames<f64>, q: &Position<f64>, span: &Span<f64>) -> Vector3<f64> {
    let way = frames.point(q, &span.outer) - frames.point(q, &span.inner);
    way / way.norm()
}

/// Largest force [N], or moment over a metre, that the listed forces leave on any body: a joint that was passed over, or
/// taken with the wrong sign, shows here.
fn left_over(bodies: usize, road: &Road, sides: &[(Frame, At)]) -> f64 {
    let on = |body: usize| {
        let (mut force, mut moment) = match body {
            UPRIGHT => (road.force, road.moment - road.through_shaft),
            _ => (Vector3::zeros(), Vector3::zeros()),
        };
        for (_, at) in sides.iter().filter(|(frame, _)| *frame == Frame::Body(body)) {
            force += at.force;
            moment += (at.place - road.hub).cross(&at.force) + at.moment;
        }
        [force, moment]
    };
    let all = (0..bodies).flat_map(on).flat_map(|v| [v.x, v.y, v.z]);
    // Not `max` alone, which passes over what is no number.
    all.fold(0.0, |most: f64, c| if c.is_nan() { f64::INFINITY } else { most.max(c.abs()) })
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
