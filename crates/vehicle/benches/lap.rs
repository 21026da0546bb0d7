//! How long a car's limits and a run over 5 km take.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::{courses, demo, tyres};
use divan::Bencher;
use vehicle::lap::{Start, run};
use vehicle::limits::{Detail, Edge, Limits, Surface};
use vehicle::tyre::Tyre;

fn main() {
    divan::main();
}

/// The limits of a car and a lap of 5 km in steps of 2 m.
#[divan::bench]
fn limits_and_lap(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let tyre = Tyre::Simple(tyres::simple());
    let (power, course) = (demo::power(), courses::circuit(2.0));
    bencher.bench_local(|| {
        let car = demo::limit_car(&corners, &tyre, &power);
        let limits = Surface::new(car, &[1.0], 2).expect("limits");
        run(&limits, &course, Start::Flying).time
    });
}

/// The limits alone.
#[divan::bench]
fn limits(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let tyre = Tyre::Simple(tyres::simple());
    let power = demo::power();
    bencher.bench_local(|| {
        let car = demo::limit_car(&corners, &tyre, &power);
        Surface::new(car, &[1.0], 2).expect("limits").fastest()
    });
}

/// The lap alone.
#[divan::bench]
fn lap(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let tyre = Tyre::Simple(tyres::simple());
    let (power, course) = (demo::power(), courses::circuit(2.0));
    let limits = Surface::new(demo::limit_car(&corners, &tyre, &power), &[1.0], 2).expect("limits");
    bencher.bench_local(|| run(&limits, &course, Start::Flying).time);
}

/// The attitudes under all that the car may be asked, on one core.
#[divan::bench]
fn attitudes(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let tyre = Tyre::Simple(tyres::simple());
    let power = demo::power();
    bencher.bench_local(|| {
        Edge::new(demo::limit_car(&corners, &tyre, &power), 62.0, Detail::Fine, 1).expect("a car").mass()
    });
}

/// One of many samples of a car: a coarse look for what is different, and the lap, on one core.
#[divan::bench]
fn sample(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let tyre = Tyre::Simple(tyres::simple());
    let (power, course) = (demo::power(), courses::circuit(2.0));
    let car = || demo::limit_car(&corners, &tyre, &power);
    let fine = Surface::new(car(), &[1.0], 1).expect("limits");
    let coarse = || Surface::of(car(), &[1.0], fine.found_to(), Detail::Coarse, 1).expect("limits");
    let before = coarse();
    bencher.bench_local(|| run(&fine.changed(&before, &coarse()), &course, Start::Flying).time);
}
