//! Build of the whole demo car with a frame of 60 tubes and more: all load cases in all positions; one position under a hand
//! that moves, with and without Build.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use divan::{Bencher, black_box};
use project::model::{Car, End, FrameNode, FrameReading};
use study::{Candidate, Subject};

fn main() {
    divan::main();
}

fn car() -> Car {
    let text = include_str!("../../../examples/plover/whole.toml");
    let mut car = project::read(text).car.expect("a car");
    study::settle(&mut car);
    if let Some(frame) = car.build.as_mut().and_then(|build| build.frame.as_mut()) {
        in_thirds(frame);
        assert!(frame.tubes.len() >= 60, "{} tubes", frame.tubes.len());
    }
    car
}

/// Every tube in three pieces.
fn in_thirds(frame: &mut FrameReading) {
    let mut tubes = Vec::new();
    for tube in &frame.tubes {
        let [from, to] = tube.ends;
        let mut last = from;
        for piece in 1..=3 {
            let next = if piece == 3 {
                to
            } else {
                let mut at = frame.nodes[from].at.clone();
                at.at += (frame.nodes[to].at.at - frame.nodes[from].at.at) * (f64::from(piece) / 3.0);
                let twin = frame.nodes.len();
                frame.nodes.push(FrameNode { name: format!("{} {piece}", tube.name), at, twin });
                twin
            };
            let mut part = tube.clone();
            part.name = format!("{} piece {piece}", tube.name);
            part.ends = [last, next];
            tubes.push(part);
            last = next;
        }
    }
    frame.tubes = tubes;
}

/// All holes, all cases, all parts, a frame of 63 tubes: 50 ms at most on two cores of a small machine.
#[divan::bench]
fn all_positions(bencher: Bencher) {
    let car = car();
    bencher.bench_local(|| study::build::positions(black_box(&car), End::Rear).expect("positions"));
}

/// Everything that the page shows, sizes and cut list with it.
#[divan::bench(sample_count = 20)]
fn whole_stage(bencher: Bencher) {
    let car = car();
    bencher.bench_local(|| study::build::build(black_box(&car), End::Rear, &[]));
}

/// A row of the choice table while a hand moves; without `[build]` for comparison.
#[divan::bench(args = [true, false])]
fn row_under_a_hand(bencher: Bencher, with_build: bool) {
    let mut car = car();
    if !with_build {
        car.build = None;
    }
    let subject = Subject::new(&car, End::Rear).expect("an axle");
    let table = study::choose(&subject, &[], &car.choose.travels, |_, _| {}).expect("a table");
    bencher.bench_local(|| {
        study::quick_row(&subject, Candidate::new("moved", vec![1]), black_box(&table), false)
    });
}
