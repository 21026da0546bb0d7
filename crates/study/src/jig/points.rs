//! The places of an axle that are marked, and what each is.

use linkage::Frame;
use nalgebra::Vector3;
use project::model::Axle;
use suspension::scheme::{Direction, JointKind, Scheme};

/// Left or right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// A point of the left side \[m\] on this side, in the car's axes.
    pub(super) fn of(self, left: &Vector3<f64>) -> Vector3<f64> {
        match self {
            Self::Left => *left,
            Self::Right => Vector3::new(left.x, -left.y, left.z),
        }
    }
}

/// What a place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum JigRole {
    /// On the body, for what guides the wheel.
    Pickup,
    /// A candidate hole for such a place.
    Hole,
    /// On the body, for a spring, a damper or the link of a bar.
    Mount,
    /// On the rack, straight ahead.
    Rack,
    /// On what moves with the wheel: to hold the upright by while the body is marked.
    Reference,
    /// The middle of the wheel.
    WheelCentre,
}

impl JigRole {
    /// Whether it is welded, drilled or bolted to the body.
    pub fn is_on_body(self) -> bool {
        matches!(self, Self::Pickup | Self::Hole | Self::Mount | Self::Rack)
    }
}

/// A place on the left side.
#[derive(Clone, Debug)]
pub(super) struct Place {
    /// The point's name.
    pub point: String,
    /// Its index in the scheme; `None` for the wheel centre.
    pub index: Option<usize>,
    /// Index into the axle's holes, and the hole's name.
    pub hole: Option<(usize, String)>,
    pub role: JigRole,
    /// In the car's axes \[m\].
    pub at: Vector3<f64>,
    /// \[m\].
    pub uncertainty: Vector3<f64>,
}

/// Places on the body with their holes first, then what moves with the wheel.
pub(super) fn places(axle: &Axle) -> Vec<Place> {
    let mut places = Vec::new();
    let mut moving = Vec::new();
    for (index, (name, at)) in axle.scheme.points.iter().zip(&axle.points).enumerate() {
        let role = role(&axle.scheme, index);
        let place = Place {
            point: name.clone(),
            index: Some(index),
            hole: None,
            role,
            at: at.at,
            uncertainty: at.uncertainty,
        };
        if !role.is_on_body() {
            moving.push(place);
            continue;
        }
        places.push(place.clone());
        let holes = axle.holes.iter().enumerate().filter(|(_, hole)| hole.point == index);
        places.extend(holes.map(|(number, hole)| Place {
            hole: Some((number, hole.name.clone())),
            role: JigRole::Hole,
            at: hole.at.at,
            uncertainty: hole.at.uncertainty,
            ..place.clone()
        }));
    }
    places.extend(moving);
    let centre = &axle.wheel.centre;
    places.push(Place {
        point: "wheel.centre".into(),
        index: None,
        hole: None,
        role: JigRole::WheelCentre,
        at: centre.at,
        uncertainty: centre.uncertainty,
    });
    places
}

/// What a point of a scheme is: on the body where a joint or an element holds it there.
fn role(scheme: &Scheme, point: usize) -> JigRole {
    let mut role = JigRole::Reference;
    for joint in &scheme.joints {
        for (frame, of) in ends(&joint.kind) {
            match frame {
                Frame::Ground if of == point => return JigRole::Pickup,
                Frame::Carriage(_) if of == point => role = JigRole::Rack,
                _ => {}
            }
        }
    }
    let mounts = scheme.elements.iter().flat_map(|e| [e.inner, e.outer]);
    if role == JigRole::Reference && mounts.into_iter().any(|p| p.point == point && p.frame == Frame::Ground)
    {
        role = JigRole::Mount;
    }
    role
}

/// The points of a joint with what carries them. A point in a plane or on a line of the body is placed by that plane or
/// line, which is on the body.
fn ends(kind: &JointKind) -> Vec<(Frame, usize)> {
    match *kind {
        JointKind::Rod { a, b } => vec![(a.frame, a.point), (b.frame, b.point)],
        JointKind::Ball { a, b, point } => vec![(a, point), (b, point)],
        JointKind::Hinge { a, b, from, to } => vec![(a, from), (a, to), (b, from), (b, to)],
        JointKind::OnLine { line, from, along, point } => {
            let mut ends = vec![(line, from), (line, point.point), (point.frame, point.point)];
            if let Direction::Toward(to) = along {
                ends.push((line, to));
            }
            ends
        }
        JointKind::InPlane { plane, point, .. } => vec![(plane, point.point), (point.frame, point.point)],
        JointKind::Level { .. } => Vec::new(),
    }
}
