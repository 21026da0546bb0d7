//! Nothing depends on where the axes stand, nor on which hand is left.

use linkage::{Frame, Linkage, Loads, Solver, freedoms, reactions};
use nalgebra::{Matrix3, Rotation3, Vector3};

use crate::zoo::{self, DIRECTIONS, Drive, POINTS};

/// Rounding through thirty equations, lengths of a metre.
const TOLERANCE: f64 = 1e-11;

/// The zoo carried to another place by `p -> rot p + shift`; `rot` may be a reflection.
fn placed(drive: Drive, rot: &Matrix3<f64>, shift: &Vector3<f64>) -> Linkage<f64> {
    zoo::build(drive, |i| rot * Vector3::from(POINTS[i]) + shift, |i| rot * Vector3::from(DIRECTIONS[i]))
}

#[track_caller]
fn check(drive: Drive, rot: &Matrix3<f64>, shift: &Vector3<f64>) {
    let hand = rot.determinant().signum();
    // A reflection turns the sense of a driven angle.
    let sense = if drive == Drive::Turn { hand } else { 1.0 };
    let (here, there) = (zoo::plain(drive), placed(drive, rot, shift));
    let (mut a, mut b) = (Solver::new(&here), Solver::new(&there));
    for place in [[0.03, 0.0], [-0.05, 0.02], [0.05, -0.03]] {
        a.go_to(&place).unwrap();
        b.go_to(&[sense * place[0], place[1]]).unwrap();
        a.differentiate(&[1.0, 0.3]).unwrap();
        b.differentiate(&[sense, 0.3]).unwrap();
        for body in 0..here.bodies() {
            let (p, q) = (&a.position().poses[body], &b.position().poses[body]);
            assert!((rot * p.shift - q.shift).amax() < TOLERANCE);
            assert!((rot * p.rot * rot.transpose() - q.rot).amax() < TOLERANCE);
            let (s, t) = (&a.motion().twists[body], &b.motion().twists[body]);
            assert!((rot * s.v - t.v).amax() < 10.0 * TOLERANCE);
            // Angular velocity is an axial vector.
            assert!((rot * s.w * hand - t.w).amax() < 10.0 * TOLERANCE);
            let (c, d) = (&a.curvature()[body], &b.curvature()[body]);
            // The plate is near a toggle in places: its second derivatives run to 1e4.
            let large = 10.0 * TOLERANCE * (1.0 + d.a.amax().max(d.alpha.amax()));
            assert!((rot * c.a - d.a).amax() < large, "{} {}", rot * c.a, d.a);
            assert!((rot * c.alpha * hand - d.alpha).amax() < large, "{} {}", rot * c.alpha * hand, d.alpha);
        }
        let force = Vector3::new(300.0, -200.0, 4000.0);
        let loaded =
            |l: &Linkage<f64>, s: &Solver<'_>, at: Vector3<f64>, f: Vector3<f64>, hold: linkage::Row<f64>| {
                let mut loads = Loads::none(l.bodies());
                loads.add_force(l, s.position(), &linkage::End { frame: zoo::UPRIGHT, at }, f);
                let found = reactions(l, s.position(), &loads, &[hold]).unwrap();
                assert!(found.unbalanced < 1e-7, "{}", found.unbalanced);
                (0..l.joints().len()).filter_map(|j| found.tension(l, j)).collect::<Vec<_>>()
            };
        let foot = Vector3::new(0.0, 0.72, 0.0);
        let hold = zoo::spring();
        let carried = match hold {
            linkage::Row::Distance { a, b, length } => linkage::Row::Distance {
                a: linkage::End { frame: a.frame, at: rot * a.at + shift },
                b: linkage::End { frame: b.frame, at: rot * b.at + shift },
                length,
            },
            other => other,
        };
        let ours = loaded(&here, &a, foot, force, hold);
        let theirs = loaded(&there, &b, rot * foot + shift, rot * force, carried);
        assert_eq!(ours.len(), 7);
        for (x, y) in ours.iter().zip(&theirs) {
            assert!((x - y).abs() < 1e-6, "tensions {x} {y}");
        }
    }
    let (x, y) = (freedoms(&here, 0, &[]).unwrap(), freedoms(&there, 0, &[]).unwrap());
    assert_eq!((x.motions.len(), x.idle, x.redundant), (1, 0, 0));
    assert_eq!((y.motions.len(), y.idle, y.redundant), (1, 0, 0));
    assert!((x.leverage - y.leverage).abs() < 1e-9);
}

#[test]
fn a_turned_and_shifted_ground_turns_and_shifts_everything() {
    for (axis, angle) in
        [(Vector3::new(0.3, -0.5, 0.8), 0.7), (Vector3::x(), 1.57), (Vector3::new(1.0, 1.0, 0.2), 2.9)]
    {
        let rot = Rotation3::from_scaled_axis(axis.normalize() * angle).into_inner();
        let shift = Vector3::new(0.4, -1.1, 2.3);
        check(Drive::Point, &rot, &shift);
        check(Drive::Turn, &rot, &shift);
    }
}

#[test]
fn the_mirror_image_moves_as_the_mirror_image() {
    let mirror = Matrix3::from_diagonal(&Vector3::new(1.0, -1.0, 1.0));
    check(Drive::Point, &mirror, &Vector3::zeros());
    check(Drive::Turn, &mirror, &Vector3::zeros());
}

/// The reference points of the bodies are a choice of numerics.
#[test]
fn results_do_not_depend_on_the_bodies_reference_points() {
    let build = |origin: Vector3<f64>| {
        let mut l = Linkage::new();
        let body = l.add_body("body", origin);
        let u = l.add_input();
        for (i, (a, b)) in [(4, 6), (5, 6), (1, 3), (2, 3), (7, 8)].into_iter().enumerate() {
            let end = |frame, i: usize| linkage::End { frame, at: Vector3::from(POINTS[i]) };
            l.rod(&format!("rod {i}"), end(Frame::Ground, a), end(body, b)).unwrap();
        }
        l.drive_point("lift", linkage::End { frame: body, at: POINTS[0].into() }, Vector3::z(), u).unwrap();
        l
    };
    let (near, far) = (build(POINTS[0].into()), build(Vector3::new(-2.0, 1.0, 3.0)));
    let (mut a, mut b) = (Solver::new(&near), Solver::new(&far));
    let end = linkage::End { frame: Frame::Body(0), at: POINTS[8].into() };
    for travel in [-0.06, 0.0, 0.05] {
        a.go_to(&[travel]).unwrap();
        b.go_to(&[travel]).unwrap();
        a.differentiate(&[1.0]).unwrap();
        b.differentiate(&[1.0]).unwrap();
        let (p, q) = (a.track(&end), b.track(&end));
        assert!(
            (p.p - q.p).amax() < TOLERANCE && (p.v - q.v).amax() < TOLERANCE && (p.a - q.a).amax() < 1e-9
        );
    }
}
