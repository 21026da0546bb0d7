//! Every body in balance, the two sides of the car alike, and the work of the spring that of the wheel.

use linkage::Frame;
use nalgebra::Vector3;
use steel::load::{At, Push};
use suspension::scheme::{ElementRole, JointKind, UPRIGHT};
use suspension::{RACK_TRAVEL, TRAVEL, TorqueReaction};

use crate::support::{Loaded, Random, Rig, Vector, cases, loaded};

/// Share of the largest force: positions are found to some 1e-13 m, and two or three hundred newtons stand for one.
const SHARE: f64 = 1e-9;

/// Kind, what carries the spring that holds, what carries the bar link. The rocker has its own spring.
const RIGS: [(&str, &str, &str); 10] = [
    ("five-link", "upright", "link.b"),
    ("five-link", "link.a", "upright"),
    ("double-wishbone", "upright", "lower-arm"),
    ("double-wishbone", "lower-arm", "tie-rod"),
    ("strut", "upright", "lower-arm"),
    ("strut", "lower-arm", "upright"),
    ("trailing-blade", "upright", "link.b"),
    ("trailing-blade", "link.a", "upright"),
    ("semi-trailing-arm", "upright", "upright"),
    ("links", "rocker", "lower-arm"),
];

/// Calls `check` for every kind, twenty corners of each, at three travels under random loads; the rack is off its middle
/// at travel.
fn each(check: impl Fn(&Loaded<'_>)) {
    for (n, (kind, spring, bar)) in RIGS.into_iter().enumerate() {
        for (m, case) in cases(kind, 20).iter().enumerate() {
            let mut rig = Rig::new(kind, case);
            let body = Vector::new(-0.03, -0.12, 0.36);
            if spring != "rocker" {
                let foot = rig.foot(spring);
                rig.mount(ElementRole::Spring, spring, foot, foot + body);
            }
            let foot = rig.foot(bar) + Vector::new(-0.05, 0.01, 0.01);
            rig.mount(ElementRole::BarLink, bar, foot, foot + Vector::new(0.04, 0.02, -0.2));
            let corner = rig.corner();
            for (k, travel) in [-0.04, 0.0, 0.05].into_iter().enumerate() {
                let mut random = Random::new((n * 1000 + m * 10 + k + 1) as u64);
                let mut sizes = [4000.0, 3000.0, 2500.0, 1500.0].map(|size| size * random.next());
                sizes[2] += 3500.0;
                let torque = if m % 2 == 0 { TorqueReaction::Upright } else { TorqueReaction::Body };
                let rack = if travel == 0.0 { 0.0 } else { 0.012 };
                let state = loaded(&rig, &corner, [travel, rack], &[(1, sizes[3])], |m| {
                    let road = Vector::new(sizes[0], sizes[1], sizes[2]);
                    let weight = Vector::new(0.0, 0.0, -280.0);
                    vec![
                        Push { at: m.contact, force: road, torque },
                        Push { at: m.centre, force: weight, torque: TorqueReaction::Upright },
                    ]
                });
                check(&state);
            }
        }
    }
}

/// Force and moment about the wheel centre.
struct Sum {
    about: Vector,
    force: Vector,
    moment: Vector,
}

impl Sum {
    fn new(about: Vector) -> Self {
        Self { about, force: Vector::zeros(), moment: Vector::zeros() }
    }

    fn add(&mut self, at: Vector, force: Vector) {
        self.force += force;
        self.moment += (at - self.about).cross(&force);
    }

    fn take(&mut self, at: &At, sign: f64) {
        self.add(at.place, at.force * sign);
        self.moment += at.moment * sign;
    }

    #[track_caller]
    fn is_nothing(&self, size: f64, what: &str) {
        let left = self.force.amax().max(self.moment.amax());
        assert!(left < SHARE * size, "{what}: {left} N left over of {size}");
    }
}

#[test]
fn the_pickups_carry_what_acts_on_the_wheel() {
    each(|state| {
        let mut sum = Sum::new(state.measures.centre);
        for push in &state.pushes {
            sum.add(push.at, push.force);
        }
        for at in &state.forces.pickups {
            sum.take(at, -1.0);
        }
        assert!((state.forces.through_shaft - state.shaft()).norm() < SHARE * state.size());
        sum.moment -= state.forces.through_shaft;
        sum.is_nothing(state.size(), "whole corner");
    });
}

/// All that acts on a body that is not listed by itself, from what is listed: rods, springs, the balls of arms and
/// links, and what the car's body holds.
fn on_body(state: &Loaded<'_>, frame: Frame) -> Sum {
    let scheme = &state.rig.scheme;
    let mut sum = Sum::new(state.measures.centre);
    for joint in &scheme.joints {
        let pickups_of = |sum: &mut Sum, points: &[usize]| {
            for at in state.forces.pickups.iter().filter(|at| points.contains(&at.point)) {
                sum.take(at, -1.0);
            }
        };
        match joint.kind {
            JointKind::Rod { a, b } => {
                let leg = state.forces.legs.iter().find(|l| l.name == joint.name).unwrap();
                assert_eq!(leg.points, [a.point, b.point]);
                let ends = [state.place(a), state.place(b)];
                assert!((leg.ends[0] - ends[0]).norm() + (leg.ends[1] - ends[1]).norm() < 1e-12);
                let pull = (ends[1] - ends[0]).normalize() * leg.tension;
                if a.frame == frame {
                    sum.add(ends[0], pull);
                }
                if b.frame == frame {
                    sum.add(ends[1], -pull);
                }
            }
            JointKind::Ball { a: Frame::Body(part), b, point } if b == frame => {
                let carried = state.forces.carried.iter().find(|c| c.name == scheme.bodies[part]).unwrap();
                for at in carried.forces.iter().filter(|at| at.point == point) {
                    sum.take(at, -1.0);
                }
            }
            JointKind::Hinge { a: Frame::Ground, b, from, to } if b == frame => {
                pickups_of(&mut sum, &[from, to]);
            }
            JointKind::OnLine { line, point, .. } if line == frame || point.frame == frame => {
                pickups_of(&mut sum, &[point.point]);
            }
            _ => {}
        }
    }
    for (element, force) in scheme.elements.iter().zip(&state.forces.elements) {
        if element.outer.frame == frame {
            let (outer, inner) = (state.place(element.outer), state.place(element.inner));
            sum.add(outer, (outer - inner).normalize() * *force);
        }
    }
    sum
}

#[test]
fn the_upright_and_the_rocker_are_in_balance() {
    each(|state| {
        let mut sum = on_body(state, Frame::Body(UPRIGHT));
        for push in &state.pushes {
            sum.add(push.at, push.force);
        }
        sum.moment -= state.shaft();
        sum.is_nothing(state.size(), "upright");
        if let Some(rocker) = state.rig.scheme.bodies.iter().position(|b| b == "rocker") {
            on_body(state, Frame::Body(rocker)).is_nothing(state.size(), "rocker");
        }
    });
}

#[test]
fn every_arm_and_link_that_carries_is_in_balance() {
    each(|state| {
        let bodies = state.rig.scheme.bodies.iter().filter(|b| *b != "upright" && *b != "rocker");
        let names: Vec<&String> = state.forces.carried.iter().map(|c| &c.name).collect();
        assert!(bodies.eq(names));
        for carried in &state.forces.carried {
            let mut sum = Sum::new(state.measures.centre);
            for at in &carried.forces {
                sum.take(at, 1.0);
            }
            sum.is_nothing(state.size(), &carried.name);
        }
    });
}

/// Principle of virtual work: along the wheel's travel springs and bar links shorten against their force by their motion
/// ratio, and that is the work of the road, less that of the half-shaft.
#[test]
fn the_spring_works_as_the_wheel_does() {
    each(|state| {
        let m = &state.measures;
        let turning = m.spin_of_upright;
        let road: f64 = state
            .pushes
            .iter()
            .map(|p| p.force.dot(&(m.centre_velocity + turning.cross(&(p.at - m.centre)))))
            .sum();
        let springs: f64 = state.ratios.iter().zip(&state.forces.elements).map(|(r, f)| r.ratio * f).sum();
        let left = road - state.shaft().dot(&turning) - springs;
        assert!(left.abs() < SHARE * state.size(), "{left} of {road} N");
        assert!(state.elements.iter().all(|(e, force)| state.forces.elements[*e] == *force));
        assert!(state.ratios[0].ratio.abs() > 0.1, "{}", state.ratios[0].ratio);
    });
}

#[test]
fn the_other_side_of_the_car_is_the_mirror_image() {
    let over = |v: &Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
    each(|state| {
        let rig = state.rig.mirrored();
        let corner = rig.corner();
        let pushes: Vec<Push> =
            state.pushes.iter().map(|p| Push { at: over(&p.at), force: over(&p.force), ..*p }).collect();
        // The rack goes to the left on both sides.
        let inputs = [state.q.inputs[TRAVEL], -state.q.inputs[RACK_TRAVEL]];
        let right = loaded(&rig, &corner, inputs, &state.elements, |_| pushes.clone()).forces;
        let image = state.forces.mirrored();
        let near = SHARE * state.size();
        let same = |a: &At, b: &At| {
            assert_eq!(a.point, b.point);
            let off = (a.force - b.force).amax().max((a.moment - b.moment).amax());
            assert!((a.place - b.place).norm() < 1e-11 && off < near, "{a:?} {b:?}");
        };
        assert_eq!(right.pickups.len(), image.pickups.len());
        right.pickups.iter().zip(&image.pickups).for_each(|(a, b)| same(a, b));
        assert!((right.through_shaft - image.through_shaft).amax() < near);
        for (a, b) in right.legs.iter().zip(&image.legs) {
            assert!(a.name == b.name && (a.tension - b.tension).abs() < near, "{a:?} {b:?}");
            assert!((a.ends[0] - b.ends[0]).norm() + (a.ends[1] - b.ends[1]).norm() < 1e-11);
        }
        for (a, b) in right.carried.iter().zip(&image.carried) {
            assert!(a.name == b.name && (a.axis[1] - b.axis[1]).norm() < 1e-11);
            a.forces.iter().zip(&b.forces).for_each(|(a, b)| same(a, b));
            assert_eq!(a.cuts.len(), b.cuts.len());
            for (a, b) in a.cuts.iter().zip(&b.cuts) {
                let pairs = [
                    (a.along, b.along),
                    (a.axial, b.axial),
                    (a.shear, b.shear),
                    (a.torque, b.torque),
                    (a.bending, b.bending),
                    (a.in_plane, b.in_plane),
                ];
                assert!(pairs.iter().all(|(a, b)| (a - b).abs() < near), "{a:?} {b:?}");
            }
        }
    });
}
