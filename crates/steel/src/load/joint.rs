//! What each joint puts on its two sides.

use linkage::{End, Frame, Linkage, Position, Reactions, Row};
use nalgebra::Vector3;
use suspension::scheme::{JointKind, JointScheme, Scheme};

use super::{At, Leg};

/// Walks the joints of a scheme beside the reactions of its linkage.
pub(super) struct Joints<'a> {
    pub scheme: &'a Scheme,
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
                let Some(place) = self.place(body, from) else { return };
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

    /// Where a point stands that a frame carries.
    fn place(&self, frame: Frame, point: usize) -> Option<Vector3<f64>> {
        let end = End { frame, at: *self.points.get(point)? };
        Some(self.linkage.frames().point(self.q, &end))
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

    /// A hinge stands on two pivots: its force and its moments across the axis become a force at each. How they share what
    /// goes along the axis no statics can say. Two legs to a ball share it as slender legs do ([`axial_shift`]), so that an
    /// arm with a spring at its ball has the forces of two rods; anything else shares it evenly.
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
        // M = axis x c across the axis, with F/2 - c at the first pivot and F/2 + c at the second.
        let couple = held.moment.cross(&axis) / axis.norm_squared();
        let pivots = [place - axis / 2.0, place + axis / 2.0];
        let even = [held.force / 2.0 - couple, held.force / 2.0 + couple];
        let shift = along * self.ball_of(b).map_or(0.0, |ball| axial_shift(&along, &ball, &pivots, &even));
        let [first, second] = even;
        let shared = [first + shift, second - shift];
        for ((point, at), force) in [from, to].into_iter().zip(pivots).zip(shared) {
            self.put(b, point, at, force, Vector3::zeros());
            self.put(a, point, at, -force, Vector3::zeros());
        }
    }

    /// Where the ball of an arm stands.
    fn ball_of(&self, arm: Frame) -> Option<Vector3<f64>> {
        let Frame::Body(body) = arm else { return None };
        let name = self.scheme.bodies.get(body)?;
        self.place(arm, self.scheme.point(&format!("{name}.ball"))?)
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

/// Force along the axis (unit vector) by which the first pivot of an arm takes more, and the second less, than the even
/// share [N].
///
/// Legs stretch far less than they bend, so the share is that of least bending: with `m_i` the moment of a pivot's force
/// about the ball in the plane of the arm, `sum m_i^2 L_i` is the energy of two legs of one section (`t^2 L^3 / 6EI`, `m = t
/// L`), and a shift `x` changes `m_1` by `g x` and `m_2` by `-g x`. Where nothing but the ball loads the arm in its
/// plane both moments vanish: two straight rods.
fn axial_shift(
    axis: &Vector3<f64>,
    ball: &Vector3<f64>,
    pivots: &[Vector3<f64>; 2],
    forces: &[Vector3<f64>; 2],
) -> f64 {
    let [one, two] = pivots.map(|pivot| pivot - ball);
    let across = one.cross(axis);
    let reach = across.norm();
    if reach < linkage::LEAST_LENGTH {
        return 0.0;
    }
    // Square to the arm's plane; `g` is then the distance of the ball from the axis.
    let normal = across / reach;
    let [first, second] = forces;
    let (m_1, m_2) = (normal.dot(&one.cross(first)), normal.dot(&two.cross(second)));
    let (l_1, l_2) = (one.norm(), two.norm());
    (l_2 * m_2 - l_1 * m_1) / (reach * (l_1 + l_2))
}
