//! One corner: a [`Scheme`] with coordinates, as a linkage that travel and rack drive.

use linkage::scalar::{Real, constant, constant_vector, norm, perpendiculars};
use linkage::{BuildError, End, Frame, Linkage, Row};
use nalgebra::Vector3;

use crate::scheme::{Direction, ElementRole, JointKind, PointOn, Scheme, UPRIGHT};
use crate::wheel::Wheel;

/// Input that lifts the wheel centre relative to the body [m].
pub const TRAVEL: usize = 0;

/// Input that moves the rack along its axis [m]; without effect where there is no rack.
pub const RACK_TRAVEL: usize = 1;

/// Name of the drive that holds the wheel at its travel.
pub const TRAVEL_DRIVE: &str = "wheel travel";

/// The left corner of an axle.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner<T> {
    linkage: Linkage<T>,
    centre: End<T>,
    spin: Vector3<T>,
    loaded_radius: T,
    elements: Vec<Span<T>>,
    steering_axis: Option<(End<T>, End<T>)>,
    has_rack: bool,
}

/// The two ends of a spring, damper or bar link.
#[derive(Clone, Debug, PartialEq)]
pub struct Span<T> {
    /// What it is.
    pub role: ElementRole,
    /// Name shown to people.
    pub name: String,
    /// End nearer the body.
    pub inner: End<T>,
    /// End nearer the wheel.
    pub outer: End<T>,
    /// Rate along its length [N/m], where known.
    pub rate: Option<f64>,
    /// Compression at ride height [N], where known.
    pub force: Option<f64>,
}

impl<T: Real> Corner<T> {
    /// Builds the corner. `points` are those of the scheme, in its order, at ride height [m].
    ///
    /// # Errors
    /// If a joint cannot be made of its points (they coincide, are not finite), or the scheme names a point,
    /// body or rack that is not there; named `wheel` if its angles or its radius are not usable.
    pub fn new(scheme: &Scheme, points: &[Vector3<T>], wheel: &Wheel<T>) -> Result<Self, BuildError> {
        if !wheel.is_usable() {
            return Err(BuildError::NotFinite { joint: "wheel".into() });
        }
        let mut linkage = Linkage::new();
        let re = |v: &Vector3<T>| v.map(|c| c.re());
        for (i, name) in scheme.bodies.iter().enumerate() {
            let origin = if i == UPRIGHT { re(&wheel.centre) } else { middle_of_body(scheme, points, i) };
            linkage.add_body(name.clone(), origin);
        }
        let travel = linkage.add_input();
        let rack = linkage.add_input();
        if let Some(axis) = scheme.rack_axis {
            linkage.add_carriage(constant_vector(&Vector3::from(axis)), rack);
        }
        let at = |joint: &str, i: usize| {
            let point =
                points.get(i).copied().ok_or_else(|| BuildError::UnknownFrame { joint: joint.into() })?;
            if linkage::usable(&re(&point)) {
                Ok(point)
            } else {
                Err(BuildError::NotFinite { joint: joint.into() })
            }
        };
        let end = |joint: &str, p: PointOn| Ok(End { frame: p.frame, at: at(joint, p.point)? });
        for joint in &scheme.joints {
            let name = joint.name.as_str();
            match joint.kind {
                JointKind::Rod { a, b } => linkage.rod(name, end(name, a)?, end(name, b)?)?,
                JointKind::Ball { a, b, point } => linkage.ball(name, a, b, at(name, point)?)?,
                JointKind::Hinge { a, b, from, to } => {
                    linkage.hinge(name, a, b, at(name, from)?, at(name, to)?)?;
                }
                JointKind::OnLine { line, from, along, point } => {
                    let along = match along {
                        Direction::Fixed(d) => constant_vector(&Vector3::from(d)),
                        Direction::Toward(to) => at(name, to)? - at(name, from)?,
                    };
                    linkage.point_on_line(name, line, along, end(name, point)?)?;
                }
                JointKind::InPlane { plane, normal, point } => {
                    let normal = constant_vector(&Vector3::from(normal));
                    linkage.point_in_plane(name, plane, normal, end(name, point)?)?;
                }
                JointKind::Level { body, from, to } => {
                    let along = at(name, to)? - at(name, from)?;
                    if norm(&along).re() < linkage::LEAST_LENGTH {
                        return Err(BuildError::Coincident { joint: name.into() });
                    }
                    let (level, across) = level_directions(&along);
                    linkage.keep_angle(name, Frame::Ground, across, body, level)?;
                }
            }
        }
        let centre = End { frame: Frame::Body(UPRIGHT), at: wheel.centre };
        let (o, i) = (constant(0.0), constant(1.0));
        linkage.drive_point(TRAVEL_DRIVE, centre, Vector3::new(o, o, i), travel)?;

        let mut elements = Vec::with_capacity(scheme.elements.len());
        for e in &scheme.elements {
            let (inner, outer) = (end(&e.name, e.inner)?, end(&e.name, e.outer)?);
            if norm(&(inner.at - outer.at)).re() < linkage::LEAST_LENGTH {
                return Err(BuildError::Coincident { joint: e.name.clone() });
            }
            for p in [&inner, &outer] {
                if !linkage.has(p.frame) {
                    return Err(BuildError::UnknownFrame { joint: e.name.clone() });
                }
            }
            elements.push(Span {
                role: e.role,
                name: e.name.clone(),
                inner,
                outer,
                rate: e.rate,
                force: e.force,
            });
        }
        // The outer balls are on the upright, but for a strut's top, which the body holds.
        let upright = |point| {
            let held = scheme.joints.iter().find_map(|j| match j.kind {
                JointKind::OnLine { point: on, .. } if on.point == point => Some(on.frame),
                _ => None,
            });
            PointOn { frame: held.unwrap_or(Frame::Body(UPRIGHT)), point }
        };
        let steering_axis = match scheme.steering_axis {
            Some((low, high)) => {
                let (low, high) = (end("steering axis", upright(low))?, end("steering axis", upright(high))?);
                if norm(&(high.at - low.at)).re() < linkage::LEAST_LENGTH {
                    return Err(BuildError::Coincident { joint: "steering axis".into() });
                }
                Some((low, high))
            }
            None => None,
        };
        Ok(Self {
            linkage,
            centre,
            spin: wheel.spin_axis(),
            loaded_radius: wheel.loaded_radius,
            elements,
            steering_axis,
            has_rack: scheme.rack_axis.is_some(),
        })
    }

    /// The linkage.
    pub fn linkage(&self) -> &Linkage<T> {
        &self.linkage
    }

    /// The linkage, to change the length of a rod.
    pub fn linkage_mut(&mut self) -> &mut Linkage<T> {
        &mut self.linkage
    }

    /// The wheel centre on the upright.
    pub fn centre(&self) -> &End<T> {
        &self.centre
    }

    /// Spin axis at ride height (unit vector).
    pub fn spin(&self) -> &Vector3<T> {
        &self.spin
    }

    /// Loaded radius [m].
    pub fn loaded_radius(&self) -> T {
        self.loaded_radius
    }

    /// Springs, dampers and bar links.
    pub fn elements(&self) -> &[Span<T>] {
        &self.elements
    }

    /// The outer balls (lower, upper) where the kind has both.
    pub fn steering_axis(&self) -> Option<&(End<T>, End<T>)> {
        self.steering_axis.as_ref()
    }

    /// Whether a rack moves a point of this corner.
    pub fn has_rack(&self) -> bool {
        self.has_rack
    }
}

impl<T: Real> Span<T> {
    /// The element as an equation that keeps its length; holds the corner in place of the travel drive.
    pub fn as_row(&self) -> Row<T> {
        Row::Distance { a: self.inner, b: self.outer, length: norm(&(self.inner.at - self.outer.at)) }
    }
}

/// For a link along `along`: the axis of its bush, square to the link and as level as can be, and the
/// direction square to both.
fn level_directions<T: Real>(along: &Vector3<T>) -> (Vector3<T>, Vector3<T>) {
    let (o, i) = (constant::<T>(0.0), constant::<T>(1.0));
    let level = along.cross(&Vector3::new(o, o, i));
    let level = if norm(&level).re() < 1e-3 * norm(along).re() { perpendiculars(along).0 } else { level };
    (level, along.cross(&level))
}

/// The mean of the points that a body carries [m]: its reference point.
fn middle_of_body<T: Real>(scheme: &Scheme, points: &[Vector3<T>], body: usize) -> Vector3<f64> {
    let frame = Frame::Body(body);
    let mut own = Vec::new();
    for joint in &scheme.joints {
        match joint.kind {
            JointKind::Rod { a, b } => {
                own.extend([a, b].iter().filter(|p| p.frame == frame).map(|p| p.point));
            }
            JointKind::Ball { a, b, point } if a == frame || b == frame => own.push(point),
            JointKind::Hinge { a, b, from, to } if a == frame || b == frame => own.extend([from, to]),
            JointKind::OnLine { line, from, .. } if line == frame => own.push(from),
            JointKind::OnLine { point, .. } | JointKind::InPlane { point, .. } if point.frame == frame => {
                own.push(point.point);
            }
            _ => {}
        }
    }
    let sum: Vector3<f64> = own.iter().filter_map(|i| points.get(*i)).map(|p| p.map(|c| c.re())).sum();
    sum / own.len().max(1) as f64
}
