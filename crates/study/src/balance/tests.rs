//! The stage on a whole car: ± against Monte Carlo, limits, and cars that lack something.

mod fixture;
mod lacking;
mod limits;
mod monte_carlo;

use project::model::Car;

use super::balance;
use crate::stage::Stage;

/// Value of a cell of the stage.
#[track_caller]
fn value(stage: &Stage, key: &str, column: usize) -> f64 {
    let (_, finding) = stage.find(key).unwrap_or_else(|| panic!("no `{key}`"));
    finding.cells[column].estimate.as_ref().unwrap_or_else(|| panic!("`{key}` {column}")).value
}

/// What the demo says: figures of a known kind of car, no more than that (own), and every cell with a ± that has one.
#[test]
fn a_whole_car_has_every_group() {
    let stage = balance(&fixture::whole(), &[]);
    assert!(stage.lacks.is_empty(), "{:?}", stage.lacks);
    let titles: Vec<_> = stage.groups.iter().map(|group| group.title.as_str()).collect();
    assert_eq!(titles.len(), 12, "{titles:#?}");
    assert_eq!(stage.charts.len(), 4);
    assert_eq!(stage.maps.len(), 3);
    for group in &stage.groups {
        for row in &group.rows {
            assert_eq!(row.cells.len(), group.columns.len(), "{}", row.key);
        }
    }
    let within = |key: &str, column, least: f64, most: f64| {
        let is = value(&stage, key, column);
        assert!(least <= is && is <= most, "{key}: {is}");
    };
    within("ride-frequency", 0, 1.0, 3.0);
    within("damping", 1, 0.1, 1.0);
    within("roll-stiffness-share", 0, 0.2, 0.8);
    within("lateral-limit", 0, 7.0, 13.0);
    within("yaw-damping", 1, 0.2, 1.5);
    for (key, terms) in [("understeer", 6), ("static-margin", 6), ("ride-frequency", 2), ("ride-rate", 2)] {
        assert_eq!(stage.find(key).unwrap().1.terms.len(), terms, "{key}");
    }
    for key in ["ride-frequency", "roll-gradient", "moved", "understeer", "lateral-limit", "yaw-rise"] {
        let (_, finding) = stage.find(key).unwrap();
        for cell in finding.cells.iter().filter(|cell| cell.estimate.is_some()) {
            assert!(cell.estimate.as_ref().unwrap().uncertainty() > 0.0, "{key}");
            assert!(!cell.doubts.is_empty(), "{key}");
        }
    }
}

/// No two findings share a name, for `explain` and the JSON go by it; the sizing of both bars does, group by group.
#[test]
fn names_are_unique() {
    let stage = balance(&fixture::whole(), &[]);
    let mut keys: Vec<_> = stage.groups.iter().flat_map(|group| &group.rows).map(|row| row.key).collect();
    keys.retain(|key| !key.starts_with("sized-"));
    let count = keys.len();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), count);
}

fn without(take: impl FnOnce(&mut Car)) -> Stage {
    let mut car = fixture::whole();
    take(&mut car);
    balance(&car, &[])
}

/// A published parameter set serves as well as a handful of figures; what it can answer is no longer noted.
#[test]
fn a_published_set_of_tyres() {
    let stage = without(fixture::magic);
    assert!(stage.lacks.is_empty(), "{:?}", stage.lacks);
    assert_eq!(stage.groups.len(), 12);
    assert!(stage.notes.iter().any(|note| note.contains("pressure is not in the model")));
    assert!(stage.notes.iter().all(|note| !note.contains("simple tyre")));
    assert!(value(&stage, "yaw-damping", 0) > 0.0);
}

/// Without brakes the maps are missing, and nothing else.
#[test]
fn without_brakes_no_maps() {
    let stage = without(|car| {
        car.brake_front_share = None;
        car.rear.as_mut().unwrap().brake = None;
    });
    assert!(stage.maps.is_empty());
    assert_eq!(stage.charts.len(), 4);
    assert_eq!(stage.lacks.len(), 1);
}
