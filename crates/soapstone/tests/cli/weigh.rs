//! `weigh`: the table, its machine-readable forms, and what is refused.

use crate::run::{demo, file, good, json, run};

const WEIGHED: &str = include_str!("../../../../examples/plover/whole.toml");

#[test]
fn the_table_says_what_it_assumes() {
    let text = good(&["weigh"]);
    for part in
        ["as found", "after", "change", "Driver, fuel 50 %", "yaw inertia, estimated", "Spring perches"]
    {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert!(
        text.contains("suspension taken as locked") && text.contains("Planning figures, not an approval")
    );
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    assert_eq!(text, good(&["weigh", &demo("plover/whole.toml")]), "the demo is that file");
}

#[test]
fn json_and_csv_say_the_same() {
    let out = json(&["weigh", "--json"]);
    assert_eq!(out["schema"], "soapstone.weigh/1");
    let states = out["states"].as_array().unwrap();
    let ready = &states[usize::try_from(out["ready"].as_u64().unwrap()).unwrap()];
    let of = |name: &str| {
        let all = ready["results"].as_array().unwrap();
        all.iter().find(|r| r["name"] == name).unwrap_or_else(|| panic!("{name}")).clone()
    };
    let (mass, height) = (of("mass"), of("cg-height"));
    assert!((mass["after"]["value"].as_f64().unwrap() - 1199.75).abs() < 1e-9, "{mass}");
    assert!((height["after"]["value"].as_f64().unwrap() - 0.48).abs() < 0.005, "{height}");
    assert!(!height["sources_of_doubt"].as_array().unwrap().is_empty());
    let turns = out["perches"]["turns"].as_array().unwrap();
    assert_eq!(turns.len(), 4);
    let csv = good(&["weigh", "--csv"]);
    let row = csv.lines().find(|l| l.starts_with("\"driver, fuel 50 %\",mass,kg,")).unwrap();
    assert!(row.contains(",1199.7500,"), "{row}");
}

#[test]
fn a_car_without_scales_is_told_what_to_write() {
    let done = run(&["weigh", &demo("plover/car.toml")]);
    assert_eq!(done.code, Some(2));
    assert!(
        done.err.contains("the file has no weighing") && done.err.contains("[weigh.level]"),
        "{}",
        done.err
    );
}

#[test]
fn pounds_and_inches_in_give_pounds_and_inches_out() {
    let text = WEIGHED
        .replace("mass   = \"kg\"", "mass   = \"lb\"")
        .replace("accuracy    = 0.5 ", "accuracy    = 1 ");
    let out = good(&["weigh", &file("pounds.toml", text)]);
    assert!(out.contains("1150 ± 2 ") && out.contains(" lb") && out.contains("lb ft²"), "{out}");
}

#[test]
fn check_points_at_scales_that_cannot_be_true() {
    let text = WEIGHED.replace("pads       = \"520 ± 2 mm\"", "pads       = \"20 ± 2 mm\"");
    let done = run(&["check", &file("flat.toml", text)]);
    assert_eq!(done.code, Some(2));
    assert!(
        done.err.contains("too little to find a height") && done.err.contains("raise one end"),
        "{}",
        done.err
    );
}

#[test]
fn the_height_is_explained_with_this_cars_figures() {
    let out = json(&["explain", "cg-height", &demo("plover/whole.toml"), "--json"]);
    assert_eq!((out["axle"].as_str(), out["unit"].as_str()), (Some("car"), Some("m")));
    assert!((out["result"]["value"].as_f64().unwrap() - 0.48).abs() < 0.005, "{out}");
    let shares: f64 = out["uncertainty_from"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|s| s["share_of_variance"].as_f64())
        .sum();
    assert!(shares > 0.9, "{out}");
    let text = good(&["explain", "cross-weight"]);
    assert!(text.contains("569.0 kg / 1150.0 kg = 49.5 ± 0.1 %"), "{text}");
    assert!(good(&["explain"]).contains("cg-height"));
    let none = run(&["explain", "cg-height", &demo("plover/car.toml")]);
    assert!(none.code == Some(2) && none.err.contains("[weigh.level]"), "{}", none.err);
}
