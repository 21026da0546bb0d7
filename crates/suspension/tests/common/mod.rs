//! A double wishbone, a rear five-link and their wheel, for tests that need one good corner [m].

use nalgebra::Vector3;
use suspension::Wheel;

/// In the order of `kinds::double_wishbone`: upper arm, lower arm, tie rod.
pub const WISHBONE: [[f64; 3]; 8] = [
    [0.12, 0.42, 0.47],
    [-0.14, 0.43, 0.46],
    [-0.02, 0.66, 0.46],
    [0.17, 0.33, 0.18],
    [-0.18, 0.34, 0.19],
    [0.01, 0.70, 0.16],
    [-0.13, 0.36, 0.22],
    [-0.14, 0.68, 0.21],
];

/// In the order of `kinds::five_link`: body end and upright end of trailing, lower fore and aft, upper fore and aft.
pub const FIVE_LINK: [[f64; 3]; 10] = [
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

pub fn wheel() -> Wheel<f64> {
    Wheel { centre: Vector3::new(0.0, 0.72, 0.30), toe: 0.0, camber: -0.02, loaded_radius: 0.30 }
}
