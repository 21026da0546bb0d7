use super::*;
use crate::mass::{Held, Input};

fn car(lift: Lift<f64>, reading: RaisedReading<f64>) -> Raised<f64> {
    Raised {
        front_mass: 520.0,
        rear_mass: 480.0,
        wheelbase: 2.5,
        front_radius: 0.30,
        rear_radius: 0.30,
        end: AxleEnd::Rear,
        lift,
        reading,
        held: Held::None,
        squash: Squash::Rigid,
        springing: Springing::Locked,
    }
}

/// Worked out independently: 1000 kg, 2.5 m, 520 kg in front, radius 0.30 m, rear raised 0.5 m, height 0.48 m give
/// 534.696 938 456 7 kg in front. The formula with cot was read in two open texts on weighing cars.
#[test]
fn locked_suspension_equal_radii() {
    let t = car(Lift::Hubs(0.5), RaisedReading::Low(534.696_938_456_7)).solve().unwrap();
    assert!((t.height - 0.48).abs() < 1e-11, "{}", t.height);
    let t = car(Lift::Hubs(0.5), RaisedReading::Raised(1000.0 - 534.696_938_456_7)).solve().unwrap();
    assert!((t.height - 0.48).abs() < 1e-11);
}

/// R. N. Jazar, Vehicle Dynamics: Theory and Application, example 43, p. 44 (read). Its formula is right, its figures
/// are not: the printed 18 000 N on the front wheels gives 1.876 m, not the printed 0.34 m; 10 433.5 N gives 0.34 m
/// (worked out independently, g = 9.81). Both are checked, so that nobody "repairs" the code to the misprint.
#[test]
fn a_published_example_with_wrong_figures() {
    let (mass, a, l, g) = (2000.0, 1.10, 2.30, 9.81);
    let jazar = |front_force: f64| Raised {
        front_mass: mass * (l - a) / l,
        rear_mass: mass * a / l,
        wheelbase: l,
        ..car(Lift::Angle(30f64.to_radians()), RaisedReading::Low(front_force / g))
    };
    assert!((jazar(18_000.0).solve().unwrap().height - 1.876).abs() < 5e-4);
    assert!((jazar(10_433.524).solve().unwrap().height - 0.340).abs() < 1e-6);
}

/// A forward model by plain rigid-body geometry, written apart from the formula (own): rotate every point, take
/// moments about the low wheel centre, let springs and tyres give, and find what the scales would show.
#[expect(clippy::too_many_arguments, reason = "a test's own model")]
fn scales_of_tilted_car(
    tilt: f64,
    l: f64,
    radii: [f64; 2],
    masses: [f64; 3],
    h_sprung: f64,
    x_sprung: f64,
    rates: [f64; 2],
    tyres: [f64; 2],
    level: [f64; 2],
) -> (f64, f64, f64) {
    // masses: sprung, unsprung low, unsprung raised. Index 0 low, 1 raised.
    let total: f64 = masses.iter().sum();
    let mut now = level;
    let (mut pads, mut hubs) = (0.0, 0.0);
    for _ in 0..200 {
        let c = [0, 1].map(|i| {
            ((now[i] - masses[i + 1]) * tilt.cos() - (level[i] - masses[i + 1])) * GRAVITY / rates[i]
        });
        let turn = |x: f64, z: f64| (x * tilt.cos() - z * tilt.sin(), x * tilt.sin() + z * tilt.cos());
        let low = turn(0.0, radii[0] + c[0]);
        let raised = turn(l, radii[1] + c[1]);
        let sprung = turn(x_sprung, h_sprung);
        let moment = masses[0] * (sprung.0 - low.0) + masses[2] * (raised.0 - low.0);
        now[1] = moment / (raised.0 - low.0);
        now[0] = total - now[1];
        let squash = [0, 1].map(|i| (now[i] - level[i]) * GRAVITY / (2.0 * tyres[i]));
        pads = (raised.1 - (radii[1] - squash[1])) - (low.1 - (radii[0] - squash[0]));
        hubs = raised.1 - low.1 + (radii[0] - squash[0]) - radii[1];
    }
    (now[0], pads, hubs)
}

#[test]
fn free_springs_soft_tyres_unequal_radii_either_end() {
    // Front low (rear raised), then rear low: index 0 is the low axle.
    let (l, radii, masses, hs, xs) = (2.6, [0.29, 0.32], [1000.0, 70.0, 90.0], 0.55, 1.2);
    let (rates, tyres) = ([60_000.0, 45_000.0], [220_000.0, 250_000.0]);
    let total: f64 = masses.iter().sum();
    let raised_level = (masses[0] * xs + masses[2] * l) / l;
    let level = [total - raised_level, raised_level];
    let h = (masses[0] * hs + masses[1] * radii[0] + masses[2] * radii[1]) / total;
    let (low, pads, hubs) = scales_of_tilted_car(0.22, l, radii, masses, hs, xs, rates, tyres, level);
    for end in [AxleEnd::Rear, AxleEnd::Front] {
        let pick = |v: [f64; 2]| if end == AxleEnd::Rear { (v[0], v[1]) } else { (v[1], v[0]) };
        let (front_rate, rear_rate) = pick(rates);
        let (front_unsprung, rear_unsprung) = pick([masses[1], masses[2]]);
        let (tyre_f, tyre_r) = pick(tyres);
        let r = Raised {
            front_mass: pick(level).0,
            rear_mass: pick(level).1,
            wheelbase: l,
            front_radius: pick(radii).0,
            rear_radius: pick(radii).1,
            end,
            lift: Lift::Pads(pads),
            reading: RaisedReading::Both { low, raised: total - low },
            held: Held::OneAxle,
            squash: Squash::Rates { front: tyre_f, rear: tyre_r },
            springing: Springing::Free { front_rate, rear_rate, front_unsprung, rear_unsprung },
        };
        let t = r.solve().unwrap();
        assert!((t.tilt - 0.22).abs() < 1e-10, "{}", t.tilt);
        assert!((t.height - h).abs() < 1e-9, "{} {h}", t.height);
        for lift in [Lift::Angle(0.22), Lift::Hubs(hubs)] {
            let other = Raised { lift, ..r }.solve().unwrap();
            assert!((other.height - h).abs() < 1e-9, "{lift:?} {}", other.height);
        }
        // The corrections matter: without them the height is off by millimetres to centimetres.
        let plain = Raised { squash: Squash::Rigid, springing: Springing::Locked, ..r }.solve().unwrap();
        assert!((plain.height - h).abs() > 0.002, "{}", plain.height - h);
    }
}

/// Very stiff springs and tyres are locked and rigid ones (limit, own).
#[test]
fn stiff_springs_are_locked_ones() {
    let locked = car(Lift::Pads(0.5), RaisedReading::Low(534.7));
    let stiff = Raised {
        squash: Squash::Rates { front: 1e12, rear: 1e12 },
        springing: Springing::Free {
            front_rate: 1e12,
            rear_rate: 1e12,
            front_unsprung: 60.0,
            rear_unsprung: 70.0,
        },
        ..locked
    };
    assert!((locked.solve().unwrap().height - stiff.solve().unwrap().height).abs() < 1e-6);
}

#[test]
fn derivatives_are_those_of_differences() {
    let base = Raised {
        squash: Squash::Rates { front: 200_000.0, rear: 210_000.0 },
        springing: Springing::Free {
            front_rate: 50_000.0,
            rear_rate: 40_000.0,
            front_unsprung: 60.0,
            rear_unsprung: 70.0,
        },
        rear_radius: 0.31,
        ..car(Lift::Pads(0.5), RaisedReading::Low(531.0))
    };
    let d = 1e-5;
    let check = |by: Input, change: &dyn Fn(&mut Raised<f64>, f64)| {
        let exact = base.seeded(by).solve().unwrap().height.eps;
        let at = |d: f64| {
            let mut r = base;
            change(&mut r, d);
            r.solve().unwrap().height
        };
        let difference = (at(d) - at(-d)) / (2.0 * d);
        assert!((exact - difference).abs() < 1e-6 * (1.0 + exact.abs()), "{by:?}: {exact} {difference}");
    };
    check(Input::FrontLeft, &|r, d| r.front_mass += d);
    check(Input::RearLeft, &|r, d| r.rear_mass += d);
    check(Input::Wheelbase, &|r, d| r.wheelbase += d);
    check(Input::FrontRadius, &|r, d| r.front_radius += d);
    check(Input::RearRadius, &|r, d| r.rear_radius += d);
    check(Input::Lift, &|r, d| r.lift = Lift::Pads(0.5 + d));
    check(Input::RearUnsprung, &|r, d| {
        if let Springing::Free { rear_unsprung, .. } = &mut r.springing {
            *rear_unsprung += d;
        }
    });
    check(Input::LowReading, &|r, d| r.reading = RaisedReading::Low(531.0 + d));
}

#[test]
fn what_cannot_be_known_is_refused() {
    let low = RaisedReading::Low(534.7);
    assert!(matches!(car(Lift::Angle(0.001), low).solve(), Err(VehicleError::NoLift { .. })));
    assert!(matches!(car(Lift::Pads(0.0), low).solve(), Err(VehicleError::NoLift { .. })));
    assert!(matches!(car(Lift::Pads(2.6), low).solve(), Err(VehicleError::NoTilt { .. })));
    let held = Raised { held: Held::All, ..car(Lift::Pads(0.5), low) };
    assert_eq!(held.solve(), Err(VehicleError::AllWheelsHeld));
    let both = RaisedReading::Both { low: 534.0, raised: 300.0 };
    assert!(matches!(car(Lift::Pads(0.5), both).solve(), Err(VehicleError::ScalesDisagree { .. })));
    let r = Raised { front_mass: -1.0, ..car(Lift::Pads(0.5), low) };
    assert!(matches!(r.solve(), Err(VehicleError::NotPositive { name: "front axle mass", .. })));
}

/// The first-order ± against 20 000 drawings (JCGM 101:2008, remembered; own): the height is the least sure figure of a
/// car, 12 mm here for careful readings.
#[test]
fn uncertainty_against_drawings() {
    let base = car(Lift::Pads(0.5), RaisedReading::Low(534.7));
    let readings = [
        (Input::FrontLeft, 0.5),
        (Input::FrontRight, 0.5),
        (Input::RearLeft, 0.5),
        (Input::RearRight, 0.5),
        (Input::Wheelbase, 0.003),
        (Input::FrontRadius, 0.002),
        (Input::RearRadius, 0.002),
        (Input::Lift, 0.002),
        (Input::LowReading, 0.7),
    ];
    let first_order = base.contributions(&readings).unwrap().iter().map(|(_, c)| c * c).sum::<f64>().sqrt();

    let mut state = 7u64;
    let mut normal = || {
        // Twelve even numbers less six: close enough to normal here.
        (0..12).fold(-6.0, |sum, _| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            sum + (state >> 11) as f64 / (1u64 << 53) as f64
        })
    };
    let (mut sum, mut squares) = (0.0, 0.0);
    const DRAWINGS: u32 = 20_000;
    for _ in 0..DRAWINGS {
        let mut d = readings.map(|(_, u)| u * normal()).into_iter();
        let mut next = || d.next().unwrap();
        let drawn = Raised {
            front_mass: base.front_mass + next() + next(),
            rear_mass: base.rear_mass + next() + next(),
            wheelbase: base.wheelbase + next(),
            front_radius: base.front_radius + next(),
            rear_radius: base.rear_radius + next(),
            lift: Lift::Pads(0.5 + next()),
            reading: RaisedReading::Low(534.7 + next()),
            ..base
        };
        let h = drawn.solve().unwrap().height - 0.48;
        sum += h;
        squares += h * h;
    }
    let n = f64::from(DRAWINGS);
    let drawn = (squares / n - (sum / n).powi(2)).sqrt();
    // Two hundredths: three times the scatter of a standard deviation from so many drawings.
    assert!((drawn / first_order - 1.0).abs() < 0.02, "{drawn} {first_order}");
    assert!((first_order - 0.0124).abs() < 1e-4, "{first_order}");
}
