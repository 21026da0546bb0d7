//! Reading the reference data and making corners of it.

use std::path::PathBuf;

use linkage::Frame;
use nalgebra::Vector3;
use serde_json::Value;
use suspension::scheme::{Element, ElementRole, JointKind, PointOn, Scheme, UPRIGHT};
use suspension::{Corner, Wheel, kinds};

pub fn load(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../reference/data").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_json::from_str(&text).unwrap()
}

pub fn vector(value: &Value) -> Vector3<f64> {
    let a = value.as_array().unwrap();
    Vector3::new(a[0].as_f64().unwrap(), a[1].as_f64().unwrap(), a[2].as_f64().unwrap())
}

pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn names<const N: usize>() -> [String; N] {
    std::array::from_fn(|i| ["a", "b", "c", "d", "e"][i].to_string())
}

/// The scheme of a kind as the reference data names its points.
pub fn scheme(kind: &str) -> Scheme {
    match kind {
        "five-link" => kinds::five_link(&names(), None),
        "double-wishbone" => kinds::double_wishbone(true),
        "strut" => kinds::strut(true),
        "trailing-blade" => kinds::trailing_blade(&names()),
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
    assert_eq!(s.bodies[UPRIGHT], "upright");
    s
}

/// The points of a case in the order of the scheme.
pub fn points(scheme: &Scheme, case: &Value) -> Vec<Vector3<f64>> {
    scheme.points.iter().map(|name| vector(&case["points"][name])).collect()
}

pub fn wheel(case: &Value) -> Wheel<f64> {
    let (w, s) = (&case["wheel"], vector(&case["wheel"]["spin"]));
    Wheel {
        centre: vector(&w["centre"]),
        toe: s.x.atan2(s.y),
        camber: -(s.z / s.norm()).asin(),
        loaded_radius: number(&w["radius"]),
    }
}

pub fn corner(scheme: &Scheme, case: &Value) -> Corner<f64> {
    Corner::new(scheme, &points(scheme, case), &wheel(case)).unwrap()
}
