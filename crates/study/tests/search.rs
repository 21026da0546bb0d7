//! The search over settings: what it finds is what Drive says of the same car; parts make the whole; welded parts are the
//! same everywhere; it can be stopped.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test that cannot go on has failed")]

use std::sync::atomic::{AtomicBool, Ordering};

use project::model::Car;
use study::{Search, Stage, Way};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

/// The demo with a search of its own over the cones alone, which are quick to drive.
fn car(table: &str) -> Car {
    let (before, rest) = WHOLE.split_once("[search]").unwrap();
    let after = rest.split_once("[venue.").unwrap().1;
    let mut car = project::read(&format!("{before}[search]\n{table}\n\n[venue.{after}")).car.unwrap();
    study::settle(&mut car);
    car
}

fn with<T>(run: impl FnOnce(&Way<'_>) -> T) -> T {
    run(&Way { cores: 2, ..Way::default() })
}

/// Values of a row of a group, column by column.
fn row(stage: &Stage, group: usize, title: &str) -> Vec<f64> {
    let row = stage.groups[group].rows.iter().find(|r| r.title() == title).unwrap_or_else(|| {
        unreachable!(
            "no {title}: {:?}",
            stage.groups[group].rows.iter().map(|r| r.title()).collect::<Vec<_>>()
        )
    });
    row.cells.iter().map(|c| c.estimate.as_ref().map_or(f64::NAN, |e| e.value)).collect()
}

const CONES: &str =
    "venues = [\"tern-apron\"]\nbrake-front = [0.66, 0.82]\nrear-bar = [0.7, 1.4]\nrear-ride = [-10, 10]";

/// The first settings are the file's own in each hole: their times are those that Drive gives.
#[test]
fn the_file_s_own_settings_are_drive_s() {
    let car = car("brake-front = [0.66, 0.82]");
    let search = Search::new(&car, 2).unwrap();
    let cones = search.venues().iter().position(|name| name == "tern-apron").unwrap();
    let holes = search.holes().len() as u64;
    let tried = with(|way| search.samples(0..holes, way));
    let draws = study::Draws { choices: 0, changes: 0 };
    let drive = study::drive(&car, &[], draws, &Way::default());
    let group =
        drive.groups.iter().position(|g| g.title.starts_with("tern-apron:") && !g.title.contains("sections"));
    let (_, lap) = (group.unwrap(), drive.groups[group.unwrap()].rows[0].cells.clone());
    assert!(holes >= 4 && tried.len() as u64 == holes);
    for (i, t) in tried.iter().enumerate() {
        let own = lap[i].estimate.as_ref().unwrap().value;
        // Setups stand behind the holes in Drive.
        assert!((t.times[cones] - own).abs() < 1e-9, "{}: {:?} against {own}", search.holes()[i], t.times);
    }
}

#[test]
fn a_setting_is_its_number_s() {
    let search = Search::new(&car(CONES), 2).unwrap();
    let whole = with(|way| search.samples(0..30, way));
    let mut parts = with(|way| search.samples(17..30, way));
    parts.extend(with(|way| search.samples(0..17, way)));
    parts.sort_by_key(|t| t.index);
    assert_eq!(whole, parts);
    let fresh = Search::new(&car(CONES), 1).unwrap();
    assert_eq!(with(|way| fresh.samples(11..13, way)), whole[11..13]);
    assert!(whole.iter().all(|t| t.setting.values.len() == search.columns().len()));
    assert!(
        whole.iter().any(|t| t.setting.values[1] < 0.8) && whole.iter().any(|t| t.setting.values[1] > 1.2)
    );
}

/// One venue has one best set, no slower than the file and any sample; in detail it is what the samples said of it.
#[test]
fn the_best_is_no_worse_than_any_sample() {
    let search = Search::new(&car(CONES), 2).unwrap();
    let tried = with(|way| search.samples(0..40, way));
    let stage = with(|way| search.stage(&tried, 4, way));
    assert_eq!((stage.groups.len(), stage.groups[0].columns.len(), stage.charts.len()), (1, 2, 0));
    let times = row(&stage, 0, "time, tern-apron");
    let least = tried.iter().map(|t| t.times[0]).fold(f64::INFINITY, f64::min);
    assert!(times[1] < times[0] && times[1] < least + 0.02, "{times:?} {least}");
    let share = row(&stage, 0, "braking at the front");
    assert!((0.66..=0.82).contains(&share[1]), "{share:?}");
    let gain = &stage.groups[0].rows.iter().find(|r| r.key == "against-file").unwrap().cells[1];
    assert!((gain.estimate.as_ref().unwrap().value - (times[1] - times[0])).abs() < 1e-9);
    assert!(gain.estimate.as_ref().unwrap().uncertainty() < 0.5 * (times[0] - times[1]));
}

/// Both venues: the first set is the quickest on the one, the last on the other; a welded bar is the same on both, what is
/// quick may differ, and changing costs nothing.
#[test]
fn venues_are_traded_against_each_other() {
    let search = Search::new(&car("welded = [\"rear-bar\"]\nholes = false\nbrake-front = [0.66, 0.82]\nrear-bar = [0.7, 1.4]\nwithout = [\"wing\"]"), 2).unwrap();
    let tried = with(|way| search.samples(0..24, way));
    let stage = with(|way| search.stage(&tried, 0, way));
    let (a, b) = (row(&stage, 0, "time, marrow-heath"), row(&stage, 0, "time, tern-apron"));
    let sets = a.len() - 1;
    assert!(sets >= 1);
    for i in 2..a.len() {
        assert!(a[i] >= a[i - 1] && b[i] <= b[i - 1], "{a:?} {b:?}");
    }
    assert_eq!(stage.groups.len(), 2);
    let bars = row(&stage, 1, "rear bar over the file's (welded)");
    assert!(
        bars.len().is_multiple_of(2) && bars.chunks(2).all(|pair| (pair[0] - pair[1]).abs() < 1e-12),
        "{bars:?}"
    );
    let (there, here) = (row(&stage, 1, "time, marrow-heath"), row(&stage, 1, "time, tern-apron"));
    assert!(there[0] <= a[sets] + 0.02 && here[1] <= b[1] + 0.02, "{there:?} {a:?} {here:?} {b:?}");
    assert_eq!(stage.charts[0].key, "front");
}

#[test]
fn stopped_it_goes_on_with_what_it_has() {
    let search = Search::new(&car(CONES), 2).unwrap();
    let stop = AtomicBool::new(false);
    let progress = |done: usize, _: usize| stop.store(done >= 6, Ordering::Relaxed);
    let way = Way { cores: 2, stop: &stop, progress: &progress };
    let tried = search.samples(0..1000, &way);
    assert!((6..20).contains(&tried.len()), "{}", tried.len());
    let stage = search.stage(&tried, 4, &way);
    assert_eq!(stage.groups[0].columns[0], "as in the file");
    assert!(row(&stage, 0, "time, tern-apron").iter().all(|t| t.is_finite()));
}

#[test]
fn what_cannot_be_searched_is_told() {
    let nothing = Search::new(&car("holes = false"), 1).err().unwrap();
    assert!(nothing.what.contains("nothing to search over"), "{nothing:?}");
    let mut unhooked = car(CONES);
    if let Some(axle) = &mut unhooked.rear {
        axle.bar = None;
    }
    let search = Search::new(&unhooked, 2).unwrap();
    let stage = with(|way| search.stage(&[], 0, way));
    assert!(
        stage.lacks.iter().any(|l| l.what == "`search.rear-bar`: the rear axle has no bar"),
        "{:?}",
        stage.lacks
    );
    let mut bare = car(CONES);
    bare.venues.clear();
    assert!(Search::new(&bare, 1).err().unwrap().what.contains("no venue"));
    bare = car(CONES);
    bare.engine = None;
    assert!(Search::new(&bare, 1).err().unwrap().what.contains("engine"));
}
