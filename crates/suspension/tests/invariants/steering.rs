//! The steering axis from two sources.

use linkage::{End, Frame};
use nalgebra::Vector3;
use suspension::{AxisSource, Corner, Mover, steering_axis};

use crate::cases;
use crate::support::{corner, load, points, scheme, wheel};

/// Rounding through the screws.
const TOLERANCE: f64 = 1e-9;

/// The screw of the rack at fixed travel holds the wheel centre's height, not the balls: it is the turn about
/// the balls and as much of the travel screw as takes out the lift. Taking the travel screw out again leaves
/// a turn about the line of both balls, at any position.
#[test]
fn the_rack_turns_the_upright_about_both_balls() {
    for (kind, low, high) in
        [("double-wishbone", "lower-arm.ball", Some("upper-arm.ball")), ("strut", "lower-arm.ball", None)]
    {
        let scheme = scheme(kind);
        for case in cases(kind, 40) {
            let at = points(&scheme, &case);
            let corner = Corner::new(&scheme, &at, &wheel(&case)).unwrap();
            let mut mover = Mover::new(&corner);
            for (travel, rack) in [(0.0, 0.0), (0.04, 0.01), (-0.05, -0.01)] {
                mover.at(travel, rack).unwrap();
                let end = |name: &str| End { frame: Frame::Body(0), at: at[scheme.point(name).unwrap()] };
                let position = mover.solver().position().clone();
                let lever = |name: &str| corner.linkage().frames().lever(&position, &end(name));
                let (lift, steer) = (mover.solver().motion().twists[0], mover.steer_screw().unwrap());
                let share = steer.at(&lever(low)).z / lift.at(&lever(low)).z;
                let turn = linkage::Twist { v: steer.v - lift.v * share, w: steer.w - lift.w * share };
                let scale = turn.w.norm();
                assert!(turn.at(&lever(low)).norm() < TOLERANCE * scale, "{kind}: {}", turn.at(&lever(low)));
                if let Some(high) = high {
                    assert!(
                        turn.at(&lever(high)).norm() < TOLERANCE * scale,
                        "{kind}: {}",
                        turn.at(&lever(high))
                    );
                } else {
                    // The top of a strut is fixed: the upright turns about it and the lower ball, and does not
                    // slide along itself.
                    let top = at[scheme.point("strut.top").unwrap()];
                    let ball = corner.linkage().frames().point(&position, &end(low));
                    assert!((top - ball).normalize().cross(&turn.w).norm() < TOLERANCE * scale);
                }
            }
        }
    }
}

/// Where steering does not lift the wheel centre (both balls plumb above each other), both sources agree.
#[test]
fn rack_and_balls_agree_for_a_plumb_axis() {
    let data = load("closed-forms.json");
    for case in data["parallel-wishbones"]["cases"].as_array().unwrap() {
        let with = scheme("double-wishbone");
        let mut without = with.clone();
        without.steering_axis = None;
        let (a, b) = (corner(&with, case), corner(&without, case));
        let (mut a, mut b) = (Mover::new(&a), Mover::new(&b));
        for travel in [0.0, 0.03, -0.05] {
            a.at(travel, 0.0).unwrap();
            b.at(travel, 0.0).unwrap();
            let (balls, rack) = (steering_axis(&mut a, None).unwrap(), steering_axis(&mut b, None).unwrap());
            assert_eq!((balls.source, rack.source), (AxisSource::Balls, AxisSource::Rack));
            assert!((balls.caster - rack.caster).abs() < TOLERANCE);
            assert!((balls.inclination - rack.inclination).abs() < TOLERANCE);
            assert!((balls.trail - rack.trail).abs() < TOLERANCE);
            assert!((balls.scrub_radius - rack.scrub_radius).abs() < TOLERANCE);
        }
    }
}

/// A tie rod that grows steers as a rack that moves: the same axis from the link's own response.
#[test]
fn a_growing_tie_rod_steers_about_the_same_axis() {
    for case in cases("double-wishbone", 20) {
        let mut railed = scheme("double-wishbone");
        railed.steering_axis = None;
        let mut fixed = suspension::kinds::double_wishbone(false);
        fixed.steering_axis = None;
        let (a, b) = (corner(&railed, &case), corner(&fixed, &case));
        let (mut a, mut b) = (Mover::new(&a), Mover::new(&b));
        a.at(0.02, 0.0).unwrap();
        b.at(0.02, 0.0).unwrap();
        assert_eq!(steering_axis(&mut b, None), None);
        let link =
            b.corner().linkage().joint("link.tie-rod").or(b.corner().linkage().joint("tie-rod")).unwrap();
        let (rack, rod) = (steering_axis(&mut a, None).unwrap(), steering_axis(&mut b, Some(link)).unwrap());
        assert_eq!(rod.source, AxisSource::Link(link));
        assert!((rack.caster - rod.caster).abs() < TOLERANCE);
        assert!((rack.inclination - rod.inclination).abs() < TOLERANCE);
        assert!((rack.trail - rod.trail).abs() < TOLERANCE);
        assert!((rack.scrub_radius - rod.scrub_radius).abs() < TOLERANCE);
    }
}

/// Signs, from the definitions: top rearward and inward, the axis ahead of and inboard of the contact.
#[test]
fn signs_of_the_steering_axis() {
    let mut case = load("closed-forms.json")["parallel-wishbones"]["cases"][0].clone();
    for (name, to) in [("upper-arm.ball", [-0.02, 0.67, 0.44]), ("lower-arm.ball", [0.01, 0.70, 0.18])] {
        case["points"][name] = serde_json::json!(to);
    }
    let corner = corner(&scheme("double-wishbone"), &case);
    let mut mover = Mover::new(&corner);
    let m = mover.at(0.0, 0.0).unwrap();
    let axis = steering_axis(&mut mover, None).unwrap();
    let e = Vector3::new(-0.03, -0.03, 0.26);
    let ground = Vector3::new(0.01, 0.70, 0.18) - e * (0.18 / 0.26);
    assert!(axis.caster > 0.0 && axis.inclination > 0.0);
    assert!((axis.caster - (0.03f64 / 0.26).atan()).abs() < 1e-14);
    assert!((axis.trail - (ground.x - m.contact.x)).abs() < 1e-14 && axis.trail > 0.0);
    assert!((axis.scrub_radius - (m.contact.y - ground.y)).abs() < 1e-14 && axis.scrub_radius > 0.0);
}
