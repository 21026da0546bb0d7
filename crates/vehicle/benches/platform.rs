//! How long the whole car's equilibrium takes, from the last state and from rest.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

use divan::Bencher;
use nalgebra::Vector3;
use project::model::End;
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, TorqueReaction};
use vehicle::platform::{Car, Demand, Platform, Rig, Spring};

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

/// A stop that deepens by a tenth of a g at a time, as a map or a run over a venue asks for them.
#[divan::bench]
fn next_demand(bencher: Bencher<'_, '_>) {
    let corners = corners();
    let mut platform = Platform::new(car(&corners)).expect("a car");
    let mut i = 0;
    bencher.bench_local(|| {
        i = (i + 1) % 16;
        let along = -0.98 * f64::from(if i < 8 { i } else { 16 - i });
        platform.solve(&Demand { along, ..Demand::default() })
    });
}

/// From ride height into a stop of 0.8 g.
#[divan::bench]
fn from_rest(bencher: Bencher<'_, '_>) {
    let corners = corners();
    let mut platform = Platform::new(car(&corners)).expect("a car");
    bencher.bench_local(|| {
        platform.reset();
        platform.solve(&Demand { along: -7.85, ..Demand::default() })
    });
}
