//! What a setup changes of the car beside its holes.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use project::model::{BarReading, Car, Change, Masters};
use project::{Severity, line_column, read};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

/// The demo with its setups replaced by these lines.
fn with(setups: &str) -> String {
    let begin = WHOLE.find("[setup.circuit]").unwrap();
    let end = WHOLE.find("[choose]").unwrap();
    format!("{}{setups}\n{}", &WHOLE[..begin], &WHOLE[end..])
}

fn car(setups: &str) -> Car {
    let loaded = read(&with(setups));
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    loaded.car.unwrap()
}

fn diameter(car: &Car) -> Option<f64> {
    match car.rear.as_ref()?.bar.as_ref()? {
        BarReading::Made { diameter, .. } => Some(diameter.value),
        BarReading::Rate { .. } => None,
    }
}

#[test]
fn a_setup_is_the_car_with_its_own_figures_in_place() {
    let car = car("[setup.cones]\nrear.bar.diameter = 19\nrear.wheel.toe = 0\npedal.bias = \"52 %\"\n\
                   tyre.pressure = \"1.9 bar\"\nholes = { \"rear.link.lower-fore.body\" = \"A\" }\n\
                   [setup.circuit]\nholes = { \"rear.link.lower-fore.body\" = \"C\" }\n");
    let [cones, circuit] = car.setups.as_slice() else { panic!("two setups") };
    assert!(circuit.car.is_none() && circuit.changes.is_empty());
    assert_eq!(cones.holes.len(), 1);
    let own = cones.car.as_deref().unwrap();
    assert!(own.setups.is_empty());
    assert_eq!((diameter(&car), diameter(own)), (Some(0.016), Some(0.019)));
    let toe = |car: &Car| car.rear.as_ref().unwrap().wheel.toe.value.to_degrees();
    assert!((toe(&car) - 0.1).abs() < 1e-12 && toe(own) == 0.0);
    let Masters::Bar { share, .. } = own.pedal.as_ref().unwrap().masters else { panic!("a bias bar") };
    assert!((share.value - 0.52).abs() < 1e-12);
    let pressure =
        |car: &Car| car.front.as_ref().unwrap().tyre.as_ref().unwrap().pressure.as_ref().unwrap().value;
    assert!((pressure(&car) - 2.1e5).abs() < 1e-6 && (pressure(own) - 1.9e5).abs() < 1e-6);
    let change =
        |key: &str, from: &str, to: &str| Change { key: key.into(), from: Some(from.into()), to: to.into() };
    assert_eq!(
        cones.changes,
        [
            change("rear.bar.diameter", "16 ± 0.1", "19"),
            change("rear.wheel.toe", "0.1", "0"),
            change("pedal.bias", "54 %", "52 %"),
            change("tyre.pressure", "2.1 bar", "1.9 bar"),
        ]
    );
    // What the setup does not name is as it was.
    assert_eq!(own.front.as_ref().unwrap().points[0].at, car.front.as_ref().unwrap().points[0].at);
    assert_eq!(car.with_setup(Some("cones")).rear.as_ref().unwrap().wheel.toe.value, 0.0);
    assert_eq!(diameter(car.with_setup(Some("circuit"))), Some(0.016));
}

#[test]
fn one_end_may_have_other_tyres_and_a_bar_may_be_unhooked() {
    let car = car("[setup.rain]\nrear.tyre.friction = 0.8\n[setup.rain.front.bar]\nunhooked = true\n\
                   [setup.soft]\nrear.bar.rate = \"12 N/mm\"\n");
    let rain = car.with_setup(Some("rain"));
    let tyre = |car: &Car, front: bool| {
        let axle = if front { &car.front } else { &car.rear };
        format!("{:?}", axle.as_ref().unwrap().tyre.as_ref().unwrap().model)
    };
    assert_eq!(tyre(rain, true), tyre(&car, true));
    assert_ne!(tyre(rain, false), tyre(&car, false));
    assert!(rain.front.as_ref().unwrap().bar.is_none() && car.front.as_ref().unwrap().bar.is_some());
    let soft = car.with_setup(Some("soft")).rear.as_ref().unwrap().bar.clone();
    assert!(matches!(soft, Some(BarReading::Rate { rate, .. }) if (rate.value - 12e3).abs() < 1e-9));
}

/// `severity line message` of what is told, without the note that the demo brings itself.
fn told(setups: &str) -> Vec<String> {
    let text = with(setups);
    let begin = text.find("[setup").map_or(0, |at| line_column(&text, at).0);
    let line = |d: &project::Diagnostic| line_column(&text, d.span.clone().map_or(0, |s| s.start)).0;
    let all = read(&text).diagnostics.into_iter().filter(|d| d.severity != Severity::Note);
    all.map(|d| format!("{} {}", line(&d) + 1 - begin, d.message)).collect()
}

#[test]
fn mistakes_are_told_at_the_setups_own_lines() {
    assert_eq!(
        told("[setup.cones]\nrear.bar.diameter = \"wide\"\n"),
        ["2 setup `cones`: `rear.bar.diameter`: `wide` is not a number"]
    );
    assert_eq!(
        told("[setup.cones]\nrear.bar.diametre = 19\n"),
        ["2 setup `cones`: `diametre` is not known in `[rear.bar]`"]
    );
    assert_eq!(
        told("[setup.cones]\nrear.spring.mount = [1, 2, 3]\nrear.spring.rate = 60\n"),
        ["2 `mount` of `[setup.cones.rear.spring]` cannot be part of a setup"]
    );
    assert_eq!(
        told("[setup.cones]\nrear.weel.toe = 1\npedal.bias = \"52 %\"\n"),
        ["2 `[setup.cones.rear.weel]` is not known"]
    );
    assert_eq!(
        told("[setup.cones]\n"),
        [
            "1 `[setup.cones]` needs `[setup.cones.holes]`: the hole for each end, such as { \"rear.link.NAME.body\" = \"A\" }"
        ]
    );
}
