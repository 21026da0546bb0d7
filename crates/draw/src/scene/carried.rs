//! What each point of a scheme moves with.

use linkage::Frame;
use suspension::scheme::{Direction, JointKind, PointOn, Scheme, UPRIGHT};

/// What a point moves with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// The body of the car: it stays.
    Body,
    /// The rack.
    Rack,
    /// The upright.
    Upright,
    /// Another moving part: an arm, a link, a rocker.
    Part,
}

impl Role {
    /// Its name in `data-role` and in classes.
    pub fn name(self) -> &'static str {
        match self {
            Self::Body => "body",
            Self::Rack => "rack",
            Self::Upright => "upright",
            Self::Part => "part",
        }
    }
}

/// Every point of a scheme with everything that carries it.
pub(crate) struct Carried {
    /// (frame, point), each pair once.
    pub pairs: Vec<(Frame, usize)>,
}

impl Carried {
    pub fn new(scheme: &Scheme) -> Self {
        let mut all = Self { pairs: Vec::with_capacity(2 * scheme.points.len()) };
        for joint in &scheme.joints {
            match joint.kind {
                JointKind::Rod { a, b } => all.both(a, b),
                JointKind::Ball { a, b, point } => {
                    all.add(a, point);
                    all.add(b, point);
                }
                JointKind::Hinge { a, b, from, to } => {
                    for point in [from, to] {
                        all.add(a, point);
                        all.add(b, point);
                    }
                }
                JointKind::OnLine { line, from, along, point } => {
                    all.add(line, from);
                    if let Direction::Toward(to) = along
                        && to != point.point
                    {
                        all.add(line, to);
                    }
                    all.add(point.frame, point.point);
                }
                JointKind::InPlane { point, .. } => all.add(point.frame, point.point),
                JointKind::Level { .. } => {}
            }
        }
        for leg in &scheme.legs {
            all.both(leg.inner, leg.outer);
        }
        for element in &scheme.elements {
            all.both(element.inner, element.outer);
        }
        all
    }

    fn both(&mut self, a: PointOn, b: PointOn) {
        self.add(a.frame, a.point);
        self.add(b.frame, b.point);
    }

    fn add(&mut self, frame: Frame, point: usize) {
        if !self.pairs.contains(&(frame, point)) {
            self.pairs.push((frame, point));
        }
    }

    /// The frame that says where a point is: the one nearest the body among those that carry it.
    pub fn frame(&self, point: usize) -> Frame {
        let rank = |frame: &Frame| match *frame {
            Frame::Ground => 0,
            Frame::Carriage(_) => 1,
            Frame::Body(UPRIGHT) => 2,
            Frame::Body(_) => 3,
        };
        let frames = self.pairs.iter().filter(|(_, p)| *p == point).map(|(f, _)| *f);
        frames.min_by_key(rank).unwrap_or(Frame::Ground)
    }

    /// The points that a frame carries.
    pub fn points_of(&self, frame: Frame) -> impl Iterator<Item = usize> {
        self.pairs.iter().filter(move |(f, _)| *f == frame).map(|(_, p)| *p)
    }
}

/// The role that a frame gives.
pub(crate) fn role(frame: Frame) -> Role {
    match frame {
        Frame::Ground => Role::Body,
        Frame::Carriage(_) => Role::Rack,
        Frame::Body(UPRIGHT) => Role::Upright,
        Frame::Body(_) => Role::Part,
    }
}
