//! The published benchmark axle: a planar front-view four-bar with a leaf for its upper link.
//!
//! U. Frik, G. Leister, W. Schwartz, Solution of the IAVSD road vehicle benchmark, Vehicle System Dynamics 22
//! (1993), 215-253 (paper not seen; points, masses and the nominal column read in an open reproduction).
//! Published: tyre loads, the leaf's vertical force on the carrier, the damper strut's spring force, all in the
//! nominal place. Worked out here: the kinematics of the four-bar, the equilibrium the published forces imply.

use linkage::{End, Frame, Loads, Reactions, reactions};
use nalgebra::Vector3;
use suspension::scheme::{Element, ElementRole, JointKind, PointOn, Scheme, UPRIGHT};
use suspension::{Corner, Mover, Wheel};

use crate::support::{load, number};

/// The data carry 12 decimals of a metre, 9 of a degree.
const POSITION: f64 = 2e-12;
const ANGLE: f64 = 2e-9;
const SLOPE: f64 = 1e-11;

/// Forces [N]: rounding of a 12 by 12 solution on loads of some kilonewtons.
const FORCE: f64 = 1e-6;

const GRAVITY: f64 = 9.81;
const TYRE_LOAD: f64 = 3829.6;
const LEAF_FORCE: f64 = -2728.9;
const STRUT_FORCE: f64 = -128.0;
const WHEEL_MASS: f64 = 57.35;
const ARM_MASS: f64 = 6.0;

const LOWER_INNER: [f64; 2] = [0.259, 0.302];
const LOWER_OUTER: [f64; 2] = [0.572, 0.229];
const LEAF_INNER: [f64; 2] = [0.1585, 0.600];
const LEAF_OUTER: [f64; 2] = [0.488, 0.531];
const CENTRE: [f64; 2] = [0.615, 0.356];
const STRUT_TOP: [f64; 2] = [0.297, 0.632];
const STRUT_FOOT: [f64; 2] = [0.500, 0.241];

fn plane([y, z]: [f64; 2]) -> Vector3<f64> {
    Vector3::new(0.0, y, z)
}

const ARM: Frame = Frame::Body(1);
const CARRIER: Frame = Frame::Body(UPRIGHT);

fn build() -> Corner<f64> {
    let mut s = Scheme { bodies: vec!["carrier".into(), "lower arm".into()], ..Scheme::default() };
    let mut points = Vec::new();
    let mut point = |s: &mut Scheme, name: &str, at: Vector3<f64>| {
        points.push(at);
        s.add_point(name)
    };
    let ahead = Vector3::new(0.1, 0.0, 0.0);
    for (name, a, b, at) in
        [("inner hinge", Frame::Ground, ARM, LOWER_INNER), ("outer hinge", ARM, CARRIER, LOWER_OUTER)]
    {
        let from = point(&mut s, name, plane(at));
        let to = point(&mut s, name, plane(at) + ahead);
        s.add_joint(name, JointKind::Hinge { a, b, from, to });
    }
    let inner = point(&mut s, "leaf.inner", plane(LEAF_INNER));
    let outer = point(&mut s, "leaf.outer", plane(LEAF_OUTER));
    let on = |frame, point| PointOn { frame, point };
    s.add_joint("leaf", JointKind::Rod { a: on(Frame::Ground, inner), b: on(CARRIER, outer) });
    // Both ends of the strut are 75 mm ahead of the axle's plane.
    let offset = Vector3::new(0.075, 0.0, 0.0);
    let top = point(&mut s, "strut.top", plane(STRUT_TOP) + offset);
    let foot = point(&mut s, "strut.foot", plane(STRUT_FOOT) + offset);
    s.elements.push(Element {
        role: ElementRole::Damper,
        name: "strut".into(),
        inner: on(Frame::Ground, top),
        outer: on(ARM, foot),
        rate: None,
        force: None,
    });
    let wheel = Wheel { centre: plane(CENTRE), toe: 0.0, camber: 0.0, loaded_radius: CENTRE[1] };
    Corner::new(&s, &points, &wheel).unwrap()
}

#[track_caller]
fn near(what: &str, ours: f64, theirs: f64, tolerance: f64) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} against {theirs}");
}

#[test]
fn the_axle_follows_its_travel_table() {
    let corner = build();
    let mut mover = Mover::new(&corner);
    let foot = End { frame: CARRIER, at: plane([CENTRE[0], 0.0]) };
    let data = load("closed-forms.json");
    let rows = data["benchmark-axle"]["cases"].as_array().unwrap();
    assert_eq!(rows.len(), 9);
    for row in rows {
        let theirs = |name: &str| number(&row[name]);
        let m = mover.at(theirs("travel"), 0.0).unwrap();
        let foot = mover.solver().track(&foot);
        near("centre y", m.centre.y, theirs("centre_y"), POSITION);
        near("centre x", m.centre.x, 0.0, POSITION);
        near("camber", m.camber.to_degrees(), theirs("camber_deg"), ANGLE);
        near("camber gain", m.camber_gain.to_degrees(), theirs("camber_gain_deg_per_m"), 1e-8);
        near("contact y", foot.p.y, theirs("contact_y"), POSITION);
        near("contact z", foot.p.z, theirs("contact_z"), POSITION);
        near("contact dy/dz", foot.v.y / foot.v.z, theirs("contact_dy_dz"), SLOPE);
        near("roll centre", foot.p.y * foot.v.y / foot.v.z, theirs("roll_centre_above_contact"), SLOPE);
        let ball = mover.solver().track(&End { frame: ARM, at: plane(LOWER_OUTER) }).p - plane(LOWER_INNER);
        near("arm angle", ball.z.atan2(ball.y).to_degrees(), theirs("arm_deg"), ANGLE);
    }
    // The lengths that the reproduction prints.
    let length = |a: [f64; 2], b: [f64; 2]| (plane(a) - plane(b)).norm();
    near("lower arm", length(LOWER_INNER, LOWER_OUTER), 0.321_400_062_2, 6e-11);
    near("leaf", length(LEAF_INNER, LEAF_OUTER), 0.336_647_070_4, 6e-11);
    near("carrier", length(LOWER_OUTER, LEAF_OUTER), 0.313_464_511_5, 6e-11);
}

/// The published laws reproduce the published forces. The strut's points are printed to a millimetre, which
/// gives its length to 4 um, and its law has a slope of 50 N/mm there.
#[test]
fn the_published_spring_laws_give_the_published_forces() {
    let corner = build();
    let mut mover = Mover::new(&corner);
    mover.at(0.0, 0.0).unwrap();
    let strut = mover.ratio(0).unwrap();
    near("strut length", strut.length, 0.440_556_48, 5e-6);
    near("strut force", strut_law(0.440_556_48), STRUT_FORCE, 0.05);
    near("strut force from our length", strut_law(strut.length), STRUT_FORCE, 0.3);
    near("leaf force", 35_906.0 * (0.076 - 0.152), LEAF_FORCE, 0.05);
    let share = 1260.0 * 1.047 / (0.970 + 1.047) / 2.0;
    near("tyre load", (share + WHEEL_MASS + ARM_MASS) * GRAVITY, TYRE_LOAD, 0.05);
}

/// Spring force of the damper strut [N], tension positive, by its length [m].
fn strut_law(z: f64) -> f64 {
    -4.0092e6 + 2.8397e7 * z - 6.7061e7 * z * z + 5.2796e7 * z * z * z
}

/// The published loads on carrier and arm in the nominal place, with the strut's force as what holds.
fn published_loads(corner: &Corner<f64>, mover: &mut Mover<'_>) -> Reactions {
    let (linkage, q) = (corner.linkage(), mover.solver().position());
    let mut loads = Loads::none(2);
    let up = |force: f64| Vector3::new(0.0, 0.0, force);
    let on = |frame, at| End { frame, at: plane(at) };
    loads.add_force(linkage, q, &on(CARRIER, [CENTRE[0], 0.0]), up(TYRE_LOAD));
    loads.add_force(linkage, q, &on(CARRIER, CENTRE), up(-WHEEL_MASS * GRAVITY));
    loads.add_force(linkage, q, &on(CARRIER, LEAF_OUTER), up(LEAF_FORCE));
    loads.add_force(linkage, q, &on(ARM, middle_of_arm()), up(-ARM_MASS * GRAVITY));
    reactions(linkage, q, &loads, &[corner.elements()[0].as_row()]).unwrap()
}

fn middle_of_arm() -> [f64; 2] {
    [0, 1].map(|k| (LOWER_INNER[k] + LOWER_OUTER[k]) / 2.0)
}

/// Moment about the x axis of a force (y, z) at a point (y, z) about a centre.
fn moment(at: [f64; 2], about: [f64; 2], force: [f64; 2]) -> f64 {
    (at[0] - about[0]) * force[1] - (at[1] - about[1]) * force[0]
}

fn toward(from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    let length = (to[0] - from[0]).hypot(to[1] - from[1]);
    [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
}

/// Link forces under the published loads against two-dimensional statics written out.
#[test]
fn link_forces_agree_with_hand_statics() {
    let corner = build();
    let mut mover = Mover::new(&corner);
    mover.at(0.0, 0.0).unwrap();
    let found = published_loads(&corner, &mut mover);
    assert!(found.unbalanced < FORCE);

    // Carrier, moments about the lower outer joint: the leaf's axial force is alone unknown.
    let foot = [CENTRE[0], 0.0];
    let carrier_loads =
        [(foot, [0.0, TYRE_LOAD]), (CENTRE, [0.0, -WHEEL_MASS * GRAVITY]), (LEAF_OUTER, [0.0, LEAF_FORCE])];
    let leaf = toward(LEAF_OUTER, LEAF_INNER);
    let turning: f64 = carrier_loads.iter().map(|(at, f)| moment(*at, LOWER_OUTER, *f)).sum();
    let leaf_tension = -turning / moment(LEAF_OUTER, LOWER_OUTER, leaf);
    let joint = corner.linkage().joint("leaf").unwrap();
    near("leaf tension", found.tension(corner.linkage(), joint).unwrap(), leaf_tension, FORCE);

    // Carrier, forces: what the arm gives the carrier at the lower outer joint.
    let sum = |k: usize| carrier_loads.iter().map(|(_, f)| f[k]).sum::<f64>() + leaf_tension * leaf[k];
    let from_arm = [-sum(0), -sum(1)];
    let rows = corner.linkage().joints()[corner.linkage().joint("outer hinge").unwrap()].rows.clone();
    near("outer joint, y", found.values[rows.start + 1], from_arm[0], FORCE);
    near("outer joint, z", found.values[rows.start + 2], from_arm[1], FORCE);

    // Arm, moments about the inner hinge: the strut's force. Both its ends are at the same x, so that it lies
    // in the plane.
    let strut = toward(STRUT_FOOT, STRUT_TOP);
    let on_arm = moment(LOWER_OUTER, LOWER_INNER, [-from_arm[0], -from_arm[1]])
        + moment(middle_of_arm(), LOWER_INNER, [0.0, -ARM_MASS * GRAVITY]);
    let strut_tension = -on_arm / moment(STRUT_FOOT, LOWER_INNER, strut);
    near("strut tension", -found.values[found.values.len() - 1], strut_tension, FORCE);

    // Arm, forces: the inner hinge.
    let rows = corner.linkage().joints()[corner.linkage().joint("inner hinge").unwrap()].rows.clone();
    near("inner hinge, y", found.values[rows.start + 1], from_arm[0] - strut_tension * strut[0], FORCE);
    let down = ARM_MASS * GRAVITY;
    near(
        "inner hinge, z",
        found.values[rows.start + 2],
        from_arm[1] + down - strut_tension * strut[1],
        FORCE,
    );
}

/// What leaf and strut lack to carry the wheel at a travel [N per unit of travel, by virtual work along the
/// screw]: tyre load less unsprung weight, less both springs.
fn lacking(mover: &mut Mover<'_>, travel: f64, tyre: f64) -> f64 {
    mover.at(travel, 0.0).unwrap();
    let strut = mover.ratio(0).unwrap();
    let mut track = |frame, at| mover.solver().track(&End { frame, at: plane(at) });
    let leaf = track(CARRIER, LEAF_OUTER);
    let needed = tyre * track(CARRIER, [CENTRE[0], 0.0]).v.z
        - WHEEL_MASS * GRAVITY * track(CARRIER, CENTRE).v.z
        - ARM_MASS * GRAVITY * track(ARM, middle_of_arm()).v.z;
    let carried_by_leaf = 35_906.0 * (0.076 + leaf.p.z - LEAF_OUTER[1]) * leaf.v.z;
    needed - carried_by_leaf + strut_law(strut.length) * strut.ratio
}

/// The published nominal forces are the start of the benchmark's runs, not a place of rest: springs lack about
/// an eighth of what the front wheel asks. Virtual work and reactions say so alike, and the place where they
/// do balance is the equilibrium that the reproduction found with its own program (read there): chassis
/// 7.083 mm lower and pitched by 0.1465 deg, so 9.563 mm of jounce at the front and 4.406 mm at the rear.
#[test]
fn the_published_forces_are_a_start_and_not_an_equilibrium() {
    let corner = build();
    let mut mover = Mover::new(&corner);
    let lack = lacking(&mut mover, 0.0, TYRE_LOAD);
    near("lacking at the front", lack, 462.0, 0.5);
    // The strut would have to be pressed by 909 N to hold the nominal place, not by 128 N.
    let held = published_loads(&corner, &mut mover);
    let strut = held.values[held.values.len() - 1];
    let ratio = mover.ratio(0).unwrap();
    // The strut's law is steep: its length, known to 4 um, is worth 0.2 N.
    near("virtual work against reactions", (strut + strut_law(ratio.length)) * ratio.ratio, lack, 0.2);

    for (axle, tyre, sunk) in [("front", 3831.31, 0.009_563), ("rear", 3591.91, 0.004_406)] {
        let (mut low, mut high) = (0.0, 0.03);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if lacking(&mut mover, middle, tyre) > 0.0 { low = middle } else { high = middle }
        }
        // Tyres give a hundredth of a millimetre more or less than in the nominal place; points are printed to
        // a millimetre.
        near(axle, low, sunk, 2e-5);
    }
}
