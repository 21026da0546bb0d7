//! How many times faster than the car itself its motion is computed: the time of one second of each manoeuvre is its
//! reciprocal.
#![expect(clippy::expect_used, reason = "a bench that cannot go on has nothing to print")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::demo::{self, car, rolling};
use common::tyres;
use divan::Bencher;
use divan::counter::ItemsCount;
use vehicle::motion::{
    BrakingInTurn, Demand, Manoeuvre, Rolling, Runner, SteadyTurn, Steer, StepSteer, StraightStop,
};
use vehicle::tyre::Tyre;

fn main() {
    divan::main();
}

const NAMES: [&str; 4] = ["straight stop", "braking in a turn", "step steer", "growing turn"];

fn manoeuvre(name: &str) -> Manoeuvre {
    match name {
        "straight stop" => {
            Manoeuvre::StraightStop(StraightStop { speed: 40.0, deceleration: 8.0, rise_time: 0.1 })
        }
        "braking in a turn" => Manoeuvre::BrakingInTurn(BrakingInTurn {
            speed: 25.0,
            across: 4.0,
            deceleration: 3.0,
            rise_time: 0.2,
        }),
        "step steer" => Manoeuvre::StepSteer(StepSteer { speed: 30.0, across: 4.0, rise_time: 0.15 }),
        _ => Manoeuvre::SteadyTurn(SteadyTurn::Radius { radius: 60.0, speed: 8.0, rate: 0.2 }),
    }
}

fn with(kind: &str, run: impl FnOnce(&mut Runner<'_, '_>)) {
    let tyre = if kind == "simple" { Tyre::Simple(tyres::simple()) } else { tyres::magic() };
    let corners = demo::corners("plover");
    let rolling =
        [0, 1].map(|i| Rolling { along: rolling(corners.get(i).expect("a corner"), &tyre), across: 0.45 });
    let steer = Steer { most_rack: 0.04 };
    run(&mut Runner::new(&car(&corners), rolling, [420.0, 1300.0, 1500.0], steer).expect("a car"));
}

/// Four seconds, start and all, with 100 samples a second. Items a second are seconds of the car's.
#[divan::bench(args = NAMES)]
fn simple_tyre(bencher: Bencher<'_, '_>, name: &str) {
    with("simple", |runner| {
        bencher
            .counter(ItemsCount::new(4usize))
            .bench_local(|| runner.run(&manoeuvre(name), 4.0, 0.01).expect("a run"));
    });
}

/// The same on tyres of a measured set.
#[divan::bench(args = NAMES)]
fn magic_tyre(bencher: Bencher<'_, '_>, name: &str) {
    with("magic", |runner| {
        bencher
            .counter(ItemsCount::new(4usize))
            .bench_local(|| runner.run(&manoeuvre(name), 4.0, 0.01).expect("a run"));
    });
}

/// Where a manoeuvre starts: a steady turn.
#[divan::bench]
fn steady_turn(bencher: Bencher<'_, '_>) {
    with("simple", |runner| {
        bencher.bench_local(|| runner.steady(&Demand { speed: 30.0, across: 4.0, along: 0.0 }));
    });
}
