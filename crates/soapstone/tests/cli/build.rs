//! `build`: the caution before the margins, worked checks, machine-readable forms, and what is refused.

use crate::run::{demo, good, json, run};

#[test]
fn the_caution_stands_before_every_margin() {
    let text = good(&["build"]);
    let (caution, margins) =
        (text.find("Planning figures, not an approval"), text.find("Margins, the weakest first"));
    assert!(caution.is_some() && caution < margins, "{text}");
    for words in
        ["Position by position", "What the feet hand to the shell", "Cut list", "Fatigue:", "hardest corner"]
    {
        assert!(text.contains(words), "{words}\n{text}");
    }
    assert!(!text.contains("NaN") && !text.contains("Not known yet"), "{text}");
    assert_eq!(text, good(&["build", &demo("plover/whole.toml")]), "the demo is that file");
}

#[test]
fn a_part_has_its_formulas_and_sources() {
    let text = good(&["build", "--part", "rear.link.toe.body"]);
    for words in ["formula", "source", "EN 1993-1-8", "bolt rear link.toe.body", "Planning figures"] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    let done = run(&["build", "--part", "rear.link.tow"]);
    assert_ne!(done.code, Some(0));
    let told = done.err.contains("there is no part `rear.link.tow`") && done.err.contains("called like");
    assert!(told, "{}", done.err);
}

#[test]
fn json_and_csv_say_the_same() {
    let out = json(&["build", "--json"]);
    assert_eq!(out["schema"], "soapstone.build/1");
    let parts = out["parts"].as_array().unwrap();
    assert!(parts.len() > 20);
    let holds: Vec<f64> = parts.iter().map(|p| p["holds"].as_f64().unwrap()).collect();
    assert!(holds.windows(2).all(|pair| pair[0] <= pair[1]), "the weakest first");
    assert_eq!(out["not_covered"].as_array().unwrap().len(), 7);
    assert!(out["frame"]["unbalanced"].as_f64().unwrap() < 1e-9);
    let csv = good(&["build", "--csv"]);
    assert!(csv.starts_with("kind,part,made of,what gives way,case"), "{csv}");
    let checks: usize = parts.iter().map(|p| p["checks"].as_array().unwrap().len()).sum();
    assert_eq!(csv.lines().count(), checks + 1);
    let cuts = good(&["build", "--cuts"]);
    assert!(
        cuts.contains("beam-end.right to beam-end,1,box 80x60x3,S355,1120.000,1120.000,square; square"),
        "{cuts}"
    );
}

#[test]
fn another_hole_and_a_setup_have_other_margins() {
    let least = |args: &[&str]| json(args)["parts"][0]["holds"].as_f64().unwrap();
    let drawn = least(&["build", "--json"]);
    let high = least(&["build", "--json", "--at", "link.lower-fore.body=C"]);
    assert!(high < drawn, "{high} {drawn}");
    assert!((least(&["build", "--json", "--setup", "circuit"]) - high).abs() < 1e-9);
    let done = run(&["build", "--at", "link.lower-fore.body=Z"]);
    assert!(done.code != Some(0) && done.err.contains('Z'), "{}", done.err);
}

#[test]
fn a_car_without_steel_or_weights_is_told_what_to_write() {
    let text = good(&["build", &demo("plover/car.toml")]);
    assert!(text.contains("Not known yet") && text.contains("[weigh.level]"), "{text}");
    assert!(text.contains("Planning figures"), "{text}");
}
