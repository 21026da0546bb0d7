//! The cars of `reference/data/whole-car.json`, for the tests that hold the platform to other ways of solving them.

use nalgebra::Vector3;
use serde_json::Value;
use suspension::scheme::{Element, ElementRole, PointOn};
use suspension::{AxleEnd, Corner, TorqueReaction, Wheel, kinds};
use vehicle::platform::{Car, Demand, Rig, Spring};

/// Cases of one file of the reference data.
pub fn cases(name: &str) -> Vec<Value> {
    let path = format!("{}/../../reference/data/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let mut data: Value =
        serde_json::from_str(&std::fs::read_to_string(path).expect("the data")).expect("JSON");
    match data["cases"].take() {
        Value::Array(cases) => cases,
        other => unreachable!("{name}: {other}"),
    }
}

/// The states of a case.
pub fn states(case: &Value) -> &[Value] {
    case["states"].as_array().expect("states")
}

/// What a state was asked to do.
pub fn demand(state: &Value) -> Demand {
    Demand { along: number(&state["along"]), across: number(&state["across"]), ..Demand::default() }
}

fn vector(v: &Value) -> Vector3<f64> {
    let n = |i: usize| v[i].as_f64().expect("a number");
    Vector3::new(n(0), n(1), n(2))
}

pub fn number(v: &Value) -> f64 {
    v.as_f64().expect("a number")
}

fn corner(axle: &Value) -> Corner<f64> {
    let names = ["a", "b", "c", "d", "e"].map(String::from);
    let mut scheme = kinds::five_link(&names, None);
    let mut points: Vec<Vector3<f64>> = scheme.points.iter().map(|p| vector(&axle["points"][p])).collect();
    let (inner, outer) = (scheme.add_point("spring.body"), scheme.add_point("spring.upright"));
    points.extend([vector(&axle["spring"]["body"]), vector(&axle["spring"]["upright"])]);
    scheme.elements.push(Element {
        role: ElementRole::Spring,
        name: "spring".into(),
        inner: PointOn { frame: linkage::Frame::Ground, point: inner },
        outer: PointOn { frame: linkage::Frame::Body(0), point: outer },
        rate: None,
        force: None,
    });
    let spin = vector(&axle["wheel"]["spin"]).normalize();
    let wheel = Wheel {
        centre: vector(&axle["wheel"]["centre"]),
        toe: spin.x.atan2(spin.y),
        camber: -spin.z.asin(),
        loaded_radius: number(&axle["wheel"]["radius"]),
    };
    Corner::new(&scheme, &points, &wheel).expect("a corner")
}

fn rig<'c>(corner: &'c Corner<f64>, axle: &Value, end: AxleEnd) -> Rig<'c> {
    Rig {
        corner,
        end,
        springs: vec![(0, Spring { rate: number(&axle["spring_rate"]), rise: 0.0 })],
        stops: Vec::new(),
        bar: None,
        unsprung: number(&axle["unsprung"]),
        tyre_rate: number(&axle["tyre_rate"]),
        braking: TorqueReaction::Upright,
        driving: TorqueReaction::Body,
    }
}

/// Front and rear left corner of a case.
pub fn corners(case: &Value) -> [Corner<f64>; 2] {
    [corner(&case["axles"][0]), corner(&case["axles"][1])]
}

/// The car of a case on its corners.
pub fn car<'c>(case: &Value, corners: &'c [Corner<f64>; 2]) -> Car<'c> {
    Car {
        axles: [
            rig(&corners[0], &case["axles"][0], AxleEnd::Front),
            rig(&corners[1], &case["axles"][1], AxleEnd::Rear),
        ],
        sprung: number(&case["sprung"]),
        sprung_centre: vector(&case["place"]),
        brake_front: number(&case["brake_front"]),
        drive_front: 0.0,
        air: None,
    }
}
