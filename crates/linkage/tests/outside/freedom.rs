//! Counts of freedoms that are known without computing.

use linkage::{Frame, Linkage, freedoms};
use nalgebra::Vector3;

use crate::support::on;

/// Bricard's six-bar of five moving rods (a benchmark of the multibody committee, inputs read in an open
/// script): thirty equations on thirty unknowns, yet it moves, because one equation repeats the others.
#[test]
fn bricards_six_bar_has_one_motion_and_one_redundant_equation() {
    let points = [[0., 0., 0.], [1., 0., 0.], [1., -1., 0.], [1., -1., 1.], [0., -1., 1.], [0., 0., 1.]]
        .map(Vector3::from);
    let axes = [Vector3::y(), Vector3::z(), Vector3::x(), Vector3::y(), Vector3::z(), Vector3::x()];
    let mut linkage = Linkage::new();
    let mut frames = vec![Frame::Ground];
    for pair in points.windows(2) {
        frames.push(linkage.add_body("rod", (pair[0] + pair[1]) * 0.5));
    }
    frames.push(Frame::Ground);
    for (i, (point, axis)) in points.iter().zip(axes).enumerate() {
        linkage.hinge(&format!("hinge {i}"), frames[i], frames[i + 1], *point, point + axis).unwrap();
    }
    for watched in 0..5 {
        let count = freedoms(&linkage, watched, &[]).unwrap();
        assert_eq!((count.motions.len(), count.idle, count.redundant), (1, 0, 1), "{count:?}");
        assert_eq!(count.repeated.len(), 6, "all hinges take part: {:?}", count.repeated);
    }
}

/// A carrier on n rods has 6 - n freedoms: each rod holds one and keeps its own spin.
#[test]
fn each_rod_takes_one_freedom() {
    let feet = [
        [0.3, 0.1, 0.],
        [-0.3, 0.15, 0.05],
        [0., -0.3, 0.1],
        [0.2, 0.3, 0.4],
        [-0.25, 0.2, 0.5],
        [0.1, -0.1, 0.7],
    ];
    let heads = [
        [0.1, 0.6, 0.2],
        [-0.1, 0.65, 0.1],
        [0.05, 0.6, 0.3],
        [-0.02, 0.7, 0.4],
        [0.12, 0.62, 0.35],
        [0.0, 0.5, 0.1],
    ];
    for n in 1..=6 {
        let mut linkage = Linkage::new();
        let body = linkage.add_body("carrier", Vector3::new(0.0, 0.6, 0.3));
        for i in 0..n {
            let (foot, head) = (Vector3::from(feet[i]), Vector3::from(heads[i]));
            linkage.rod(&format!("rod {i}"), on(Frame::Ground, foot), on(body, head)).unwrap();
        }
        let count = freedoms(&linkage, 0, &[]).unwrap();
        assert_eq!((count.motions.len(), count.idle, count.redundant), (6 - n, 0, 0), "{n} rods");
    }
}

/// The same rods as bodies with balls at both ends: their spins are idle.
#[test]
fn rods_as_bodies_have_idle_spins() {
    let mut linkage = Linkage::new();
    let carrier = linkage.add_body("carrier", Vector3::new(0.0, 0.6, 0.3));
    let feet = [[0.3, 0.1, 0.], [-0.3, 0.15, 0.05], [0., -0.3, 0.1]].map(Vector3::from);
    let heads = [[0.1, 0.6, 0.2], [-0.1, 0.65, 0.1], [0.05, 0.6, 0.3]].map(Vector3::from);
    for (foot, head) in feet.into_iter().zip(heads) {
        let rod = linkage.add_body("rod", (foot + head) * 0.5);
        linkage.ball("foot", Frame::Ground, rod, foot).unwrap();
        linkage.ball("head", rod, carrier, head).unwrap();
    }
    let count = freedoms(&linkage, 0, &[]).unwrap();
    assert_eq!((count.motions.len(), count.idle, count.redundant), (3, 3, 0));
}
