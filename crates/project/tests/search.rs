//! `[search]`: what may be varied, and what is told of what may not.
#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn with(table: &str) -> project::Loaded {
    let (before, rest) = WHOLE.split_once("[search]").unwrap();
    let after = rest.split_once("[venue.").unwrap().1;
    project::read(&format!("{before}[search]\n{table}\n\n[venue.{after}"))
}

fn errors(table: &str) -> Vec<String> {
    let all = with(table).diagnostics;
    let wrong = all.into_iter().filter(|d| d.severity == project::Severity::Error);
    wrong.map(|d| format!("{} | {}", d.message, d.hint.unwrap_or_default())).collect()
}

#[test]
fn what_is_written_is_read() {
    let search = project::read(WHOLE).car.unwrap().search.unwrap();
    let (from, to) = search.brake_front.unwrap();
    assert!((from - 0.66).abs() < 1e-12 && (to - 0.82).abs() < 1e-12);
    assert_eq!((search.front_bar, search.rear_bar), (Some((0.7, 1.4)), Some((0.7, 1.4))));
    assert_eq!((search.front_ride, search.rear_ride), (Some((-0.01, 0.01)), Some((-0.01, 0.01))));
    assert_eq!(
        (search.welded, search.without),
        (vec!["front-bar".to_string()], vec!["wing".into(), "floor".into()])
    );
    assert!(search.holes && search.venues.is_empty());
    let bare = with("holes = false\nvenues = [\"tern-apron\"]").car.unwrap().search.unwrap();
    assert!(!bare.holes && bare.venues == ["tern-apron"] && bare.rear_bar.is_none());
}

#[test]
fn what_cannot_be_is_told() {
    for (table, said) in [
        ("venues = [\"tern-apro\"]", "`tern-apro` is not a venue of the file | did you mean `tern-apron`?"),
        ("without = [\"wings\"]", "`wings` is not a part of `[aero.part.NAME]` | did you mean `wing`?"),
        ("welded = [\"rear-bars\"]", "`rear-bars` is not what may be varied | did you mean `rear-bar`?"),
        ("welded = \"rear-bar\"", "`search.welded` must be a list of names"),
        ("brake-front = [0.7]", "`search.brake-front` must be the least and the greatest"),
        ("brake-front = [0.8, 0.7]", "`search.brake-front` must rise from the first to the second"),
        ("brake-front = [0.7, 1.7]", "`search.brake-front` must lie between 0 and 1"),
        ("front-bar = [0.001, 1]", "`search.front-bar` goes further than is looked at"),
        ("rear-ride = [-80, 0]", "`search.rear-ride` goes further than is looked at"),
        ("rear-rides = [-8, 0]", "did you mean `rear-ride`?"),
    ] {
        let found = errors(table);
        assert!(found.len() == 1 && found[0].contains(said), "{table}: {found:?}");
    }
    // A setup is made by a search, it does not change one.
    let setup = format!("{WHOLE}\n[setup.odd.search]\nholes = false\n");
    assert!(project::read(&setup).diagnostics.iter().any(|d| d.severity == project::Severity::Error));
}
