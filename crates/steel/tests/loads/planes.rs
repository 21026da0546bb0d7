//! Points held in a plane: at ride height a plane square to a rod, through either of its ends, holds as the rod does.

use linkage::Frame;
use steel::load::Push;
use suspension::TorqueReaction;
use suspension::scheme::{ElementRole, JointKind, PointOn, UPRIGHT};

use crate::support::{Rig, Vector, cases, loaded};

/// Share of the largest force.
const SHARE: f64 = 1e-9;

#[test]
fn a_plane_square_to_a_rod_holds_as_the_rod_does() {
    for case in cases("five-link", 20) {
        let mut rig = Rig::new("five-link", &case);
        let foot = rig.foot("upright");
        rig.mount(ElementRole::Spring, "upright", foot, foot + Vector::new(-0.03, -0.12, 0.36));
        let push = |contact: Vector| {
            let force = Vector::new(-4200.0, 2600.0, 5100.0);
            vec![Push { at: contact, force, torque: TorqueReaction::Upright }]
        };
        let corner = rig.corner();
        let rods = loaded(&rig, &corner, [0.0, 0.0], &[], |m| push(m.contact));
        let index = rig.scheme.joint("link.c").unwrap();
        let [body, ball] = ["link.c.body", "link.c.upright"].map(|name| rig.scheme.point(name).unwrap());
        let along = (rig.points[body] - rig.points[ball]).normalize();
        // The plane of the body holds the ball; or a plane of the upright is held by the point of the body.
        for (plane, frame, point) in
            [(Frame::Ground, Frame::Body(UPRIGHT), ball), (Frame::Body(UPRIGHT), Frame::Ground, body)]
        {
            let mut held = rig.clone();
            held.scheme.legs.retain(|leg| leg.name != "link.c");
            held.scheme.joints[index].kind =
                JointKind::InPlane { plane, normal: along.into(), point: PointOn { frame, point } };
            let corner = held.corner();
            let found = loaded(&held, &corner, [0.0, 0.0], &[], |m| push(m.contact));
            let near = SHARE * rods.size();
            let (one, other) = (&rods.forces, &found.forces);
            assert!((one.elements[0] - other.elements[0]).abs() < near);
            let rod = one.legs.iter().find(|leg| leg.name == "link.c").unwrap();
            for leg in &other.legs {
                let same = one.legs.iter().find(|l| l.name == leg.name).unwrap();
                assert!((leg.tension - same.tension).abs() < near, "{leg:?} {same:?}");
            }
            // A rod in tension pulls the car's body toward the wheel.
            let pickup = other.pickups.iter().find(|at| at.point == point).unwrap();
            assert!((pickup.force + along * rod.tension).amax() < near, "{pickup:?} {rod:?}");
            assert!((pickup.place - held.points[point]).norm() < 1e-12);
        }
    }
}
