//! Moving a corner of one body allocates nothing once it is built: sweeps over hundreds of candidate holes
//! depend on it.

#![expect(clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

use allocation_counter::measure;
use nalgebra::Vector3;
use suspension::scheme::Scheme;
use suspension::{Corner, Mover, Wheel, kinds};

fn wheel() -> Wheel<f64> {
    Wheel { centre: Vector3::new(0.0, 0.72, 0.30), toe: 0.0, camber: -0.02, loaded_radius: 0.30 }
}

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

const LOWER_AND_TIE: [[f64; 3]; 5] =
    [[0.17, 0.33, 0.18], [-0.18, 0.34, 0.19], [0.01, 0.70, 0.16], [-0.13, 0.36, 0.22], [-0.14, 0.68, 0.21]];

#[test]
fn a_double_wishbone_moves_without_allocating() {
    let mut points = vec![[0.12, 0.42, 0.47], [-0.14, 0.43, 0.46], [-0.02, 0.66, 0.46]];
    points.extend(LOWER_AND_TIE);
    check(&kinds::double_wishbone(true), &points);
}

#[test]
fn a_strut_moves_without_allocating() {
    let mut points = vec![[-0.03, 0.58, 0.82], [0.0, 0.66, 0.30]];
    points.extend(LOWER_AND_TIE);
    check(&kinds::strut(true), &points);
}

#[test]
fn a_trailing_arm_moves_without_allocating() {
    check(&kinds::semi_trailing_arm(), &[[0.35, 0.15, 0.30], [0.45, 0.60, 0.30]]);
}

#[test]
fn five_links_move_without_allocating() {
    let points = [
        [0.50, 0.50, 0.33],
        [0.06, 0.66, 0.22],
        [0.08, 0.30, 0.21],
        [0.09, 0.66, 0.19],
        [-0.12, 0.28, 0.22],
        [-0.10, 0.67, 0.20],
        [0.10, 0.42, 0.46],
        [0.05, 0.62, 0.45],
        [-0.08, 0.40, 0.47],
        [-0.06, 0.62, 0.455],
    ];
    check(&kinds::five_link(&["a", "b", "c", "d", "e"].map(String::from), None), &points);
}
