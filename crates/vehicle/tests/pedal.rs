//! The stop as it unfolds: it settles where the platform stands, keeps its energy, and swings as a quarter car does.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use allocation_counter::measure;
use common::reference::{car, cases, corner, corners, number};
use common::tyres;
use nalgebra::Vector3;
use serde_json::Value;
use suspension::{Mover, TorqueReaction};
use vehicle::AxleEnd;
use vehicle::aero::{Aero, AeroMap};
use vehicle::balance::{RideCorner, quarter_car};
use vehicle::pedal::{
    Damper, HopEnd, HopMargin, MOST_FACTOR, PedalError, Press, RELAXATION, Rolling, Stopper,
};
use vehicle::platform::{Car, Demand, Platform, Stop};
use vehicle::tyre::{SimpleTyre, Tyre};

fn as_drawn(_: &str, p: Vector3<f64>) -> Vector3<f64> {
    p
}

/// Grip enough for the stops below.
fn tyre() -> Tyre {
    Tyre::Simple(SimpleTyre { friction_x: 1.3, friction_y: 1.3, ..tyres::simple() })
}

fn rolling(tyre: &Tyre, spin_inertia: f64) -> Rolling<'_> {
    Rolling {
        tyre,
        spin_inertia,
        relaxation: RELAXATION,
        dampers: vec![Damper { element: 0, bump: 1500.0, rebound: 3000.0 }],
    }
}

fn stopper<'t>(car: &Car<'_>, tyre: &'t Tyre, spin_inertia: f64) -> Stopper<'t> {
    Stopper::new(car, [rolling(tyre, spin_inertia), rolling(tyre, spin_inertia)], 1300.0).expect("a car")
}

fn near(a: f64, b: f64, by: f64, what: &str) {
    assert!((a - b).abs() <= by, "{what}: {a} against {b}");
}

/// Wheels that turn with next to no inertia, so that the brake torque is the road's, as the platform has it (limit,
/// own): loads, attitude and travels are the platform's at the deceleration and the brake share found.
#[test]
fn it_settles_where_the_platform_stands() {
    let tyre = tyre();
    for (n, case) in cases("whole-car").iter().enumerate() {
        let corners = corners(case);
        for braking in [TorqueReaction::Upright, TorqueReaction::Body] {
            let mut car = car(case, &corners);
            for rig in &mut car.axles {
                rig.braking = braking;
                rig.stops.push((0, Stop { gap: 0.02, rate: 40e3, rise: 1e6 }));
            }
            let rest =
                Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.2, rear_area: 0.4 };
            for air in [None, Some(AeroMap { front_per_rise: [-1.0, 0.2], ..AeroMap::from(rest) })] {
                car.air = air;
                let stopper = stopper(&car, &tyre, 1e-6);
                let s = stopper.steady(40.0, [700.0, 400.0]).expect("a steady stop");
                car.brake_front = s.brake[0] / (s.brake[0] + s.brake[1]);
                let mut platform = Platform::new(car.clone()).expect("a car");
                let demand = Demand { speed: 40.0, along: -s.deceleration, ..Demand::default() };
                let stands = platform.solve(&demand).expect("an equilibrium");
                assert!(s.deceleration > 3.0);
                let what = format!("car {n}, {braking:?}");
                near(s.pitch, stands.attitude.pitch, 1e-6, &what);
                for i in 0..2 {
                    near(s.load[i], 2.0 * stands.wheels[2 * i].load, 0.2, &what);
                    near(s.travel[i], stands.wheels[2 * i].travel, 1e-6, &what);
                    near(s.brake[i], -2.0 * stands.wheels[2 * i].along, 0.2, &what);
                }
            }
        }
    }
}

/// The run ends in the steady state of the same torques, with wheels of a real inertia, and keeps its energy: what
/// motion, height and springs lose is what brakes, tyres, dampers and air took (invariant, own).
#[test]
fn a_run_keeps_its_energy_and_comes_to_rest_in_the_steady_state() {
    let tyre = tyre();
    for case in &cases("whole-car") {
        let corners = corners(case);
        for braking in [TorqueReaction::Upright, TorqueReaction::Body] {
            let mut car = car(case, &corners);
            car.axles[1].braking = braking;
            let stopper = stopper(&car, &tyre, 1.1);
            let torque = [700.0, 400.0];
            let press = Press { speed: 50.0, torque, rise_time: 0.1, duration: 4.0 };
            let run = stopper.run(&press).expect("a run");
            assert_eq!(run.samples.len(), 801);
            let last = run.samples.last().expect("samples");
            let steady = stopper.steady(last.speed, torque).expect("a steady stop");
            near(last.load[1], steady.load[1], 5.0, "rear load");
            near(last.pitch, steady.pitch, 2e-5, "pitch");
            near(last.deceleration, steady.deceleration, 5e-3, "deceleration");
            assert!(run.energy_error < 1e-5, "{}", run.energy_error);
            let hop = stopper.hop(30.0, torque).expect("a swing");
            assert!(8.0 < hop.frequency && hop.frequency < 20.0 && hop.damping > 0.1, "{hop:?}");
            let s = run.summary;
            assert!(s.rear_least <= s.rear_final && s.rear_final < s.rear_before);
            assert!(s.settled.is_some_and(|t| 0.05 < t && t < 2.0), "{s:?}");
            assert_eq!((s.locked, s.left_road, s.beyond), ([false; 2], [false; 2], [false; 2]));
        }
    }
}

/// With the body's inertia `m a b` front and rear do not know of each other, and without brakes the rear wheel is a
/// quarter car (T. Gillespie (1992), ch. 5, remembered): mass and tyre by the wheel's real way per travel, spring by
/// its ratio and with what the standing load adds as the geometry changes.
#[test]
fn a_free_wheel_hops_as_a_quarter_car() {
    // A tyre with next to no grip along: its slip would damp the wheel too, as it goes back and forth.
    let Tyre::Simple(simple) = tyre() else { unreachable!("a simple tyre") };
    let tyre = Tyre::Simple(SimpleTyre { slip_stiffness: 1.0, ..simple });
    for case in &cases("whole-car") {
        let corners = corners(case);
        let car = car(case, &corners);
        let mut platform = Platform::new(car.clone()).expect("a car");
        let rest = platform.solve(&Demand::default()).expect("rest");
        let mut mover = Mover::new(&corners[1]);
        let mut at = |t: f64| {
            let m = mover.at(t, 0.0).expect("near ride height");
            (m, mover.ratio(0).expect("a spring"))
        };
        let (m, r) = at(0.0);
        let load = rest.wheels[2].load;
        let bends = (at(1e-4).0.contact_velocity.z - at(-1e-4).0.contact_velocity.z) / 2e-4;
        let front = Mover::new(&corners[0]).at(0.0, 0.0).expect("ride height").contact.x;
        let length = front - m.contact.x;
        let behind = (front - car.sprung_centre.x) / length;
        let quarter = RideCorner {
            spring_rate: car.axles[1].springs[0].1.rate,
            spring_force: rest.wheels[2].carried / r.ratio,
            spring_ratio: r.ratio,
            spring_ratio_rate: r.ratio_rate - load * bends * r.ratio / rest.wheels[2].carried,
            damping: 300.0,
            damper_ratio: r.ratio,
            tyre_rate: car.axles[1].tyre_rate * m.contact_velocity.z.powi(2),
            sprung_mass: car.sprung * behind / 2.0,
            unsprung_mass: car.axles[1].unsprung * m.centre_velocity.norm_squared(),
        };
        let slack = || Rolling {
            dampers: vec![Damper { element: 0, bump: 300.0, rebound: 300.0 }],
            ..rolling(&tyre, 1.1)
        };
        let x = car.sprung_centre.x;
        let inertia = car.sprung * (front - x) * (x - m.contact.x);
        let stopper = Stopper::new(&car, [slack(), slack()], inertia).expect("a car");
        let hop = stopper.hop(30.0, [0.0; 2]).expect("a swing");
        let (_, high) = quarter_car(&quarter).expect("a quarter car");
        near(hop.frequency / high, 1.0, 0.01, "hop");
        near(hop.damping / quarter.ride().expect("a ride").hop_damping, 1.0, 0.1, "damping");
        assert_eq!(hop.change, 0.0);
    }
}

/// What the brakes do to the hop's damping follows the side-view turning, the inverse of the side-view arm, which the
/// front inner ends of two rear links set (own: order and size only).
#[test]
fn hop_knows_the_side_view_arm() {
    let tyre = tyre();
    let case = &cases("whole-car")[0];
    let front = corner(&case["axles"][0], &as_drawn);
    let hops = [-0.06, 0.0, 0.06].map(|raise| {
        let rear = corner(&case["axles"][1], &|name, p| {
            let up = Vector3::new(0.0, 0.0, raise);
            match name {
                "link.a.body" => p - up,
                "link.c.body" => p + up,
                _ => p,
            }
        });
        let arm = Mover::new(&rear).at(0.0, 0.0).expect("ride height").side_view_turning();
        let corners = [front.clone(), rear];
        let hop = stopper(&car(case, &corners), &tyre, 1.1).hop(20.0, [700.0, 400.0]).expect("a swing");
        (arm, hop)
    });
    let turning = hops.map(|h| h.0);
    assert!(turning[0] > turning[1] + 0.5 && turning[1] > turning[2] + 0.5, "{turning:?}");
    let change = hops.map(|h| h.1.change);
    assert!(change[0] > change[1] + 1e-3 && change[1] > change[2] + 1e-3, "{change:?}");
}

/// A damper with so many Ns/m both ways.
fn damped(tyre: &Tyre, damping: f64) -> Rolling<'_> {
    Rolling { dampers: vec![Damper { element: 0, bump: damping, rebound: damping }], ..rolling(tyre, 1.1) }
}

/// At the factor found the hop is undamped or an axle slides, below it neither, and beyond it there is what was said: an
/// unstable motion or none that is steady. Weaker dampers leave less, and grip bounds what they leave (own).
#[test]
fn the_hop_s_margin_ends_where_it_says() {
    let tyre = tyre();
    let (speed, torque) = (25.0, [500.0, 500.0]);
    let mut undamped = 0;
    for case in &cases("whole-car") {
        // Front inner ends that turn the upright as it rises far more than any builder's: brakes that unload the dampers.
        for raise in [0.0, 0.07, 0.1] {
            let front = corner(&case["axles"][0], &as_drawn);
            let rear = corner(&case["axles"][1], &|name, p| match name {
                "link.a.body" => p - Vector3::new(0.0, 0.0, raise),
                "link.c.body" => p + Vector3::new(0.0, 0.0, raise),
                _ => p,
            });
            let corners = [front, rear];
            let car = car(case, &corners);
            let margins = [30.0, 90.0, 1500.0].map(|damping| {
                let rear = damped(&tyre, damping);
                let stopper = Stopper::new(&car, [damped(&tyre, 1500.0), rear], 1300.0).expect("a car");
                let margin = stopper.hop_margin(speed, torque).expect("a margin");
                ends_there(&stopper, speed, torque, &margin);
                margin
            });
            undamped += margins.iter().filter(|m| m.ends == HopEnd::Undamped).count();
            assert!(margins.windows(2).all(|w| w[0].factor <= w[1].factor + 1e-6), "{margins:?}");
        }
    }
    assert!(undamped > 6, "{undamped}");
}

#[track_caller]
fn ends_there(stopper: &Stopper<'_>, speed: f64, torque: [f64; 2], margin: &HopMargin) {
    if margin.factor == 0.0 {
        let free = stopper.hop(speed, [0.0; 2]).expect("a swing");
        return assert!(margin.ends == HopEnd::Undamped && free.damping <= 0.0, "{margin:?}");
    }
    let at = |factor: f64| torque.map(|t| t * margin.factor * factor);
    let below = stopper.steady(speed, at(0.999)).expect("steady below the end");
    assert!(below.load.iter().all(|l| *l > 0.0));
    assert!(margin.damping.is_none_or(|d| d > 0.0), "{margin:?}");
    match margin.ends {
        HopEnd::Undamped => {
            near(stopper.hop(speed, at(1.0)).expect("a swing").damping, 0.0, 1e-6, "damping");
            assert!(stopper.hop(speed, at(1.01)).expect("a swing").damping < 0.0, "{margin:?}");
        }
        HopEnd::Slides(end) => {
            let i = usize::from(end == AxleEnd::Rear);
            let steady = stopper.steady(speed, at(1.0)).expect("steady at the end");
            let (most, _) = tyre().braking_peak(steady.load[i] / 2.0);
            near(steady.brake[i] / 2.0 / most, 1.0, 1e-3, "grip in use");
            assert_eq!(stopper.steady(speed, at(1.01)), Err(PedalError::NotSteady));
        }
        // The shortest arms jack the car up.
        HopEnd::Travel(end) => {
            assert!(end == AxleEnd::Rear && below.travel[1] < -0.05, "{below:?}");
            let over = stopper.steady(speed, at(1.001));
            assert!(over.as_ref().map_or(true, |s| s.travel[1] < below.travel[1]), "{over:?}");
        }
        HopEnd::Lifts(_) | HopEnd::Beyond => unreachable!("{margin:?}"),
    }
}

/// Without brakes there is nothing to raise; a stop that cannot be has its end below one; figures of no stop are told.
#[test]
fn margins_of_odd_stops() {
    let tyre = tyre();
    let case = &cases("whole-car")[0];
    let corners = corners(case);
    let stopper = stopper(&car(case, &corners), &tyre, 1.1);
    let free = stopper.hop_margin(30.0, [0.0; 2]).expect("a margin");
    assert_eq!((free.factor, free.ends), (MOST_FACTOR, HopEnd::Beyond));
    let hard = stopper.hop_margin(30.0, [800.0, 2400.0]).expect("a margin");
    assert!(hard.factor < 1.0 && hard.ends == HopEnd::Slides(AxleEnd::Rear), "{hard:?}");
    let front = stopper.hop_margin(30.0, [2400.0, 100.0]).expect("a margin");
    assert!(front.factor < 1.0 && front.ends == HopEnd::Slides(AxleEnd::Front), "{front:?}");
    let twice = stopper.hop_margin(30.0, [400.0, 1200.0]).expect("a margin");
    near(twice.factor, 2.0 * hard.factor, 1e-5, "half the torque, twice the factor");
    assert!(stopper.hop_margin(30.0, [-1.0, 0.0]).is_err());
    assert!(stopper.hop_margin(f64::NAN, [500.0; 2]).is_err());
}

#[test]
fn stops_that_cannot_be_are_told() {
    let tyre = tyre();
    let case = &cases("whole-car")[0];
    let corners = corners(case);
    let car = car(case, &corners);
    let good = stopper(&car, &tyre, 1.1);
    let press = Press { speed: 40.0, torque: [900.0, 500.0], rise_time: 0.1, duration: 1.0 };
    for wrong in [
        Press { speed: f64::NAN, ..press },
        Press { speed: 1.0, ..press },
        Press { torque: [-1.0, 0.0], ..press },
        Press { rise_time: f64::INFINITY, ..press },
        Press { duration: 1e9, ..press },
    ] {
        assert!(good.run(&wrong).is_err(), "{wrong:?}");
    }
    assert_eq!(good.steady(40.0, [6000.0, 5000.0]), Err(PedalError::NotSteady));
    let locks = good.run(&Press { torque: [900.0, 3000.0], ..press }).expect("a run");
    assert_eq!(locks.summary.locked, [false, true]);
    assert!(locks.energy_error < 1e-4, "{}", locks.energy_error);
    // At once is as good as in a moment.
    let at_once = good.run(&Press { rise_time: 0.0, ..press }).expect("a run");
    assert!(at_once.summary.rear_least < good.run(&press).expect("a run").summary.rear_least);
    let broken = |change: &dyn Fn(&mut Rolling<'_>)| {
        let mut rear = rolling(&tyre, 1.1);
        change(&mut rear);
        Stopper::new(&car, [rolling(&tyre, 1.1), rear], 1300.0).err().map(|e| e.to_string()).expect("refused")
    };
    assert!(broken(&|r| r.spin_inertia = 0.0).contains("spin inertia"));
    assert!(broken(&|r| r.dampers[0].element = 7).contains("no element 7"));
    assert!(broken(&|r| r.dampers[0].bump = -1.0).contains("bump"));
}

/// A step allocates nothing: a run has its samples, and no more for a longer one.
#[test]
fn a_run_allocates_its_samples_alone() {
    let tyre = tyre();
    let case = &cases("whole-car")[0];
    let corners = corners(case);
    let stopper = stopper(&car(case, &corners), &tyre, 1.1);
    for duration in [0.5, 3.0] {
        let press = Press { speed: 40.0, torque: [700.0, 400.0], rise_time: 0.1, duration };
        let mut steps = 0;
        let used = measure(|| steps = stopper.run(&press).map_or(0, |run| run.steps));
        assert!(steps > 20);
        assert_eq!(used.count_total, 1, "{duration} s, {steps} steps");
    }
}

/// SciPy's `solve_ivp` on equations written anew in the road's axes (`reference/pedal_step.py`): each figure to
/// 0.05 % of its greatest (0.5 % is asked; 0.01 % is found, the most by a travel).
#[test]
fn a_stop_is_the_one_that_scipy_integrates() {
    let path = format!("{}/../../reference/data/pedal-step.json", env!("CARGO_MANIFEST_DIR"));
    let data: Value = serde_json::from_str(&std::fs::read_to_string(path).expect("the data")).expect("JSON");
    let (tyre, cases) = (tyre(), cases("whole-car"));
    let runs = data["runs"].as_array().expect("runs");
    assert_eq!(runs.len(), 3);
    for run in runs {
        let case = &cases[run["car"].as_u64().expect("a car") as usize];
        let corners = corners(case);
        let figures = &data["figures"];
        let stopper = stopper(&car(case, &corners), &tyre, number(&figures["spin_inertia"]));
        let torque = [0, 1].map(|i: usize| number(&figures["torque"][i]));
        let press = Press {
            speed: number(&figures["speed"]),
            torque,
            rise_time: number(&figures["rise_time"]),
            duration: 0.8,
        };
        let own = stopper.run(&press).expect("a run");
        let rows = run["samples"].as_array().expect("samples");
        let greatest = |column: usize| rows.iter().map(|r| number(&r[column]).abs()).fold(0.0, f64::max);
        let limits: Vec<f64> = (0..7).map(|c| 0.0005 * greatest(c)).collect();
        for row in rows {
            let s = &own.samples[(number(&row[0]) / 0.005).round() as usize];
            let figures = [s.time, s.load[0], s.load[1], s.pitch, s.travel[0], s.travel[1], s.speed];
            for (c, figure) in figures.into_iter().enumerate() {
                near(figure, number(&row[c]), limits[c], &format!("column {c} at {} s", s.time));
            }
        }
    }
}
