//! Which lines stand for a corner: links, struts, hinges, springs, and the bodies between their joints.

use linkage::{End, Frame};
use nalgebra::Vector3;
use suspension::scheme::{Direction, ElementRole, JointKind, Scheme, UPRIGHT};

use super::carried::Carried;

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// A link, or a leg of an arm.
    Link,
    /// The axis of a strut.
    Strut,
    /// The axis of a hinge on the body.
    Hinge,
    /// A spring.
    Spring,
    /// A damper.
    Damper,
    /// The link of an anti-roll bar.
    BarLink,
    /// Stiff material of the upright, an arm or a rocker: where it runs is not in the file.
    Member,
}

impl LineKind {
    /// Its class.
    pub fn class(self) -> &'static str {
        match self {
            Self::Link => "link",
            Self::Strut => "strut",
            Self::Hinge => "hinge",
            Self::Spring => "spring",
            Self::Damper => "damper",
            Self::BarLink => "bar-link",
            Self::Member => "member",
        }
    }
}

/// A line between two vertices of a side.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Name as the scheme has it, such as `link.lower-fore` or `lower-arm fore leg`.
    pub name: String,
    /// Name for people; empty where another line already carries it.
    pub label: String,
    /// What it is.
    pub kind: LineKind,
    /// Index of its first vertex: the end nearer the body.
    pub from: usize,
    /// Index of its second vertex.
    pub to: usize,
}

/// Vertices and the lines between them. The first vertices are the scheme's points.
pub(crate) struct Topology {
    pub vertices: Vec<End<f64>>,
    pub lines: Vec<Line>,
}

impl Topology {
    pub fn new(scheme: &Scheme, carried: &Carried, points: &[Vector3<f64>], centre: &End<f64>) -> Self {
        let vertices =
            points.iter().enumerate().map(|(i, at)| End { frame: carried.frame(i), at: *at }).collect();
        let mut all = Self { vertices, lines: Vec::with_capacity(2 * points.len()) };
        for leg in &scheme.legs {
            let label = leg.name.strip_suffix(" fore leg").unwrap_or(&leg.name);
            let label = if label.ends_with(" aft leg") { "" } else { label };
            all.line(&leg.name, label, LineKind::Link, leg.inner.point, leg.outer.point);
        }
        for joint in &scheme.joints {
            match joint.kind {
                JointKind::Rod { a, b } if !scheme.legs.iter().any(|l| l.name == joint.name) => {
                    all.line(&joint.name, &joint.name, LineKind::Link, a.point, b.point);
                }
                JointKind::Hinge { from, to, .. } => all.line(&joint.name, "", LineKind::Hinge, from, to),
                JointKind::OnLine { from, along: Direction::Toward(to), .. } => {
                    all.line(&joint.name, &joint.name, LineKind::Strut, to, from);
                }
                _ => {}
            }
        }
        for element in &scheme.elements {
            let kind = match element.role {
                ElementRole::Spring => LineKind::Spring,
                ElementRole::Damper => LineKind::Damper,
                ElementRole::BarLink => LineKind::BarLink,
            };
            all.line(&element.name, &element.name, kind, element.inner.point, element.outer.point);
        }
        all.members(scheme, carried, points, centre);
        all
    }

    fn line(&mut self, name: &str, label: &str, kind: LineKind, from: usize, to: usize) {
        let label = label.strip_prefix("link.").or_else(|| label.strip_prefix("joint.")).unwrap_or(label);
        self.lines.push(Line { name: name.into(), label: label.into(), kind, from, to });
    }

    /// The bodies: the upright from the wheel centre to its points, another one from its nearest leg, or its
    /// middle, to what is mounted on it.
    fn members(&mut self, scheme: &Scheme, carried: &Carried, points: &[Vector3<f64>], centre: &End<f64>) {
        let hub = self.vertices.len();
        self.vertices.push(*centre);
        for (body, name) in scheme.bodies.iter().enumerate() {
            let frame = Frame::Body(body);
            let own: Vec<usize> = carried.points_of(frame).filter(|p| *p < points.len()).collect();
            if body == UPRIGHT {
                for point in own {
                    let to = self.on(frame, point, points);
                    self.line(name, "", LineKind::Member, hub, to);
                }
                continue;
            }
            let legs: Vec<(usize, usize)> = scheme
                .legs
                .iter()
                .filter(|l| {
                    l.name.strip_prefix(name.as_str()).is_some_and(|r| r.is_empty() || r.starts_with(' '))
                })
                .map(|l| (l.inner.point, l.outer.point))
                .collect();
            if legs.is_empty() {
                let sum: Vector3<f64> = own.iter().filter_map(|p| points.get(*p)).sum();
                self.vertices.push(End { frame, at: sum / own.len().max(1) as f64 });
                let middle = self.vertices.len() - 1;
                for point in own {
                    let to = self.on(frame, point, points);
                    self.line(name, "", LineKind::Member, middle, to);
                }
                continue;
            }
            for point in own.into_iter().filter(|p| !legs.iter().any(|(a, b)| a == p || b == p)) {
                let Some(at) = points.get(point) else { continue };
                let feet = legs.iter().filter_map(|(a, b)| foot(points.get(*a)?, points.get(*b)?, at));
                let nearest = feet.min_by(|p, q| (p - at).norm().total_cmp(&(q - at).norm()));
                let Some(nearest) = nearest.filter(|p| (p - at).norm() > 1e-3) else { continue };
                self.vertices.push(End { frame, at: nearest });
                let from = self.vertices.len() - 1;
                self.line(name, "", LineKind::Member, from, point);
            }
        }
    }

    /// A vertex at a point as a given frame carries it: the point's own if that is its frame.
    fn on(&mut self, frame: Frame, point: usize, points: &[Vector3<f64>]) -> usize {
        match (self.vertices.get(point), points.get(point)) {
            (Some(vertex), Some(at)) if vertex.frame != frame => {
                self.vertices.push(End { frame, at: *at });
                self.vertices.len() - 1
            }
            _ => point,
        }
    }
}

/// The place on a line nearest to a point.
fn foot(a: &Vector3<f64>, b: &Vector3<f64>, at: &Vector3<f64>) -> Option<Vector3<f64>> {
    let along = b - a;
    let share = (at - a).dot(&along) / along.norm_squared();
    share.is_finite().then(|| a + along * share.clamp(0.0, 1.0))
}
