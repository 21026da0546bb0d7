//! The tyres of tests and benches: figures of a common road tyre, made up.

use vehicle::tyre::{Parameters, SimpleTyre, Tyre};

/// The simple tyre. A test writes down what it needs otherwise: `SimpleTyre { friction_x: 1.1, ..simple() }`.
pub fn simple() -> SimpleTyre {
    SimpleTyre {
        nominal_load: 4000.0,
        friction_x: 1.2,
        friction_y: 1.2,
        load_sensitivity: 0.05,
        cornering_stiffness: 70e3,
        stiffest_load: 8000.0,
        slip_stiffness: 90e3,
        lateral_rate: 150e3,
        vertical_rate: 220e3,
        least_load: 200.0,
        most_load: 12e3,
    }
}

/// A Magic Formula tyre.
pub fn magic() -> Tyre {
    let mut p = Parameters {
        fnomin: 4000.0,
        unloaded_radius: 0.31,
        fzmin: 200.0,
        fzmax: 9000.0,
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
        p.set(name, value).expect("a published name");
    }
    Tyre::Magic(Box::new(p))
}
