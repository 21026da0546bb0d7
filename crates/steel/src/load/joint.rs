//! What each joint puts on its two sides.

use linkage::{End, Frame, Linkage, Position, Reactions, Row};
use nalgebra::Vector3;
use suspension::scheme::{JointKind, JointScheme};

use super::{At, Leg};

/// Walks the joints of a scheme beside the reactions of its linkage.
pub(super) struct Joints<'a> {
    pub linkage: &'a Linkage<f64>,
    /// Points that the corner was built from [m].
    pub points: &'a [Vector3<f64>],
    pub q: &'a Position<f64>,
    pub reactions: &'a Reactions,
    /// Forces by what they act on.
    pub out: Vec<(Frame, At)>,
    pub legs: Vec<Leg>,
}

/// Sum of what a joint's equations do to its second side; the first gets the opposite.
struct Held {
    force: Vector3<f64>,
    /// About the place of the joint.
    moment: Vector3<f64>,
}

impl Joints<'_> {
    pub fn take(&mut self, index: usize, joint: &JointScheme) {
        let frames = self.linkage.frames();
        match joint.kind {
            JointKind::Rod { a, b } => {
                let Some((end_a, end_b)) = self.rod(index) else { return };
                let Some(tension) = self.reactions.tension(self.linkage, index) else { return };
                let (p, r) = (frames.point(self.q, &end_a), frames.point(self.q, &end_b));
                let pull = (r - p) / (r - p).norm() * tension;
                self.put(a.frame, a.point, p, pull, Vector3::zeros());
                self.put(b.frame, b.point, r, -pull, Vector3::zeros());
                self.legs.push(Leg {
                    name: joint.name.clone(),
                    points: [a.point, b.point],
                    ends: [p, r],
                    tension,
                });
            }
            JointKind::Ball { a, b, point } => {
                let Some((held, place)) = self.held(index) else { return };
                self.put(a, point, place, -held.force, Vector3::zeros());
                self.put(b, point, place, held.force, Vector3::zeros());
            }
            JointKind::Hinge { a, b, from, to } => {
                let Some((held, place)) = self.held(index) else { return };
                self.hinge(index, [a, b], [from, to], &held, &place);
            }
            JointKind::OnLine { line, point, .. } => {
                let Some((held, place)) = self.held(index) else { return };
                self.put(line, point.point, place, -held.force, Vector3::zeros());
                self.put(point.frame, point.point, place, held.force, Vector3::zeros());
            }
            JointKind::InPlane { plane, point, .. } => {
                let Some((held, place)) = self.held(index) else { return };
                self.put(plane, point.point, place, -held.force, Vector3::zeros());
                self.put(point.frame, point.point, place, held.force, Vector3::zeros());
            }
            // It keeps a link from spinning about its own length, which a mount beside that length would do: the bush at
            // the body takes it.
            JointKind::Level { body, from, .. } => {
                let Some(range) = self.linkage.joints().get(index).map(|j| j.rows.clone()) else { return };
                let mut moment = Vector3::zeros();
                for row in range {
                    let value = self.reactions.values.get(row).copied().unwrap_or(0.0);
                    if let Some(Row::Angle { a, along_a, b, along_b, .. }) = self.linkage.rows().get(row) {
                        let (e, f) =
                            (frames.direction(self.q, *a, along_a), frames.direction(self.q, *b, along_b));
                        moment -= e.cross(&f) * value;
                    }
                }
                let place = self.point_on(body, from);
                self.put(body, from, place, Vector3::zeros(), moment);
                self.put(Frame::Ground, from, place, Vector3::zeros(), -moment);
            }
        }
    }

    fn put(
        &mut self,
        frame: Frame,
        point: usize,
        place: Vector3<f64>,
        force: Vector3<f64>,
        moment: Vector3<f64>,
    ) {
        self.out.push((frame, At { point, place, force, moment }));
    }

    /// The two ends of a rod.
    fn rod(&self, index: usize) -> Option<(End<f64>, End<f64>)> {
        let row = self.linkage.joints().get(index)?.rows.start;
        match self.linkage.rows().get(row)? {
            Row::Distance { a, b, .. } => Some((*a, *b)),
            _ => None,
        }
    }

    /// Where a joint of the scheme that names `from` of this body stands: the place that its own balls had.
    fn point_on(&self, body: Frame, point: usize) -> Vector3<f64> {
        let found = self.out.iter().find(|(frame, at)| *frame == body && at.point == point);
        found.map_or_else(Vector3::zeros, |(_, at)| at.place)
    }

    /// What the equations of a joint do to their second side, and where.
    fn held(&self, index: usize) -> Option<(Held, Vector3<f64>)> {
        let frames = self.linkage.frames();
        let mut held = Held { force: Vector3::zeros(), moment: Vector3::zeros() };
        let mut place = None;
        for row in self.linkage.joints().get(index)?.rows.clone() {
            let value = self.reactions.values.get(row).copied()?;
            match self.linkage.rows().get(row)? {
                // A unit of the reaction pushes `to` along the normal and `from`'s frame the other way, at the same place.
                Row::Offset { frame, normal, to, .. } => {
                    held.force += frames.direction(self.q, *frame, normal) * value;
                    place = Some(frames.point(self.q, to));
                }
                Row::Angle { a, along_a, b, along_b, .. } => {
                    let (e, f) =
                        (frames.direction(self.q, *a, along_a), frames.direction(self.q, *b, along_b));
                    held.moment -= e.cross(&f) * value;
                }
                Row::Distance { .. } | Row::Turn { .. } => return None,
            }
        }
        Some((held, place?))
    }

    /// A hinge stands on two pivots: its force and its moments across the axis become a force at each. What goes along the
    /// axis is shared evenly, which no statics can say.
    fn hinge(
        &mut self,
        index: usize,
        [a, b]: [Frame; 2],
        [from, to]: [usize; 2],
        held: &Held,
        place: &Vector3<f64>,
    ) {
        let (Some(along), Some(p), Some(r)) = (self.axis(index), self.points.get(from), self.points.get(to))
        else {
            return;
        };
        let axis = along * (r - p).norm();
        let half = axis / 2.0;
        // M = axis x c across the axis, with F/2 - c at the first pivot and F/2 + c at the second.
        let couple = held.moment.cross(&axis) / axis.norm_squared();
        for (point, sign) in [(from, -1.0), (to, 1.0)] {
            let force = held.force / 2.0 + couple * sign;
            let at = place + half * sign;
            self.put(b, point, at, force, Vector3::zeros());
            self.put(a, point, at, -force, Vector3::zeros());
        }
    }

    /// From the first pivot of a hinge to the second, as it stands.
    fn axis(&self, index: usize) -> Option<Vector3<f64>> {
        let frames = self.linkage.frames();
        let range = self.linkage.joints().get(index)?.rows.clone();
        range.into_iter().find_map(|row| match self.linkage.rows().get(row)? {
            Row::Angle { b, along_b, .. } => Some(frames.direction(self.q, *b, along_b)),
            _ => None,
        })
    }
}
