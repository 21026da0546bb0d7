//! Virtual work along the screw against reactions.

use linkage::{End, Frame, Loads, reactions};
use nalgebra::Vector3;
use suspension::Mover;

use crate::cases;
use crate::support::{corner, scheme};

/// Newtons on loads of some thousand.
const FORCE: f64 = 1e-6;

/// The force in a spring behind push-rod and rocker is the wheel's load through the screw over the motion
/// ratio, and a longitudinal force reaches it by the slope of the contact point.
#[test]
fn the_spring_force_is_the_load_over_the_motion_ratio() {
    let scheme = scheme("links");
    for case in cases("links", 40) {
        let corner = corner(&scheme, &case);
        let mut mover = Mover::new(&corner);
        for travel in [-0.04, 0.0, 0.05] {
            let m = mover.at(travel, 0.0).unwrap();
            let ratio = mover.ratio(0).unwrap();
            let position = mover.solver().position().clone();
            let back = position.poses[0].rot.transpose() * (m.contact - m.centre);
            let foot = End { frame: Frame::Body(0), at: corner.centre().at + back };
            let span = &corner.elements()[0];
            let frames = corner.linkage().frames();
            let length = (frames.point(&position, &span.outer) - frames.point(&position, &span.inner)).norm();
            let hold = linkage::Row::Distance { a: span.inner, b: span.outer, length };
            for force in [Vector3::z() * 4000.0, Vector3::x() * -3000.0, Vector3::new(500.0, -2500.0, 3800.0)]
            {
                let mut loads = Loads::none(corner.linkage().bodies());
                loads.add_force(corner.linkage(), &position, &foot, force);
                let found = reactions(corner.linkage(), &position, &loads, &[hold]).unwrap();
                assert!(found.unbalanced < FORCE, "{travel} {} {}", found.unbalanced, ratio.ratio);
                let push = found.values[found.values.len() - 1];
                let work = force.dot(&m.contact_velocity);
                assert!((push * ratio.ratio - work).abs() < FORCE, "{push} {} {work}", ratio.ratio);
            }
        }
    }
}
