//! Moving a corner of one body allocates nothing once it is built: sweeps over hundreds of candidate holes
//! depend on it.

#![expect(clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod common;

use allocation_counter::measure;
use nalgebra::Vector3;
use suspension::scheme::Scheme;
use suspension::{Corner, Mover, kinds};

use common::{FIVE_LINK, WISHBONE, wheel};

#[track_caller]
fn check(scheme: &Scheme, points: &[[f64; 3]]) {
    let points: Vec<_> = points.iter().map(|p| Vector3::from(*p)).collect();
    let corner = Corner::new(scheme, &points, &wheel()).unwrap();
    let mut mover = Mover::new(&corner);
    let mut sum = 0.0;
    let used = measure(|| {
        for k in -12..=12 {
            let m = mover.at(f64::from(k) * 0.005, 0.0).unwrap();
            sum += m.toe + m.toe_curvature;
        }
        mover.at(0.03, 0.01).unwrap();
        sum += mover.steer_screw().map_or(0.0, |t| t.w.z);
    });
    assert!(sum.is_finite());
    assert_eq!(used.count_total, 0, "{} bytes in {} allocations", used.bytes_total, used.count_total);
}

#[test]
fn a_double_wishbone_moves_without_allocating() {
    check(&kinds::double_wishbone(true), &WISHBONE);
}

#[test]
fn a_strut_moves_without_allocating() {
    let mut points = vec![[-0.03, 0.58, 0.82], [0.0, 0.66, 0.30]];
    points.extend(&WISHBONE[3..]);
    check(&kinds::strut(true), &points);
}

#[test]
fn a_trailing_arm_moves_without_allocating() {
    check(&kinds::semi_trailing_arm(), &[[0.35, 0.15, 0.30], [0.45, 0.60, 0.30]]);
}

#[test]
fn five_links_move_without_allocating() {
    check(&kinds::five_link(&["a", "b", "c", "d", "e"].map(String::from), None), &FIVE_LINK);
}
