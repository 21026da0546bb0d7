//! The stage Drive on the demo car, and on courses and changes whose sign is known.
#![expect(clippy::expect_used, reason = "a fixture that cannot be made ends the test")]

use std::sync::atomic::AtomicBool;

use project::model::{Car, PathReading};
use study::{Draws, Stage, Way, drive};

fn demo() -> Car {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/plover/whole.toml");
    let mut car = project::read(&std::fs::read_to_string(path).expect("the demo")).car.expect("a car");
    study::settle(&mut car);
    car
}

fn with(car: &Car, choices: usize, changes: usize, cores: usize) -> Stage {
    drive(car, &[], Draws { choices, changes }, &Way { cores, ..Way::default() })
}

fn value(stage: &Stage, title: &str, key: &str, column: usize) -> f64 {
    let group = stage.groups.iter().find(|g| g.title.starts_with(title)).expect("a group");
    let row = group.rows.iter().find(|r| r.key == key).expect("a row");
    row.cells.get(column).and_then(|c| c.estimate.as_ref()).expect("a value").value
}

fn worth(stage: &Stage, label: &str, column: usize) -> f64 {
    let group = stage.groups.iter().find(|g| g.title.starts_with("What a change")).expect("a group");
    let row = group.rows.iter().find(|r| r.title().contains(label)).expect(label);
    row.cells.get(column).and_then(|c| c.estimate.as_ref()).expect("a value").value
}

/// Every choice on both venues, sections that add up to the lap, changes whose sign any driver knows (common practice):
/// less mass, more grip and more power are quicker; less drag is on the fast course and nearly nothing among cones.
#[test]
fn the_demo() {
    let stage = with(&demo(), 0, 0, 2);
    assert!(stage.lacks.is_empty(), "{:?}", stage.lacks);
    let laps = [118.0, 43.0];
    for (i, venue) in ["marrow-heath:", "tern-apron:"].into_iter().enumerate() {
        let lap = value(&stage, venue, "lap-time", 0);
        // Of the right size; the figure itself is the demo's own and moves with it.
        assert!((lap / laps[i] - 1.0).abs() < 0.1, "{venue} {lap}");
        let by = format!("{venue} by sections");
        let sections = stage.groups.iter().find(|g| g.title == by).expect("sections");
        let sum: f64 =
            sections.rows.iter().filter_map(|r| r.cells.first()?.estimate.as_ref()).map(|e| e.value).sum();
        assert!((sum - lap).abs() < 1e-6, "{venue}: {sum} {lap}");
        assert!(worth(&stage, "20 kg out", i) < 0.0);
        assert!(worth(&stage, "2 % more grip", i) < 0.0);
        assert!(worth(&stage, "5 % more power", i) < 0.0);
        assert!(worth(&stage, "20 mm lower", i) < 0.0);
        assert!(value(&stage, venue, "in-hand-costs", 0) > 0.0);
    }
    assert!(worth(&stage, "drag area", 0) < 5.0 * worth(&stage, "drag area", 1));
    assert_eq!(stage.tracks.len(), 2);
    for track in &stage.tracks {
        assert!(track.places.iter().all(|(at, v)| at.iter().all(|x| x.is_finite()) && v.is_finite()));
    }
    assert!(stage.notes.iter().any(|n| n.contains("pays in time only through this")));
}

/// The same numbers on one core and on two; a difference has a smaller ± than either time, for what both share cancels;
/// without anything uncertain there is no ±.
#[test]
fn samples_are_common() {
    let mut car = demo();
    car.venues.retain(|v| v.name == "tern-apron");
    let (one, two) = (with(&car, 5, 2, 1), with(&car, 5, 2, 2));
    let of = |stage: &Stage, key: &str, column: usize| {
        let group = stage.groups.iter().find(|g| g.title.starts_with("tern-apron:")).expect("a group");
        let row = group.rows.iter().find(|r| r.key == key).expect("a row");
        row.cells.get(column).and_then(|c| c.estimate.clone()).expect("a value")
    };
    for column in [0, 2] {
        assert_eq!(of(&one, "lap-time", column), of(&two, "lap-time", column));
    }
    let (lap, by) = (of(&one, "lap-time", 3), of(&one, "lap-difference", 3));
    assert!(lap.uncertainty() > 5.0 * by.uncertainty(), "{} {}", lap.uncertainty(), by.uncertainty());
    assert!((by.value - (lap.value - of(&one, "lap-time", 0).value)).abs() < 1e-9);
}

/// Stopped at once it still says what it has: times without ±.
#[test]
fn it_can_be_stopped() {
    let mut car = demo();
    car.venues.retain(|v| v.name == "tern-apron");
    let stop = AtomicBool::new(true);
    let stage = drive(&car, &[], Draws { choices: 50, changes: 50 }, &Way { stop: &stop, ..Way::default() });
    let lap = stage.find("lap-time").and_then(|(_, f)| f.cells.first()?.estimate.clone()).expect("a lap");
    assert!(lap.value > 30.0 && lap.uncertainty() == 0.0);
}

/// What is missing is told with what to write; a venue that cannot be made does not take the others with it.
#[test]
fn what_is_missing_is_told() {
    let lacks = |alter: &dyn Fn(&mut Car)| {
        let mut car = demo();
        car.venues.retain(|v| v.name == "tern-apron");
        alter(&mut car);
        drive(&car, &[], Draws::default(), &Way::default())
            .lacks
            .iter()
            .map(|l| format!("{l}: {}", l.hint))
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert!(lacks(&|car| car.venues.clear()).contains("[venue.NAME]"));
    assert!(lacks(&|car| car.engine = None).contains("`[engine]`"));
    assert!(lacks(&|car| car.gearbox = None).contains("`[gearbox]`"));
    assert!(lacks(&|car| car.weigh = None).contains("weigh"));
    let mut car = demo();
    for venue in &mut car.venues {
        if venue.name == "marrow-heath"
            && let PathReading::Pieces(pieces) = &mut venue.path
        {
            pieces.truncate(4);
        }
    }
    let stage = with(&car, 0, 0, 2);
    assert!(stage.lacks.iter().any(|l| l.what.contains("marrow-heath") && l.what.contains("does not close")));
    assert!(stage.groups.iter().any(|g| g.title.starts_with("tern-apron:")));
}

/// A centreline from a file: the demo's fast circuit, written as places with a little noise, is as long and as quick within
/// two per cent (own).
#[test]
fn a_centreline_from_a_file() {
    let mut car = demo();
    car.venues.retain(|v| v.name == "marrow-heath");
    let stage = with(&car, 0, 0, 2);
    let mut text = String::from("x,y,section\n");
    let mut seed = 5u64;
    for (i, (at, _)) in stage.tracks.first().expect("a track").places.iter().enumerate().step_by(4) {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let noise = ((seed >> 11) as f64 / (1u64 << 53) as f64 - 0.5) * 0.06;
        let name = if i == 0 { "line" } else { "" };
        text.push_str(&format!("{:.3},{:.3},{name}\n", at[0] + noise, at[1] - noise));
    }
    let mut other = car.clone();
    if let Some(venue) = other.venues.first_mut() {
        venue.path =
            PathReading::File { file: "lap.csv".into(), resolution: 40.0, text: Some(Ok(text.into())) };
    }
    let again = with(&other, 0, 0, 2);
    let (a, b) = (value(&stage, "marrow", "lap-time", 0), value(&again, "marrow", "lap-time", 0));
    // Its hills and its bank are not in the file.
    assert!((a / b - 1.0).abs() < 0.02, "{a} {b}");
    assert!(again.groups.iter().any(|g| g.words.iter().any(|w| w.contains("smoothed to waves of 40 m"))));
    if let Some(PathReading::File { text, .. }) = other.venues.first_mut().map(|v| &mut v.path) {
        *text = Some(Ok("x,y\n1,2\nthree,4\n".into()));
    }
    let lack = with(&other, 0, 0, 1).lacks;
    assert!(lack.iter().any(|l| l.what.contains("line 3, column `x`")), "{lack:?}");
}
