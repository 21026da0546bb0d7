//! How long one position takes: first the ratio of a full answer (position, all measures, second derivatives)
//! to a bare Newton loop over the same six equations, then each kind by itself.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

mod bare;
mod cars;

use std::hint::black_box;
use std::time::{Duration, Instant};

use divan::Bencher;
use suspension::{AxleMover, Mover};

/// Steps of a sweep from -60 mm to 60 mm [m].
const STEPS: [f64; 2] = [0.005, 0.001];
const END: f64 = 0.060;

/// Positions in one timed block, and blocks; the fastest block of each loop counts, and the two loops take
/// turns, so that both see the same machine.
const BLOCK: usize = 20_000;
const BLOCKS: usize = 60;

fn main() {
    // `cargo test --benches` runs this too; timing belongs to `cargo bench`.
    if std::env::args().any(|a| a == "--bench") {
        compare();
    }
    divan::main();
}

#[expect(clippy::print_stdout, reason = "the figure is what the run is for")]
fn compare() {
    for step in STEPS {
        let (full, bare) = race(step);
        let ratio = full.as_secs_f64() / bare.as_secs_f64();
        let mm = 1e3 * step;
        println!(
            "five-link by {mm} mm: full answer {full:?}, bare loop {bare:?} a position, ratio {ratio:.2}"
        );
    }
}

/// Travels from end to end and back [m].
fn stations(step: f64) -> Vec<f64> {
    let last = (END / step).round() as i32;
    (-last..=last).chain((-last..=last).rev()).map(|k| f64::from(k) * step).collect()
}

/// Least time for one position: full answer, bare Newton loop.
fn race(step: f64) -> (Duration, Duration) {
    let corner = cars::five_link();
    let mut mover = Mover::new(&corner);
    let mut loose = bare::FiveRods::new(&cars::FIVE_LINK, cars::CENTRE);
    let stations = stations(step);
    // Both do the same work: the same places to the last few digits.
    for travel in &stations {
        let m = mover.at(*travel, 0.0).expect("within travel");
        let off = (m.centre - loose.go_to(*travel)).amax();
        assert!(off < 1e-13, "the loops disagree by {off} m");
    }
    let (mut full, mut bare) = (Duration::MAX, Duration::MAX);
    for _ in 0..BLOCKS {
        full = full.min(time(&stations, |travel| {
            black_box(mover.at(travel, 0.0).expect("within travel"));
        }));
        bare = bare.min(time(&stations, |travel| {
            black_box(loose.go_to(travel));
        }));
    }
    (full, bare)
}

/// Time of one position in a block of sweeps.
fn time(stations: &[f64], mut at: impl FnMut(f64)) -> Duration {
    let sweeps = BLOCK.div_ceil(stations.len());
    let begin = Instant::now();
    for _ in 0..sweeps {
        for travel in stations {
            at(black_box(*travel));
        }
    }
    begin.elapsed() / (sweeps * stations.len()) as u32
}

/// Positions by 5 mm, there and back.
fn sweep(bencher: Bencher<'_, '_>, corner: &suspension::Corner<f64>) {
    let mut mover = Mover::new(corner);
    let stations = stations(STEPS[0]);
    bencher.counter(divan::counter::ItemsCount::new(stations.len())).bench_local(|| {
        for travel in &stations {
            black_box(mover.at(*travel, 0.0).expect("within travel"));
        }
    });
}

#[divan::bench]
fn five_link(bencher: Bencher<'_, '_>) {
    sweep(bencher, &cars::five_link());
}

#[divan::bench]
fn double_wishbone(bencher: Bencher<'_, '_>) {
    sweep(bencher, &cars::double_wishbone(false));
}

#[divan::bench]
fn double_wishbone_with_the_lower_arm_as_a_body(bencher: Bencher<'_, '_>) {
    sweep(bencher, &cars::double_wishbone(true));
}

#[divan::bench]
fn strut(bencher: Bencher<'_, '_>) {
    sweep(bencher, &cars::strut());
}

#[divan::bench]
fn roll_of_an_axle(bencher: Bencher<'_, '_>) {
    let corner = cars::double_wishbone(false);
    let mut axle = AxleMover::new(&corner);
    bencher.counter(divan::counter::ItemsCount::new(13usize)).bench_local(|| {
        for k in -6..=6 {
            black_box(axle.roll(f64::from(k) * 0.01, 0.0).expect("within travel"));
        }
    });
}
