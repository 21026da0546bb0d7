//! The kinds of suspension that have a name, each as a [`Scheme`].
//!
//! Point names and their order are those of the car file. An arm with two body ends is two rods to one ball
//! (the same motion as a rigid triangle on its hinge) unless something is mounted on it: then
//! [`carry_on_link`] turns it into a body of its own, so that its attitude is known.

use crate::scheme::{Direction, JointKind, PointOn, RACK, Scheme, UPRIGHT};
use linkage::Frame;

const UPRIGHT_FRAME: Frame = Frame::Body(UPRIGHT);

/// Five rods from the body to the upright, each named by the user. Points `link.NAME.body`, `link.NAME.upright`.
///
/// `steered` is the link whose body end rides on a rack, where there is one.
pub fn five_link(names: &[String; 5], steered: Option<usize>) -> Scheme {
    let mut scheme = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    for (i, name) in names.iter().enumerate() {
        add_link(&mut scheme, &format!("link.{name}"), steered == Some(i));
    }
    if steered.is_some() {
        scheme.rack_axis = Some([0.0, 1.0, 0.0]);
    }
    scheme
}

/// Two triangular arms and a tie rod (a toe link where there is no rack). Points `upper-arm.body-fore`,
/// `.body-aft`, `.ball`, the same of `lower-arm`, `tie-rod.body`, `tie-rod.upright`.
pub fn double_wishbone(rack: bool) -> Scheme {
    let mut scheme = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let upper = add_arm(&mut scheme, "upper-arm");
    let lower = add_arm(&mut scheme, "lower-arm");
    add_tie_rod(&mut scheme, rack);
    scheme.steering_axis = Some((lower, upper));
    scheme
}

/// A strut whose axis passes through a fixed top, a triangular lower arm and a tie rod. Points `strut.top`,
/// `strut.lower`, `lower-arm.…`, `tie-rod.…`.
pub fn strut(rack: bool) -> Scheme {
    let mut scheme = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let top = scheme.add_point("strut.top");
    let low = scheme.add_point("strut.lower");
    scheme.add_joint(
        "strut",
        JointKind::OnLine {
            line: UPRIGHT_FRAME,
            from: low,
            along: Direction::Toward(top),
            point: PointOn { frame: Frame::Ground, point: top },
        },
    );
    let ball = add_arm(&mut scheme, "lower-arm");
    add_tie_rod(&mut scheme, rack);
    scheme.steering_axis = Some((ball, top));
    scheme
}

/// A blade that carries the hub, held by a bush in x and z and free along y, and three lateral links named by
/// the user. Points `blade.bush`, `link.NAME.body`, `link.NAME.upright`.
pub fn trailing_blade(names: &[String; 3]) -> Scheme {
    let mut scheme = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let bush = scheme.add_point("blade.bush");
    scheme.add_joint(
        "blade bush",
        JointKind::OnLine {
            line: Frame::Ground,
            from: bush,
            along: Direction::Fixed([0.0, 1.0, 0.0]),
            point: PointOn { frame: UPRIGHT_FRAME, point: bush },
        },
    );
    for name in names {
        add_link(&mut scheme, &format!("link.{name}"), false);
    }
    scheme
}

/// An arm on a hinge that carries the hub: semi-trailing, or pure trailing where the hinge lies across the
/// car. Points `arm.pivot-inner`, `arm.pivot-outer`.
pub fn semi_trailing_arm() -> Scheme {
    let mut scheme = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let from = scheme.add_point("arm.pivot-inner");
    let to = scheme.add_point("arm.pivot-outer");
    scheme.add_joint("arm hinge", JointKind::Hinge { a: Frame::Ground, b: UPRIGHT_FRAME, from, to });
    scheme
}

fn add_link(scheme: &mut Scheme, name: &str, on_rack: bool) {
    let body = scheme.add_point(format!("{name}.body"));
    let upright = scheme.add_point(format!("{name}.upright"));
    let frame = if on_rack { Frame::Carriage(RACK) } else { Frame::Ground };
    scheme.add_leg(name, PointOn { frame, point: body }, PointOn { frame: UPRIGHT_FRAME, point: upright });
}

fn add_tie_rod(scheme: &mut Scheme, rack: bool) {
    add_link(scheme, "tie-rod", rack);
    if rack {
        scheme.rack_axis = Some([0.0, 1.0, 0.0]);
    }
}

/// Adds an arm's three points and its two legs; returns the index of the ball.
fn add_arm(scheme: &mut Scheme, name: &str) -> usize {
    let fore = scheme.add_point(format!("{name}.body-fore"));
    let aft = scheme.add_point(format!("{name}.body-aft"));
    let ball = scheme.add_point(format!("{name}.ball"));
    for (leg, point) in [("fore leg", fore), ("aft leg", aft)] {
        scheme.add_leg(
            &format!("{name} {leg}"),
            PointOn { frame: Frame::Ground, point },
            PointOn { frame: UPRIGHT_FRAME, point: ball },
        );
    }
    ball
}

/// Turns the arm or link called `name` (`lower-arm`, `link.spring`) into a body, so that something can be
/// mounted on it, and returns the frame of that body. Motion of the wheel is unchanged. `None` if the scheme
/// has no such arm or link. An arm keeps its hinge; a link keeps its two balls and is kept from spinning.
pub fn carry_on_link(scheme: &mut Scheme, name: &str) -> Option<Frame> {
    if let Some(i) = scheme.bodies.iter().position(|b| b == name) {
        return Some(Frame::Body(i));
    }
    let body = Frame::Body(scheme.bodies.len());
    if let (Some(fore), Some(aft), Some(ball)) = (
        scheme.point(&format!("{name}.body-fore")),
        scheme.point(&format!("{name}.body-aft")),
        scheme.point(&format!("{name}.ball")),
    ) {
        scheme.joints.retain(|j| j.name != format!("{name} fore leg") && j.name != format!("{name} aft leg"));
        scheme.add_joint(
            format!("{name} hinge"),
            JointKind::Hinge { a: Frame::Ground, b: body, from: fore, to: aft },
        );
        scheme.add_joint(format!("{name} ball"), JointKind::Ball { a: body, b: UPRIGHT_FRAME, point: ball });
    } else {
        let index = scheme.joint(name)?;
        let JointKind::Rod { a, b } = scheme.joints[index].kind else { return None };
        scheme.joints.remove(index);
        scheme
            .add_joint(format!("{name} inner ball"), JointKind::Ball { a: a.frame, b: body, point: a.point });
        scheme
            .add_joint(format!("{name} outer ball"), JointKind::Ball { a: body, b: b.frame, point: b.point });
        scheme.add_joint(format!("{name} level"), JointKind::Level { body, from: a.point, to: b.point });
    }
    scheme.bodies.push(name.to_string());
    Some(body)
}
