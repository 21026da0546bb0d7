//! The car in motion: it settles where the platform stands, stops as the model in the plane of pitch does, turns as a car
//! on two wheels does, and keeps its energy.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use common::{demo, tyres};
use suspension::{Corner, TorqueReaction};
use vehicle::aero::Aero;
use vehicle::balance::SingleTrack;
use vehicle::motion::{
    BrakingInTurn, Demand, Limit, Manoeuvre, MotionError, Rolling, Run, Runner, Sample, SteadyTurn, Steer,
    StepSteer, StraightStop, Summary,
};
use vehicle::pedal::{Damper, Press, Stopper};
use vehicle::platform::{self, Car, Platform};
use vehicle::tyre::{SimpleTyre, Tyre};
use vehicle::{GRAVITY, pedal};

/// Inertia of the body of the demo cars [kg m^2].
const INERTIA: [f64; 3] = [420.0, 1300.0, 1500.0];
const STEER: Steer = Steer { most_rack: 0.04 };

fn simple() -> SimpleTyre {
    SimpleTyre { friction_x: 1.3, friction_y: 1.3, ..tyres::simple() }
}

fn car(corners: &[Corner<f64>; 2]) -> Car<'_> {
    let air = Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.2, rear_area: 0.4 };
    let mut car = Car { air: Some(air.into()), ..demo::car(corners) };
    for axle in &mut car.axles {
        let spring = axle.springs[0].0;
        axle.stops = vec![
            (spring, platform::Stop { gap: 0.03, rate: 120e3, rise: 2e6 }),
            (spring, platform::Stop { gap: -0.06, rate: 300e3, rise: 0.0 }),
        ];
    }
    car
}

fn rolling<'t>(corners: &[Corner<f64>; 2], tyre: &'t Tyre) -> [Rolling<'t>; 2] {
    [0, 1].map(|i: usize| Rolling { along: demo::rolling(&corners[i], tyre), across: 0.45 })
}

fn runner<'c, 't>(corners: &'c [Corner<f64>; 2], tyre: &'t Tyre) -> Runner<'c, 't> {
    Runner::new(&car(corners), rolling(corners, tyre), INERTIA, STEER).expect("a car")
}

const STOP: Manoeuvre =
    Manoeuvre::StraightStop(StraightStop { speed: 40.0, deceleration: 8.0, rise_time: 0.1 });
const STEP: Manoeuvre = Manoeuvre::StepSteer(StepSteer { speed: 30.0, across: 4.0, rise_time: 0.15 });
const BRAKED: Manoeuvre =
    Manoeuvre::BrakingInTurn(BrakingInTurn { speed: 25.0, across: 4.0, deceleration: 3.0, rise_time: 0.2 });

fn go(runner: &mut Runner<'_, '_>, manoeuvre: &Manoeuvre, time: f64) -> Run {
    runner.run(manoeuvre, time, 0.01).unwrap_or_else(|e| unreachable!("{manoeuvre:?}: {e}"))
}

fn near(a: f64, b: f64, by: f64, what: &str) {
    assert!((a - b).abs() <= by, "{what}: {a} against {b}");
}

/// What motion, height and springs lose is what brakes, tyres, dampers and air took less what engine and steering wheel
/// gave (invariant, own).
#[test]
fn a_run_keeps_its_energy() {
    let tyre = Tyre::Simple(simple());
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let mut runner = runner(&corners, &tyre);
        for m in [STOP, STEP, BRAKED] {
            let run = go(&mut runner, &m, 2.0);
            assert!(run.energy_error < 1e-6, "{name}, {m:?}: {}", run.energy_error);
        }
    }
}

/// The steady turn against the platform at the same lateral acceleration and rack. They differ by what the platform
/// leaves out: it shares an axle's side force by load where the tyres' slip and toe share it, knows no drag of slip
/// angles (the engine holds against it here, and not there), and lets every mass feel the same acceleration. That is of
/// the second order in the angles: loads are asked to a thousandth of the weight at 0.2 g; at 0.8 g the drag alone is a
/// tenth of the side force.
#[test]
fn a_steady_turn_stands_as_the_platform_does() {
    let tyre = Tyre::Simple(simple());
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let mut runner = runner(&corners, &tyre);
        let mut platform = Platform::new(car(&corners)).expect("a car");
        let weight = platform.weight();
        for g in [0.0, 0.2, 0.5, 0.8] {
            let across = g * GRAVITY;
            let s = runner.steady(&Demand { speed: 30.0, across, along: 0.0 }).expect("a turn");
            let demand = platform::Demand { speed: 30.0, across, along: 0.0, rack: s.rack };
            let p = platform.solve(&demand).expect("an equilibrium");
            let (mut load, mut travel) = (0.0f64, 0.0f64);
            for i in 0..4 {
                load = load.max((s.load[i] - p.wheels[i].load).abs() / weight);
                travel = travel.max((s.travel[i] - p.wheels[i].travel).abs());
            }
            let roll = (s.attitude.roll - p.attitude.roll).abs();
            let pitch = (s.attitude.pitch - p.attitude.pitch).abs();
            let (most_load, most_travel) = match g {
                0.0 => (5e-5, 1e-3),
                0.2 => (5e-4, 1e-3),
                0.5 => (3e-3, 2e-3),
                _ => (8e-3, 8e-3),
            };
            let what = format!("{name}, {g} g");
            assert!(load < most_load && travel < most_travel, "{what}: {load} {travel}");
            assert!(roll < 1e-4 + 0.02 * g * p.attitude.roll.abs() && pitch < 5e-3, "{what}: {roll} {pitch}");
            near(s.yaw_rate * 30.0, across, 0.02 * across.abs() + 1e-9, &what);
        }
    }
}

/// A straight stop against the model in the plane of pitch, which has its own equations: tyres without side force, for
/// that one has no toe. What toe and the wheels' own way make of it is left. Loads to
/// a thousandth of the weight, travels to 0.1 mm, speed to two millimetres a second where it does not pitch.
#[test]
fn a_straight_stop_is_the_one_in_the_plane_of_pitch() {
    let tyre = Tyre::Simple(SimpleTyre { cornering_stiffness: 1e-3, ..simple() });
    for name in demo::NAMES {
        let corners = demo::corners(name);
        for braking in [TorqueReaction::Upright, TorqueReaction::Body] {
            let mut car = Car { air: None, ..car(&corners) };
            car.axles[1].braking = braking;
            let along = [0, 1].map(|i: usize| demo::rolling(&corners[i], &tyre));
            let stopper = Stopper::new(&car, along, INERTIA[1]).expect("a car");
            // Unsteered: without side force there is no turn to steer for.
            let mut runner = Runner::new(&car, rolling(&corners, &tyre), INERTIA, Steer { most_rack: 0.0 })
                .expect("a car");
            let run = go(&mut runner, &STOP, 2.0);
            let torque = run.samples[50].brake.map(|t| t / 2.0);
            let press = Press { speed: 40.0, torque, rise_time: 0.1, duration: 2.0 };
            let other = stopper.run(&press).expect("a stop");
            let mut settled = 0;
            for (i, s) in run.samples.iter().enumerate().skip(1).take(199) {
                let o = &other.samples[2 * i];
                // That one's speed is that of the body's origin: the centre of gravity pitches ahead of it.
                let pitching = (other.samples[2 * i + 1].pitch - other.samples[2 * i - 1].pitch) / 0.01;
                let ahead = pitching * (runner.centre().z + s.attitude.rise);
                near(s.time, o.time, 1e-9, "time");
                near(s.load[0] + s.load[1], o.load[0], 12.0, "front load");
                near(s.load[2] + s.load[3], o.load[1], 12.0, "rear load");
                // While the body pitches, the wheels' own way on their linkages is in the one's speed and not in the other's.
                if pitching.abs() < 0.01 {
                    near(s.speed - ahead, o.speed, 2e-3, "speed");
                    settled += 1;
                }
                near(s.attitude.pitch, o.pitch, 5e-5, "pitch");
                near(s.travel[0], o.travel[0], 1e-4, "front travel");
                near(s.travel[2], o.travel[1], 1e-4, "rear travel");
                near(s.kappa[2], o.slip[1], 5e-5, "slip");
            }
            assert!(settled > 20, "{name}: {settled}");
            assert!(other.summary.rear_least < other.summary.rear_before - 1000.0);
        }
    }
}

/// Poles of `x[k+2] = a x[k+1] + b x[k] + c`, fitted by least squares: what a system of the second order does after a
/// step, exactly. Natural frequency [rad/s] and damping ratio.
fn modes(x: &[f64], every: f64) -> (f64, f64) {
    let mut normal = nalgebra::Matrix3::zeros();
    let mut right = nalgebra::Vector3::zeros();
    let scale = x.last().expect("samples").abs();
    for w in x.windows(3) {
        let row = nalgebra::Vector3::new(w[1] / scale, w[0] / scale, 1.0);
        normal += row * row.transpose();
        right += row * (w[2] / scale);
    }
    let fit = normal.lu().solve(&right).expect("a fit");
    let roots = nalgebra::Matrix2::new(fit[0], fit[1], 1.0, 0.0).complex_eigenvalues();
    let pole = roots[0].ln() / every;
    let other = roots[1].ln() / every;
    let natural = (pole * other).re.sqrt();
    (natural, -(pole + other).re / 2.0 / natural)
}

/// Yaw frequency and damping from a small step of the steering against the single-track model's eigenvalues (P. Riekert
/// and T. Schunck (1940), as in `balance::handling`): springs and tyres so stiff that the body does not roll, next to no
/// relaxation, tyres that slide late. Within 2 %.
#[test]
fn a_small_step_shows_the_single_track_s_modes() {
    for (name, soft, speed) in [("plover", 0.75, 25.0), ("dunlin", 0.7, 35.0), ("wren", 0.8, 20.0)] {
        let corners = demo::corners(name);
        let grippy = SimpleTyre { friction_x: 5.0, friction_y: 5.0, load_sensitivity: 0.0, ..simple() };
        let front = Tyre::Simple(grippy).scaled(1.0, soft);
        let rear = Tyre::Simple(grippy);
        let mut car = Car { air: None, ..car(&corners) };
        for rig in &mut car.axles {
            rig.tyre_rate *= 30.0;
            rig.springs[0].1.rate *= 100.0;
        }
        let quick = |i: usize, tyre| {
            let mut along: pedal::Rolling<'_> = demo::rolling(&corners[i], tyre);
            along.relaxation = 0.01;
            along.dampers = vec![Damper { bump: 6e4, rebound: 6e4, ..along.dampers[0] }];
            Rolling { along, across: 0.003 }
        };
        let mut runner =
            Runner::new(&car, [quick(0, &front), quick(1, &rear)], INERTIA, STEER).expect("a car");
        let rest = runner.steady(&Demand { speed, ..Demand::default() }).expect("straight");
        let step = Manoeuvre::StepSteer(StepSteer { speed, across: 0.1, rise_time: 0.02 });
        let run = runner.run(&step, 1.2, 0.02).expect("a run");
        let yaw: Vec<f64> = run.samples.iter().filter(|s| s.time > 0.03).map(|s| s.yaw_rate).collect();
        let (natural, damping) = modes(&yaw, 0.02);
        let mut inertia = INERTIA[2] + car.sprung * (car.sprung_centre.x - runner.centre().x).powi(2);
        let mut stands = [0.0; 2];
        for (i, rig) in car.axles.iter().enumerate() {
            let m = suspension::Mover::new(rig.corner).at(0.0, 0.0).expect("ride height");
            inertia += 2.0 * rig.unsprung * ((m.centre.x - runner.centre().x).powi(2) + m.centre.y.powi(2));
            stands[i] = m.contact.x;
        }
        let track = SingleTrack {
            mass: runner.mass(),
            yaw_inertia: inertia,
            front: stands[0] - runner.centre().x,
            rear: runner.centre().x - stands[1],
            front_stiffness: 2.0 * front.cornering_stiffness(rest.load[0]),
            rear_stiffness: 2.0 * rear.cornering_stiffness(rest.load[2]),
        };
        let m = track.modes(speed, 0.0).expect("modes");
        assert!(m.imaginary > 1.0, "{name}: it swings");
        assert!((natural / m.natural - 1.0).abs() < 0.02, "{name}: {natural} against {}", m.natural);
        assert!((damping / m.damping - 1.0).abs() < 0.02, "{name}: {damping} against {}", m.damping);
    }
}

/// A turn to the right is the mirror image of one to the left (invariant).
#[test]
fn right_is_left_in_a_mirror() {
    for tyre in [Tyre::Simple(simple()), tyres::magic()] {
        let corners = demo::corners("plover");
        let mut runner = runner(&corners, &tyre);
        for m in [STEP, BRAKED] {
            let other = match m {
                Manoeuvre::StepSteer(s) => Manoeuvre::StepSteer(StepSteer { across: -s.across, ..s }),
                Manoeuvre::BrakingInTurn(b) => {
                    Manoeuvre::BrakingInTurn(BrakingInTurn { across: -b.across, ..b })
                }
                m => m,
            };
            let (left, right) = (go(&mut runner, &m, 1.0), go(&mut runner, &other, 1.0));
            assert_eq!(left.samples.len(), right.samples.len());
            for (l, r) in left.samples.iter().zip(&right.samples) {
                near(l.yaw_rate, -r.yaw_rate, 1e-6, "yaw rate");
                near(l.place[1], -r.place[1], 1e-5, "place");
                for i in 0..4 {
                    near(l.load[i], r.load[i ^ 1], 0.05, "load");
                    near(l.heading[i], -r.heading[i ^ 1], 1e-7, "heading");
                    near(l.alpha[i], -r.alpha[i ^ 1], 1e-6, "slip angle");
                }
            }
        }
    }
}

/// Greatest difference of two runs in yaw rate, over its greatest, and in loads, over the weight.
fn apart(a: &Run, b: &Run) -> f64 {
    let most = b.samples.iter().map(|s| s.yaw_rate.abs()).fold(1e-3, f64::max);
    let pair = |s: &Sample, o: &Sample| {
        let load = (0..4).map(|i| (s.load[i] - o.load[i]).abs()).fold(0.0, f64::max) / 1e4;
        ((s.yaw_rate - o.yaw_rate).abs() / most).max(load)
    };
    a.samples.iter().zip(&b.samples).map(|(s, o)| pair(s, o)).fold(0.0, f64::max)
}

/// With dampers alike both ways and no stops nothing has a corner, and halving the step shows the method's fifth order
/// (32 to a halving; 20 asked); the steps that the tolerance chooses are within a thousandth of what they tend to.
#[test]
fn it_converges_with_its_step() {
    let tyre = Tyre::Simple(simple());
    let corners = demo::corners("plover");
    let even = |i: usize| {
        let mut along = demo::rolling(&corners[i], &tyre);
        along.dampers = vec![Damper { bump: 2000.0, rebound: 2000.0, ..along.dampers[0] }];
        Rolling { along, across: 0.45 }
    };
    let mut car = car(&corners);
    car.axles.iter_mut().for_each(|rig| rig.stops.clear());
    let mut runner = Runner::new(&car, [even(0), even(1)], INERTIA, STEER).expect("a car");
    for m in [STOP, STEP] {
        let fine = runner.run_in_steps(&m, 1.0, 0.02, 0.25e-3).expect("a run");
        let wrong =
            [4e-3, 2e-3, 1e-3].map(|h| apart(&runner.run_in_steps(&m, 1.0, 0.02, h).expect("a run"), &fine));
        let own = apart(&runner.run(&m, 1.0, 0.02).expect("a run"), &fine);
        assert!(wrong[0] < 1e-3 && wrong[0] / wrong[1] > 20.0 && wrong[1] / wrong[2] > 20.0, "{wrong:?}");
        assert!(own < 1e-3, "{own}");
    }
}

/// Understeer, roll and side-slip gradients of the standard's two ways (ISO 4138, remembered: both give the same), and
/// what the steady turns say at 0.25 g.
#[test]
fn slow_turns_show_the_gradients() {
    let tyre = Tyre::Simple(simple());
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let mut runner = runner(&corners, &tyre);
        let of = |run: &Run| match run.summary {
            Summary::Turn(turn) => turn,
            other => unreachable!("{other:?}"),
        };
        let radius = SteadyTurn::Radius { radius: 80.0, speed: 8.0, rate: 0.15 };
        let speed = SteadyTurn::Speed { speed: 22.0, rate: 0.2f64.to_radians() };
        let by_radius = go(&mut runner, &Manoeuvre::SteadyTurn(radius), 140.0);
        let by_speed = go(&mut runner, &Manoeuvre::SteadyTurn(speed), 60.0);
        let (r, s) = (of(&by_radius), of(&by_speed));
        let steady = [2.0, 3.0].map(|across| {
            let v = (across * 80.0f64).sqrt();
            runner.steady(&Demand { speed: v, across, along: 0.0 }).expect("a turn")
        });
        let roll = steady[1].attitude.roll - steady[0].attitude.roll;
        near(r.roll.expect("a slope"), roll, 0.03 * roll.abs(), "roll gradient");
        let v = 22.0;
        let steady = [2.0, 3.0].map(|across| {
            runner.steady(&Demand { speed: v, across, along: 0.0 }).expect("a turn").attitude.roll
        });
        near(s.roll.expect("a slope"), steady[1] - steady[0], 0.03 * roll.abs(), "roll gradient");
        // The air presses more at the speed of one than of the other: the gradients are near, not alike.
        near(r.understeer.expect("a slope"), s.understeer.expect("a slope"), 6e-5, "understeer gradient");
        // No car holds more than its friction, 1.3 and what the loads take of it, and the air's little.
        assert!(8.0 < s.greatest && s.greatest < 1.4 * GRAVITY, "{s:?}");
        assert!(8.0 < r.greatest && r.greatest < 1.4 * GRAVITY && r.limit != Limit::Tips, "{r:?}");
    }
}

/// Cars and manoeuvres that cannot be are refused with what to do about it.
#[test]
fn what_cannot_be_is_told() {
    let tyre = Tyre::Simple(simple());
    let corners = demo::corners("plover");
    let mut runner = runner(&corners, &tyre);
    let mut refuse = |m: Manoeuvre| runner.run(&m, 1.0, 0.01).err().map(|e| e.to_string()).expect("refused");
    let StepSteer { speed, across, rise_time } = StepSteer { speed: 30.0, across: 4.0, rise_time: 0.15 };
    let step = |speed, across, rise_time| Manoeuvre::StepSteer(StepSteer { speed, across, rise_time });
    assert!(refuse(step(speed, 40.0, rise_time)).contains("no steady motion"));
    assert!(refuse(step(-1.0, across, rise_time)).contains("speed"));
    assert!(refuse(step(speed, across, f64::NAN)).contains("rise time of the steering"));
    let stop = |deceleration| Manoeuvre::StraightStop(StraightStop { speed, deceleration, rise_time });
    assert!(refuse(stop(30.0)).contains("no steady motion"));
    assert!(refuse(stop(0.01)).contains("no force"));
    let unsteered = Runner::new(&car(&corners), rolling(&corners, &tyre), INERTIA, Steer { most_rack: 0.0 });
    let refused = unsteered.expect("a car").run(&STEP, 1.0, 0.01);
    assert!(matches!(refused, Err(MotionError::NotSteady { .. })));
    let wide = Runner::new(&car(&corners), rolling(&corners, &tyre), INERTIA, Steer { most_rack: 0.25 });
    assert!(matches!(wide.err(), Some(MotionError::Stuck { axle: "front" })));
}

/// A car of five-link corners, its points, masses, rates and tyres thrown, and thrown manoeuvres.
fn thrown(case: &serde_json::Value, dice: &mut dyn FnMut(f64) -> f64) -> Option<(bool, usize)> {
    let shifts: Vec<f64> = (0..160).map(|_| dice(0.02)).collect();
    let corners = [0usize, 1].map(|axle| {
        let count = std::cell::Cell::new(axle * 80);
        common::reference::corner(&case["axles"][axle], &|_, p| {
            let i = count.get();
            count.set(i + 3);
            p + nalgebra::Vector3::new(shifts[i], shifts[i + 1], shifts[i + 2])
        })
    });
    let mut car = common::reference::car(case, &corners);
    car.sprung *= 1.0 + dice(0.5);
    car.sprung_centre.z *= 1.0 + dice(0.6);
    car.sprung_centre.y = dice(0.1);
    car.brake_front = 0.6 + dice(0.39);
    car.drive_front = (0.5 + dice(0.6)).clamp(0.0, 1.0);
    for rig in &mut car.axles {
        rig.springs[0].1.rate *= 1.0 + dice(0.9);
        rig.springs[0].1.rise = dice(1e5);
        rig.tyre_rate *= 1.0 + dice(0.8);
        rig.unsprung *= 1.0 + dice(0.9);
        rig.bar = Some((0, 2e4 + dice(2e4)));
        rig.stops.push((0, platform::Stop { gap: 0.02 + dice(0.02), rate: 1e5 + dice(9e4), rise: 1e6 }));
        if dice(1.0) > 0.0 {
            rig.braking = TorqueReaction::Body;
        }
    }
    let of = Tyre::Simple(SimpleTyre {
        friction_x: 1.2 + dice(0.7),
        friction_y: 1.2 + dice(1.0),
        cornering_stiffness: 7e4 * (1.0 + dice(0.9)),
        slip_stiffness: 9e4 * (1.0 + dice(0.9)),
        ..simple()
    });
    let tyre = if dice(1.0) > 0.5 { tyres::magic() } else { of };
    let rolling = [0, 1].map(|_| Rolling {
        along: pedal::Rolling {
            tyre: &tyre,
            spin_inertia: 1.0 + dice(0.9),
            relaxation: 0.2 + dice(0.19),
            dampers: vec![Damper { element: 0, bump: 3e3 + dice(3e3), rebound: 3e3 + dice(3e3) }],
        },
        across: 0.4 + dice(0.39),
    });
    let inertia = [450.0, 1300.0, 1500.0].map(|i| i * (1.0 + dice(0.8)));
    let mut runner = Runner::new(&car, rolling, inertia, Steer { most_rack: 0.0 }).ok()?;
    let speed = 25.0 + dice(24.0);
    let deceleration = 5.0 + dice(4.9);
    let rise_time = 0.2 + dice(0.2);
    let stop = Manoeuvre::StraightStop(StraightStop { speed, deceleration, rise_time });
    let found = runner.run(&stop, 1.0, 0.02);
    let Ok(run) = found else { return Some((false, 0)) };
    for s in &run.samples {
        let all =
            [s.speed, s.yaw_rate, s.across, s.along, s.attitude.roll, s.place[0], s.place[1], s.side_slip];
        let sound = all.iter().chain(&s.load).chain(&s.travel).chain(&s.kappa).chain(&s.alpha).chain(&s.spin);
        assert!(sound.into_iter().all(|v| v.is_finite()), "{s:?}");
        assert!(s.load.iter().all(|l| *l >= 0.0), "{s:?}");
    }
    assert!(run.energy_error.is_finite());
    Some((true, run.steps))
}

/// Thrown cars, seed fixed, until five hundred have stopped: each stops with numbers or is refused with words (brakes
/// that ask more than the tyres give, mostly).
#[test]
fn thrown_cars_move_soundly() {
    let cases = common::reference::cases("whole-car");
    let mut state = 20_261_126u64;
    let mut dice = |size: f64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 11) as f64 / (1u64 << 52) as f64 - 1.0) * size
    };
    let (mut ran, mut refused, mut most) = (0, 0, 0);
    for i in 0..2000 {
        match thrown(&cases[i % cases.len()], &mut dice) {
            Some((true, steps)) => (ran, most) = (ran + 1, most.max(steps)),
            _ => refused += 1,
        }
        if ran == 500 {
            break;
        }
    }
    assert!(ran == 500 && most < 20_000, "{ran} ran, {refused} were refused, {most} steps at most");
}
