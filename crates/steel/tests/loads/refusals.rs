//! What cannot be worked out is refused in words.

use linkage::Position;
use nalgebra::Vector3;
use steel::SteelError;
use steel::load::{Acting, Forces, Push, forces};
use suspension::TorqueReaction;
use suspension::scheme::ElementRole;

use crate::support::{Rig, Vector, cases};

/// The first corner of a kind at ride height with one spring.
fn rig(kind: &str, on: &str) -> Rig {
    let mut rig = Rig::new(kind, &cases(kind, 1)[0]);
    let foot = rig.foot(on);
    rig.mount(ElementRole::Spring, on, foot, foot + Vector::new(-0.03, -0.12, 0.36));
    rig
}

fn run(
    rig: &Rig,
    points: &[Vector3<f64>],
    force: Vector,
    elements: &[(usize, f64)],
    holder: usize,
) -> Result<Forces, SteelError> {
    let corner = rig.corner();
    let q = Position::design(corner.linkage().bodies(), corner.linkage().inputs());
    let at = rig.wheel.centre - Vector::z() * rig.wheel.loaded_radius;
    let push = [Push { at, force, torque: TorqueReaction::Upright }];
    forces(&rig.scheme, points, &corner, &q, &Acting { wheel: &push, elements, holder })
}

const ROAD: [f64; 3] = [-3000.0, 1000.0, 4000.0];

#[test]
fn numbers_that_are_not_finite_are_refused() {
    let rig = rig("double-wishbone", "lower-arm");
    for bad in [f64::NAN, f64::INFINITY, -f64::INFINITY] {
        for k in 0..3 {
            let mut force = Vector::from(ROAD);
            force[k] = bad;
            assert_eq!(run(&rig, &rig.points, force, &[], 0), Err(SteelError::NotFinite));
        }
        let road = Vector::from(ROAD);
        assert_eq!(run(&rig, &rig.points, road, &[(0, bad)], 0), Err(SteelError::NotFinite));
        // A force that can be moved but whose sums overflow.
        let huge = Vector::from(ROAD) * 1e305;
        assert!(run(&rig, &rig.points, huge, &[], 0).is_err());
    }
    let corner = rig.corner();
    let q = Position::design(corner.linkage().bodies(), corner.linkage().inputs());
    let at = Vector::new(0.0, f64::NAN, 0.0);
    let push = [Push { at, force: Vector::from(ROAD), torque: TorqueReaction::Body }];
    let acting = Acting { wheel: &push, elements: &[], holder: 0 };
    assert_eq!(forces(&rig.scheme, &rig.points, &corner, &q, &acting), Err(SteelError::NotFinite));
}

#[test]
fn springs_that_are_not_there_are_refused() {
    let rig = rig("double-wishbone", "lower-arm");
    let road = Vector::from(ROAD);
    let none = run(&rig, &rig.points, road, &[], 1).unwrap_err();
    assert_eq!(none, SteelError::NoHolder);
    assert_eq!(none.to_string(), "no spring or damper carries the corner");
    let other = run(&rig, &rig.points, road, &[(7, 300.0)], 0).unwrap_err();
    assert_eq!(other.to_string(), "the number of a spring or bar link is 7, which no part has");
}

/// Hard points that do not belong to the corner leave a hinge without its pivots.
#[test]
fn points_that_are_missing_do_not_pass_in_silence() {
    let rig = rig("double-wishbone", "lower-arm");
    let left = run(&rig, &[], Vector::from(ROAD), &[], 0).unwrap_err();
    assert!(matches!(left, SteelError::GivesWay { left } if left > 100.0), "{left:?}");
}

/// A trailing arm whose spring lies along the hinge cannot carry: every point of it moves across the hinge. Turned by an
/// angle `t` out of that line its motion ratio is about `t`.
#[test]
fn a_spring_at_its_dead_point_does_not_carry() {
    let case = &cases("semi-trailing-arm", 1)[0];
    let plain = Rig::new("semi-trailing-arm", case);
    let hinge = (plain.point("arm.pivot-outer") - plain.point("arm.pivot-inner")).normalize();
    let foot = plain.foot("upright");
    let tangent = hinge.cross(&(foot - plain.point("arm.pivot-inner"))).normalize();
    let with = |turned: f64| {
        let mut rig = plain.clone();
        rig.mount(ElementRole::Spring, "upright", foot, foot + hinge * 0.3 + tangent * (0.3 * turned));
        run(&rig, &rig.points, Vector::from(ROAD), &[], 0)
    };
    for turned in [0.0, 1e-14, 1e-9, 1e-7, 1e-5] {
        let found = with(turned).unwrap_err();
        assert!(matches!(found, SteelError::GivesWay { left } if left > 500.0), "{turned}: {found:?}");
        assert!(found.to_string().starts_with("the joints do not hold the load: "), "{found}");
    }
    let steep = with(0.01).unwrap();
    assert!(steep.elements[0].abs() > 1e5 && steep.elements[0].is_finite(), "{}", steep.elements[0]);
    assert!(with(0.5).unwrap().elements[0].abs() < 3e4);
}
