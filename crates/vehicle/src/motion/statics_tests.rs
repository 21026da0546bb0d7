//! The motion's forces and its table against the platform and the linkage.

use nalgebra::Vector3;
use suspension::Mover;

use super::model::{Inputs, at, side};
use super::table::{Near, Rack, Table};
use super::{Rolling, Runner, Steer};
use crate::aero::{Aero, AeroMap};
use crate::common::{demo, reference, tyres};
use crate::pedal;
use crate::platform::{Car, Demand, Platform, PlatformError, Stop};
use crate::tyre::Tyre;

fn rolling(tyre: &Tyre) -> Rolling<'_> {
    Rolling {
        along: pedal::Rolling { tyre, spin_inertia: 1.1, relaxation: 0.15, dampers: Vec::new() },
        across: 0.45,
    }
}

/// Linear accelerations left over [m/s^2] and angular ones [rad/s^2]: the platform stops at 1e-9 of the weight, and a
/// table's cubic is 1e-9 m off on a tyre of 220 N/mm.
const LEFT: f64 = 1e-3;

/// The platform's equilibrium, put into the motion with the platform's forces of the road, accelerates as the platform
/// was asked to and in no other way: the body does not turn, no wheel moves against it. Exact: no small angles, and what
/// tyres make of it is left out, so shares of side force and drag of slip angles do not blur it.
fn hold(mut car: Car<'_>, rack_most: f64, racks: &[f64]) -> usize {
    let tyre = Tyre::Simple(tyres::simple());
    let rest = Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.2, rear_area: 0.4 };
    car.air = Some(AeroMap { front_per_rise: [-1.0, 0.2], ..AeroMap::from(rest) });
    for rig in &mut car.axles {
        let element = rig.springs[0].0;
        rig.stops.push((element, Stop { gap: 0.02, rate: 40e3, rise: 1e6 }));
    }
    let runner = Runner::new(
        &car,
        [rolling(&tyre), rolling(&tyre)],
        [450.0, 1300.0, 1500.0],
        Steer { most_rack: rack_most },
    )
    .unwrap();
    let mut platform = Platform::new(car).unwrap();
    let mut count = 0;
    for rack in racks {
        for (along, across) in [
            (0.0, 0.0),
            (-7.0, 0.0),
            (3.0, 0.0),
            (0.0, 2.0),
            (0.0, 5.0),
            (0.0, -7.0),
            (-4.0, 4.0),
            (2.0, -3.0),
        ] {
            let demand = Demand { speed: 30.0, along, across, rack: *rack };
            let stands = match platform.solve(&demand) {
                Ok(stands) => stands,
                Err(PlatformError::Lifts { .. }) => continue,
                Err(e) => unreachable!("{demand:?}: {e}"),
            };
            let road = stands.attitude.road();
            let mut y = [0.0; at::COUNT];
            (y[at::RISE], y[at::PITCH], y[at::ROLL]) =
                (stands.attitude.rise, stands.attitude.pitch, stands.attitude.roll);
            y[at::RACK] = *rack;
            let v = road.along * 30.0;
            for k in 0..3 {
                y[at::SPEED + k] = v[k];
            }
            for i in 0..4 {
                y[at::TRAVEL + i] = stands.wheels[i].travel;
                y[at::SPIN + i] = 100.0;
            }
            let mut near = [Near::default(); 4];
            let given = |i: usize, _: &super::model::Touch| {
                let w = &stands.wheels[i];
                (road.along * w.along + road.across * w.across, 0.0)
            };
            // Torques that hold each wheel's turning: first to see what the road asks.
            let first = runner.look_with(&y, &Inputs::default(), &mut near, given);
            let mut inputs = Inputs::default();
            for i in 0..4 {
                let about = first.wheels[i].about;
                // An axle that is not driven has a force of rounding's sign along.
                if stands.wheels[i].along < -1e-6 {
                    inputs.brake[i] = about;
                } else {
                    inputs.drive[i] = -about;
                }
            }
            let look = runner.look_with(&y, &inputs, &mut near, given);
            let asked = road.along * along + road.across * across;
            for k in 0..3 {
                let off = (look.rates[at::SPEED + k] - asked[k]).abs();
                assert!(off < LEFT, "{demand:?}, {k}: {off}");
                let off = look.rates[at::TURN + k].abs();
                assert!(off < LEFT, "{demand:?}, turn {k}: {off}");
            }
            for i in 0..4 {
                let off = (look.wheels[i].load - stands.wheels[i].load).abs();
                assert!(off < 1e-2, "{demand:?}, load {i}: {off}");
                let off = look.rates[at::RATE + i].abs();
                assert!(off < 1e-2, "{demand:?}, wheel {i}: {off}");
                assert!(look.rates[at::SPIN + i].abs() < 1e-6);
                assert!((look.wheels[i].camber - stands.wheels[i].camber).abs() < 1e-7);
            }
            count += 1;
        }
    }
    count
}

#[test]
fn the_platform_s_equilibrium_is_the_motion_s() {
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let count = hold(demo::car(&corners), 0.03, &[0.0, 0.012, -0.023]);
        assert!(count >= 15, "{name}: {count}");
    }
    for case in &reference::cases("whole-car") {
        let corners = reference::corners(case);
        assert!(hold(reference::car(case, &corners), 0.0, &[0.0]) >= 5);
    }
}

/// The table against the linkage solved there, between its nodes, left and right: places to a micrometre, angles to two
/// millionths, and with them their derivatives by the rack against differences.
#[test]
fn the_table_is_the_linkage() {
    for name in demo::NAMES {
        let corners = demo::corners(name);
        let car = demo::car(&corners);
        let most = 0.04;
        let table = Table::new(&car.axles[0], &[0], most).unwrap();
        let [lo, hi] = table.range();
        assert!(lo <= -0.05 && hi >= 0.05, "{name}: {lo} {hi}");
        let (mut worst, mut worst_angle, mut worst_slope) = (0.0f64, 0.0f64, 0.0f64);
        for wheel in 0..2 {
            let side = side(wheel);
            let mut near = Near::default();
            for rack in [-0.036, -0.02, -0.004, 0.0, 0.009, 0.031] {
                for travel in [-0.0483, -0.0217, 0.0031, 0.0262, 0.0479] {
                    let mut mover = Mover::new(&corners[0]);
                    let m = mover.at(travel, rack * side).unwrap();
                    let at = |rack: f64| Rack { at: rack, speed: 1.0, hurry: 0.0 };
                    let p = table.at(travel, &at(rack), side, &mut near);
                    let flip = |v: &Vector3<f64>| Vector3::new(v.x, v.y * side, v.z);
                    worst = worst.max((p.centre - flip(&m.centre)).norm());
                    worst_slope = worst_slope.max((p.velocity - flip(&m.centre_velocity)).norm());
                    // The axis out of the car is the rolling axis at the left, its opposite at the right.
                    worst_angle = worst_angle.max((p.axis * side - flip(&m.spin)).norm());
                    let step = 1e-5;
                    let [a, b] = [-step, step].map(|d| table.at(travel, &at(rack + d), side, &mut near));
                    let slope = (b.centre - a.centre) / (2.0 * step);
                    assert!((slope - p.steered).norm() < 1e-6, "{name}: {slope} {}", p.steered);
                    let swing = (b.axis - a.axis) / (2.0 * step);
                    let off = (swing - p.steered_turning.cross(&p.axis)).norm();
                    assert!(off < 1e-4 * swing.norm(), "{name}: {off} of {}", swing.norm());
                }
            }
        }
        assert!(
            worst < 1e-6 && worst_angle < 1e-5 && worst_slope < 2e-5,
            "{name}: {worst} {worst_angle} {worst_slope}"
        );
    }
}
