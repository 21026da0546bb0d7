//! The steering axis: caster, its inclination, trail and scrub radius.

use linkage::Twist;
use nalgebra::Vector3;

use crate::mover::Mover;

/// Where the steering axis comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisSource {
    /// The line through the two outer balls.
    Balls,
    /// The instantaneous screw axis of a small motion of the rack at fixed wheel travel.
    Rack,
    /// The instantaneous screw axis of a small change in the length of the named link's joint at fixed travel.
    Link(usize),
}

/// Steering axis of the left wheel at one position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteeringAxis {
    /// Where it comes from.
    pub source: AxisSource,
    /// Caster [rad]: positive with the axis leaning rearward at the top, `atan2(-e_x, e_z)`.
    pub caster: f64,
    /// Inclination [rad]: positive with the axis leaning inward at the top, `atan2(-e_y, e_z)`.
    pub inclination: f64,
    /// Mechanical trail [m]: positive where the axis meets the road ahead of the contact point.
    pub trail: f64,
    /// Scrub radius [m]: positive where the axis meets the road inboard of the contact point.
    pub scrub_radius: f64,
}

/// The steering axis at the mover's present position. For a corner with neither outer balls nor a rack, the
/// axis about which the link `toe_link` (joint index) steers the wheel; `None` if there is no such axis or it
/// lies level.
pub fn steering_axis(mover: &mut Mover<'_>, toe_link: Option<usize>) -> Option<SteeringAxis> {
    let corner = mover.corner();
    let contact = mover.measures().contact;
    if let Some((low, high)) = corner.steering_axis() {
        let frames = corner.linkage().frames();
        let q = mover.solver().position();
        let (low, high) = (frames.point(q, low), frames.point(q, high));
        return meet_road(AxisSource::Balls, &low, &(high - low), &contact);
    }
    let (source, twist) = if corner.has_rack() {
        (AxisSource::Rack, mover.steer_screw()?)
    } else {
        let joint = toe_link?;
        let row = corner.linkage().joints().get(joint)?.rows.start;
        (AxisSource::Link(joint), *mover.solver().response(row)?.first()?)
    };
    let centre = mover.measures().centre;
    let (point, axis) = screw_axis(&twist, &centre)?;
    meet_road(source, &point, &axis, &contact)
}

/// A point on the axis of a screw and its direction. `origin` is where the screw's velocity is taken.
fn screw_axis(twist: &Twist<f64>, origin: &Vector3<f64>) -> Option<(Vector3<f64>, Vector3<f64>)> {
    let square = twist.w.norm_squared();
    // Also refuses a screw that is not finite.
    if !(1e-12..1e12).contains(&square) {
        return None;
    }
    Some((origin + twist.w.cross(&twist.v) / square, twist.w))
}

fn meet_road(
    source: AxisSource,
    point: &Vector3<f64>,
    axis: &Vector3<f64>,
    contact: &Vector3<f64>,
) -> Option<SteeringAxis> {
    let e = if axis.z < 0.0 { -axis } else { *axis };
    if e.z < 1e-3 * e.norm() {
        return None;
    }
    let ground = point + e * ((contact.z - point.z) / e.z);
    Some(SteeringAxis {
        source,
        caster: (-e.x).atan2(e.z),
        inclination: (-e.y).atan2(e.z),
        trail: ground.x - contact.x,
        scrub_radius: contact.y - ground.y,
    })
}
