//! Time of frames of 60 tubes on 30 nodes and of 198 on 99 under 48 loads: factored, solved, forces along every tube. Beside it a
//! full Cholesky factor of as many unknowns, which the sparse one has to beat.

#![expect(clippy::expect_used, reason = "a bench stops where it cannot go on")]

use divan::{Bencher, black_box};
use nalgebra::{DMatrix, Vector3};
use steel::frame::{Foot, Frame, Load, Node, Tube, TubeEnd};
use steel::grade::{DENSITY, Grade, SHEAR, YOUNG};
use steel::section::{Section, Shape};

/// Bays of three nodes and six tubes.
const BAYS: [u32; 2] = [10, 33];
const LOADS: usize = 48;
const STATIONS: u32 = 5;

fn main() {
    divan::main();
}

/// Bays of three nodes, three of them braced.
fn frame(bays: u32) -> Frame {
    let section =
        Section::of(Shape::Box { height: 0.05, width: 0.03, wall: 0.003, corner: 0.006 }).expect("a box");
    let grade = Grade {
        name: "S355".to_owned(),
        yields: 355e6,
        breaks: 510e6,
        young: YOUNG,
        shear: SHEAR,
        density: DENSITY,
        source: "bench".to_owned(),
    };
    let mut frame = Frame::default();
    for (bay, k) in (0..bays).flat_map(|bay| (0..3u32).map(move |k| (bay, k))) {
        let (bay, k) = (f64::from(bay), f64::from(k));
        let at =
            Vector3::new(0.3 * bay, 0.25 * (k - 1.0) + 0.01 * bay, 0.3 * k * (2.0 - k) + 0.002 * bay * bay);
        frame.nodes.push(Node { name: format!("{bay}{k}"), at });
    }
    let mut pairs = Vec::new();
    let last = 3 * (bays as usize - 1);
    for n in (0..=last).step_by(3) {
        pairs.extend([(n, n + 1), (n + 1, n + 2), (n, n + 2)]);
        if n < last {
            pairs.extend([(n, n + 3), (n + 1, n + 4), (n + 2, n + 5)]);
        }
    }
    pairs.extend([(0, 4), (12, 16), (24, 28)]);
    for (a, b) in pairs {
        let ends = [TubeEnd::welded(a), TubeEnd::welded(b)];
        frame.tubes.push(Tube { name: format!("{a}-{b}"), ends, up: None, section, grade: grade.clone() });
    }
    frame.feet = [0, 2, last, last + 2].map(Foot::pinned).to_vec();
    assert_eq!(frame.tubes.len(), 6 * bays as usize);
    frame
}

/// Eight cases on six nodes each, one load at a time.
fn loads(nodes: usize) -> Vec<Vec<Load>> {
    (0..LOADS)
        .map(|k| {
            let node = 3 + (5 * k) % (nodes - 6);
            let turn = f64::from(u32::try_from(k).expect("small"));
            let force = Vector3::new(turn.cos(), turn.sin(), 1.0) * 1000.0;
            vec![Load { node, arm: Vector3::new(0.0, 0.02, 0.01), force, moment: Vector3::zeros() }]
        })
        .collect()
}

#[divan::bench(args = BAYS)]
fn whole(bencher: Bencher, bays: u32) {
    let frame = frame(bays);
    let loads = loads(frame.nodes.len());
    bencher.bench_local(|| {
        let found = frame.factor().expect("held").solve(&loads).expect("balance");
        let mut greatest: f64 = 0.0;
        for tube in found.iter().flat_map(|response| &response.tubes) {
            for station in 0..STATIONS {
                let cut = tube.at(f64::from(station) / f64::from(STATIONS - 1));
                greatest = greatest.max(cut.moment_y.abs()).max(cut.moment_z.abs()).max(cut.axial.abs());
            }
        }
        black_box(greatest)
    });
}

#[divan::bench(args = BAYS)]
fn factor_alone(bencher: Bencher, bays: u32) {
    let frame = frame(bays);
    bencher.bench_local(|| frame.factor().expect("held"));
}

#[divan::bench(args = BAYS)]
fn solve_alone(bencher: Bencher, bays: u32) {
    let frame = frame(bays);
    let loads = loads(frame.nodes.len());
    let factored = frame.factor().expect("held");
    bencher.bench_local(|| factored.solve(&loads).expect("balance"));
}

/// A full matrix of as many unknowns, factored and solved for as many loads: what the whole is held against.
#[divan::bench(args = BAYS)]
fn full_factor(bencher: Bencher, bays: u32) {
    let size = frame(bays).factor().expect("a frame").freedoms();
    let matrix =
        DMatrix::from_fn(
            size,
            size,
            |i, j| {
                if i == j { 4.0 } else { 1.0 / (1.0 + i.abs_diff(j) as f64).powi(2) }
            },
        );
    let right = DMatrix::from_fn(size, LOADS, |i, j| ((i + 3 * j) % 17) as f64);
    bencher.bench(|| matrix.clone().cholesky().expect("positive").solve(black_box(&right)));
}
