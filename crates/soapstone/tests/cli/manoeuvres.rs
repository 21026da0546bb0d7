//! `manoeuvres`: every choice through the standards' manoeuvres, in every form; wrong input.

use crate::run::{demo, good, json, run};

#[test]
fn every_choice_is_driven_and_its_caution_told() {
    let text = good(&["manoeuvres", "--samples", "2"]);
    for words in [
        "Straight stop: from 190 km/h",
        "Brakes in a turn: 100 m radius, 0.51 g",
        "Step of the steering: 100 km/h",
        "Steady turn: slopes on a circle of 100 m",
        "which end lets go",
        "as remembered",
        "no leave to try it",
        "±",
    ] {
        assert!(text.replace('\n', " ").contains(words), "{words}\n{text}");
    }
    assert!(!text.contains("NaN") && !text.contains("Not known yet"), "{text}");
}

#[test]
fn json_and_csv_hold_the_same() {
    let out = json(&["manoeuvres", &demo("plover/whole.toml"), "--samples", "0", "--json"]);
    assert_eq!(out["schema"], "soapstone.manoeuvres/1");
    let groups = out["groups"].as_array().unwrap();
    assert_eq!(groups.len(), 4);
    let rows = groups.iter().flat_map(|g| g["results"].as_array().unwrap());
    let rise = rows.clone().find(|r| r["name"] == "step-rise").unwrap();
    let rise = rise["values"][0]["value"].as_f64().unwrap();
    assert!((0.05..0.6).contains(&rise), "{rise}");
    let ends = rows.clone().find(|r| r["name"] == "turn-ends").unwrap();
    assert_eq!(ends["values"][0]["word"], "the front");
    assert!(out["charts"].as_array().unwrap().len() >= 5);
    let csv = good(&["manoeuvres", "--samples", "0", "--csv"]);
    assert!(csv.starts_with("group,result,column,unit,value") && csv.contains("braked-yaw"), "{csv}");
}

#[test]
fn what_cannot_be_driven_says_why() {
    let done = run(&["manoeuvres", "--samples", "1"]);
    assert!(done.code == Some(2) && done.err.contains("1 samples give no ±"), "{}", done.err);
    let text = good(&["manoeuvres", &demo("wren/car.toml"), "--samples", "0"]);
    assert!(text.contains("Not known yet"), "{text}");
}
