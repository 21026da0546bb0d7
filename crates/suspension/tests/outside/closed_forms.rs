//! Suspensions with exact answers: one skew axis (Rodrigues), parallel equal wishbones, a spring at a fraction
//! of an arm. Formulas worked out by `reference/closed_forms.py`; nothing here was read elsewhere.

use linkage::Frame;
use nalgebra::Vector3;
use serde_json::Value;
use suspension::scheme::{Element, ElementRole, PointOn, Scheme};
use suspension::{Corner, Measures, Mover, Wheel, kinds};

use crate::support::{corner, load, number, points, scheme, vector, wheel};

/// The data carry 12 decimals of a metre and of a slope, 9 of a degree.
const POSITION: f64 = 2e-12;
const SLOPE: f64 = 1e-11;
const ANGLE: f64 = 2e-9;

fn section(name: &str) -> Value {
    load("closed-forms.json")[name].clone()
}

#[track_caller]
fn near(what: &str, ours: f64, theirs: f64, tolerance: f64) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} against {theirs}");
}

#[test]
fn a_wheel_on_one_axis_turns_by_the_arcsine() {
    let data = section("single-axis");
    let cases = data["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 3);
    for case in cases {
        let corner = corner(&scheme("semi-trailing-arm"), case);
        let mut mover = Mover::new(&corner);
        for s in case["stations"].as_array().unwrap() {
            let m = mover.at(number(&s["travel"]), 0.0).unwrap();
            for k in 0..3 {
                near("centre", m.centre[k], vector(&s["centre"])[k], POSITION);
                near("contact", m.contact[k], vector(&s["contact"])[k], POSITION);
            }
            near("toe", m.toe.to_degrees(), number(&s["toe_deg"]), ANGLE);
            near("camber", m.camber.to_degrees(), number(&s["camber_deg"]), ANGLE);
            near("contact dx/dz", m.contact_dx_dz(), number(&s["contact_dx_dz"]), SLOPE);
            near("contact dy/dz", m.contact_dy_dz(), number(&s["contact_dy_dz"]), SLOPE);
            near("centre dx/dz", m.centre_dx_dz(), number(&s["centre_dx_dz"]), SLOPE);
            near("centre dy/dz", m.centre_dy_dz(), number(&s["centre_dy_dz"]), SLOPE);
            // Rotation about the hinge: the trace of the rotation matrix is 1 + 2 cos.
            let rot = mover.solver().position().poses[0].rot;
            let turn = ((rot.trace() - 1.0) * 0.5).clamp(-1.0, 1.0).acos().to_degrees();
            // acos loses half of the digits near zero.
            near("turn", turn, number(&s["turn_deg"]).abs(), 1e-6);
        }
    }
}

#[test]
fn parallel_equal_wishbones_move_the_wheel_on_an_arc_without_turning_it() {
    let data = section("parallel-wishbones");
    for case in data["cases"].as_array().unwrap() {
        let corner = corner(&scheme("double-wishbone"), case);
        let mut mover = Mover::new(&corner);
        let (arm, rest) = (number(&case["arm"]), vector(&case["wheel"]["centre"]).y);
        for s in case["stations"].as_array().unwrap() {
            let travel = number(&s["travel"]);
            let m = mover.at(travel, 0.0).unwrap();
            near("lateral", m.centre.y - rest, number(&s["lateral"]), POSITION);
            near(
                "lateral, l (1 - cos)",
                m.centre.y - rest,
                (arm * arm - travel * travel).sqrt() - arm,
                POSITION,
            );
            near("toe", m.toe, 0.0, 1e-12);
            near("camber", m.camber, 0.0, 1e-12);
            near("camber gain", m.camber_gain, 0.0, SLOPE);
            near("centre dy/dz", m.centre_dy_dz(), number(&s["centre_dy_dz"]), SLOPE);
            near("contact dy/dz", m.contact_dy_dz(), number(&s["contact_dy_dz"]), SLOPE);
            near("side-view turning", m.side_view_turning(), 0.0, SLOPE);
        }
    }
}

/// Level parallel wishbones with an upright spring at the fraction `k` of the lower arm.
fn sprung(case: &Value, k: f64) -> (Scheme, Vec<Vector3<f64>>, Wheel<f64>) {
    let mut s = kinds::double_wishbone(true);
    let arm = kinds::carry_on_link(&mut s, "lower-arm").unwrap();
    let mut at = points(&s, case);
    let ball = at[s.point("lower-arm.ball").unwrap()];
    let seat = Vector3::new(ball.x, ball.y - (1.0 - k) * number(&case["arm"]), ball.z);
    let (outer, inner) = (s.add_point("spring.lower"), s.add_point("spring.upper"));
    at.extend([seat, seat + Vector3::new(0.0, 0.0, 0.35)]);
    s.elements.push(Element {
        role: ElementRole::Spring,
        name: "spring".into(),
        inner: PointOn { frame: Frame::Ground, point: inner },
        outer: PointOn { frame: arm, point: outer },
        rate: Some(60e3),
        force: Some(5000.0),
    });
    (s, at, wheel(case))
}

#[test]
fn a_spring_at_a_fraction_of_the_arm_has_that_motion_ratio() {
    const RATE: f64 = 60e3;
    let data = section("parallel-wishbones");
    for case in data["cases"].as_array().unwrap() {
        for k in [0.3, 0.5, 0.65, 0.9, 1.0] {
            let (scheme, points, wheel) = sprung(case, k);
            let corner = Corner::new(&scheme, &points, &wheel).unwrap();
            let mut mover = Mover::new(&corner);
            mover.at(0.0, 0.0).unwrap();
            let ratio = mover.ratio(0).unwrap();
            near("motion ratio", ratio.ratio, k, SLOPE);
            let rate = ratio.wheel_rate(RATE, Some(5000.0));
            near("wheel rate", rate.from_rate, RATE * k * k, 1e-6);
            // The seat is on a circle of radius k l and turns off plumb: by hand L'' = k^2/L (of the sideways
            // move, none at rest) - 0, since z'' of the seat is zero and y'' = -k/l is square to the spring.
            near("geometry term", rate.from_geometry.unwrap(), 0.0, 1e-6);
        }
    }
}

/// The second term of the wheel rate against the slope of the wheel force, `F MR`, where both change.
#[test]
fn the_wheel_rate_is_the_slope_of_the_wheel_force() {
    const RATE: f64 = 45e3;
    const PRELOAD: f64 = 3200.0;
    const STEP: f64 = 1e-5;
    let scheme = scheme("links");
    let data = load("links.json");
    for case in data["cases"].as_array().unwrap().iter().take(40) {
        let corner = corner(&scheme, case);
        let mut mover = Mover::new(&corner);
        mover.at(0.0, 0.0).unwrap();
        let rest = mover.ratio(0).unwrap().length;
        for travel in [-0.05, 0.0, 0.04] {
            let mut at = |travel: f64| {
                mover.at(travel, 0.0).unwrap();
                let r = mover.ratio(0).unwrap();
                let force = PRELOAD + RATE * (rest - r.length);
                (r, force)
            };
            let ((above, up), (below, down)) = (at(travel + STEP), at(travel - STEP));
            let slope = (up * above.ratio - down * below.ratio) / (2.0 * STEP);
            let (ratio, force) = at(travel);
            let rate = ratio.wheel_rate(RATE, Some(force));
            let ours = rate.from_rate + rate.from_geometry.unwrap();
            // Truncation: a third derivative of the force of the order of 1e9 N/m^3 times STEP^2 / 6.
            near("wheel rate", ours, slope, 1e-6 * ours.abs().max(1e4));
            let bend = (above.ratio - below.ratio) / (2.0 * STEP);
            near("ratio rate", ratio.ratio_rate, bend, 1e-6 * bend.abs().max(1.0));
        }
    }
}

/// The roll centre of a corner whose front-view instant centre is known: with level parallel arms it lies on
/// the road; the side-view arm of a trailing arm is its length.
#[test]
fn roll_centre_and_side_view_arm_of_simple_corners() {
    let at_design = |case: &Value, kind: &str| -> Measures<f64> {
        let corner = corner(&scheme(kind), case);
        Mover::new(&corner).at(0.0, 0.0).unwrap()
    };
    let parallel = at_design(&section("parallel-wishbones")["cases"][0], "double-wishbone");
    near("roll centre height", parallel.roll_centre_height(), 0.0, SLOPE);
    let trailing = at_design(&section("single-axis")["cases"][0], "semi-trailing-arm");
    // The pivot is 0.45 m ahead: x_P + v_z/w_y = 0.45.
    near("side-view arm", trailing.contact.x + 1.0 / trailing.side_view_turning(), 0.45, SLOPE);
    near("roll centre height", trailing.roll_centre_height(), 0.0, SLOPE);
}
