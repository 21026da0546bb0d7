//! Corners of sensible cars.

use nalgebra::Vector3;
use suspension::{Corner, Wheel, kinds};

pub const CENTRE: [f64; 3] = [0.0, 0.72, 0.30];

/// Body end and upright end of five links of a rear axle.
pub const FIVE_LINK: [([f64; 3], [f64; 3]); 5] = [
    ([0.50, 0.50, 0.33], [0.06, 0.66, 0.22]),
    ([0.08, 0.30, 0.21], [0.09, 0.66, 0.19]),
    ([-0.12, 0.28, 0.22], [-0.10, 0.67, 0.20]),
    ([0.10, 0.42, 0.46], [0.05, 0.62, 0.45]),
    ([-0.08, 0.40, 0.47], [-0.06, 0.62, 0.455]),
];

const LOWER_AND_TIE: [[f64; 3]; 5] =
    [[0.17, 0.33, 0.18], [-0.18, 0.34, 0.19], [0.01, 0.70, 0.16], [-0.13, 0.36, 0.22], [-0.14, 0.68, 0.21]];

fn wheel() -> Wheel<f64> {
    Wheel { centre: CENTRE.into(), toe: 0.0, camber: -0.02, loaded_radius: 0.30 }
}

fn build(scheme: &suspension::scheme::Scheme, points: &[[f64; 3]]) -> Corner<f64> {
    let points: Vec<Vector3<f64>> = points.iter().map(|p| Vector3::from(*p)).collect();
    Corner::new(scheme, &points, &wheel()).expect("sound points")
}

pub fn five_link() -> Corner<f64> {
    let names = ["a", "b", "c", "d", "e"].map(String::from);
    build(&kinds::five_link(&names, None), &FIVE_LINK.map(|(a, b)| [a, b]).concat())
}

pub fn double_wishbone(lower_arm_as_body: bool) -> Corner<f64> {
    let mut scheme = kinds::double_wishbone(true);
    if lower_arm_as_body {
        kinds::carry_on_link(&mut scheme, "lower-arm").expect("it has a lower arm");
    }
    let mut points = vec![[0.12, 0.42, 0.47], [-0.14, 0.43, 0.46], [-0.02, 0.66, 0.46]];
    points.extend(LOWER_AND_TIE);
    build(&scheme, &points)
}

pub fn strut() -> Corner<f64> {
    let mut points = vec![[-0.03, 0.58, 0.82], [0.0, 0.66, 0.30]];
    points.extend(LOWER_AND_TIE);
    build(&kinds::strut(true), &points)
}
