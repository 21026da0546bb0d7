//! Whole cars against explicit statics solved by SciPy (`reference/whole_car.py`, `reference/data/whole-car.json`): link
//! forces, six balances for each upright and three for the body, where the platform knows virtual work alone.

mod common;

#[test]
fn whole_cars_stand_as_explicit_statics_has_them() {
    common::reference::hold("whole-car", &|_, _, _| {});
}
