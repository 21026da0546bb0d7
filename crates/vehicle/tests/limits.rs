//! The limits of a car against closed forms, against the platform itself, and against what must hold for any car.

#![expect(clippy::expect_used, reason = "a fixture that cannot be made ends the test")]

mod common;

use common::{demo, tyres};
use suspension::Corner;
use vehicle::GRAVITY;
use vehicle::aero::Aero;
use vehicle::brake::Effort;
use vehicle::limits::{Detail, Driver, Edge, Held, LimitCar, Limits, Surface};
use vehicle::platform::{Car, Demand, Platform};
use vehicle::power::Power;
use vehicle::tyre::{SimpleTyre, Tyre};

const SPEEDS: [f64; 4] = [8.0, 20.0, 35.0, 55.0];

fn surface(car: LimitCar<'_>) -> Surface {
    Surface::new(car, &[1.0], 1).expect("limits")
}

/// A tyre whose friction does not know the load and whose slip angle is nothing: the car of the textbooks.
fn plain(mu: f64) -> Tyre {
    Tyre::Simple(SimpleTyre {
        friction_x: mu,
        friction_y: mu,
        load_sensitivity: 0.0,
        cornering_stiffness: 70e5,
        slip_stiffness: 90e5,
        ..tyres::simple()
    })
}

fn textbook<'c>(corners: &'c [Corner<f64>; 2], tyre: &'c Tyre, power: &'c Power) -> LimitCar<'c> {
    let car = demo::limit_car(corners, tyre, power);
    LimitCar { car: Car { air: None, ..car.car }, rolling: 0.0, ..car }
}

/// With friction that does not know the load every axle slides at `mu g`, wherever the load stands (any textbook): on the
/// skid pad the car makes `mu g`. Driven by the rear it makes `mu g (a/L)/(1 - mu h/L)`, braked with a front share p it is
/// ended by the axle with `z = (b/L)/(p/mu - h/L)` or `(a/L)/((1 - p)/mu + h/L)` (T. Gillespie (1992), ch. 2 and 3,
/// remembered).
#[test]
fn textbook_limits() {
    let mu = 0.8;
    let tyre = plain(mu);
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let power = demo::power();
        let car = textbook(&corners, &tyre, &power);
        let mut platform = Platform::new(car.car.clone()).expect("a car");
        let loads = platform.solve(&Demand::default()).expect("rest").wheels.map(|w| w.load);
        let weight: f64 = loads.iter().sum();
        let edge = Edge::new(car, 40.0, Detail::Fine, 1).expect("a car");
        let across = edge.across(20.0, 1.0);
        assert!((across / (mu * GRAVITY) - 1.0).abs() < 4e-3, "{name} {across}");
        // The platform's own transfer per g, for the height of the centre of gravity changes with the attitude.
        let share = |along: f64| {
            let demand = Demand { along, ..Demand::default() };
            let w = platform.clone().solve(&demand).expect("a state").wheels;
            (w[2].load + w[3].load) / weight
        };
        let traction = edge.traction(20.0, 0.0, 1.0);
        assert!((traction / GRAVITY / (mu * share(traction)) - 1.0).abs() < 3e-3, "{name} {traction}");
        let (braking, _) = edge.braking(20.0, 0.0, 1.0);
        let (z, rear) = (-braking / GRAVITY, share(braking));
        let use_of = [0.64 * z / (1.0 - rear), 0.36 * z / rear];
        let most = use_of[0].max(use_of[1]);
        assert!((most / mu - 1.0).abs() < 3e-3, "{name} {braking} {use_of:?}");
    }
}

/// At the limits found, the platform solved there gives the same loads (own): the grid between them costs less than 2 % of
/// the weight where a stop is met between two nodes, and the table over it less than 0.01 g but for a few kinks.
#[test]
fn the_table_is_near_the_platform() {
    let power = demo::power();
    for (name, tyre) in [("plover", Tyre::Simple(tyres::simple())), ("wren", tyres::magic())] {
        let corners = demo::corners(name);
        let car = demo::limit_car(&corners, &tyre, &power);
        let table = surface(car.clone());
        let edge = Edge::new(car.clone(), table.fastest(), Detail::Fine, 1).expect("a car");
        let mut platform = Platform::new(car.car.clone()).expect("a car");
        let weight = platform.weight();
        let mut seen = 0;
        for speed in SPEEDS {
            let most = edge.across(speed, 1.0);
            assert!((table.across(speed, 1.0) / most - 1.0).abs() < 5e-3, "{name} {speed}");
            for share in [0.0, 0.35, 0.6, 0.85, 1.0] {
                let across = most * share;
                for (limit, found) in [
                    (edge.traction(speed, across, 1.0), table.traction(speed, across, 1.0)),
                    (edge.braking(speed, across, 1.0).0, table.braking(speed, across, 1.0)),
                    (edge.coast(speed, across, 1.0).expect("coasts"), table.coast(speed, across, 1.0)),
                ] {
                    let gap = (limit - found).abs();
                    // Where the inner wheel begins to slide the braking has a kink, which the table rounds.
                    assert!(gap < 0.09 * GRAVITY, "{name} {speed} {share}: {limit} {found}");
                    seen += usize::from(gap < 0.01 * GRAVITY);
                    let look = edge.look(speed, limit, across, 1.0).expect("a state");
                    platform.share_brakes(0.64);
                    let state = platform.solve_lifting(&Demand { speed, along: limit, across, rack: 0.0 });
                    let Ok(state) = state else { continue };
                    for (a, b) in look.loads.iter().zip(state.wheels) {
                        assert!((a - b.load).abs() < 0.02 * weight, "{name} {speed} {share}: {a} {}", b.load);
                    }
                }
            }
        }
        assert!(seen >= 54, "{name}: {seen} of 60 within 0.01 g");
    }
}

/// More grip, less mass above the tyres' load, more downforce: more of everything. A wet road: less (invariants).
#[test]
fn what_must_hold_for_any_car() {
    let corners = demo::corners("plover");
    let power = demo::power();
    let tyre = Tyre::Simple(tyres::simple());
    let car = demo::limit_car(&corners, &tyre, &power);
    let table = Surface::new(car.clone(), &[1.0, 0.6], 1).expect("limits");
    let wing = Aero { density: 1.2, drag_area: 0.75, drag_height: 0.5, front_area: 0.8, rear_area: 1.3 };
    let winged = surface(LimitCar { car: Car { air: Some(wing.into()), ..car.car.clone() }, ..car.clone() });
    for speed in SPEEDS {
        assert!(table.across(speed, 0.6) < 0.66 * table.across(speed, 1.0));
        assert!(table.across(speed, 0.8) < table.across(speed, 1.0));
        assert!(winged.across(speed, 1.0) >= table.across(speed, 1.0) - 0.02);
        for across in [0.0, 3.0, 6.0] {
            assert!(table.traction(speed, across, 0.6) < table.traction(speed, across, 1.0));
            assert!(table.braking(speed, across, 0.6) > table.braking(speed, across, 1.0));
            assert!(table.coast(speed, across, 1.0) < 0.0);
        }
    }
    assert!(winged.across(55.0, 1.0) > table.across(55.0, 1.0) + 1.0);
    // The same on two cores.
    let two = Surface::new(car, &[1.0, 0.6], 2).expect("limits");
    for speed in SPEEDS {
        assert_eq!(two.across(speed, 0.8), table.across(speed, 0.8));
        assert_eq!(two.braking(speed, 4.0, 1.0), table.braking(speed, 4.0, 1.0));
    }
}

/// Top speed where the drive is used up: `eta P = (c v^2 + f m g) v` with this car's own drag (any textbook); the platform
/// adds what the attitude does to it, which is nothing here.
#[test]
fn top_speed() {
    let corners = demo::corners("plover");
    // 60 kW over a wide band, so that the engine and not the gears end it.
    let curve = (0..60).map(|i| 150.0 + 12.0 * f64::from(i)).map(|w| (w, 60e3 / w)).collect();
    let power = Power { curve, ..demo::power() };
    let tyre = Tyre::Simple(tyres::simple());
    let car = demo::limit_car(&corners, &tyre, &power);
    let air = car.car.air.expect("air").at_rest;
    let mass = Platform::new(car.car.clone()).expect("a car").weight() / GRAVITY;
    let (down, rolling) = (air.front_area + air.rear_area, car.rolling);
    let left = |v: f64| {
        let q = 0.5 * air.density * v * v;
        0.9 * 60e3 / v - q * air.drag_area - rolling * (mass * GRAVITY + q * down)
    };
    let (mut lo, mut hi) = (10.0, 100.0);
    for _ in 0..60 {
        let mid = 0.5 * (lo + hi);
        if left(mid) > 0.0 { lo = mid } else { hi = mid }
    }
    let top = surface(car).top_speed();
    assert!((top - lo).abs() < 0.25, "{top} {lo}");
}

/// What a driver keeps in hand is there at the limit he sets, and costs braking (own; the rule itself is ours).
#[test]
fn a_driver_keeps_what_he_says() {
    let corners = demo::corners("plover");
    let power = demo::power();
    let tyre = Tyre::Simple(tyres::simple());
    let car = demo::limit_car(&corners, &tyre, &power);
    let bold = Edge::new(car.clone(), 60.0, Detail::Fine, 1).expect("a car");
    let mut ended = [0; 3];
    for (reserve, damping) in [(0.3, 0.0), (0.0, 0.4), (0.25, 0.25)] {
        let driver = Driver { rear_reserve: reserve, yaw_damping: damping };
        let edge = Edge::new(LimitCar { driver: Some(driver), ..car.clone() }, 60.0, Detail::Fine, 1)
            .expect("a car");
        for speed in SPEEDS {
            let most = edge.across(speed, 1.0);
            assert_eq!(most, bold.across(speed, 1.0), "it is about braking alone");
            for share in [0.0, 0.3, 0.6, 0.9] {
                let across = share * most;
                let (braking, held) = edge.braking(speed, across, 1.0);
                let (own, _) = bold.braking(speed, across, 1.0);
                assert!(braking >= own - 1e-3);
                let look = edge.look(speed, braking, across, 1.0).expect("a state");
                let free = edge.look(speed, -0.01, 0.0, 1.0).expect("a state").yaw_damping;
                match held {
                    None => assert!((braking - own).abs() < 1e-3),
                    Some(which) => {
                        ended[if which == Held::RearReserve { 0 } else { 1 }] += 1;
                        let coast = edge.coast(speed, across, 1.0).expect("coasts");
                        // Where even coasting asks for more than he gives, he coasts.
                        if braking < coast - 1e-3 {
                            let kept = [look.rear_reserve, look.yaw_damping / free];
                            let wanted = [reserve, damping];
                            let k = usize::from(which == Held::YawDamping);
                            assert!((kept[k] - wanted[k]).abs() < 0.01, "{kept:?} {wanted:?} {which:?}");
                        } else {
                            ended[2] += 1;
                        }
                    }
                }
            }
        }
    }
    assert!(ended[0] > 4 && ended[1] > 2, "{ended:?}");
}

/// An inner wheel that lifts, springs like stone, no load on an axle: a limit or a plain error, never a number that is none.
#[test]
fn odd_cars() {
    let corners = demo::corners("dunlin");
    let power = demo::power();
    let tyre = Tyre::Simple(SimpleTyre { friction_x: 2.2, friction_y: 2.2, ..tyres::simple() });
    for (height, behind, bar) in [(0.3, -1.2, 0.0), (1.1, -1.3, 2e5), (0.9, -0.4, 9e5), (0.5, -2.3, 0.0)] {
        let mut car = demo::limit_car(&corners, &tyre, &power);
        car.car.sprung_centre.x = behind;
        car.car.sprung_centre.z = height;
        car.brakes = Effort::Share(0.5);
        if let Some((_, rate)) = &mut car.car.axles[0].bar {
            *rate = bar;
        }
        let Ok(table) = Surface::new(car, &[1.0], 1) else { continue };
        for speed in SPEEDS {
            let most = table.across(speed, 1.0);
            assert!(most.is_finite() && most > 0.0);
            for share in [0.0, 0.5, 1.0] {
                let along = [
                    table.traction(speed, share * most, 1.0),
                    table.braking(speed, share * most, 1.0),
                    table.coast(speed, share * most, 1.0),
                ];
                assert!(along.iter().all(|a| a.is_finite() && a.abs() < 60.0), "{height} {speed} {along:?}");
            }
        }
    }
}

/// What a small change does, told by few places, against the limits of the changed car itself (own): a tenth of the change.
#[test]
fn small_changes_by_few_places() {
    let corners = demo::corners("plover");
    let power = demo::power();
    let tyre = Tyre::Simple(tyres::simple());
    let car = demo::limit_car(&corners, &tyre, &power);
    let mut heavier = car.clone();
    heavier.car.sprung *= 1.03;
    heavier.car.sprung_centre.z += 0.02;
    heavier.brakes = Effort::Share(0.66);
    let fine = surface(car.clone());
    let coarse = |car| Surface::of(car, &[1.0], fine.found_to(), Detail::Coarse, 1).expect("limits");
    let guess = fine.changed(&coarse(car), &coarse(heavier.clone()));
    let direct = Surface::of(heavier, &[1.0], fine.found_to(), Detail::Fine, 1).expect("limits");
    for speed in SPEEDS {
        let pair = |of: &dyn Fn(&Surface) -> f64| (of(&guess) - of(&direct)).abs();
        assert!(pair(&|s| s.across(speed, 1.0)) < 0.03);
        for across in [0.0, 3.0, 6.0] {
            assert!(pair(&|s| s.braking(speed, across, 1.0)) < 0.12, "{speed} {across}");
            assert!(pair(&|s| s.traction(speed, across, 1.0)) < 0.06, "{speed} {across}");
            assert!(pair(&|s| s.coast(speed, across, 1.0)) < 0.01, "{speed} {across}");
        }
    }
}
