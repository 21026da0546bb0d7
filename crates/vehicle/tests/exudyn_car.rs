//! Whole cars against EXUDYN's static solver (`reference/exudyn_car.py`, `reference/data/exudyn-car.json`): five rigid
//! bodies, twenty rods, springs with pre-load and tyres, free to move over a road that lies still, where the platform
//! holds the body, moves the road and knows virtual work alone. The cars themselves are those of `whole-car.json`.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use serde_json::Value;
use vehicle::platform::Platform;

/// Lengths are asked to 0.1 mm [m]; the attitude's angles are held to the same number [rad]. The platform stops at 1e-9
/// of the weight, some 1e-10 m of spring.
const LENGTH: f64 = 1e-8;

/// Loads are asked to 0.5 N [N].
const FORCE: f64 = 1e-4;

/// Toe and camber [deg].
const ANGLE: f64 = 1e-6;

#[test]
fn whole_cars_stand_as_exudyn_has_them() {
    let (cases, solved) = (common::cases("whole-car"), common::cases("exudyn-car"));
    assert_eq!(cases.len(), solved.len(), "the two files hold the same cars");
    let mut states = 0;
    for (i, (case, solved)) in cases.iter().zip(&solved).enumerate() {
        let corners = common::corners(case);
        let mut platform = Platform::new(common::car(case, &corners)).expect("a car");
        assert_eq!(common::states(case).len(), common::states(solved).len(), "car {i} is asked the same");
        for state in common::states(solved) {
            let demand = common::demand(state);
            let own = platform.solve(&demand).unwrap_or_else(|e| unreachable!("car {i}, {demand:?}: {e}"));
            let near = |a: f64, b: &Value, by: f64, what: &str| {
                let b = common::number(b);
                assert!((a - b).abs() <= by, "car {i}, {demand:?}, {what}: {a} against {b}");
            };
            near(own.attitude.rise, &state["rise"], LENGTH, "rise");
            near(own.attitude.pitch, &state["pitch"], LENGTH, "pitch");
            near(own.attitude.roll, &state["roll"], LENGTH, "roll");
            for (w, wheel) in own.wheels.iter().enumerate() {
                near(wheel.travel, &state["travels"][w], LENGTH, "travel");
                near(wheel.load, &state["loads"][w], FORCE, "load");
                near(wheel.toe.to_degrees(), &state["toe_deg"][w], ANGLE, "toe");
                near(wheel.camber.to_degrees(), &state["camber_deg"][w], ANGLE, "camber");
            }
            states += 1;
        }
    }
    assert!(cases.len() >= 8 && states >= 24, "{} cars, {states} states", cases.len());
}
