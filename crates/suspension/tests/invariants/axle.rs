//! Both wheels of an axle.

use suspension::{AxleMover, Mover};

use crate::support::{corner, scheme};
use crate::{KINDS, cases};

/// Rounding through a corner's solution, lengths of a metre.
const TOLERANCE: f64 = 1e-11;

#[test]
fn an_axle_that_does_not_roll_is_symmetric() {
    for kind in KINDS {
        for case in cases(kind, 20) {
            let corner = corner(&scheme(kind), &case);
            let mut axle = AxleMover::new(&corner);
            let state = axle.roll(0.0, 0.0).unwrap();
            assert_eq!(state.roll, 0.0);
            assert_eq!(state.left, state.right);
            let centre = state.roll_centre();
            let height = state.left.roll_centre_height();
            // Both lines run flat where the roll centre is on the road: then they are parallel.
            if let Some(centre) = centre {
                assert!(centre.lateral.abs() < 1e-9, "{kind}: {centre:?}");
                assert!((centre.height - height).abs() < 1e-9, "{kind}: {} {height}", centre.height);
            } else {
                assert!(height.abs() < 1e-8, "{kind}: {height}");
            }
        }
    }
}

#[test]
fn rolling_the_other_way_swaps_left_and_right() {
    for kind in KINDS {
        for case in cases(kind, 20) {
            let corner = corner(&scheme(kind), &case);
            let mut axle = AxleMover::new(&corner);
            for (roll, rack) in [(0.03, 0.0), (0.05, 0.006)] {
                let a = axle.roll(roll, rack).unwrap();
                let b = axle.roll(-roll, -rack).unwrap();
                assert!((a.roll - roll).abs() < 1e-12 && (b.roll + roll).abs() < 1e-12, "{kind}");
                // Leaning to the right presses the right wheel up.
                assert!(a.right.travel > 0.0 && a.left.travel < 0.0);
                assert!((a.left.travel + a.right.travel).abs() < 1e-15);
                for (x, y) in [(a.left, b.right), (a.right, b.left)] {
                    assert!((x.contact - y.contact).amax() < TOLERANCE);
                    assert!((x.toe - y.toe).abs() < TOLERANCE && (x.camber - y.camber).abs() < TOLERANCE);
                }
                let (ca, cb) = (a.camber_to_road(), b.camber_to_road());
                assert!((ca.0 - cb.1).abs() < TOLERANCE && (ca.1 - cb.0).abs() < TOLERANCE);
                assert!((a.track() - b.track()).abs() < TOLERANCE);
                if let (Some(p), Some(q)) = (a.roll_centre(), b.roll_centre())
                    && p.crossing > suspension::LEAST_CROSSING
                {
                    let scale = 1.0 / p.crossing;
                    assert!((p.lateral + q.lateral).abs() < 1e-9 * scale, "{kind}: {p:?} {q:?}");
                    assert!((p.height - q.height).abs() < 1e-9 * scale);
                }
            }
        }
    }
}

#[test]
fn roll_steer_and_roll_camber_are_those_of_rolling() {
    const STEP: f64 = 1e-4;
    for kind in KINDS {
        for case in cases(kind, 20) {
            let corner = corner(&scheme(kind), &case);
            let rest = Mover::new(&corner).at(0.0, 0.0).unwrap();
            let mut axle = AxleMover::new(&corner);
            let (a, b) = (axle.roll(STEP, 0.0).unwrap(), axle.roll(-STEP, 0.0).unwrap());
            // The right wheel goes into jounce in positive roll.
            let steer = (a.right.toe - b.right.toe) / (2.0 * STEP);
            let camber = (a.camber_to_road().1 - b.camber_to_road().1) / (2.0 * STEP);
            assert!((rest.roll_steer() - steer).abs() < 1e-6, "{kind}: {} {steer}", rest.roll_steer());
            assert!((rest.roll_camber() - camber).abs() < 1e-6, "{kind}: {} {camber}", rest.roll_camber());
        }
    }
}

/// A sweep starts each roll from the last one; a mover of its own starts from ride height.
#[test]
fn a_roll_is_the_same_from_wherever_it_starts() {
    let mut compared = 0;
    for kind in KINDS {
        for case in cases(kind, 20) {
            let corner = corner(&scheme(kind), &case);
            let mut axle = AxleMover::new(&corner);
            for step in (0..=10).chain((-10..10).rev()) {
                let roll = f64::from(step) * 0.008;
                let (warm, cold) = (axle.roll(roll, 0.0), AxleMover::new(&corner).roll(roll, 0.0));
                let (Ok(warm), Ok(cold)) = (warm, cold) else { continue };
                assert!((warm.roll - cold.roll).abs() < 1e-12, "{kind} at {roll}");
                for (a, b) in [(warm.left, cold.left), (warm.right, cold.right)] {
                    assert!((a.centre - b.centre).amax() < 1e-9 && (a.contact - b.contact).amax() < 1e-9);
                    assert!((a.toe - b.toe).abs() < 1e-9 && (a.toe_gain - b.toe_gain).abs() < 1e-9);
                }
                compared += 1;
            }
        }
    }
    assert!(compared > 3000, "{compared}");
}

#[test]
fn one_rack_steers_both_wheels_symmetrically() {
    for kind in ["double-wishbone", "strut"] {
        for case in cases(kind, 20) {
            let corner = corner(&scheme(kind), &case);
            let mut axle = AxleMover::new(&corner);
            for rack in [0.01, 0.02] {
                let (a, b) = (axle.at(0.0, 0.0, rack).unwrap(), axle.at(0.0, 0.0, -rack).unwrap());
                assert!((a.left.toe - b.right.toe).abs() < TOLERANCE);
                assert!((a.right.toe - b.left.toe).abs() < TOLERANCE);
                // The wheels turn the same way: toe, counted inward, has opposite signs.
                assert!(a.left.toe * a.right.toe < 0.0, "{kind}: {} {}", a.left.toe, a.right.toe);
            }
        }
    }
}

/// Parallel level arms: the body rolls about the road, wheels keep their lean to the body, so that camber to
/// the road changes by the roll itself.
#[test]
fn parallel_arms_lean_with_the_body() {
    let data = crate::support::load("closed-forms.json");
    let corner = corner(&scheme("double-wishbone"), &data["parallel-wishbones"]["cases"][0]);
    let mut axle = AxleMover::new(&corner);
    for roll in [-0.06, 0.02, 0.05] {
        let state = axle.roll(roll, 0.0).unwrap();
        let (left, right) = state.camber_to_road();
        assert!((left + roll).abs() < TOLERANCE && (right - roll).abs() < TOLERANCE);
    }
}

#[test]
fn a_roll_that_is_no_number_is_no_endless_loop() {
    let case = &cases("double-wishbone", 1)[0];
    let corner = corner(&scheme("double-wishbone"), case);
    let mut axle = AxleMover::new(&corner);
    for roll in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 10.0] {
        if let Ok(state) = axle.roll(roll, 0.0) {
            assert!(state.roll.is_finite());
        }
    }
    assert!(axle.roll(0.02, 0.0).is_ok(), "it still works");
}
