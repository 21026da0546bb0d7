//! The whole demo, and the same on a parameter set of tyres.

use project::model::{Car, TyreModel, TyreReading, Value};
use vehicle::tyre::Parameters;

const WHOLE: &str = include_str!("../../../../../examples/plover/whole.toml");

pub(super) fn v(value: f64, uncertainty: f64) -> Value {
    Value { value, uncertainty }
}

/// The whole demo as the program has it.
pub(super) fn whole() -> Car {
    let mut car = project::read(WHOLE).car.unwrap();
    crate::settle(&mut car);
    car
}

/// Puts a made-up parameter set in the place of the figures.
pub(super) fn magic(car: &mut Car) {
    let mut set = Parameters {
        fnomin: 4000.0,
        unloaded_radius: 0.31,
        fzmin: 200.0,
        fzmax: 9000.0,
        vertical_stiffness: 210_000.0,
        ..Parameters::default()
    };
    for (name, value) in [
        ("PCX1", 1.64),
        ("PDX1", 1.17),
        ("PDX2", -0.16),
        ("PEX1", 0.46),
        ("PKX1", 22.3),
        ("PCY1", 1.35),
        ("PDY1", 1.05),
        ("PDY2", -0.18),
        ("PKY1", -21.9),
        ("PKY2", 2.0),
        ("RBX1", 13.3),
        ("RBX2", -13.8),
        ("RCX1", 1.0),
        ("RBY1", 7.1),
        ("RBY2", 9.2),
        ("RCY1", 1.0),
    ] {
        set.set(name, value).unwrap();
    }
    for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
        axle.tyre = Some(TyreReading {
            pressure: None,
            model: TyreModel::Magic(Box::new(set.clone())),
            vertical_rate: None,
            span: 0..0,
        });
    }
}
