//! Whole cars against EXUDYN's static solver (`reference/exudyn_car.py`, `reference/data/exudyn-car.json`): five rigid
//! bodies, twenty rods, springs with pre-load and tyres, free to move over a road that lies still, where the platform
//! holds the body, moves the road and knows virtual work alone. The cars themselves are those of `whole-car.json`.
#![expect(clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

/// Toe and camber [deg].
const ANGLE: f64 = 1e-6;

#[test]
fn whole_cars_stand_as_exudyn_has_them() {
    common::reference::hold("exudyn-car", &|own, state, near| {
        for (w, wheel) in own.wheels.iter().enumerate() {
            near(wheel.toe.to_degrees(), &state["toe_deg"][w], ANGLE, "toe");
            near(wheel.camber.to_degrees(), &state["camber_deg"][w], ANGLE, "camber");
        }
    });
}
