//! Time of a stability map, of a stop at the verge, of a tyre's force.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use divan::Bencher;
use vehicle::aero::Aero;
use vehicle::balance::{TrimCar, map};
use vehicle::brake::{Driver, Effort, Grip, StopRun, StoppingCar, stop};
use vehicle::tyre::{Parameters, SimpleTyre, Slip, Tyre};

/// Speeds and decelerations of the map.
const SPEEDS: u32 = 60;
const RATES: u32 = 40;

fn main() {
    divan::main();
}

fn magic() -> Tyre {
    let mut p = Parameters {
        fnomin: 4000.0,
        unloaded_radius: 0.31,
        fzmin: 200.0,
        fzmax: 9000.0,
        ..Parameters::default()
    };
    for (name, value) in [
        ("PCX1", 1.64),
        ("PDX1", 1.17),
        ("PDX2", -0.16),
        ("PEX1", 0.46),
        ("PKX1", 22.3),
        ("PCY1", 1.35),
        ("PDY1", 1.05),
        ("PDY2", -0.18),
        ("PKY1", -21.9),
        ("PKY2", 2.0),
        ("RBX1", 13.3),
        ("RBX2", -13.8),
        ("RCX1", 1.0),
        ("RBY1", 7.1),
        ("RBY2", 9.2),
        ("RCY1", 1.0),
    ] {
        p.set(name, value).expect("a published name");
    }
    Tyre::Magic(Box::new(p))
}

fn simple() -> Tyre {
    Tyre::Simple(SimpleTyre {
        nominal_load: 3500.0,
        friction_x: 1.2,
        friction_y: 1.2,
        load_sensitivity: 0.12,
        cornering_stiffness: 65_000.0,
        stiffest_load: 8000.0,
        slip_stiffness: 80_000.0,
        lateral_rate: 150_000.0,
        vertical_rate: 220_000.0,
        least_load: 300.0,
        most_load: 9000.0,
    })
}

fn car() -> StoppingCar {
    let aero = Aero { density: 1.2, drag_area: 0.8, drag_height: 0.5, front_area: 0.4, rear_area: 0.9 };
    StoppingCar { mass: 1100.0, wheelbase: 2.5, cg_behind_front: 1.25, cg_height: 0.45, aero }
}

#[divan::bench(args = ["simple", "magic"])]
fn stability_map_60_by_40(bencher: Bencher, kind: &str) {
    let (car, tyre) = (car(), if kind == "simple" { simple() } else { magic() });
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
    let (car, tyre) = (car(), if kind == "simple" { simple() } else { magic() });
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
    let tyre = if kind == "simple" { simple() } else { magic() };
    let slip = Slip { kappa: -0.03, alpha: 0.04, inclination: 0.0, load: 3700.0 };
    bencher.bench_local(|| tyre.force(&divan::black_box(slip)));
}
