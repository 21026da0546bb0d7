//! `stop` and `balance`: the tables, their machine-readable forms, worked numbers, and what is refused.

use crate::run::{demo, good, json, run};

#[test]
fn both_stages_print_their_tables() {
    for (command, words) in [
        ("stop", ["greatest deceleration before a wheel locks", "setting at which both axles lock together"]),
        ("balance", ["understeer gradient", "limit"]),
    ] {
        let text = good(&[command]);
        for words in words {
            assert!(text.contains(words), "{command}: {words}\n{text}");
        }
        assert!(text.contains("Planning figures, not an approval"), "{command}");
        assert!(!text.contains("NaN") && !text.contains("Not known yet"), "{command}\n{text}");
        assert_eq!(text, good(&[command, &demo("plover/whole.toml")]), "the demo is that file");
        let csv = good(&[command, "--csv"]);
        assert!(csv.starts_with("group,result,column,unit,value"), "{csv}");
    }
}

#[test]
fn json_has_si_values_with_their_doubt() {
    let out = json(&["stop", "--json"]);
    assert_eq!(out["schema"], "soapstone.stop/1");
    let results: Vec<_> =
        out["groups"].as_array().unwrap().iter().flat_map(|g| g["results"].as_array().unwrap()).collect();
    let greatest = results.iter().find(|r| r["name"] == "greatest-deceleration").unwrap();
    assert_eq!(greatest["unit"], "m/s^2");
    let value = greatest["values"][0]["value"].as_f64().unwrap();
    assert!((5.0..20.0).contains(&value), "{value}");
    assert!(greatest["values"][0]["standard_uncertainty"].as_f64().unwrap() > 0.0);
    assert!(out["lacks"].as_array().unwrap().is_empty(), "{}", out["lacks"]);
    let maps = json(&["balance", "--json"])["maps"].as_array().unwrap().len();
    assert_eq!(maps, 3);
}

#[test]
fn what_is_missing_is_told_with_what_to_write() {
    let text = good(&["stop", &demo("plover/car.toml")]);
    assert!(text.contains("Not known yet") && text.contains("[weigh.level]"), "{text}");
    let done = run(&["stop", "--at", "link.toe.body=Z"]);
    assert_eq!(done.code, Some(2), "{}", done.err);
    assert!(done.err.contains("has no holes"), "{}", done.err);
}

#[test]
fn results_of_a_stage_are_explained() {
    let text = good(&["explain", "greatest-deceleration"]);
    assert!(text.contains("± comes from") && text.contains("at 190 km/h"), "{text}");
    let out = json(&["explain", "understeer", "--json"]);
    assert_eq!(out["schema"], "soapstone.explain-columns/1");
    assert_eq!(out["columns"][0]["quantity"], "understeer");
    let hole =
        good(&["explain", "stop-rear-rise", &demo("plover/whole.toml"), "--at", "link.lower-fore.body=C"]);
    assert!(hole.contains("rear rise in the stop") && hole.contains("hole C"), "{hole}");
    assert!(good(&["explain"]).contains("greatest-deceleration"));
}

/// The one thing that the holes decide in a stop: with more anti-lift the tail stays lower; loads do not change.
#[test]
fn the_choice_table_has_the_whole_car() {
    let out = json(&["choose", &demo("plover/whole.toml"), "--json"]);
    let columns = out["columns"].as_array().unwrap();
    let at =
        |name: &str| columns.iter().position(|c| c["quantity"] == name).unwrap_or_else(|| panic!("{name}"));
    let row = |name: &str| out["rows"].as_array().unwrap().iter().find(|r| r["name"] == name).unwrap();
    let value = |hole: &str, column: &str| row(hole)["values"][at(column)]["value"].as_f64().unwrap();
    assert!(value("C", "anti-lift") > value("A", "anti-lift") + 0.2);
    assert!(value("C", "stop-rear-rise") < value("A", "stop-rear-rise") - 0.003);
    assert!((value("C", "rear-reserve") - value("A", "rear-reserve")).abs() < 0.01);
    for column in ["rear-load-dip", "stop-margin", "brake-hop-damping"] {
        assert!(row("B")["values"][at(column)]["standard_uncertainty"].as_f64().unwrap() > 0.0, "{column}");
    }
    assert!(!out["summary"].as_array().unwrap().is_empty());
    // The page Stop shows the same dip.
    let stop = json(&["stop", &demo("plover/whole.toml"), "--at", "link.lower-fore.body=C", "--json"]);
    let groups = stop["groups"].as_array().unwrap().iter();
    let results: Vec<_> = groups.flat_map(|g| g["results"].as_array().unwrap()).collect();
    let dip = results.iter().find(|r| r["name"] == "rear-load-dip-time").unwrap();
    let (shown, table) = (dip["values"][0]["value"].as_f64().unwrap(), value("C", "rear-load-dip"));
    assert!((shown - table).abs() < 1e-6, "{shown} {table}");
}

#[test]
fn a_setup_brings_its_bar_its_bias_and_its_hole() {
    let figure = |out: &serde_json::Value, name: &str| {
        let groups = out["groups"].as_array().unwrap();
        let results = groups.iter().flat_map(|g| g["results"].as_array().unwrap());
        let found = results.into_iter().find(|r| r["name"] == name).unwrap();
        found["values"][0]["value"].as_f64().unwrap()
    };
    let plain = json(&["balance", "--json"]);
    let cones = json(&["balance", "--setup", "cones", "--json"]);
    assert!(figure(&cones, "roll-stiffness-share") < figure(&plain, "roll-stiffness-share") - 0.02);
    assert!(good(&["stop", "--setup", "cones"]).contains("setup cones, hole A"));
    let table = good(&["choose", &demo("plover/whole.toml")]);
    assert!(
        table.contains("A (cones)") && table.contains("rear.bar.diameter (16 ± 0.1 to 19 ± 0.1)"),
        "{table}"
    );
}
