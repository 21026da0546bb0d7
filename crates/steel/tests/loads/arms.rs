//! Arms and links on which something sits: how two pivots share, and what bends between the ends.

use steel::load::{Carried, Push};
use suspension::TorqueReaction;
use suspension::scheme::ElementRole;

use crate::support::{Rig, Vector, cases, loaded};

/// Share of the largest force.
const SHARE: f64 = 1e-9;

fn braking(contact: Vector) -> Vec<Push> {
    let force = Vector::new(-4200.0, 2600.0, 5100.0);
    vec![Push { at: contact, force, torque: TorqueReaction::Upright }]
}

/// A spring that stands on the ball itself does not bend the arm, and its legs are two rods: the arm as a body has the
/// forces of the arm as rods, also along the hinge's axis, which statics leaves open.
#[test]
fn an_arm_with_a_spring_at_its_ball_pulls_as_two_rods() {
    for case in cases("double-wishbone", 20) {
        let plain = Rig::new("double-wishbone", &case);
        let foot = plain.point("lower-arm.ball");
        let body = foot + Vector::new(-0.02, -0.1, 0.4);
        let [rods, arm] = ["upright", "lower-arm"].map(|on| {
            let mut rig = plain.clone();
            rig.mount(ElementRole::Spring, on, foot, body);
            rig
        });
        for travel in [-0.04, 0.0, 0.05] {
            let (one, two) = (rods.corner(), arm.corner());
            let rods = loaded(&rods, &one, [travel, 0.0], &[], |m| braking(m.contact));
            let arm = loaded(&arm, &two, [travel, 0.0], &[], |m| braking(m.contact));
            assert_eq!(rods.forces.pickups.len(), arm.forces.pickups.len());
            for at in &rods.forces.pickups {
                let same = arm.forces.pickups.iter().find(|b| b.point == at.point).unwrap();
                let off = (at.force - same.force).norm();
                assert!(off < SHARE * rods.size(), "{off} N at {}", rods.rig.scheme.points[at.point]);
            }
            let carried = &arm.forces.carried[0];
            // Pull and push in the legs are a couple in the arm's plane; nothing bends it out of that.
            for cut in &carried.cuts {
                assert!(cut.bending - cut.in_plane < SHARE * rods.size(), "{cut:?}");
                assert!(cut.torque.abs() < SHARE * rods.size(), "{cut:?}");
            }
        }
    }
}

/// A beam on two balls with one force between them, a few lines on paper: outside of the mount the outer ball's force alone
/// bends; the torque of a mount beside the link's line runs only inward, to the bush at the body.
#[test]
fn a_link_bends_under_its_spring_as_a_beam_on_two_supports() {
    for case in cases("five-link", 20) {
        let mut rig = Rig::new("five-link", &case);
        let foot = rig.foot("link.a");
        rig.mount(ElementRole::Spring, "link.a", foot, foot + Vector::new(-0.03, -0.12, 0.36));
        let corner = rig.corner();
        for travel in [-0.04, 0.0, 0.05] {
            let state = loaded(&rig, &corner, [travel, 0.0], &[], |m| braking(m.contact));
            let link: &Carried = &state.forces.carried[0];
            assert_eq!(link.name, "link.a");
            // In the order of the joints: inner ball, outer ball, bush; then the spring.
            let [inner, outer, bush, spring] = link.forces.as_slice() else { panic!("{:?}", link.forces) };
            let [start, end] = link.axis;
            assert!((inner.place - start).norm() + (outer.place - end).norm() < 1e-12);
            assert!(bush.force == Vector::zeros() && inner.moment == Vector::zeros());
            let length = link.length();
            let axis = (end - start) / length;
            let s = axis.dot(&(spring.place - start));
            assert!((s - 0.7 * length).abs() < 0.03 && spring.force.norm() > 500.0);
            let [_, root, inside, outside, tip, beyond] = link.cuts.as_slice() else {
                panic!("{:?}", link.cuts)
            };
            let near = SHARE * state.size();
            let expect = |found: f64, by_hand: f64, what: &str| {
                assert!((found - by_hand).abs() < near, "{what}: {found} {by_hand}");
            };
            expect(outside.along, s, "place");
            expect(outside.axial, axis.dot(&outer.force), "tension outside");
            expect(tip.axial, outside.axial, "tension at the tip");
            expect(outside.shear, axis.cross(&outer.force).norm(), "shear outside");
            expect(outside.bending, axis.cross(&outer.force).norm() * (length - s), "bending outside");
            expect(outside.torque, 0.0, "torque outside");
            expect(tip.bending, 0.0, "bending at the tip");
            expect(beyond.axial, 0.0, "beyond the end");
            expect(inside.axial, -axis.dot(&inner.force), "tension inside");
            expect(inside.shear, axis.cross(&inner.force).norm(), "shear inside");
            expect(inside.torque, -axis.dot(&bush.moment), "torque inside");
            expect(root.torque, inside.torque, "torque at the root");
            // The spring's force beside the axis makes that torque.
            let beside = spring.place - start - axis * s;
            expect(inside.torque, axis.dot(&beside.cross(&spring.force)), "torque of the mount");
            let moment = axis.cross(&inner.force) * s - bush.moment;
            expect(inside.bending, axis.cross(&moment).norm(), "bending inside");
            expect(inside.in_plane, 0.0, "a link has no plane");
        }
    }
}

/// A spring on an arm bends it out of its plane by the ball's force across that plane, over the way from the ball to the mount.
#[test]
fn an_arm_bends_out_of_its_plane_under_its_spring() {
    for case in cases("double-wishbone", 20) {
        let mut rig = Rig::new("double-wishbone", &case);
        let foot = rig.foot("lower-arm");
        rig.mount(ElementRole::Spring, "lower-arm", foot, foot + Vector::new(-0.03, -0.12, 0.36));
        let corner = rig.corner();
        for travel in [-0.04, 0.0, 0.05] {
            let state = loaded(&rig, &corner, [travel, 0.0], &[], |m| braking(m.contact));
            let arm = &state.forces.carried[0];
            let at = |name: &str| {
                let point = rig.scheme.point(name).unwrap();
                *arm.forces.iter().find(|at| at.point == point).unwrap()
            };
            let [fore, aft, ball] =
                ["body-fore", "body-aft", "ball"].map(|end| at(&format!("lower-arm.{end}")));
            let spring = at("Spring.foot");
            let axis = (ball.place - (fore.place + aft.place) / 2.0).normalize();
            let normal = (aft.place - fore.place).cross(&axis).normalize();
            let reach = axis.dot(&(ball.place - spring.place));
            let along = arm.length() - reach;
            let outside = arm.cuts.iter().rfind(|cut| (cut.along - along).abs() < 1e-9).unwrap();
            let by_hand = (normal.dot(&ball.force) * reach).abs();
            let out_of_plane = (outside.bending.powi(2) - outside.in_plane.powi(2)).sqrt();
            assert!(by_hand > 20.0, "{by_hand}");
            assert!((out_of_plane - by_hand).abs() < 1e-8 * state.size(), "{outside:?} {by_hand}");
        }
    }
}
