//! How long a second of the stop as it unfolds takes, beside one equilibrium of the same car.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::demo::{self, car, rolling};
use common::tyres;
use divan::Bencher;
use vehicle::pedal::{Press, Stopper};
use vehicle::platform::{Demand, Platform};
use vehicle::tyre::Tyre;

fn main() {
    divan::main();
}

const TORQUE: [f64; 2] = [800.0, 400.0];

/// One second of a stop.
#[divan::bench]
fn one_second(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (demo::corners("plover"), Tyre::Simple(tyres::simple()));
    let rolling = [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)];
    let stopper = Stopper::new(&car(&corners), rolling, 1300.0).expect("a car");
    let press = Press { speed: 40.0, torque: TORQUE, rise_time: 0.1, duration: 1.0 };
    bencher.bench_local(|| stopper.run(&press));
}

/// The rear wheels' hop, brakes on and off.
#[divan::bench]
fn hop(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (demo::corners("plover"), Tyre::Simple(tyres::simple()));
    let rolling = [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)];
    let stopper = Stopper::new(&car(&corners), rolling, 1300.0).expect("a car");
    bencher.bench_local(|| stopper.hop(30.0, TORQUE));
}

/// How much harder the brakes may go on before the hop is undamped or an axle slides.
#[divan::bench]
fn hop_margin(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (demo::corners("plover"), Tyre::Simple(tyres::simple()));
    let rolling = [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)];
    let stopper = Stopper::new(&car(&corners), rolling, 1300.0).expect("a car");
    bencher.bench_local(|| stopper.hop_margin(30.0, TORQUE));
}

/// The linkages sampled over their travel: once for a car.
#[divan::bench]
fn tables(bencher: Bencher<'_, '_>) {
    let (corners, tyre) = (demo::corners("plover"), Tyre::Simple(tyres::simple()));
    let car = car(&corners);
    bencher.bench_local(|| {
        Stopper::new(&car, [rolling(&corners[0], &tyre), rolling(&corners[1], &tyre)], 1300.0)
    });
}

/// One equilibrium from rest, to compare with.
#[divan::bench]
fn one_equilibrium(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let mut platform = Platform::new(car(&corners)).expect("a car");
    bencher.bench_local(|| {
        platform.reset();
        platform.solve(&Demand { along: -7.85, ..Demand::default() })
    });
}
