//! The car in motion against EXUDYN: the same bodies on the same rods, integrated by another program (reference/
//! exudyn_motion.py): a step of the steering and a straight stop of two cars.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use common::reference::{car, number, steered};
use serde_json::Value;
use suspension::Corner;
use vehicle::motion::{Demand, Manoeuvre, Rolling, Run, Runner, Sample, Steer, StepSteer, StraightStop};
use vehicle::pedal::{self, Damper};
use vehicle::tyre::{SimpleTyre, Tyre};

/// Share of a signal's greatest value by which it may differ.
const APART: f64 = 0.003;

fn data() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/data/exudyn-motion.json");
    serde_json::from_str(&std::fs::read_to_string(path).expect("the data")).expect("JSON")
}

fn tyre(data: &Value) -> Tyre {
    let t = |name: &str| number(&data["tyre"][name]);
    Tyre::Simple(SimpleTyre {
        nominal_load: t("nominal_load"),
        friction_x: t("friction_x"),
        friction_y: t("friction_y"),
        load_sensitivity: t("load_sensitivity"),
        cornering_stiffness: t("cornering_stiffness"),
        stiffest_load: t("stiffest_load"),
        slip_stiffness: t("slip_stiffness"),
        lateral_rate: 2e5,
        vertical_rate: 2e5,
        least_load: 0.0,
        most_load: 2e4,
    })
}

/// The place of a falling or rising function's zero, by secants.
fn zero(mut f: impl FnMut(f64) -> f64, from: [f64; 2]) -> f64 {
    let [mut a, mut b] = from;
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..30 {
        if fb.abs() < 1e-9 || (b - a).abs() < 1e-9 {
            break;
        }
        (a, b) = (b, b - fb * (b - a) / (fb - fa));
        (fa, fb) = (fb, f(b));
    }
    b
}

fn go(data: &Value, case: &Value, run: &Value, tyre: &Tyre) -> Run {
    let step = run["kind"] == "step";
    let link = step.then_some(2);
    let corners: [Corner<f64>; 2] =
        [0usize, 1].map(|i| steered(&case["axles"][i], link.filter(|_| i == 0), &|_, p| p));
    let mut car = car(case, &corners);
    let damping = number(&data["damping"]);
    let rolling = [0, 1].map(|_| Rolling {
        along: pedal::Rolling {
            tyre,
            spin_inertia: number(&data["spin_inertia"]),
            relaxation: number(&data["relaxation"][0]),
            dampers: vec![Damper { element: 0, bump: damping, rebound: damping }],
        },
        across: number(&data["relaxation"][1]),
    });
    let inertia = [0, 1, 2].map(|i: usize| number(&data["inertia"][i]));
    let (speed, rise_time) = (number(&run["speed"]), number(&run["rise"]));
    let manoeuvre = |runner: &mut Runner<'_, '_>| {
        if step {
            let rack = number(&run["rack"]);
            let of = |across: f64| {
                runner.steady(&Demand { speed, across, along: 0.0 }).expect("a turn").rack - rack
            };
            return Manoeuvre::StepSteer(StepSteer { speed, across: zero(of, [0.5, 1.0]), rise_time });
        }
        let torque: f64 = [0, 1].map(|i: usize| number(&run["brake"][i])).iter().sum();
        let of = |d: f64| {
            runner.steady(&Demand { speed, across: 0.0, along: -d }).expect("a stop").torque + torque
        };
        Manoeuvre::StraightStop(StraightStop { speed, deceleration: zero(of, [4.0, 5.0]), rise_time })
    };
    if !step {
        let brake = [0, 1].map(|i: usize| number(&run["brake"][i]));
        car.brake_front = brake[0] / (brake[0] + brake[1]);
    }
    let steer = Steer { most_rack: if step { 0.02 } else { 0.0 } };
    let mut runner = Runner::new(&car, rolling, inertia, steer).expect("a car");
    let manoeuvre = manoeuvre(&mut runner);
    let time = number(&data["every"]) * (run["samples"].as_array().expect("samples").len() - 1) as f64;
    runner.run(&manoeuvre, time, number(&data["every"])).expect("a run")
}

/// Greatest difference of a signal over its greatest size, which is at least `least`.
fn apart(
    own: &[Sample],
    other: &[Value],
    least: f64,
    of: impl Fn(&Sample) -> f64,
    get: impl Fn(&Value) -> f64,
) -> f64 {
    let size = other.iter().map(|o| get(o).abs()).fold(least, f64::max);
    own.iter().zip(other).map(|(s, o)| (of(s) - get(o)).abs()).fold(0.0, f64::max) / size
}

#[test]
fn it_moves_as_exudyn_has_it() {
    let data = data();
    let tyre = tyre(&data);
    let cases = data["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 2);
    for (c, case) in cases.iter().enumerate() {
        for run in case["runs"].as_array().expect("runs") {
            let own = go(&data, case, run, &tyre);
            let other = run["samples"].as_array().expect("samples");
            assert!(own.samples.len() == other.len() && other.len() > 70, "{}", own.samples.len());
            let s = &own.samples;
            let weight: f64 = s[0].load.iter().sum();
            let mut all = vec![
                ("yaw rate", apart(s, other, 0.02, |s| s.yaw_rate, |o| number(&o["yaw_rate"]))),
                ("speed", apart(s, other, 1.0, |s| s.speed * s.side_slip.cos(), |o| number(&o["along"]))),
                (
                    "side speed",
                    apart(s, other, 0.1, |s| s.speed * s.side_slip.sin(), |o| number(&o["across"])),
                ),
                ("place", apart(s, other, 1.0, |s| s.place[1], |o| number(&o["y"]))),
                ("roll", apart(s, other, 0.005, |s| s.attitude.roll, |o| number(&o["roll"]))),
                ("pitch", apart(s, other, 0.005, |s| s.attitude.pitch, |o| number(&o["pitch"]))),
            ];
            for i in 0..4 {
                all.push(("load", apart(s, other, weight / 4.0, |s| s.load[i], |o| number(&o["loads"][i]))));
                all.push(("travel", apart(s, other, 0.01, |s| s.travel[i], |o| number(&o["travels"][i]))));
            }
            for (what, by) in all {
                assert!(by < APART, "car {c}, {}, {what}: {by}", run["kind"]);
            }
        }
    }
}
