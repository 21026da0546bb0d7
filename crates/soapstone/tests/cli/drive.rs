//! `drive`: laps, differences and what a change is worth, in every form; wrong input.

use crate::run::{demo, good, json, run};

#[test]
fn laps_and_differences_are_told_with_their_caution() {
    let text = good(&["drive", "--samples", "2"]);
    for words in [
        "marrow-heath: 4845 m, a flying lap",
        "tern-apron:",
        "against as drawn",
        "what is kept in hand costs",
        "What a change is worth",
        "pays in time only through this",
        "no promise of a time",
        "±",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    assert!(!text.contains("NaN") && !text.contains("Not known yet"), "{text}");
}

#[test]
fn json_and_csv_hold_the_same() {
    let out = json(&["drive", &demo("plover/whole.toml"), "--samples", "0", "--json"]);
    assert_eq!(out["schema"], "soapstone.drive/1");
    let groups = out["groups"].as_array().unwrap();
    let lap = groups
        .iter()
        .flat_map(|g| g["results"].as_array().unwrap())
        .find(|r| r["name"] == "lap-time")
        .and_then(|r| r["values"][0]["value"].as_f64())
        .unwrap();
    assert!(lap > 60.0 && lap < 200.0, "{lap}");
    let course = &out["courses"][0];
    assert_eq!(course["x"].as_array().unwrap().len(), course["values"].as_array().unwrap().len());
    assert_eq!(course["sections"][0]["name"], "start straight");
    let csv = good(&["drive", "--samples", "0", "--csv"]);
    assert!(csv.starts_with("group,result,column,unit,value"), "{csv}");
    assert!(csv.contains("section-time: quarry") && csv.contains("change-is-worth: wing off"));
}

#[test]
fn what_cannot_be_driven_says_why() {
    let done = run(&["drive", "--samples", "1"]);
    assert_eq!(done.code, Some(2));
    assert!(done.err.contains("1 samples give no ±"), "{}", done.err);
    let text = good(&["drive", &demo("wren/car.toml"), "--samples", "0"]);
    assert!(text.contains("Not known yet") && text.contains("[venue.NAME]"), "{text}");
}
