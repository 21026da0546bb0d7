//! Whole cars against explicit statics solved by SciPy (`reference/whole_car.py`, `reference/data/whole-car.json`): link
//! forces, six balances for each upright and three for the body, where the platform knows virtual work alone.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use serde_json::Value;
use vehicle::platform::Platform;

/// Lengths are asked to 0.1 mm; both ways of solving are far better than that [m].
const LENGTH: f64 = 1e-8;

/// Loads are asked to 0.5 N [N].
const FORCE: f64 = 1e-4;

#[test]
fn whole_cars_stand_as_explicit_statics_has_them() {
    let cases = common::cases("whole-car");
    let mut states = 0;
    for (i, case) in cases.iter().enumerate() {
        let corners = common::corners(case);
        let mut platform = Platform::new(common::car(case, &corners)).expect("a car");
        for state in common::states(case) {
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
            }
            states += 1;
        }
    }
    assert!(cases.len() >= 8 && states >= 24, "{} cars, {states} states", cases.len());
}
