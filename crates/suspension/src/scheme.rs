//! The drawing of one corner before any number: which bodies there are, which named points they share and
//! how the points are joined. Every kind of suspension is a [`Scheme`]; nothing above this module asks which
//! kind it is looking at.

use linkage::Frame;

/// Index of the upright among a scheme's bodies. The wheel is carried by this body in every scheme.
pub const UPRIGHT: usize = 0;

/// Index of the rack among a linkage's carriages: a point on it moves along the rack's axis.
pub const RACK: usize = 0;

/// Topology of one corner (the left one): bodies, named points, joints and what hangs from them.
///
/// Points are indices into [`Scheme::points`]; their coordinates are kept apart, so that a candidate hole, a
/// survey error or a dual number can stand in for any of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scheme {
    /// Names of the moving bodies; the first one is the upright.
    pub bodies: Vec<String>,
    /// Names of the points as the car file has them, such as `link.lower-fore.body`.
    pub points: Vec<String>,
    /// How the bodies are joined.
    pub joints: Vec<JointScheme>,
    /// Springs, dampers and bar links: things whose length matters but which do not guide the wheel.
    pub elements: Vec<Element>,
    /// Links and legs of arms as lengths between two points, whether they are rods or carried by a body: what a
    /// person cuts and sets.
    pub legs: Vec<Leg>,
    /// The two outer balls (lower, upper) where the kind has both; they define the steering axis.
    pub steering_axis: Option<(usize, usize)>,
    /// Direction of positive rack travel in the body frame (unit vector), where there is a rack.
    pub rack_axis: Option<[f64; 3]>,
}

/// A point together with the thing that carries it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointOn {
    /// What the point moves with.
    pub frame: Frame,
    /// Index into [`Scheme::points`].
    pub point: usize,
}

/// A length between two points that a person cuts and sets.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Name, the same as that of the rod it is where no body stands for it.
    pub name: String,
    /// End at the body.
    pub inner: PointOn,
    /// End at the upright.
    pub outer: PointOn,
}

/// A named joint of a scheme.
#[derive(Clone, Debug, PartialEq)]
pub struct JointScheme {
    /// Name shown to people, such as `link.lower-fore` or `lower-arm hinge`.
    pub name: String,
    /// What it holds.
    pub kind: JointKind,
}

/// What a joint holds. Lengths and directions come from the points at ride height.
#[derive(Clone, Debug, PartialEq)]
pub enum JointKind {
    /// A rod with a ball at both ends: keeps a distance.
    Rod {
        /// First end.
        a: PointOn,
        /// Second end.
        b: PointOn,
    },
    /// A ball joint: a point of `a` stays at a point of `b`.
    Ball {
        /// First body.
        a: Frame,
        /// Second body.
        b: Frame,
        /// The shared point at ride height.
        point: usize,
    },
    /// A hinge through two points of its axis.
    Hinge {
        /// First body.
        a: Frame,
        /// Second body.
        b: Frame,
        /// One point of the axis.
        from: usize,
        /// Another point of the axis.
        to: usize,
    },
    /// A point stays on a line carried by another body.
    OnLine {
        /// What carries the line.
        line: Frame,
        /// Where the line starts.
        from: usize,
        /// Its direction.
        along: Direction,
        /// The point held on it.
        point: PointOn,
    },
    /// A point stays in a plane carried by another body.
    InPlane {
        /// What carries the plane.
        plane: Frame,
        /// Unit normal of the plane at ride height, in the body's axes.
        normal: [f64; 3],
        /// The point held in it.
        point: PointOn,
    },
    /// Keeps a two-ended link body from spinning about its own length: the axis of its bush, square to the
    /// link and level at ride height, stays level. Moves nothing else.
    Level {
        /// The link body.
        body: Frame,
        /// One end of the link.
        from: usize,
        /// The other end.
        to: usize,
    },
}

/// A direction of a scheme: fixed, or through a second point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Direction {
    /// Unit vector at ride height, in the body's axes.
    Fixed([f64; 3]),
    /// Toward another point.
    Toward(usize),
}

/// What an element is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ElementRole {
    /// A spring.
    Spring,
    /// A damper.
    Damper,
    /// The link of an anti-roll bar, with the bar's arm held at its ride-height position.
    BarLink,
}

/// Something between two points whose length follows the wheel: a spring, a damper, a bar link.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// What it is.
    pub role: ElementRole,
    /// Name shown to people.
    pub name: String,
    /// The end nearer the body.
    pub inner: PointOn,
    /// The end nearer the wheel.
    pub outer: PointOn,
    /// Spring rate along its own length [N/m], where known.
    pub rate: Option<f64>,
    /// Compressive force at ride height [N], where known.
    pub force: Option<f64>,
}

impl Scheme {
    /// Index of the point with this name.
    pub fn point(&self, name: &str) -> Option<usize> {
        self.points.iter().position(|p| p == name)
    }

    /// Index of the joint with this name.
    pub fn joint(&self, name: &str) -> Option<usize> {
        self.joints.iter().position(|j| j.name == name)
    }

    /// The legs and rods that end at a point, as (name, the point at the other end).
    pub fn legs_at(&self, point: usize) -> impl Iterator<Item = (&str, usize)> {
        self.lengths().filter_map(move |(name, a, b)| {
            if a == point { Some((name, b)) } else { (b == point).then_some((name, a)) }
        })
    }

    /// Everything that has a length between two points: every leg of an arm and every rod, by name with its two points.
    pub fn lengths(&self) -> impl Iterator<Item = (&str, usize, usize)> {
        let legs = self.legs.iter().map(|l| (l.name.as_str(), l.inner.point, l.outer.point));
        let rods = self.joints.iter().filter_map(|j| match j.kind {
            JointKind::Rod { a, b } if !self.legs.iter().any(|l| l.name == j.name) => {
                Some((j.name.as_str(), a.point, b.point))
            }
            _ => None,
        });
        legs.chain(rods)
    }

    /// The part that a joint belongs to, as the file names it: `link.spring` for its `link.spring inner ball`, the
    /// joint's own name for a rod or for what is not carried by an arm or a link.
    pub fn part_of<'a>(&'a self, joint: &'a str) -> &'a str {
        let carried = self.bodies.iter().skip(1).find(|b| {
            joint.strip_prefix(b.as_str()).is_some_and(|rest| rest.starts_with(' '))
                && !self.legs.iter().any(|l| l.name == joint)
        });
        carried.map_or(joint, String::as_str)
    }

    /// The same mechanism with every leg as a rod and nothing mounted: bodies that only stood for an arm or a
    /// link are gone, so each leg has a length that can be set by itself. Bodies that are more than that stay.
    pub fn legs_as_rods(&self) -> Self {
        let mut scheme = self.clone();
        let stands_for_a_leg = |body: &str| {
            self.legs
                .iter()
                .any(|l| l.name == body || l.name.strip_prefix(body).is_some_and(|r| r.starts_with(' ')))
        };
        if self.bodies.iter().skip(1).any(|b| !stands_for_a_leg(b)) {
            return scheme;
        }
        let carried: Vec<String> = scheme.bodies.drain(1..).collect();
        scheme.elements.clear();
        scheme.joints.retain(|j| {
            !carried.iter().any(|body| j.name.strip_prefix(body.as_str()).is_some_and(|r| r.starts_with(' ')))
        });
        for leg in &self.legs {
            if scheme.joint(&leg.name).is_none() {
                scheme.add_joint(leg.name.clone(), JointKind::Rod { a: leg.inner, b: leg.outer });
            }
        }
        scheme
    }

    /// Whether a joint uses the point: if not, it has no say in where the wheel goes.
    pub fn guides(&self, point: usize) -> bool {
        self.joints.iter().any(|j| match j.kind {
            JointKind::Rod { a, b } => a.point == point || b.point == point,
            JointKind::Ball { point: p, .. } => p == point,
            JointKind::Hinge { from, to, .. } | JointKind::Level { from, to, .. } => {
                from == point || to == point
            }
            JointKind::OnLine { from, along, point: p, .. } => {
                from == point || p.point == point || along == Direction::Toward(point)
            }
            JointKind::InPlane { point: p, .. } => p.point == point,
        })
    }

    /// Adds a rod that is a leg.
    pub fn add_leg(&mut self, name: &str, inner: PointOn, outer: PointOn) {
        self.add_joint(name, JointKind::Rod { a: inner, b: outer });
        self.legs.push(Leg { name: name.into(), inner, outer });
    }

    /// Adds a point and returns its index.
    pub fn add_point(&mut self, name: impl Into<String>) -> usize {
        self.points.push(name.into());
        self.points.len() - 1
    }

    /// Adds a joint.
    pub fn add_joint(&mut self, name: impl Into<String>, kind: JointKind) {
        self.joints.push(JointScheme { name: name.into(), kind });
    }
}
