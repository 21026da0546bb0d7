use super::*;
use crate::brake::foundation::{Foundation, WheelBrake};
use crate::brake::hydraulics::{Split, Valve};

const FOOT: f64 = 0.3048;

/// Car of UN R13-H's formulas: 15 000 N, 9000 N in front, h 0.5 m, E 2.5 m.
fn car() -> StoppingCar {
    StoppingCar {
        mass: 15_000.0 / GRAVITY,
        wheelbase: 2.5,
        cg_behind_front: 1.0,
        cg_height: 0.5,
        aero: Aero::NONE,
    }
}

fn lock(car: &StoppingCar, mu: f64, share: f64) -> Limit {
    car.first_lock(30.0, &Grip::Constant { front: mu, rear: mu }, &Effort::Share(share)).unwrap()
}

/// Formulas f1, f2 of UN R13-H annex 5 (wording of 71/320/EEC read); figures worked out independently for a front
/// share of 0.7: equal use at z = 0.5.
#[test]
fn utilisation_of_the_regulation() {
    for (z, f1, f2) in [
        (0.2, 0.21875, 0.16667),
        (0.4, 0.41176, 0.37500),
        (0.6, 0.58333, 0.64286),
        (0.8, 0.73684, 1.0),
        (1.0, 0.875, 1.5),
    ] {
        let u = car().utilisation(0.0, z * GRAVITY, &Effort::Share(0.7)).unwrap();
        assert!((u.front - f1).abs() < 5e-6 && (u.rear - f2).abs() < 5e-6, "{z}: {u:?}");
    }
}

/// Closed forms for first lock, `z = mu (P1/P)/(x_f - mu h/E)` and `mu (P2/P)/((1 - x_f) + mu h/E)`; figures worked out
/// independently.
#[test]
fn first_lock_with_fixed_share() {
    let front = Some(AxleEnd::Front);
    let rear = Some(AxleEnd::Rear);
    for (mu, z, first) in [(0.2, 0.18182, front), (0.5, 0.5, None), (0.8, 0.69565, rear), (1.0, 0.8, rear)] {
        let l = lock(&car(), mu, 0.7);
        assert!((l.deceleration / GRAVITY - z).abs() < 5e-6, "{mu}: {}", l.deceleration / GRAVITY);
        assert_eq!(l.first, first, "{mu}");
        assert!(l.locks);
    }
}

/// T. Bevan, The Theory of Machines, ch. 8, example 6, p. 264 (read in an open notebook): wheelbase 9.5 ft, centre of
/// gravity 2 ft high and 4 ft before the rear axle. Decelerations over g = 32.2 ft/s^2; stopping distances from 30 mph.
/// The front and rear cases brake one axle only; "all wheels" reaches mu g.
#[test]
fn one_axle_or_all() {
    let bevan = StoppingCar {
        mass: 1000.0,
        wheelbase: 9.5 * FOOT,
        cg_behind_front: 5.5 * FOOT,
        cg_height: 2.0 * FOOT,
        aero: Aero::NONE,
    };
    let v = 44.0;
    for (mu, rear, front, all) in [
        (0.1, (1.82577, 530.0), (1.38495, 699.0), (3.22, 301.0)),
        (0.6, (9.93084, 97.5), (9.31084, 104.0), (19.32, 50.1)),
    ] {
        let ideal = bevan.ideal_share(0.0, mu * GRAVITY);
        for (share, (a, distance)) in [(0.0, rear), (1.0, front), (ideal, all)] {
            let found = lock(&bevan, mu, share).deceleration / GRAVITY * 32.2;
            assert!((found - a).abs() < 1e-5 * 10.0, "{mu} {share}: {found} {a}");
            // Printed to three figures.
            assert!((v * v / (2.0 * found) / distance - 1.0).abs() < 2e-3);
        }
        // Normal forces front over rear with all wheels braked: 0.792 and 1.21.
        let l = bevan.loads(0.0, mu * GRAVITY);
        let printed = if mu < 0.5 { 0.792 } else { 1.21 };
        assert!((l.front / l.rear - printed).abs() < 0.004, "{}", l.front / l.rear);
    }
}

/// Ideal split with rear share 0.4 and h/L 0.2 (R. Limpert's formulas, remembered; figures worked out independently).
#[test]
fn ideal_split() {
    for (z, front, rear) in [(0.2, 0.128, 0.072), (0.6, 0.432, 0.168), (1.0, 0.8, 0.2)] {
        let share = car().ideal_share(0.0, z * GRAVITY);
        assert!((share * z - front).abs() < 1e-12 && ((1.0 - share) * z - rear).abs() < 1e-12);
    }
}

/// T. Gillespie (1992), ch. 3, example 2 (remembered): axles 2210 and 1864 lb, L 108.5 in, h 20.5 in, gains 20 and 14
/// in-lb/psi, radius 12.11 in, valve 290 psi / 0.3. Deceleration [g] and use of grip at each pressure. The book rounds
/// the rear pressure: third digits differ by up to 0.002.
#[test]
fn utilisation_behind_a_valve() {
    let (pound, inch) = (4.448_221_615_260_5, 0.0254);
    let psi = pound / inch / inch;
    let w = (2210.0 + 1864.0) * pound;
    let car = StoppingCar {
        mass: w / GRAVITY,
        wheelbase: 108.5 * inch,
        cg_behind_front: 108.5 * inch * 1864.0 / (2210.0 + 1864.0),
        cg_height: 20.5 * inch,
        aero: Aero::NONE,
    };
    let gain = |g: f64| WheelBrake {
        foundation: Foundation::Gain(g * inch * pound / psi),
        threshold: 0.0,
        loaded_radius: 12.11 * inch,
    };
    // Rod force of one newton a pascal: the pedal force is the pressure, scaled to stay below the greatest pedal.
    let system = System {
        pedal_ratio: 1.0,
        efficiency: 1.0,
        master_front: 1e-4,
        master_rear: 1e-4,
        split: Split::Tandem,
        front: gain(20.0),
        rear: gain(14.0),
        valve: Some(Valve { knee: 290.0 * psi, slope: 0.3 }),
    };
    let effort = Effort::Pedal(&system, [300.0; 2]);
    for (pressure, z, mu_f, mu_r, efficiency) in [
        (100.0, 0.138, 0.143, 0.132, 96.6),
        (200.0, 0.276, 0.273, 0.280, 98.5),
        (300.0, 0.410, 0.392, 0.437, 93.6),
        (400.0, 0.508, 0.508, 0.507, 99.9),
        (500.0, 0.606, 0.617, 0.584, 98.2),
        (600.0, 0.704, 0.720, 0.670, 97.7),
        (700.0, 0.802, 0.818, 0.766, 98.1),
    ] {
        let (f, r) = effort.forces(pressure * psi * 1e-4);
        let a = car.deceleration(0.0, f, r);
        let u = car.utilisation(0.0, a, &effort).unwrap();
        assert!((a / GRAVITY - z).abs() < 0.0015, "{pressure}: {}", a / GRAVITY);
        assert!((u.front - mu_f).abs() < 0.0021 && (u.rear - mu_r).abs() < 0.0021, "{pressure}: {u:?}");
        assert!((100.0 * a / GRAVITY / u.front.max(u.rear) - efficiency).abs() < 0.35);
    }
}

/// Force and moment balance with air (invariant): loads sum to weight and downforce, moments about the rear contact
/// vanish.
#[test]
fn balance_with_air() {
    let aero = Aero { density: 1.2, drag_area: 0.9, drag_height: 0.6, front_area: 0.5, rear_area: 0.9 };
    let car = StoppingCar { aero, ..car() };
    let (v, a) = (60.0, 12.0);
    let l = car.loads(v, a);
    let air = aero.forces(v);
    let w = car.mass * GRAVITY;
    assert!((l.front + l.rear - w - air.front - air.rear).abs() < 1e-9);
    let moment = l.front * 2.5 - w * 1.5 - air.front * 2.5 - car.mass * a * 0.5 + air.drag * 0.6;
    assert!(moment.abs() < 1e-8);
    // More speed, more downforce, more deceleration before lock.
    let grip = Grip::Constant { front: 1.1, rear: 1.1 };
    let at = |v| car.first_lock(v, &grip, &Effort::Share(0.6)).unwrap().deceleration;
    assert!(at(60.0) > at(30.0) && at(30.0) > at(0.0));
}

/// The lock found is a lock: the first axle uses its grip wholly, the other does not (own), also where friction falls
/// with load.
#[test]
fn tyres_that_feel_load() {
    let tyre =
        Tyre::Simple(crate::tyre::SimpleTyre { load_sensitivity: 0.2, ..crate::common::tyres::simple() });
    let grip = Grip::Tyres { front: &tyre, rear: &tyre };
    for share in [0.5, 0.65, 0.8] {
        let l = car().first_lock(40.0, &grip, &Effort::Share(share)).unwrap();
        let u = l.use_of_grip;
        assert!((u.front.max(u.rear) - 1.0).abs() < 1e-9 && u.front.min(u.rear) < 1.0);
        assert!((l.deceleration * car().mass - l.front_force - l.rear_force).abs() < 1e-6);
    }
}

#[test]
fn absurd_cars_are_refused() {
    let bad = StoppingCar { mass: -1.0, ..car() };
    assert!(bad.first_lock(10.0, &Grip::Constant { front: 1.0, rear: 1.0 }, &Effort::Share(0.5)).is_err());
    assert!(car().first_lock(1e6, &Grip::Constant { front: 1.0, rear: 1.0 }, &Effort::Share(0.5)).is_err());
    assert!(car().first_lock(10.0, &Grip::Constant { front: 1.0, rear: 1.0 }, &Effort::Share(1.5)).is_err());
}
