//! How much work the solver does over the reference cases, so that lost efficiency shows in review. Change a
//! figure here only with the reason in the commit.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

#[path = "outside/support.rs"]
mod support;

use linkage::Effort;
use suspension::Mover;

use support::{corner, load, scheme};

/// Another machine's sine may tip a case that stands at a tolerance: this share of iterations is let pass.
const SLACK: f64 = 0.002;

/// Work of all cases of a kind over a sweep from -60 mm to 60 mm and back by `step` mm.
fn effort(kind: &str, step: usize) -> Effort {
    let (scheme, data) = (scheme(kind), load(&format!("{kind}.json")));
    let mut sum = Effort::default();
    for case in data["cases"].as_array().unwrap() {
        let corner = corner(&scheme, case);
        let mut mover = Mover::new(&corner);
        for mm in (-60..=60).step_by(step).chain((-60..=60).rev().step_by(step)) {
            mover.at(f64::from(mm) * 1e-3, 0.0).unwrap();
        }
        let one = mover.solver().effort();
        sum.iterations += one.iterations;
        sum.steps += one.steps;
        sum.refused += one.refused;
    }
    sum
}

#[track_caller]
fn check(kind: &str, step: usize, expected: [usize; 3]) {
    let found = effort(kind, step);
    let near = |ours: usize, theirs: usize| ours.abs_diff(theirs) as f64 <= SLACK * theirs as f64;
    let [iterations, steps, refused] = expected;
    assert!(
        near(found.iterations, iterations) && near(found.steps, steps) && near(found.refused, refused),
        "{kind} by {step} mm: {found:?}"
    );
}

/// Iterations, steps, refused steps; 200 cases of 26 stations each.
#[test]
fn sweeps_by_ten_millimetres() {
    check("five-link", 10, [10363, 5000, 0]);
    check("double-wishbone", 10, [10218, 5000, 0]);
    check("strut", 10, [10191, 5000, 0]);
    check("trailing-blade", 10, [10202, 5000, 0]);
    check("semi-trailing-arm", 10, [10104, 5000, 0]);
    check("links", 10, [11201, 5205, 0]);
}

/// 200 cases of 242 stations each: one iteration a station is the floor.
#[test]
fn sweeps_by_one_millimetre() {
    check("five-link", 1, [57198, 48200, 0]);
    check("links", 1, [97169, 48405, 0]);
}
