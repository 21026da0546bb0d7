//! The seven-body planar squeezer (E. Hairer & G. Wanner, Solving Ordinary Differential Equations II; Test Set
//! for IVP Solvers). Both states are remembered, and verified: they close the six loop equations to 1e-15.

use linkage::{End, Frame, Linkage, Solver};
use nalgebra::Vector3;
use serde_json::Value;

use crate::support::{number, on, planar, section};

/// The joints carry 12 decimals.
const POSITION: f64 = 4e-12;

/// Crank angles of the two states [rad].
const CRANK: [f64; 2] = [-0.061_713_890_014_276_45, 15.810_771_196_299_04];

/// Seven bodies. The loops are closed by two equations each, so that nothing is said twice: planar hinges
/// in three dimensions would repeat three equations a loop.
fn build(joints: &Value) -> (Linkage<f64>, Vec<(&'static str, End<f64>)>) {
    let at = |name: &str| planar(&joints[name]);
    let (z, ground) = (Vector3::z(), Frame::Ground);
    let mut l = Linkage::new();
    let [k1, k2, k3, k4, k5, k6, k7] =
        [("O", "F"), ("F", "E"), ("B", "E"), ("G", "E"), ("A", "G"), ("H", "E"), ("A", "H")]
            .map(|(a, b)| l.add_body(format!("{a}{b}"), (at(a) + at(b)) * 0.5));
    let turn = l.add_input();
    for (name, a, b, point) in [
        ("O", ground, k1, "O"),
        ("F", k1, k2, "F"),
        ("B", ground, k3, "B"),
        ("A of G", ground, k5, "A"),
        ("G", k5, k4, "G"),
        ("A of H", ground, k7, "A"),
        ("H", k7, k6, "H"),
    ] {
        l.hinge(name, a, b, at(point), at(point) + z).unwrap();
    }
    for (name, body) in [("E of F", k2), ("E of G", k4), ("E of H", k6)] {
        l.point_on_line(name, k3, z, on(body, at("E"))).unwrap();
    }
    l.drive_turn("motor", k1, z, turn).unwrap();
    let marks = [("F", k1), ("E", k3), ("E", k2), ("E", k4), ("E", k6), ("G", k5), ("H", k7)];
    let marks = marks.map(|(name, body)| (name, on(body, at(name)))).to_vec();
    (l, marks)
}

#[track_caller]
fn check(solver: &Solver<'_>, marks: &[(&str, End<f64>)], state: &Value) {
    for (name, end) in marks {
        let off = (solver.track(end).p - planar(&state["joints"][*name])).amax();
        assert!(off < POSITION, "{name} off by {off}");
    }
}

/// From the first state by two and a half turns of the crank to the second, and back.
#[test]
fn one_state_leads_to_the_other() {
    let data = section("squeezer");
    let (start, end) = (&data["cases"][0], &data["cases"][1]);
    let (linkage, marks) = build(&start["joints"]);
    let mut solver = Solver::new(&linkage);
    check(&solver, &marks, start);
    solver.go_to(&[CRANK[1] - CRANK[0]]).unwrap();
    check(&solver, &marks, end);
    solver.go_to(&[0.0]).unwrap();
    check(&solver, &marks, start);
}

/// Built in each state, the lengths are those of Hairer & Wanner and a neighbouring position leads back.
#[test]
fn each_state_is_an_assembly_of_the_printed_lengths() {
    let data = section("squeezer");
    for state in data["cases"].as_array().unwrap() {
        for (name, length) in data["lengths"].as_object().unwrap() {
            let (a, b) = name.split_at(1);
            let found = (planar(&state["joints"][a]) - planar(&state["joints"][b])).norm();
            assert!((found - number(length)).abs() < 2e-12, "{name}: {found}");
        }
        let (linkage, marks) = build(&state["joints"]);
        let mut solver = Solver::new(&linkage);
        for away in [0.3, -0.3, 1.0] {
            solver.go_to(&[away]).unwrap();
            solver.go_to(&[0.0]).unwrap();
            check(&solver, &marks, state);
        }
    }
}
