//! `[tyre]`, brake parts, bars, air and the stop.

use super::{SKETCH, told};

/// What is told of a piece added to the sketch, without places.
#[track_caller]
fn says(added: &str, expect: &[&str]) {
    let all = told(&format!("{SKETCH}\n{added}"));
    let found: Vec<&str> = all.iter().map(|line| line.splitn(3, ' ').last().unwrap_or_default()).collect();
    for words in expect {
        assert!(found.iter().any(|line| line.contains(words)), "`{words}` is not in {found:#?}");
    }
    if expect.is_empty() {
        let wrong: Vec<&String> = all.iter().filter(|line| line.starts_with("error")).collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}

const TYRE: &str =
    "[tyre]\nvertical-rate = 210\nnominal-load = 3000\nfriction = 1.1\ncornering-stiffness = 1100\n";

#[test]
fn tyres() {
    says(&format!("{TYRE}loads = [500, 8000]\n"), &[]);
    says(TYRE, &["`[tyre]` needs `loads`: the loads for which the figures hold"]);
    says(&format!("{TYRE}loads = [8000, 500]\n"), &["must be two loads, the lesser one first"]);
    says(&format!("{TYRE}loads = [4000, 8000]\n"), &["the nominal load is not among the loads"]);
    says(&format!("{}loads = [500, 8000]\n", TYRE.replace("1.1", "11")), &["which no tyre has"]);
    says(&format!("{}loads = [500, 8000]\n", TYRE.replace("210", "2.1")), &["which is no tyre of a car"]);
    says("[tyre]\nmodel = \"magic\"\n[tyre.parameters]\nFNOMIM = 4000\n", &["did you mean `FNOMIN`?"]);
}

#[test]
fn brake_parts() {
    let disc =
        "[front.disc]\ncaliper = \"fixed\"\npistons = [38, 38]\neffective-radius = 120\nfriction = 0.42\n";
    says(disc, &[]);
    says(&disc.replace("[38, 38]", "[38]"), &["a fixed caliper has as many on each side"]);
    says(&disc.replace("0.42", "42"), &["which no pad has"]);
    says(&disc.replace("effective-radius = 120\n", ""), &["needs `effective-radius`"]);
    says(
        "[pedal]\nratio = 5\nfront-master = 18\nrear-master = 19\nbias = 55\n",
        &["for per cent write \"55 %\""],
    );
    says("[pedal]\nratio = 5\ntandem = 22\nbias = 0.5\n", &["a tandem cylinder has no bias bar"]);
    says("[pedal]\nratio = 5\nfront-master = 18\n", &["needs `rear-master`", "needs `bias`"]);
}

#[test]
fn air_and_the_stop() {
    says("[aero]\ndrag-area = 0.7\ndrag-height = 500\n", &[]);
    says("[aero]\ndrag-area = 70\ndrag-height = 500\n", &["is larger than any car"]);
    says("[stop]\nfrom = 100\nto = 160\n", &["the stop must end slower than it begins"]);
    says("[stop]\nfrom = 180\ndeceleration = 9.8\n", &["no car slows so hard"]);
    says("[stop]\nform = 180\n", &["did you mean `from`"]);
}
