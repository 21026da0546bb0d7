//! Fifty random frames against PyNite (reference/frames.py): movements, reactions, end forces, slender beams.

use nalgebra::Vector3;
use serde_json::Value;
use steel::frame::{Foot, Frame, Hold, Joint, Load, Node, Tube, TubeEnd};

use super::common::{figures, grade};

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/data/frames.json");

/// Of the greatest of its kind in the frame. Found: 1.4e-10.
const AGREES: f64 = 1e-6;

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    list(value).iter().map(|v| v.as_f64().unwrap()).collect()
}

fn vector(value: &Value) -> Vector3<f64> {
    Vector3::from_column_slice(&numbers(value))
}

fn index(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn frame(case: &Value, young: f64, shear: f64) -> Frame {
    let nodes = list(&case["nodes"])
        .iter()
        .enumerate()
        .map(|(k, at)| Node { name: format!("n{k}"), at: vector(at) })
        .collect();
    let tube = |(k, tube): (usize, &Value)| {
        let [area, second_y, second_z, torsion] = numbers(&tube["section"]).try_into().unwrap();
        let end = |e: usize| TubeEnd {
            joint: if tube["ball"][e].as_bool().unwrap() { Joint::Ball } else { Joint::Welded },
            ..TubeEnd::welded(index(&tube["nodes"][e]))
        };
        Tube {
            name: format!("t{k}"),
            ends: [end(0), end(1)],
            up: Some(vector(&tube["up"])),
            section: figures(area, second_y, second_z, torsion),
            grade: grade(young, shear),
        }
    };
    let foot = |foot: &Value| {
        let hold = list(&foot["hold"]).iter().map(|hold| match hold.as_str() {
            Some("fixed") => Hold::Fixed,
            Some(_) => Hold::Free,
            None => Hold::Spring(hold.as_f64().unwrap()),
        });
        Foot { node: index(&foot["node"]), hold: hold.collect::<Vec<_>>().try_into().unwrap() }
    };
    Frame {
        nodes,
        tubes: list(&case["tubes"]).iter().enumerate().map(tube).collect(),
        ties: Vec::new(),
        feet: list(&case["feet"]).iter().map(foot).collect(),
    }
}

/// Figures of one kind: the greatest, and how far the worst is off.
#[derive(Default)]
struct Kind {
    greatest: f64,
    off: f64,
}

impl Kind {
    fn compare(&mut self, found: &[f64], expected: &[f64]) {
        for (found, expected) in found.iter().zip(expected) {
            self.greatest = self.greatest.max(expected.abs());
            self.off = self.off.max((found - expected).abs());
        }
    }
}

#[test]
fn fifty_frames_do_what_another_solver_says() {
    let data: Value = serde_json::from_str(&std::fs::read_to_string(DATA).unwrap()).unwrap();
    let (young, shear) = (data["young"].as_f64().unwrap(), data["shear"].as_f64().unwrap());
    let cases = list(&data["cases"]);
    assert_eq!(cases.len(), 50);
    for (number, case) in cases.iter().enumerate() {
        let frame = frame(case, young, shear);
        let load = |load: &Value| Load {
            node: index(&load["node"]),
            arm: Vector3::zeros(),
            force: vector(&load["force"]),
            moment: vector(&load["moment"]),
        };
        let loads: Vec<Load> = list(&case["loads"]).iter().map(load).collect();
        let found = frame.factor().unwrap().solve(&[loads]).unwrap().remove(0);
        assert!(found.unbalanced < 1e-9, "case {number}: {}", found.unbalanced);

        // Shift, turn, force, moment.
        let mut kinds = [(); 4].map(|()| Kind::default());
        let [shifts, turns, forces, moments] = &mut kinds;
        for (moves, expected) in found.moves.iter().zip(list(&case["moves"])) {
            let (shift, turn) = (moves.shift, moves.turn);
            let expected = numbers(expected);
            shifts.compare(shift.as_slice(), &expected[..3]);
            turns.compare(turn.as_slice(), &expected[3..]);
        }
        for (foot, expected) in found.feet.iter().zip(list(&case["reactions"])) {
            let expected = numbers(expected);
            forces.compare(foot.force.as_slice(), &expected[..3]);
            moments.compare(foot.moment.as_slice(), &expected[3..]);
        }
        for (tube, expected) in found.tubes.iter().zip(list(&case["tubes"])) {
            let expected = numbers(&expected["ends"]);
            // What acts on the first end is the reverse of what its cut carries.
            for (t, sign, ends) in [(0.0, -1.0, &expected[..6]), (1.0, 1.0, &expected[6..])] {
                let cut = tube.at(t);
                let force = [cut.axial, cut.shear_y, cut.shear_z].map(|f| f * sign);
                let moment = [cut.torque, cut.moment_y, cut.moment_z].map(|m| m * sign);
                forces.compare(&force, &ends[..3]);
                moments.compare(&moment, &ends[3..]);
            }
        }
        for (kind, what) in kinds.iter().zip(["shift", "turn", "force", "moment"]) {
            assert!(
                kind.off <= AGREES * kind.greatest,
                "case {number}, {what}: off by {} of {}",
                kind.off,
                kind.greatest
            );
        }
    }
}
