//! The stage Stop against formulas by hand, and cars that lack something.
#![expect(clippy::panic, clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use project::model::Car;
use study::{Stage, settle, stop};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn read(text: &str) -> Car {
    let mut car = project::read(text).car.unwrap();
    settle(&mut car);
    car
}

#[track_caller]
fn value(stage: &Stage, key: &str, column: usize) -> f64 {
    let (_, finding) = stage.find(key).unwrap_or_else(|| panic!("no `{key}`"));
    finding.cells[column].estimate.as_ref().unwrap_or_else(|| panic!("`{key}` {column}")).value
}

/// R. Limpert, Brake Design and Safety (2nd ed. 1999), ch. 5 (remembered): `p = F ratio efficiency share / A`, and the
/// torque of a fixed caliper `2 mu p A_side r`; forces over the loaded radius make the deceleration with the drag.
#[test]
fn pressures_and_torques_are_those_of_the_handbook() {
    let text = WHOLE.replace("threshold = \"0.4 bar\"", "threshold = 0");
    let car = read(&text);
    let stage = stop(&car, &[]);
    assert!(stage.lacks.is_empty(), "{:?}", stage.lacks);
    let pedal = car.pedal.as_ref().unwrap();
    let force = value(&stage, "pedal-force", 0);
    let project::model::Masters::Bar { front, share, .. } = pedal.masters else { panic!("a bar") };
    let area = std::f64::consts::PI / 4.0 * front.value * front.value;
    let pressure = force * pedal.ratio.value * pedal.efficiency.value * share.value / area;
    assert!((value(&stage, "line-pressure", 0) / pressure - 1.0).abs() < 1e-9);
    let total = value(&stage, "brake-force", 0) + value(&stage, "brake-force", 1);
    let weight = value(&stage, "axle-load", 0) + value(&stage, "axle-load", 1);
    let air = car.air.as_ref().unwrap();
    let q = 0.5 * air.density * car.stop.from * car.stop.from;
    let mass = (weight - q * (air.front.value + air.rear.value)) / 9.806_65;
    let drag = q * air.drag.value;
    assert!(((total + drag) / (mass * car.stop.deceleration) - 1.0).abs() < 1e-9, "{total} {drag} {mass}");
}

/// At the setting at which both lock together no other one stops shorter, and the actual share is near the ideal one: a
/// little below it, since the front's tyres carry more and lose friction with load (own; UN R13-H, annex 5, for the ideal
/// distribution, wording read).
#[test]
fn the_bias_that_locks_both_is_the_best() {
    let car = read(WHOLE);
    let best = value(&stop(&car, &[]), "bias-together", 0);
    let with = |share: f64| {
        let mut car = car.clone();
        if let Some(pedal) = &mut car.pedal
            && let project::model::Masters::Bar { share: set, .. } = &mut pedal.masters
        {
            set.value = share;
        }
        stop(&car, &[])
    };
    let there = with(best);
    let most = value(&there, "greatest-deceleration", 0);
    let short = value(&there, "ideal-share", 0) - value(&there, "front-share", 0);
    assert!((0.0..0.06).contains(&short), "{short}");
    for off in [-0.08, -0.03, 0.03, 0.08] {
        assert!(value(&with(best + off), "greatest-deceleration", 0) < most, "{off}");
    }
}

/// More grip, shorter; more heat for more mass; and every figure of the demo has a ±.
#[test]
fn directions_are_right() {
    let stage = stop(&read(WHOLE), &[]);
    let slick =
        stop(&read(&WHOLE.replace("friction            = ", "friction            = \"1.9\" # ")), &[]);
    if WHOLE.contains("friction            = ") {
        assert!(value(&slick, "stopping-distance", 0) < value(&stage, "stopping-distance", 0));
    }
    assert!(value(&stage, "heat-bound", 0) > value(&stage, "heat-one-stop", 0), "cooling takes some");
    assert!(value(&stage, "heat-sequence", 0) > value(&stage, "heat-one-stop", 0));
    for key in ["greatest-deceleration", "pedal-force", "stopping-distance", "bias-together", "reserve"] {
        let (_, finding) = stage.find(key).unwrap();
        let doubt = finding.cells[0].estimate.as_ref().unwrap().uncertainty();
        assert!(doubt > 0.0 && !finding.cells[0].doubts.is_empty(), "{key}");
    }
}

/// What is taken out is told with its remedy, and the rest still comes.
#[test]
fn what_is_missing_is_told() {
    let full = read(WHOLE);
    let without = |change: &dyn Fn(&mut Car)| {
        let mut car = full.clone();
        change(&mut car);
        stop(&car, &[])
    };
    let told = |stage: &Stage, words: &str| {
        stage.lacks.iter().any(|l| format!("{} {}", l.what, l.hint).contains(words))
    };
    let stage = without(&|car| {
        for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
            axle.tyre = None;
        }
    });
    assert!(told(&stage, "[tyre]") && stage.find("line-pressure").is_some(), "{:?}", stage.lacks);
    let stage = without(&|car| {
        car.pedal = None;
        car.brake_front_share = None;
    });
    assert!(told(&stage, "[pedal]") && stage.groups.is_empty(), "{:?}", stage.lacks);
    let stage = without(&|car| car.pedal = None);
    assert!(told(&stage, "bias bar") && stage.find("greatest-deceleration").is_some(), "{:?}", stage.lacks);
    let stage = without(&|car| car.weigh = None);
    assert!(told(&stage, "[weigh.level]"), "{:?}", stage.lacks);
    let stage = without(&|car| {
        for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
            axle.dampers.clear();
        }
    });
    assert!(told(&stage, "damper") && stage.find("heat-bound").is_some(), "{:?}", stage.lacks);
    let stage = without(&|car| car.stop.deceleration = 40.0);
    assert!(told(&stage, "greatest pedal force"), "{:?}", stage.lacks);
}
