//! How long a second of the stop as it unfolds takes, beside one equilibrium of the same car.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

use divan::Bencher;
use nalgebra::Vector3;
use project::model::End;
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, TorqueReaction};
use vehicle::pedal::{Damper, Press, RELAXATION, Rolling, Stopper};
use vehicle::platform::{Car, Demand, Platform, Rig, Spring};
use vehicle::tyre::{SimpleTyre, Tyre};

fn main() {
    divan::main();
}

fn corners() -> [Corner<f64>; 2] {
    let path = format!("{}/../../examples/plover/car.toml", env!("CARGO_MANIFEST_DIR"));
    let car = project::read(&std::fs::read_to_string(path).expect("the demo")).car.expect("a car");
    [End::Front, End::Rear].map(|end| {
        let subject = study::Subject::new(&car, end).expect("an axle");
        subject.corner(&subject.nominal(&[])).expect("a corner")
    })
}

fn car(corners: &[Corner<f64>; 2]) -> Car<'_> {
    let rig = |corner, end| {
        let of = |role| Corner::elements(corner).iter().position(|e| e.role == role);
        Rig {
            corner,
            end,
            springs: vec![(of(ElementRole::Spring).expect("a spring"), Spring { rate: 60e3, rise: 0.0 })],
            stops: Vec::new(),
            bar: of(ElementRole::BarLink).map(|e| (e, 25e3)),
            unsprung: 38.0,
            tyre_rate: 220e3,
            braking: TorqueReaction::Upright,
            driving: TorqueReaction::Body,
        }
    };
    Car {
        axles: [rig(&corners[0], AxleEnd::Front), rig(&corners[1], AxleEnd::Rear)],
        sprung: 1080.0,
        sprung_centre: Vector3::new(-1.25, 0.0, 0.52),
        brake_front: 0.64,
        drive_front: 0.0,
        air: None,
    }
}

fn tyre() -> Tyre {
    Tyre::Simple(SimpleTyre {
        nominal_load: 4000.0,
        friction_x: 1.2,
        friction_y: 1.2,
        load_sensitivity: 0.05,
        cornering_stiffness: 80e3,
        stiffest_load: 9000.0,
        slip_stiffness: 90e3,
        lateral_rate: 200e3,
        vertical_rate: 220e3,
        least_load: 200.0,
        most_load: 12e3,
    })
}

fn rolling<'t>(corner: &Corner<f64>, tyre: &'t Tyre) -> Rolling<'t> {
    let damper = corner.elements().iter().position(|e| e.role == ElementRole::Damper);
    let spring = corner.elements().iter().position(|e| e.role == ElementRole::Spring);
    let element = damper.or(spring).expect("a damper");
    Rolling {
        tyre,
        spin_inertia: 1.1,
        relaxation: RELAXATION,
        dampers: vec![Damper { element, bump: 1500.0, rebound: 3000.0 }],
    }
}

const TORQUE: [f64; 2] = [800.0, 400.0];

/// One second of a stop.
#[divan::bench]
fn one_second(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (corners(), tyre());
    let rolling = [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)];
    let stopper = Stopper::new(&car(&corners), rolling, 1300.0).expect("a car");
    let press = Press { speed: 40.0, torque: TORQUE, rise_time: 0.1, duration: 1.0 };
    bencher.bench_local(|| stopper.run(&press));
}

/// The rear wheels' hop, brakes on and off.
#[divan::bench]
fn hop(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (corners(), tyre());
    let rolling = [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)];
    let stopper = Stopper::new(&car(&corners), rolling, 1300.0).expect("a car");
    bencher.bench_local(|| stopper.hop(30.0, TORQUE));
}

/// The linkages sampled over their travel: once for a car.
#[divan::bench]
fn tables(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (corners(), tyre());
    let car = car(&corners);
    bencher.bench_local(|| {
        Stopper::new(&car, [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)], 1300.0)
    });
}

/// One equilibrium from rest, to compare with.
#[divan::bench]
fn one_equilibrium(bencher: Bencher<'_, '_>) {
    let corners = corners();
    let mut platform = Platform::new(car(&corners)).expect("a car");
    bencher.bench_local(|| {
        platform.reset();
        platform.solve(&Demand { along: -7.85, ..Demand::default() })
    });
}
