//! Whole cars against explicit statics solved by SciPy (`reference/whole_car.py`, `reference/data/whole-car.json`): link
//! forces, six balances for each upright and three for the body, where the platform knows virtual work alone.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

use nalgebra::Vector3;
use serde_json::Value;
use suspension::scheme::{Element, ElementRole, PointOn};
use suspension::{AxleEnd, Corner, TorqueReaction, Wheel, kinds};
use vehicle::platform::{Car, Demand, Platform, Rig, Spring};

/// Lengths are asked to 0.1 mm; both ways of solving are far better than that [m].
const LENGTH: f64 = 1e-8;

/// Loads are asked to 0.5 N [N].
const FORCE: f64 = 1e-4;

fn vector(v: &Value) -> Vector3<f64> {
    let n = |i: usize| v[i].as_f64().expect("a number");
    Vector3::new(n(0), n(1), n(2))
}

fn number(v: &Value) -> f64 {
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

#[test]
fn whole_cars_stand_as_explicit_statics_has_them() {
    let path = format!("{}/../../reference/data/whole-car.json", env!("CARGO_MANIFEST_DIR"));
    let data: Value = serde_json::from_str(&std::fs::read_to_string(path).expect("the data")).expect("JSON");
    let cases = data["cases"].as_array().expect("cases");
    let mut states = 0;
    for (i, case) in cases.iter().enumerate() {
        let corners = [corner(&case["axles"][0]), corner(&case["axles"][1])];
        let car = Car {
            axles: [
                rig(&corners[0], &case["axles"][0], AxleEnd::Front),
                rig(&corners[1], &case["axles"][1], AxleEnd::Rear),
            ],
            sprung: number(&case["sprung"]),
            sprung_centre: vector(&case["place"]),
            brake_front: number(&case["brake_front"]),
            drive_front: 0.0,
            air: None,
        };
        let mut platform = Platform::new(car).expect("a car");
        for state in case["states"].as_array().expect("states") {
            let demand = Demand {
                along: number(&state["along"]),
                across: number(&state["across"]),
                ..Demand::default()
            };
            let own = platform.solve(&demand).unwrap_or_else(|e| unreachable!("car {i}, {demand:?}: {e}"));
            let near = |a: f64, b: &Value, by: f64, what: &str| {
                assert!((a - number(b)).abs() <= by, "car {i}, {demand:?}, {what}: {a} against {b}");
            };
            near(own.attitude.rise, &state["rise"], LENGTH, "rise");
            near(own.attitude.pitch, &state["pitch"], LENGTH, "pitch");
            near(own.attitude.roll, &state["roll"], LENGTH, "roll");
            for (w, wheel) in own.wheels.iter().enumerate() {
                near(wheel.travel, &state["travels"][w], LENGTH, "travel");
                near(wheel.load, &state["loads"][w], FORCE, "load");
            }
            states += 1;
        }
    }
    assert!(cases.len() >= 8 && states >= 24, "{} cars, {states} states", cases.len());
}
