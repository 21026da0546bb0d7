use super::*;
use crate::mass::Level;
use num_dual::Dual64;

fn load(name: &str, mass: f64, place: [f64; 3], own: OwnInertia<f64>) -> Load<f64> {
    Load { name: name.into(), mass, place: Vector3::from(place), own }
}

fn base() -> Lump<f64> {
    Lump {
        mass: 1000.0,
        centre: Vector3::new(-1.2, 0.01, 0.5),
        inertia: Some(Matrix3::from_diagonal(&Vector3::new(350.0, 1300.0, 1400.0))),
        estimated: false,
    }
}

/// Two points of a dumb-bell about their common centre: `m1 m2/(m1 + m2) d^2` (reduced mass, any mechanics text).
#[test]
fn dumb_bell() {
    let point = |m, x| load("ball", m, [x, 0.0, 0.0], OwnInertia::Point).lump().unwrap();
    let both =
        point(3.0, 0.0).after(&Entry::In(load("other", 5.0, [2.0, 0.0, 0.0], OwnInertia::Point))).unwrap();
    assert!((both.centre.x - 10.0 / 8.0).abs() < 1e-15);
    let i = both.principal().unwrap();
    assert!((i.z - 15.0 / 8.0 * 4.0).abs() < 1e-12 && i.x.abs() < 1e-12 && both.estimated);
}

/// Eight small blocks make the large one (own; parallel axes).
#[test]
fn blocks_make_a_block() {
    let size = Vector3::new(2.0, 1.0, 0.6);
    let block =
        |mass, place: [f64; 3], size| load("block", mass, place, OwnInertia::Block(size)).lump().unwrap();
    let mut sum: Option<Lump<f64>> = None;
    for (sx, sy, sz) in
        (0..8).map(|i| (f64::from(i & 1) - 0.5, f64::from(i >> 1 & 1) - 0.5, f64::from(i >> 2) - 0.5))
    {
        let place = [1.0 + size.x / 2.0 * sx, size.y / 2.0 * sy, size.z / 2.0 * sz];
        let part = block(10.0, place, size / 2.0);
        sum = Some(sum.map_or(part, |s| s.combine(&part, 1.0, "block").unwrap()));
    }
    let (sum, whole) = (sum.unwrap(), block(80.0, [1.0, 0.0, 0.0], size));
    assert!((sum.inertia.unwrap() - whole.inertia.unwrap()).amax() < 1e-12);
    assert!((sum.centre - whole.centre).amax() < 1e-15);
}

/// In and out again is nothing; order does not matter; axes may be moved (invariants, own).
#[test]
fn in_and_out_again() {
    let part = load("battery", 18.0, [-2.7, -0.3, 0.4], OwnInertia::Block(Vector3::new(0.2, 0.17, 0.18)));
    let cell = load("cell", 40.0, [-2.3, 0.1, 0.35], OwnInertia::Point);
    let there = base().after(&Entry::In(part.clone())).unwrap();
    let back = there.after(&Entry::Out(part.clone())).unwrap();
    assert!((back.centre - base().centre).amax() < 1e-12);
    assert!((back.inertia.unwrap() - base().inertia.unwrap()).amax() < 1e-9);
    let one = base().after_all(&[Entry::In(part.clone()), Entry::Out(cell.clone())]).unwrap();
    let two = base().after_all(&[Entry::Out(cell), Entry::In(part)]).unwrap();
    assert!((one.inertia.unwrap() - two.inertia.unwrap()).amax() < 1e-9);
}

#[test]
fn impossible_ledgers_are_refused() {
    let out = |m, own| base().after(&Entry::Out(load("engine", m, [-1.2, 0.01, 0.5], own)));
    assert_eq!(out(1000.0, OwnInertia::Point), Err(VehicleError::NoMassLeft { part: "engine".into() }));
    let huge = Matrix3::from_diagonal(&Vector3::new(900.0, 900.0, 900.0));
    assert!(matches!(out(10.0, OwnInertia::Known(huge)), Err(VehicleError::ImpossibleInertia { .. })));
    let flat = Matrix3::from_diagonal(&Vector3::new(1.0, 1.0, 5.0));
    assert!(matches!(
        load("x", 1.0, [0.0; 3], OwnInertia::Known(flat)).lump(),
        Err(VehicleError::ImpossibleInertia { .. })
    ));
    assert!(load("x", -1.0, [0.0; 3], OwnInertia::Point).lump().is_err());
}

/// Corner masses and the level weighing are inverse to each other, with unequal tracks (own).
#[test]
fn corner_masses_and_weighing_are_inverse() {
    let at = Footprint { wheelbase: 2.6, front_track: 1.5, rear_track: 1.42 };
    let corners = base().corner_masses(&at, 0.512).unwrap();
    let r = Level { scales: corners, footprint: at }.solve().unwrap();
    assert!((r.mass - 1000.0).abs() < 1e-9);
    assert!((r.x + 1.2).abs() < 1e-12 && (r.y - 0.01).abs() < 1e-12 && (r.cross_share - 0.512).abs() < 1e-12);
}

#[test]
fn driver_and_fuel() {
    let driver = load("driver", 80.0, [-1.4, 0.35, 0.45], OwnInertia::Point).lump().unwrap();
    let full_tank = load("fuel", 45.0, [-2.2, 0.0, 0.3], OwnInertia::Point).lump().unwrap();
    let states = States { dry: base(), driver, full_tank };
    assert_eq!(states.at(false, 0.0).unwrap().mass, 1000.0);
    let half = states.at(true, 0.5).unwrap();
    assert!((half.mass - 1102.5).abs() < 1e-12);
    let x = (-1200.0 - 80.0 * 1.4 - 22.5 * 2.2) / 1102.5;
    assert!((half.centre.x - x).abs() < 1e-12);
    assert!(states.at(true, 1.1).is_err());
}

#[test]
fn sprung_mass_by_moments() {
    let s = sprung(&base(), 2.5, (80.0, 0.3), (100.0, 0.31)).unwrap();
    assert!((s.mass - 820.0).abs() < 1e-12);
    assert!((s.centre.z - (500.0 - 24.0 - 31.0) / 820.0).abs() < 1e-12);
    assert!((s.front_share * s.mass - (1000.0 * 1.3 / 2.5 - 80.0)).abs() < 1e-9);
}

/// The dual part against differences: height of the new centre by the height of a part (own).
#[test]
fn derivatives_go_through_the_ledger() {
    let lift = |m: &Lump<f64>| Lump {
        mass: Dual64::from_re(m.mass),
        centre: m.centre.map(Dual64::from_re),
        inertia: m.inertia.map(|t| t.map(Dual64::from_re)),
        estimated: m.estimated,
    };
    let part = Load {
        name: "cell".into(),
        mass: Dual64::from_re(40.0),
        place: Vector3::new(Dual64::from_re(-2.0), Dual64::from_re(0.0), Dual64::new(0.3, 1.0)),
        own: OwnInertia::Point,
    };
    let after = lift(&base()).after(&Entry::In(part)).unwrap();
    assert!((after.centre.z.eps - 40.0 / 1040.0).abs() < 1e-15);
    // I_xx = .. + mu d_z^2 with the reduced mass: derivative 2 mu d_z.
    let expected = 2.0 * (40.0 * 1000.0 / 1040.0) * (0.3 - 0.5);
    assert!((after.principal().unwrap().x.eps - expected).abs() < 1e-9);
}
