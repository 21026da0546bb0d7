use super::*;
use crate::brake::foundation::{Caliper, CaliperKind, Foundation, Pad, PadState};

const POUND: f64 = 4.448_221_615_260_5;
const INCH: f64 = 0.0254;
const PSI: f64 = POUND / INCH / INCH;

fn disc(bores: &[f64], friction: f64, radius: f64, tyre: f64) -> WheelBrake {
    WheelBrake {
        foundation: Foundation::Disc {
            caliper: Caliper::from_bores(bores, CaliperKind::Opposed),
            calipers: 1,
            radius,
            pad: Pad::steady(friction).unwrap(),
        },
        threshold: 0.0,
        loaded_radius: tyre,
    }
}

fn area(bore: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * bore * bore
}

pub(crate) fn system() -> System {
    System {
        pedal_ratio: 5.0,
        efficiency: 1.0,
        master_front: area(0.019_05),
        master_rear: area(0.019_05),
        split: Split::BiasBar { front_share: 0.5 },
        front: disc(&[0.038; 4], 0.45, 0.125, 0.30),
        rear: disc(&[0.030; 2], 0.45, 0.125, 0.30),
        valve: None,
    }
}

/// Worked out independently: 400 N on a ratio of 5, bar in the middle, 19.05 mm cylinders: 35.0849 bar; four 38 mm
/// pistons two a side: 7958.06 N of clamp, 895.282 Nm, 2984.27 N a wheel. In inches: 100 lbf, ratio 6, one inch:
/// 763.94 psi.
#[test]
fn pedal_to_wheel() {
    let a = system().apply(400.0, [300.0; 2]);
    assert!((a.front_pressure - 35.0849e5).abs() < 5.0);
    assert!((a.front_pressure * 2.0 * area(0.038) - 7958.06).abs() < 0.005);
    assert!((a.front_torque - 895.282).abs() < 5e-4);
    assert!((a.front_force / 2.0 - 2984.27).abs() < 0.005);
    let s = System {
        pedal_ratio: 6.0,
        master_front: area(INCH),
        split: Split::BiasBar { front_share: 1.0 },
        ..system()
    };
    assert!((s.apply(100.0 * POUND, [300.0; 2]).front_pressure / PSI - 763.94).abs() < 0.005);
}

/// T. Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 3, example 2 (remembered): gains of 20 and 14 in-lb/psi
/// a brake, tyre radius 12.11 in, rear valve 290 psi with slope 0.3. Axle forces [lb] over application pressure [psi].
/// The book rounds the rear pressure: up to 1 lb.
#[test]
fn proportioning_of_a_published_car() {
    let gain = |g: f64| WheelBrake {
        foundation: Foundation::Gain(g * INCH * POUND / PSI),
        threshold: 0.0,
        loaded_radius: 12.11 * INCH,
    };
    let s = System {
        front: gain(20.0),
        rear: gain(14.0),
        valve: Some(Valve { knee: 290.0 * PSI, slope: 0.3 }),
        split: Split::Tandem,
        ..system()
    };
    for (psi, front, rear) in [
        (100.0, 330.0, 231.0),
        (200.0, 661.0, 462.0),
        (300.0, 991.0, 677.0),
        (400.0, 1321.0, 747.0),
        (500.0, 1652.0, 816.0),
        (600.0, 1982.0, 886.0),
        (700.0, 2312.0, 955.0),
    ] {
        let a = s.with_pressures(psi * PSI, psi * PSI, [300.0; 2]);
        assert!((a.front_force / POUND - front).abs() < 0.6, "{psi}: {}", a.front_force / POUND);
        assert!((a.rear_force / POUND - rear).abs() < 1.1, "{psi}: {}", a.rear_force / POUND);
    }
}

#[test]
fn the_pedal_force_comes_back() {
    let s = System { valve: Some(Valve { knee: 2e6, slope: 0.3 }), ..system() };
    for pedal in [10.0, 150.0, 400.0, 900.0] {
        let a = s.apply(pedal, [300.0; 2]);
        let back = s.pedal_for(a.front_force + a.rear_force, [300.0; 2]).unwrap();
        assert!((back - pedal).abs() < 1e-6);
    }
    assert_eq!(s.pedal_for(1e9, [300.0; 2]), None);
}

#[test]
fn pads_over_temperature() {
    let pad = Pad::new(vec![(300.0, 0.30), (600.0, 0.48), (900.0, 0.40)]).unwrap();
    assert_eq!(pad.friction(450.0), PadState { friction: 0.39, outside: false });
    assert_eq!(pad.friction(290.0), PadState { friction: 0.30, outside: true });
    assert_eq!(pad.friction(1000.0), PadState { friction: 0.40, outside: true });
    assert!(Pad::new(vec![(300.0, 0.3), (300.0, 0.4)]).is_err());
}

#[test]
fn impossible_systems_are_refused() {
    let valve = |knee, slope| System { valve: Some(Valve { knee, slope }), ..system() }.check(900.0);
    assert_eq!(valve(0.0, 0.0), Err(VehicleError::ValveNeverOpens));
    assert!(matches!(valve(1e8, 0.3), Err(VehicleError::ValveNeverActs { .. })));
    assert!(valve(2e6, 0.3).is_ok());
    assert!(matches!(valve(2e6, -0.3), Err(VehicleError::OutOfRange { .. })));
    let none = System { front: disc(&[], 0.4, 0.1, 0.3), rear: disc(&[], 0.4, 0.1, 0.3), ..system() };
    assert_eq!(none.check(500.0), Err(VehicleError::NoBrakeForce));
}
