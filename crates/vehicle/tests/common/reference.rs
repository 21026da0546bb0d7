//! The cars of `reference/data/whole-car.json`, for the tests that hold the platform to other ways of solving them.

use nalgebra::Vector3;
use serde_json::Value;
use suspension::scheme::{Element, ElementRole, PointOn};
use suspension::{AxleEnd, Corner, TorqueReaction, Wheel, kinds};
use vehicle::platform::{Car, Demand, Platform, Rig, Spring, State};

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

/// Lengths are asked to 0.1 mm [m]; the attitude's angles are held to the same number [rad]. The platform stops at 1e-9
/// of the weight, some 1e-10 m of spring, and the other ways of solving are as good.
const LENGTH: f64 = 1e-8;

/// Loads are asked to 0.5 N [N].
const FORCE: f64 = 1e-4;

/// Compares a figure with the one solved otherwise, by so much, under its name.
pub type Near<'a> = &'a dyn Fn(f64, &Value, f64, &str);

/// Holds the platform to the whole cars as `solved` has them, and to what `also` asks of a state, given it, the other one
/// and what to compare two figures with.
pub fn hold(solved: &str, also: &dyn Fn(&State, &Value, Near<'_>)) {
    let (cars, solved) = (cases("whole-car"), cases(solved));
    assert_eq!(cars.len(), solved.len(), "the two files hold the same cars");
    let mut count = 0;
    for (i, (case, solved)) in cars.iter().zip(&solved).enumerate() {
        let corners = corners(case);
        let mut platform = Platform::new(car(case, &corners)).expect("a car");
        assert_eq!(states(case).len(), states(solved).len(), "car {i} is asked the same");
        for state in states(solved) {
            let demand = Demand {
                along: number(&state["along"]),
                across: number(&state["across"]),
                ..Demand::default()
            };
            let own = platform.solve(&demand).unwrap_or_else(|e| unreachable!("car {i}, {demand:?}: {e}"));
            let near = |a: f64, b: &Value, by: f64, what: &str| {
                let b = number(b);
                assert!((a - b).abs() <= by, "car {i}, {demand:?}, {what}: {a} against {b}");
            };
            near(own.attitude.rise, &state["rise"], LENGTH, "rise");
            near(own.attitude.pitch, &state["pitch"], LENGTH, "pitch");
            near(own.attitude.roll, &state["roll"], LENGTH, "roll");
            for (w, wheel) in own.wheels.iter().enumerate() {
                near(wheel.travel, &state["travels"][w], LENGTH, "travel");
                near(wheel.load, &state["loads"][w], FORCE, "load");
            }
            also(&own, state, &near);
            count += 1;
        }
    }
    assert!(cars.len() >= 8 && count >= 24, "{} cars, {count} states", cars.len());
}

fn states(case: &Value) -> &[Value] {
    case["states"].as_array().expect("states")
}

fn vector(v: &Value) -> Vector3<f64> {
    let n = |i: usize| v[i].as_f64().expect("a number");
    Vector3::new(n(0), n(1), n(2))
}

pub fn number(v: &Value) -> f64 {
    v.as_f64().expect("a number")
}

/// A five-link corner of the reference cars, its points moved by `moved`.
pub fn corner(axle: &Value, moved: &dyn Fn(&str, Vector3<f64>) -> Vector3<f64>) -> Corner<f64> {
    steered(axle, None, moved)
}

/// The same with a link on a rack.
pub fn steered(
    axle: &Value,
    link: Option<usize>,
    moved: &dyn Fn(&str, Vector3<f64>) -> Vector3<f64>,
) -> Corner<f64> {
    let names = ["a", "b", "c", "d", "e"].map(String::from);
    let mut scheme = kinds::five_link(&names, link);
    let mut points: Vec<Vector3<f64>> =
        scheme.points.iter().map(|p| moved(p, vector(&axle["points"][p]))).collect();
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
    [0, 1].map(|i: usize| corner(&case["axles"][i], &|_, p| p))
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
