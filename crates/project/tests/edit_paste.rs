//! Tables pasted from a spreadsheet: what they set, and every mistake at its cell.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use project::edit::{Edit, EditError, Place, apply, paste_rows, place_at};
use project::{read, starter};
use units::UnitSystem;

fn start() -> String {
    starter("five-link", &UnitSystem::default()).expect("a starter")
}

fn paste(table: &str) -> Edit {
    Edit::Paste { axle: "rear".into(), table: table.into() }
}

#[track_caller]
fn at(text: &str, place: Place) -> [f64; 3] {
    let loaded = read(text);
    let at = place_at(loaded.car.as_ref().expect("a car"), &place).expect("a place");
    [0, 1, 2].map(|i| (at[i] * 1e4).round() / 10.0)
}

#[track_caller]
fn check_mistakes(table: &str, expect: &[(usize, usize, &str)]) {
    let error = apply(&start(), &paste(table)).expect_err("mistakes");
    let EditError::Paste { mistakes } = &error else { unreachable!("{error:?}") };
    let found: Vec<_> = mistakes.iter().map(|m| (m.row, m.column, m.message.as_str())).collect();
    assert_eq!(found, expect);
}

#[test]
fn sets_points_and_holes() {
    let table = "point\tx\ty\tz\taccuracy\n\
        link.lower-fore.body\t2110\t421\t290\t\n\
        rear.link.toe.upright\t\"108 in\"\t27 1/2 in\t250\t0.5\n\
        wheel.centre\t2600,5\t735\t305\n\
        link.lower-fore.body=B\t2108\t420\t312\n\
        link.lower-fore.body = C\t2108\t420\t\"12 1/2\"\"\"\t1\n";
    let after = apply(&start(), &paste(table)).expect("a good table");
    let point = |name: &str| Place::Point(name.into());
    let hole = |name: &str| Place::Hole { point: "rear.link.lower-fore.body".into(), name: name.into() };
    // The origin is under the rear wheel's own x here, so that only y and z are compared with the table.
    assert_eq!(at(&after, point("rear.link.lower-fore.body"))[1..], [421.0, 290.0]);
    assert_eq!(at(&after, point("rear.link.toe.upright"))[1..], [698.5, 250.0]);
    assert_eq!(at(&after, hole("B"))[2], 312.0);
    assert_eq!(at(&after, hole("C"))[2], 317.5);
    assert!(after.contains("upright = { at = [\"108 in\", \"27 1/2 in\", 250], accuracy = 0.5 }\n"));
    assert!(after.contains("centre        = [\"2600,5\", 735, 305]"));
    assert!(after.contains("name = \"C\"\nat   = [2108, 420, \"12 1/2\\\"\"]\naccuracy = 1\n"), "{after}");
    assert_eq!(after.matches('#').count(), start().matches('#').count());
}

#[test]
fn parts_cells_by_what_the_program_writes() {
    for table in [
        "link.toe.body\t2760\t300\t262",
        "link.toe.body;2760;300;262;",
        "link.toe.body, 2760, 300, 262",
        "  link.toe.body   2760  300 262  ",
        "\n# mine\nname,x,y,z\n\"link.toe.body\",2760,300,262\n\n",
    ] {
        let rows = paste_rows(table).expect(table);
        assert_eq!(rows.len(), 1, "{table}");
        assert_eq!(
            (rows[0].name.as_str(), rows[0].coordinates.join(" ")),
            ("link.toe.body", "2760 300 262".into())
        );
        assert_eq!(rows[0].accuracy, None);
    }
    assert_eq!(paste_rows("").expect("nothing"), []);
}

#[test]
fn every_mistake_has_its_row_and_column() {
    check_mistakes(
        "name;x;y;z\nlink.toe.body;2760;300\n;1;2;3\nlink.toe.body;1;2;3;4;5",
        &[(2, 4, "the z is missing"), (3, 1, "the name is missing"), (4, 6, "a cell too many")],
    );
    check_mistakes(
        "link.toe.body\t2760\t3oo\t262 mn\nlink.tow.body\t1\t2\t3\n\nlink.toe.upright\t2742\t690\t250\tsome\nlink.toe.body\t1\t2\t3",
        &[
            (1, 3, "`oo` is not a known unit"),
            (1, 4, "`mn` is not a known unit"),
            (2, 1, "there is no `rear.link.tow.body` in the file"),
            (4, 5, "`some` is not a number"),
            (5, 1, "`rear.link.toe.body` is in row 1 already"),
        ],
    );
    check_mistakes(
        "side.link.toe.body 1 2 3",
        &[(1, 1, "there is no `rear.side.link.toe.body` in the file")],
    );
}

#[test]
fn fills_a_file_that_is_being_begun() {
    let begun = "soapstone = 1\n[car]\nname = \"Teal\" # mine\ndriven = \"rear\"\n[survey]\nx = \"rearward from front axle\"\n\
        y = \"left from centreline\"\nz = \"up from ground\"\naccuracy = 2\n[rear]\nkind = \"semi-trailing-arm\"\n\
        [rear.wheel]\nloaded-radius = 302\ntoe = 0\ncamber = 0\n";
    let table =
        "wheel.centre\t2600\t728\t302\narm.pivot-inner\t2290\t180\t290\narm.pivot-outer\t2200\t550\t282\n";
    let after = apply(begun, &paste(table)).expect("a whole car");
    let loaded = read(&after);
    assert!(loaded.car.is_some(), "{after}\n{:?}", loaded.diagnostics);
    assert!(after.starts_with(&begun[..begun.len() - "toe = 0\ncamber = 0\n".len()]));
}
