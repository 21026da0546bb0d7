//! At least 200 random buildable corners of every kind against SciPy least squares (`reference/corners.py`,
//! in another formulation) and, for rods, EXUDYN's static solver (`reference/exudyn_rods.py`).

use suspension::{Mover, kinds};

use crate::support::{corner, load, number, scheme, vector};

/// Positions [m]: far below what a tape shows.
const POSITION: f64 = 1e-8;
/// Angles [deg]: likewise.
const ANGLE: f64 = 1e-5;
/// Slopes [-] and gains [deg/m]: the data are printed to 12 and 9 decimals.
const SLOPE: f64 = 1e-8;
const GAIN: f64 = 1e-6;

#[track_caller]
fn check(kind: &str) {
    let scheme = scheme(kind);
    let data = load(&format!("{kind}.json"));
    let cases = data["cases"].as_array().unwrap();
    assert!(cases.len() >= 200, "{kind}: only {} cases", cases.len());
    for (n, case) in cases.iter().enumerate() {
        let corner = corner(&scheme, case);
        for station in case["stations"].as_array().unwrap() {
            let mut mover = Mover::new(&corner);
            let (travel, rack) = (number(&station["travel"]), number(&station["rack"]));
            let m = mover.at(travel, rack).unwrap_or_else(|e| panic!("{kind} {n} at {travel}: {e}"));
            let near = |what: &str, ours: f64, theirs: f64, tolerance: f64| {
                assert!(
                    (ours - theirs).abs() <= tolerance,
                    "{kind} case {n}, travel {travel}, rack {rack}: {what} {ours} against {theirs}"
                );
            };
            for k in 0..3 {
                near("wheel centre", m.centre[k], vector(&station["centre"])[k], POSITION);
                near("contact point", m.contact[k], vector(&station["contact"])[k], POSITION);
            }
            near("toe", m.toe.to_degrees(), number(&station["toe_deg"]), ANGLE);
            near("camber", m.camber.to_degrees(), number(&station["camber_deg"]), ANGLE);
            near("contact dx/dz", m.contact_dx_dz(), number(&station["contact_dx_dz"]), SLOPE);
            near("contact dy/dz", m.contact_dy_dz(), number(&station["contact_dy_dz"]), SLOPE);
            near("centre dx/dz", m.centre_dx_dz(), number(&station["centre_dx_dz"]), SLOPE);
            near("centre dy/dz", m.centre_dy_dz(), number(&station["centre_dy_dz"]), SLOPE);
            near("toe gain", m.toe_gain.to_degrees(), number(&station["toe_gain_deg_per_m"]), GAIN);
            near("camber gain", m.camber_gain.to_degrees(), number(&station["camber_gain_deg_per_m"]), GAIN);
            if let Some(length) = station.get("spring_length_m") {
                let ratio = mover.ratio(0).unwrap();
                near("spring length", ratio.length, number(length), POSITION);
                near("motion ratio", -ratio.ratio, number(&station["spring_motion_ratio"]), SLOPE);
            }
        }
    }
}

#[test]
fn five_link_agrees_with_scipy() {
    check("five-link");
}

#[test]
fn double_wishbone_agrees_with_scipy() {
    check("double-wishbone");
}

#[test]
fn strut_agrees_with_scipy() {
    check("strut");
}

#[test]
fn trailing_blade_agrees_with_scipy() {
    check("trailing-blade");
}

#[test]
fn semi_trailing_arm_agrees_with_scipy() {
    check("semi-trailing-arm");
}

#[test]
fn push_rod_and_rocker_agree_with_scipy() {
    check("links");
}

#[track_caller]
fn check_exudyn(kind: &str) {
    let scheme = scheme(kind);
    let (data, exudyn) = (load(&format!("{kind}.json")), load(&format!("exudyn-{kind}.json")));
    let (cases, theirs) = (data["cases"].as_array().unwrap(), exudyn["cases"].as_array().unwrap());
    assert_eq!(cases.len(), theirs.len());
    assert!(cases.len() >= 200);
    for (n, (case, theirs)) in cases.iter().zip(theirs).enumerate() {
        let corner = corner(&scheme, case);
        let mut mover = Mover::new(&corner);
        for station in theirs["stations"].as_array().unwrap() {
            mover.reset();
            let m = mover.at(number(&station["travel"]), 0.0).unwrap();
            let miss = (m.centre - vector(&station["centre"])).amax();
            assert!(miss <= POSITION, "{kind} {n}: wheel centre off by {miss} m");
            assert!((m.toe.to_degrees() - number(&station["toe_deg"])).abs() <= ANGLE, "{kind} {n}: toe");
            assert!(
                (m.camber.to_degrees() - number(&station["camber_deg"])).abs() <= ANGLE,
                "{kind} {n}: camber"
            );
        }
    }
}

#[test]
fn five_link_agrees_with_exudyn() {
    check_exudyn("five-link");
}

#[test]
fn double_wishbone_agrees_with_exudyn() {
    check_exudyn("double-wishbone");
}

/// An arm as a body on its hinge and an arm as two rods are the same mechanism.
#[test]
fn an_arm_as_a_body_moves_the_wheel_as_its_two_legs_do() {
    let data = load("double-wishbone.json");
    let legs = scheme("double-wishbone");
    let mut bodies = legs.clone();
    kinds::carry_on_link(&mut bodies, "lower-arm").unwrap();
    kinds::carry_on_link(&mut bodies, "upper-arm").unwrap();
    kinds::carry_on_link(&mut bodies, "tie-rod").unwrap();
    for case in data["cases"].as_array().unwrap().iter().take(50) {
        let (a, b) = (corner(&legs, case), corner(&bodies, case));
        let (mut a, mut b) = (Mover::new(&a), Mover::new(&b));
        for (travel, rack) in [(0.05, 0.01), (-0.05, -0.02), (0.0, 0.03)] {
            let (m, n) = (a.at(travel, rack).unwrap(), b.at(travel, rack).unwrap());
            assert!((m.centre - n.centre).amax() < 1e-11);
            assert!((m.toe - n.toe).abs() < 1e-10 && (m.toe_gain - n.toe_gain).abs() < 1e-9);
            assert!((m.toe_curvature - n.toe_curvature).abs() < 1e-7);
        }
    }
}
