//! Corners of the reference data with a spring and a bar link of our own, and random forces on the wheel.

use std::path::PathBuf;

use linkage::{Frame, Position};
use nalgebra::Vector3;
use serde_json::Value;
use steel::load::{Acting, Forces, Push, forces};
use suspension::scheme::{Element, ElementRole, JointKind, PointOn, Scheme, UPRIGHT};
use suspension::{Corner, Measures, Mover, Ratio, TorqueReaction, Wheel, kinds};

pub type Vector = Vector3<f64>;

pub fn load(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../reference/data").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_json::from_str(&text).unwrap()
}

pub fn cases(kind: &str, count: usize) -> Vec<Value> {
    let data = load(&format!("{kind}.json"));
    data["cases"].as_array().unwrap().iter().take(count).cloned().collect()
}

pub fn vector(value: &Value) -> Vector {
    let a = value.as_array().unwrap();
    Vector::new(a[0].as_f64().unwrap(), a[1].as_f64().unwrap(), a[2].as_f64().unwrap())
}

/// A corner that can be loaded.
#[derive(Clone)]
pub struct Rig {
    pub scheme: Scheme,
    pub points: Vec<Vector>,
    pub wheel: Wheel<f64>,
}

impl Rig {
    /// A corner of the reference data without springs, but for the rocker's own.
    pub fn new(kind: &str, case: &Value) -> Self {
        let scheme = scheme(kind);
        let points = scheme.points.iter().map(|name| vector(&case["points"][name])).collect();
        let (w, s) = (&case["wheel"], vector(&case["wheel"]["spin"]));
        let wheel = Wheel {
            centre: vector(&w["centre"]),
            toe: s.x.atan2(s.y),
            camber: -(s.z / s.norm()).asin(),
            loaded_radius: w["radius"].as_f64().unwrap(),
        };
        Self { scheme, points, wheel }
    }

    pub fn corner(&self) -> Corner<f64> {
        Corner::new(&self.scheme, &self.points, &self.wheel).unwrap()
    }

    pub fn point(&self, name: &str) -> Vector {
        self.points[self.scheme.point(name).unwrap_or_else(|| panic!("no point {name}"))]
    }

    fn add_point(&mut self, name: String, at: Vector) -> usize {
        self.points.push(at);
        self.scheme.add_point(name)
    }

    /// Puts a spring or a bar link between a point of the car's body and `foot` on the upright, a link or an arm.
    pub fn mount(&mut self, role: ElementRole, on: &str, foot: Vector, body: Vector) {
        let frame = match on {
            "upright" => Frame::Body(UPRIGHT),
            _ => kinds::carry_on_link(&mut self.scheme, on).unwrap(),
        };
        let name = format!("{role:?}");
        let outer = self.add_point(format!("{name}.foot"), foot);
        let inner = self.add_point(format!("{name}.body"), body);
        self.scheme.elements.push(Element {
            role,
            name,
            inner: PointOn { frame: Frame::Ground, point: inner },
            outer: PointOn { frame, point: outer },
            rate: None,
            force: None,
        });
    }

    /// A place for a foot, beside the line of a link or the plane of an arm [m].
    pub fn foot(&self, on: &str) -> Vector {
        if on == "upright" {
            return self.wheel.centre + Vector::new(0.03, -0.11, 0.06);
        }
        let (inner, outer) = if self.scheme.point(&format!("{on}.ball")).is_some() {
            let [fore, aft] = ["body-fore", "body-aft"].map(|end| self.point(&format!("{on}.{end}")));
            ((fore + aft) / 2.0, self.point(&format!("{on}.ball")))
        } else {
            (self.point(&format!("{on}.body")), self.point(&format!("{on}.upright")))
        };
        inner + (outer - inner) * 0.7 + Vector::new(0.02, 0.0, 0.035)
    }

    /// The same corner on the other side of the car. The spin axis is given out of the car on the left, so toe and
    /// camber of the mirrored line change their sign.
    pub fn mirrored(&self) -> Self {
        let over = |v: &Vector| Vector::new(v.x, -v.y, v.z);
        let wheel = Wheel {
            centre: over(&self.wheel.centre),
            toe: -self.wheel.toe,
            camber: -self.wheel.camber,
            ..self.wheel
        };
        Self { scheme: self.scheme.clone(), points: self.points.iter().map(over).collect(), wheel }
    }
}

fn scheme(kind: &str) -> Scheme {
    let names = |n: &str| n.to_string();
    match kind {
        "five-link" => kinds::five_link(&["a", "b", "c", "d", "e"].map(names), None),
        "double-wishbone" => kinds::double_wishbone(true),
        "strut" => kinds::strut(true),
        "trailing-blade" => kinds::trailing_blade(&["a", "b", "c"].map(names)),
        "semi-trailing-arm" => kinds::semi_trailing_arm(),
        "links" => rocker(),
        other => panic!("no such kind: {other}"),
    }
}

/// A double wishbone with both arms as bodies, and a push-rod from the lower arm to a rocker with a spring.
fn rocker() -> Scheme {
    let mut s = kinds::double_wishbone(true);
    kinds::carry_on_link(&mut s, "upper-arm").unwrap();
    let lower = kinds::carry_on_link(&mut s, "lower-arm").unwrap();
    let rocker = Frame::Body(s.bodies.len());
    s.bodies.push("rocker".into());
    let arm = s.add_point("push-rod.arm");
    let end = s.add_point("push-rod.rocker");
    let (from, to) = (s.add_point("rocker.pivot-a"), s.add_point("rocker.pivot-b"));
    s.add_joint(
        "push-rod",
        JointKind::Rod { a: PointOn { frame: lower, point: arm }, b: PointOn { frame: rocker, point: end } },
    );
    s.add_joint("rocker hinge", JointKind::Hinge { a: Frame::Ground, b: rocker, from, to });
    let (outer, inner) = (s.add_point("spring.rocker"), s.add_point("spring.body"));
    s.elements.push(Element {
        role: ElementRole::Spring,
        name: "spring".into(),
        inner: PointOn { frame: Frame::Ground, point: inner },
        outer: PointOn { frame: rocker, point: outer },
        rate: None,
        force: None,
    });
    s
}

/// A corner under load at one travel and rack position.
pub struct Loaded<'a> {
    pub rig: &'a Rig,
    pub corner: &'a Corner<f64>,
    pub q: Position<f64>,
    pub measures: Measures<f64>,
    /// Of every element.
    pub ratios: Vec<Ratio<f64>>,
    pub pushes: Vec<Push>,
    pub elements: Vec<(usize, f64)>,
    pub forces: Forces,
}

/// Goes to a travel and a rack position and puts forces on the wheel that `push` makes from the measures there; element 0 holds.
pub fn loaded<'a>(
    rig: &'a Rig,
    corner: &'a Corner<f64>,
    [travel, rack]: [f64; 2],
    elements: &[(usize, f64)],
    push: impl Fn(&Measures<f64>) -> Vec<Push>,
) -> Loaded<'a> {
    let mut mover = Mover::new(corner);
    let measures = mover.at(travel, rack).unwrap();
    let ratios = (0..corner.elements().len()).map(|e| mover.ratio(e).unwrap()).collect();
    let q = mover.solver().position().clone();
    let pushes = push(&measures);
    let acting = Acting { wheel: &pushes, elements, holder: 0 };
    let forces = forces(&rig.scheme, &rig.points, corner, &q, &acting).unwrap();
    Loaded { rig, corner, q, measures, ratios, pushes, elements: elements.to_vec(), forces }
}

impl Loaded<'_> {
    /// Where a point of the scheme stands now.
    pub fn place(&self, on: PointOn) -> Vector {
        let end = linkage::End { frame: on.frame, at: self.rig.points[on.point] };
        self.corner.linkage().frames().point(&self.q, &end)
    }

    /// Largest force that acts or that is found [N].
    pub fn size(&self) -> f64 {
        let found = self.forces.pickups.iter().map(|at| at.force.norm());
        found.chain(self.pushes.iter().map(|p| p.force.norm())).fold(1.0, f64::max)
    }

    /// Moment about the wheel's axle that a half-shaft takes.
    pub fn shaft(&self) -> Vector {
        let (spin, hub) = (self.measures.spin, self.measures.centre);
        let through = self.pushes.iter().filter(|p| p.torque == TorqueReaction::Body);
        through.map(|p| spin * (p.at - hub).cross(&p.force).dot(&spin)).sum()
    }
}

/// Numbers from -1 to 1, the same in every run.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }
}
