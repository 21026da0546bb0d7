//! Time of a stability map, of a stop at the verge, of a tyre's force.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::tyres;
use divan::Bencher;
use vehicle::aero::Aero;
use vehicle::balance::{TrimCar, map};
use vehicle::brake::{Driver, Effort, Grip, StopRun, StoppingCar, stop};
use vehicle::tyre::{Slip, Tyre};

/// Speeds and decelerations of the map.
const SPEEDS: u32 = 60;
const RATES: u32 = 40;

fn main() {
    divan::main();
}

fn tyre(kind: &str) -> Tyre {
    if kind == "simple" { Tyre::Simple(tyres::simple()) } else { tyres::magic() }
}

fn car() -> StoppingCar {
    let aero = Aero { density: 1.2, drag_area: 0.8, drag_height: 0.5, front_area: 0.4, rear_area: 0.9 };
    StoppingCar { mass: 1100.0, wheelbase: 2.5, cg_behind_front: 1.25, cg_height: 0.45, aero }
}

#[divan::bench(args = ["simple", "magic"])]
fn stability_map_60_by_40(bencher: Bencher, kind: &str) {
    let (car, tyre) = (car(), tyre(kind));
    let trim = TrimCar {
        car: &car,
        yaw_inertia: 1400.0,
        front: &tyre,
        rear: &tyre,
        brakes: Effort::Share(0.62),
        front_drive: 0.0,
    };
    let speeds: Vec<f64> = (0..SPEEDS).map(|i| 5.0 + f64::from(i)).collect();
    let rates: Vec<f64> = (0..RATES).map(|i| -0.3 * f64::from(i)).collect();
    bencher.bench_local(|| map(&trim, &speeds, &rates).expect("a map"));
}

#[divan::bench(args = ["simple", "magic"])]
fn stop_at_the_verge(bencher: Bencher, kind: &str) {
    let (car, tyre) = (car(), tyre(kind));
    let run = StopRun {
        car: &car,
        grip: Grip::Tyres { front: &tyre, rear: &tyre },
        effort: Effort::Share(0.62),
        driver: Driver::Verge,
        from: 60.0,
        to: 0.0,
        reaction: 0.0,
    };
    bencher.bench_local(|| stop(&run).expect("a stop"));
}

#[divan::bench(args = ["simple", "magic"])]
fn tyre_force(bencher: Bencher, kind: &str) {
    let tyre = tyre(kind);
    let slip = Slip { kappa: -0.03, alpha: 0.04, inclination: 0.0, load: 3700.0 };
    bencher.bench_local(|| tyre.force(&divan::black_box(slip)));
}
