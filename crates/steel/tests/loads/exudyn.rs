//! Against the multipliers of EXUDYN's constraints, at ride height and at travel (`reference/exudyn_forces.py`).

use steel::load::Push;
use suspension::TorqueReaction;
use suspension::scheme::ElementRole;

use crate::support::{Rig, Vector, load, loaded, vector};

/// Share of the largest force. Measured: 2e-11.
const SHARE: f64 = 1e-6;

#[test]
fn forces_in_links_and_springs_are_those_of_another_solver() {
    let data = load("exudyn-forces.json");
    let demands = data["demands"].as_array().unwrap();
    let mut compared = 0;
    for given in data["cases"].as_array().unwrap() {
        let kind = given["of"].as_str().unwrap();
        let source = load(&format!("{kind}.json"));
        let case = &source["cases"][given["case"].as_u64().unwrap() as usize];
        let mut rig = Rig::new(kind, case);
        let ends = [vector(&given["spring"]["mount"]), vector(&given["spring"]["body"])];
        rig.mount(ElementRole::Spring, given["on"].as_str().unwrap(), ends[0], ends[1]);
        let corner = rig.corner();
        for station in given["stations"].as_array().unwrap() {
            let contact = vector(&station["contact"]);
            for (demand, expected) in demands.iter().zip(station["demands"].as_array().unwrap()) {
                let shaft = demand["half_shaft"].as_bool().unwrap();
                let torque = if shaft { TorqueReaction::Body } else { TorqueReaction::Upright };
                let state = loaded(&rig, &corner, [station["travel"].as_f64().unwrap(), 0.0], &[], |m| {
                    assert!((m.contact - contact).norm() < 1e-10);
                    vec![
                        Push { at: contact, force: vector(&demand["contact"]), torque },
                        Push {
                            at: m.centre,
                            force: vector(&demand["centre"]),
                            torque: TorqueReaction::Upright,
                        },
                    ]
                });
                let loads: Vec<f64> =
                    expected["loads"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
                let (spring, rods) = loads.split_last().unwrap();
                let largest = loads.iter().fold(0.0, |most: f64, l| most.max(l.abs()));
                let near = SHARE * largest;
                assert_eq!(rods.len(), state.forces.legs.len());
                for (leg, tension) in state.forces.legs.iter().zip(rods) {
                    let off = (leg.tension - tension).abs();
                    assert!(off < near, "{kind} {} {}: {off} N", given["case"], leg.name);
                    compared += 1;
                }
                assert!((state.forces.elements[0] - spring).abs() < near);
                let Some(link) = expected.get("link") else {
                    assert!(state.forces.carried.is_empty());
                    continue;
                };
                let numbers: Vec<f64> =
                    link["loads"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
                let [inner, outer, bush, _] = state.forces.carried[0].forces.as_slice() else {
                    panic!("{:?}", state.forces.carried)
                };
                for (found, expected) in
                    [inner.force, outer.force, bush.moment].iter().zip(numbers.chunks_exact(3))
                {
                    let off = (found - Vector::from_row_slice(expected)).norm();
                    assert!(off < near, "{kind} {} link: {off} N", given["case"]);
                    compared += 1;
                }
            }
        }
    }
    // 10 and 10 corners of five rods, 10 of four and three vectors, at 2 travels under 3 demands.
    assert_eq!(compared, (20 * 5 + 10 * 7) * 6);
}
