//! The spatial slider-crank of E. J. Haug, Computer-Aided Kinematics and Dynamics of Mechanical Systems (1989),
//! in the benchmark library of the multibody dynamics committee; inputs read in an open script, answers from
//! `x = sqrt(l^2 - y^2 - z^2)`.

use linkage::{Frame, Linkage, Solver};
use nalgebra::Vector3;

use crate::support::{number, on, section};

/// The data carry 12 decimals.
const TOLERANCE: f64 = 2e-12;

/// Rod as a body that may spin about itself: one idle freedom, so the solver works by pseudo-inverse.
fn build() -> Linkage<f64> {
    let (centre, pin) = (Vector3::new(0.0, 0.10, 0.12), Vector3::new(0.0, 0.10, 0.20));
    let slider = Vector3::new(0.2, 0.0, 0.0);
    let mut linkage = Linkage::new();
    let crank = linkage.add_body("crank", centre);
    let rod = linkage.add_body("rod", (pin + slider) * 0.5);
    let turn = linkage.add_input();
    linkage.hinge("crank pivot", Frame::Ground, crank, centre, centre + Vector3::x()).unwrap();
    linkage.ball("pin", crank, rod, pin).unwrap();
    linkage.point_on_line("slide", Frame::Ground, Vector3::x(), on(rod, slider)).unwrap();
    linkage.drive_turn("motor", crank, Vector3::x(), turn).unwrap();
    linkage
}

#[test]
fn slider_positions_and_rates_agree_over_a_revolution() {
    let linkage = build();
    let slider = on(Frame::Body(1), Vector3::new(0.2, 0.0, 0.0));
    let mut solver = Solver::new(&linkage);
    let data = section("slider-crank");
    for case in data["cases"].as_array().unwrap() {
        solver.go_to(&[number(&case["crank_deg"]).to_radians()]).unwrap();
        solver.differentiate(&[1.0]).unwrap();
        let moved = solver.track(&slider);
        assert!((moved.p.x - number(&case["slider_x"])).abs() < TOLERANCE, "{case}: {}", moved.p.x);
        assert!((moved.v.x - number(&case["dx_dth_m_per_rad"])).abs() < TOLERANCE, "{case}: {}", moved.v.x);
        assert!(moved.p.yz().norm() < TOLERANCE);
    }
}

/// E. J. Haug, Computer-Aided Kinematics and Dynamics of Mechanical Systems (1989), inputs and answer read in an open
/// script: slider at 0.24 m/s for a crank at 6 rad/s in the first position. The rod's angular velocity
/// without spin about itself, worked out by hand from `w = r x v / r^2`, is what the pseudo-inverse picks.
#[test]
fn the_idle_spin_of_the_rod_stays_at_rest() {
    let linkage = build();
    let mut solver = Solver::new(&linkage);
    solver.differentiate(&[6.0]).unwrap();
    let moved = solver.track(&on(Frame::Body(1), Vector3::new(0.2, 0.0, 0.0)));
    assert!((moved.v.x - 0.24).abs() < TOLERANCE);
    let hand = Vector3::new(16.0, -8.0, 20.0) / 15.0;
    let off = (solver.motion().twists[1].w - hand).amax();
    assert!(off < TOLERANCE, "{:?}", solver.motion().twists[1].w);
}
