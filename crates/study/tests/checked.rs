//! What `check` tells of brakes that only the whole car can judge.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use study::{check, settle};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

/// What is told of the demo with some of its text replaced: message, and the line that it is about.
#[track_caller]
fn told(edits: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut text = WHOLE.to_string();
    for (what, by) in edits {
        assert!(text.contains(what), "no `{what}`");
        text = text.replacen(what, by, 1);
    }
    let loaded = project::read(&text);
    let mut car = loaded.car.unwrap();
    settle(&mut car);
    let line = |at: usize| text[at..].lines().next().unwrap_or_default().to_string();
    check(&car).into_iter().map(|d| (d.message, line(d.span.unwrap().start))).collect()
}

#[track_caller]
fn says(edits: &[(&str, &str)], message: &str, line: &str) {
    let told = told(edits);
    let found = told.iter().any(|(m, l)| m.contains(message) && l.starts_with(line));
    assert!(found, "`{message}` at `{line}` is not in {told:#?}");
}

const PEDAL: &str = "[pedal]\n";

#[test]
fn the_demo_is_clean() {
    assert_eq!(told(&[]), []);
}

#[test]
fn a_valve_whose_knee_is_never_reached() {
    let valve = |knee: &str| format!("[pedal.valve]\nknee = \"{knee}\"\nslope = 0.4\n\n{PEDAL}");
    assert_eq!(told(&[(PEDAL, &valve("20 bar"))]), []);
    says(&[(PEDAL, &valve("90 bar"))], "the valve never acts: its knee is 90", "[pedal.valve]");
    // Without tyres the driver's leg is the limit.
    let tyres = &WHOLE[WHOLE.find("[tyre] ").unwrap()..WHOLE.find(PEDAL).unwrap()];
    assert_eq!(told(&[(tyres, ""), (PEDAL, &valve("90 bar"))]), []);
    says(&[(tyres, ""), (PEDAL, &valve("190 bar"))], "under the strongest leg", "[pedal.valve]");
    // A setup's valve, at its own line.
    let of_setup = "[setup.cones.pedal.valve]\nknee = \"95 bar\"\nslope = 0.4\n\n[setup.cones.pedal]\n";
    says(
        &[("[setup.cones.pedal]\n", of_setup)],
        "setup `cones`: the valve never acts",
        "[setup.cones.pedal.valve]",
    );
}

#[test]
fn a_stop_that_no_tyre_gives() {
    let stop = |g: &str| format!("deceleration = {g} ");
    assert_eq!(told(&[("deceleration = 1.0 ", &stop("1.3"))]), []);
    says(
        &[("deceleration = 1.0 ", &stop("2.2"))],
        "the stated stop of 2.20 g is harder than the tyres give",
        "[stop]",
    );
    // On a setup's tyres alone.
    let worn =
        [("deceleration = 1.0 ", "deceleration = 1.15 "), ("pressure = \"1.9 bar\"", "friction = 0.7")];
    says(&worn, "setup `cones`: the stated stop of 1.15 g is harder", "[stop]");
}
