//! The car in motion: it settles where the platform stands, keeps its energy, and turns as a car on two wheels does.
#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

mod common;

use common::{demo, tyres};
use vehicle::aero::Aero;
use vehicle::motion::{BrakingInTurn, Manoeuvre, Rolling, Run, Runner, Steer, StepSteer, StraightStop, Summary};
use vehicle::platform::Car;
use vehicle::tyre::{SimpleTyre, Tyre};

/// Inertia of the body of the demo cars [kg m^2].
const INERTIA: [f64; 3] = [420.0, 1300.0, 1500.0];
const STEER: Steer = Steer { most_rack: 0.04 };

fn tyre() -> Tyre {
    Tyre::Simple(SimpleTyre { friction_x: 1.3, friction_y: 1.3, ..tyres::simple() })
}

fn car(corners: &[suspension::Corner<f64>; 2]) -> Car<'_> {
    let air = Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.2, rear_area: 0.4 };
    Car { air: Some(air.into()), ..demo::car(corners) }
}

fn runner<'c, 't>(corners: &'c [suspension::Corner<f64>; 2], tyre: &'t Tyre) -> Runner<'c, 't> {
    let rolling = [0, 1].map(|i: usize| Rolling { along: demo::rolling(&corners[i], tyre), across: 0.45 });
    Runner::new(&car(corners), rolling, INERTIA, STEER).expect("a car")
}

const STOP: Manoeuvre =
    Manoeuvre::StraightStop(StraightStop { speed: 40.0, deceleration: 8.0, rise_time: 0.1 });
const STEP: Manoeuvre = Manoeuvre::StepSteer(StepSteer { speed: 30.0, across: 4.0, rise_time: 0.15 });
const BRAKED: Manoeuvre =
    Manoeuvre::BrakingInTurn(BrakingInTurn { speed: 25.0, across: 5.0, deceleration: 4.0, rise_time: 0.2 });

fn go(runner: &mut Runner<'_, '_>, manoeuvre: &Manoeuvre, time: f64) -> Run {
    runner.run(manoeuvre, time, 0.01).unwrap_or_else(|e| unreachable!("{manoeuvre:?}: {e}"))
}

/// What motion, height and springs lose is what brakes, tyres, dampers and air took less what engine and steering wheel
/// gave (invariant, own).
#[test]
fn a_run_keeps_its_energy() {
    let tyre = tyre();
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let mut runner = runner(&corners, &tyre);
        for m in [STOP, STEP, BRAKED] {
            let run = go(&mut runner, &m, 2.0);
            eprintln!("{name} {m:?}: {} steps, {:e}, {:?} {:?}", run.steps, run.energy_error, run.summary, run.flags);
            assert!(run.energy_error < 1e-5, "{name}: {}", run.energy_error);
            assert!(!matches!(run.summary, Summary::Turn(_)));
        }
    }
}
