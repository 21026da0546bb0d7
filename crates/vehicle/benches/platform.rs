//! How long the whole car's equilibrium takes, from the last state and from rest.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::demo;
use divan::Bencher;
use vehicle::platform::{Demand, Platform};

fn main() {
    divan::main();
}

/// A stop that deepens by a tenth of a g at a time, as a map or a run over a venue asks for them.
#[divan::bench]
fn next_demand(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    let mut platform = Platform::new(demo::car(&corners)).expect("a car");
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
    let corners = demo::corners("plover");
    let mut platform = Platform::new(demo::car(&corners)).expect("a car");
    bencher.bench_local(|| {
        platform.reset();
        platform.solve(&Demand { along: -7.85, ..Demand::default() })
    });
}

/// A car put on its wheels and braked once, as each part of a ± asks for it.
#[divan::bench]
fn once(bencher: Bencher<'_, '_>) {
    let corners = demo::corners("plover");
    bencher.bench_local(|| {
        let mut platform = Platform::new(demo::car(&corners)).expect("a car");
        platform.solve(&Demand { along: -7.85, ..Demand::default() })
    });
}
