use super::*;
use crate::GRAVITY;
use crate::aero::Aero;
use crate::common::tyres;
use crate::tyre::SimpleTyre;

fn simple() -> Tyre {
    Tyre::Simple(SimpleTyre { load_sensitivity: 0.12, ..tyres::simple() })
}

fn car() -> StoppingCar {
    StoppingCar { mass: 1100.0, wheelbase: 2.5, cg_behind_front: 1.25, cg_height: 0.45, aero: Aero::NONE }
}

fn trimmed<'a>(c: &'a StoppingCar, t: &'a Tyre, share: f64) -> TrimCar<'a> {
    TrimCar { car: c, yaw_inertia: 1400.0, front: t, rear: t, brakes: Effort::Share(share), front_drive: 0.0 }
}

/// Without longitudinal force the trim is the plain single-track model with the tyres' own stiffness (limit).
#[test]
fn coasting_is_the_plain_model() {
    let (c, t) = (car(), simple());
    let trim = trimmed(&c, &t, 0.7).at(30.0, 0.0).unwrap();
    let each = 1100.0 * GRAVITY / 4.0;
    assert!((trim.front_stiffness - 2.0 * t.cornering_stiffness(each)).abs() < 1e-6);
    assert!(trim.static_margin.abs() < 1e-12 && trim.understeer_gradient.abs() < 1e-15);
    assert!((trim.rear_reserve_share - 1.0).abs() < 1e-15 && trim.modes.stable);
}

/// Braking moves load forward and uses the rear's grip: margin and reserve fall with deceleration, and a rear that locks
/// first makes the car unstable, a front that locks first does not (own; what every text on lock order says, T.
/// Gillespie (1992), ch. 3, remembered).
#[test]
fn lock_order_decides() {
    let (c, t) = (car(), simple());
    let rear_heavy = trimmed(&c, &t, 0.45);
    let mut last = 1.0;
    for z in [0.1, 0.3, 0.5, 0.7] {
        let trim = rear_heavy.at(40.0, -z * GRAVITY).unwrap();
        assert!(trim.static_margin < last && trim.rear_use > trim.front_use);
        last = trim.static_margin;
    }
    let locked = rear_heavy.at(40.0, -1.1 * GRAVITY).unwrap();
    assert_eq!(locked.slides, Some(AxleEnd::Rear));
    assert!(!locked.modes.stable && locked.rear_reserve == 0.0);
    let locked = trimmed(&c, &t, 0.95).at(40.0, -1.1 * GRAVITY).unwrap();
    assert_eq!(locked.slides, Some(AxleEnd::Front));
    assert!(locked.modes.stable && locked.static_margin > 0.2);
}

/// Stiffness in use against the derivative of the tyre's own force (own), Magic Formula tyres too.
#[test]
fn stiffness_in_use() {
    let magic = Tyre::Magic(Box::new(crate::tyre::magic::tests::open_set()));
    for t in [simple(), magic] {
        let c = car();
        let trim = trimmed(&c, &t, 0.65).at(35.0, -6.0).unwrap();
        let each = trim.loads.rear / 2.0;
        let slip = t.braking_slip(each, -trim.rear_force / 2.0).unwrap();
        let at =
            |alpha: f64| t.force(&crate::tyre::Slip { kappa: -slip, alpha, inclination: 0.0, load: each }).fy;
        let d = 1e-5;
        let slope = -(at(d) - at(-d)) / d;
        assert!((trim.rear_stiffness / slope - 1.0).abs() < 1e-4, "{} {slope}", trim.rear_stiffness);
        assert!(trim.rear_stiffness < 2.0 * t.cornering_stiffness(each));
        assert!((trim.front_force + trim.rear_force + 6.0 * 1100.0).abs() < 1e-6);
    }
}

/// Drive at the rear costs the rear its stiffness, at the front the front's (symmetry, own).
#[test]
fn power_on() {
    let (c, t) = (car(), simple());
    let at =
        |front_drive| TrimCar { front_drive, ..trimmed(&c, &t, 0.7) }.at(30.0, 4.0).unwrap().static_margin;
    assert!(at(0.0) < at(0.5) && at(0.5) < at(1.0));
}

#[test]
fn maps_are_whole() {
    let c = StoppingCar {
        aero: Aero { density: 1.2, drag_area: 0.8, drag_height: 0.5, front_area: 0.3, rear_area: 0.8 },
        ..car()
    };
    let t = simple();
    let speeds: Vec<f64> = (0..60).map(|i| 5.0 + 1.3 * f64::from(i)).collect();
    let rates: Vec<f64> = (0..40).map(|i| 2.0 - 0.4 * f64::from(i)).collect();
    let all = map(&trimmed(&c, &t, 0.62), &speeds, &rates).unwrap();
    assert_eq!(all.len(), 2400);
    for trim in all.into_iter().flatten() {
        assert!(trim.static_margin.is_finite() && trim.modes.real[0].is_finite() && trim.rear_reserve >= 0.0);
    }
}
