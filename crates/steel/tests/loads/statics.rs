//! A double wishbone by explicit statics on its hard points at ride height: no motion, no linkage.

use nalgebra::{DMatrix, DVector, Vector6};
use steel::load::Push;
use suspension::TorqueReaction;
use suspension::scheme::ElementRole;

use crate::support::{Loaded, Rig, Vector, cases, loaded};

/// Share of the largest force.
const SHARE: f64 = 1e-9;

/// Forces on the wheel [N] and what reacts their moment about the axle: braking in a bend, drive, a kerb.
const DEMANDS: [([f64; 3], TorqueReaction); 3] = [
    ([-4200.0, 2600.0, 5100.0], TorqueReaction::Upright),
    ([3100.0, -900.0, 2800.0], TorqueReaction::Body),
    ([-700.0, -1500.0, 9000.0], TorqueReaction::Upright),
];

/// Unit force along `way` at `at`, with its moment about the origin.
fn wrench(at: Vector, way: Vector) -> Vector6<f64> {
    let along = way.normalize();
    let moment = at.cross(&along);
    Vector6::new(along.x, along.y, along.z, moment.x, moment.y, moment.z)
}

/// Force at the contact on the upright as a wrench: the contact is the lowest point of the disc, and a half-shaft takes the
/// moment about the spin axis through the centre.
fn road(rig: &Rig, force: Vector, torque: TorqueReaction) -> Vector6<f64> {
    let (spin, centre) = (rig.wheel.spin_axis(), rig.wheel.centre);
    let up = (Vector::z() - spin * spin.z).normalize();
    let contact = centre - up * rig.wheel.loaded_radius;
    let mut moment = contact.cross(&force);
    if torque == TorqueReaction::Body {
        moment -= spin * spin.dot(&(contact - centre).cross(&force));
    }
    Vector6::new(force.x, force.y, force.z, moment.x, moment.y, moment.z)
}

fn at_ride_height<'a>(
    rig: &'a Rig,
    corner: &'a suspension::Corner<f64>,
    force: Vector,
    torque: TorqueReaction,
) -> Loaded<'a> {
    loaded(rig, corner, [0.0, 0.0], &[], |m| vec![Push { at: m.contact, force, torque }])
}

/// Six balances of the upright, six unknowns: five rods and the spring.
#[test]
fn rods_of_a_double_wishbone_by_six_balances() {
    let rods = [
        ("upper-arm fore leg", "upper-arm.body-fore", "upper-arm.ball"),
        ("upper-arm aft leg", "upper-arm.body-aft", "upper-arm.ball"),
        ("lower-arm fore leg", "lower-arm.body-fore", "lower-arm.ball"),
        ("lower-arm aft leg", "lower-arm.body-aft", "lower-arm.ball"),
        ("tie-rod", "tie-rod.body", "tie-rod.upright"),
    ];
    for case in cases("double-wishbone", 20) {
        let mut rig = Rig::new("double-wishbone", &case);
        let foot = rig.foot("upright");
        let top = foot + Vector::new(-0.03, -0.12, 0.36);
        rig.mount(ElementRole::Spring, "upright", foot, top);
        let mut columns: Vec<Vector6<f64>> = rods
            .iter()
            .map(|(_, body, ball)| wrench(rig.point(ball), rig.point(body) - rig.point(ball)))
            .collect();
        columns.push(wrench(foot, foot - top));
        let matrix = nalgebra::Matrix6::from_columns(&columns);
        let corner = rig.corner();
        for (force, torque) in DEMANDS {
            let force = Vector::from(force);
            let by_hand = matrix.lu().solve(&-road(&rig, force, torque)).unwrap();
            let found = at_ride_height(&rig, &corner, force, torque).forces;
            let near = SHARE * by_hand.amax();
            for ((name, ..), tension) in rods.iter().zip(by_hand.iter()) {
                let leg = found.legs.iter().find(|l| l.name == *name).unwrap();
                assert!((leg.tension - tension).abs() < near, "{name}: {} {tension}", leg.tension);
            }
            assert!((found.elements[0] - by_hand[5]).abs() < near, "{} {}", found.elements[0], by_hand[5]);
        }
    }
}

/// The spring on the lower arm: seven unknowns (three rods, the ball's force, the spring), six balances of the upright and
/// that of the arm about its hinge.
#[test]
fn a_spring_on_the_lower_arm_by_seven_balances() {
    let rods = [
        ("upper-arm fore leg", "upper-arm.body-fore", "upper-arm.ball"),
        ("upper-arm aft leg", "upper-arm.body-aft", "upper-arm.ball"),
        ("tie-rod", "tie-rod.body", "tie-rod.upright"),
    ];
    for case in cases("double-wishbone", 20) {
        let mut rig = Rig::new("double-wishbone", &case);
        let foot = rig.foot("lower-arm");
        let top = foot + Vector::new(-0.03, -0.12, 0.36);
        rig.mount(ElementRole::Spring, "lower-arm", foot, top);
        let [fore, aft, ball] =
            ["body-fore", "body-aft", "ball"].map(|end| rig.point(&format!("lower-arm.{end}")));
        let hinge = (aft - fore).normalize();
        let mut matrix = DMatrix::zeros(7, 7);
        for (k, (_, body, end)) in rods.iter().enumerate() {
            let column = wrench(rig.point(end), rig.point(body) - rig.point(end));
            matrix.view_mut((0, k), (6, 1)).copy_from(&column);
        }
        for (k, axis) in [Vector::x(), Vector::y(), Vector::z()].into_iter().enumerate() {
            // The ball's force on the upright; the arm gets the opposite.
            matrix.view_mut((0, 3 + k), (6, 1)).copy_from(&wrench(ball, axis));
            matrix[(6, 3 + k)] = -hinge.dot(&(ball - fore).cross(&axis));
        }
        matrix[(6, 6)] = hinge.dot(&(foot - fore).cross(&(foot - top).normalize()));
        let corner = rig.corner();
        for (force, torque) in DEMANDS {
            let force = Vector::from(force);
            let mut load = DVector::zeros(7);
            load.rows_mut(0, 6).copy_from(&-road(&rig, force, torque));
            let by_hand = matrix.clone().lu().solve(&load).unwrap();
            let found = at_ride_height(&rig, &corner, force, torque).forces;
            let near = SHARE * by_hand.amax();
            for ((name, ..), tension) in rods.iter().zip(by_hand.iter()) {
                let leg = found.legs.iter().find(|l| l.name == *name).unwrap();
                assert!((leg.tension - tension).abs() < near, "{name}: {} {tension}", leg.tension);
            }
            assert!((found.elements[0] - by_hand[6]).abs() < near, "{} {}", found.elements[0], by_hand[6]);
            let of_ball = Vector::new(by_hand[3], by_hand[4], by_hand[5]);
            let arm = &found.carried[0];
            let on_arm = |name: &str| {
                let point = rig.scheme.point(name).unwrap();
                arm.forces.iter().find(|at| at.point == point).unwrap().force
            };
            assert!((on_arm("lower-arm.ball") + of_ball).amax() < near);
            // The aft pivot across the hinge, from the moments of ball and spring about the fore one.
            let spring = (foot - top).normalize() * by_hand[6];
            let moment = (foot - fore).cross(&spring) - (ball - fore).cross(&of_ball);
            let across = moment.cross(&hinge) / -(aft - fore).norm();
            let aft = on_arm("lower-arm.body-aft");
            assert!((aft - hinge * hinge.dot(&aft) - across).amax() < near, "{aft} {across}");
        }
    }
}
