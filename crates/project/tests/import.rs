//! Points from CSV and XLSX files: what they set, and every mistake at its cell.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use exchange::{Cell, Column, GridSheet, Sheet, address, csv_grid, xlsx_bytes, xlsx_grid};
use project::edit::{ImportError, Mapping, Place, apply, import, place_at};
use project::{Loaded, read, starter};
use units::{LengthUnit, UnitSystem};

fn start() -> (String, Loaded) {
    let text = starter("five-link", &UnitSystem::default()).expect("a starter");
    let loaded = read(&text);
    (text, loaded)
}

fn csv(text: &str) -> GridSheet {
    csv_grid(text.as_bytes()).expect("a grid").sheets.remove(0)
}

#[track_caller]
fn take(sheet: &GridSheet) -> String {
    let (text, loaded) = start();
    let mapping = Mapping::guess(&sheet.rows).expect("headings");
    let edit = import(&text, &loaded, "rear", &sheet.rows, &mapping).expect("good points");
    apply(&text, &edit).expect("an edit that was tried")
}

#[track_caller]
fn heights(text: &str, point: &str) -> [f64; 2] {
    let loaded = read(text);
    let at = place_at(loaded.car.as_ref().expect("a car"), &Place::Point(point.into())).expect("a place");
    // The origin is under the rear wheel's own x here, so that only y and z are compared.
    [at.y, at.z].map(|v| (v * 1e7).round() / 1e4)
}

/// Cells and messages of a table that is refused, as a person reads them.
#[track_caller]
fn mistakes(sheet: &GridSheet, mapping: &Mapping) -> Vec<String> {
    let (text, loaded) = start();
    match import(&text, &loaded, "rear", &sheet.rows, mapping) {
        Err(ImportError::Cells(cells)) => {
            cells.iter().map(|m| format!("{}: {}", address(m.row, m.column), m.message)).collect()
        }
        other => unreachable!("{other:?}"),
    }
}

#[test]
fn takes_points_and_holes_in_from_csv_with_decimal_commas() {
    let sheet = csv("My survey of May\n\npoint;x [mm];y [mm];z [mm];±\nlink.toe.body;2760;301,5;262;0,5\n\n\
        rear.link.toe.upright;2742;\"27 1/2 in\";250;\nlink.lower-fore.body=Z;2108;420;312;1\n\nplanning figures\n");
    let after = take(&sheet);
    assert_eq!(heights(&after, "rear.link.toe.body"), [301.5, 262.0]);
    assert_eq!(heights(&after, "rear.link.toe.upright"), [698.5, 250.0]);
    assert!(after.contains("name     = \"Z\"") || after.contains("name = \"Z\""), "{after}");
    assert!(after.contains("accuracy = \"0,5\""), "{after}");
}

#[test]
fn a_column_in_another_unit_keeps_it() {
    let sheet = csv("name,x [in],y,z\nlink.toe.body,108.5,11 7/8,262 mm\n");
    let after = take(&sheet);
    assert!(after.contains("[\"108.5 in\", \"11 7/8 in\", \"262 mm\"]"), "{after}");
    assert_eq!(heights(&after, "rear.link.toe.body"), [301.625, 262.0]);
}

#[test]
fn takes_points_in_from_a_workbook() {
    let column = |heading: &str| Column { heading: heading.into(), width: None, decimals: 1 };
    let rows: Vec<Vec<Cell>> =
        vec![vec![250.04.into(), "link.toe.upright".into(), 2742.0.into(), 690.5.into()]];
    let columns = vec![column("z"), column("point"), column("x"), column("y")];
    let sheet = Sheet { name: "survey".into(), columns, rows, notes: vec!["as measured".into()] };
    let grid = xlsx_grid(&xlsx_bytes(&[sheet]).expect("a workbook")).expect("a grid");
    let after = take(&grid.sheets[0]);
    assert_eq!(heights(&after, "rear.link.toe.upright"), [690.5, 250.04]);
}

#[test]
fn every_mistake_is_told_by_its_cell() {
    let sheet = csv(
        "\nname;x;y;z;±\nlink.toe.body;2760;12,x;262;\nlink.tow.body;1;2;3;\n;1;2;3;\nlink.toe.upright;2742;690;;\n\
        link.upper-fore.body;2742;690;250;some\n",
    );
    let mapping = Mapping::guess(&sheet.rows).expect("headings");
    let told = mistakes(&sheet, &mapping);
    assert_eq!(
        told,
        [
            "C3: `12,x` is not a length: `,x` follows a complete quantity",
            "A5: the name is missing",
            "D6: the z is missing",
            "E7: `some` is not a length: `some` is not a number",
        ]
    );
    // With the cells mended, the names are looked at.
    let sheet = csv("name;x;y;z\nlink.toe.body;2760;300;262\n\nlink.tow.body;1;2;3\nlink.toe.body;1;2;3\n");
    let mapping = Mapping::guess(&sheet.rows).expect("headings");
    assert_eq!(
        mistakes(&sheet, &mapping),
        ["A4: there is no `rear.link.tow.body` in the file", "A5: `rear.link.toe.body` is in row 2 already"]
    );
}

#[test]
fn words_where_numbers_should_be_are_not_taken_for_headings() {
    let sheet = csv("link.toe.body;far;left;up\nlink.toe.upright;2742;690;250\n");
    let mapping = Mapping {
        name: 0,
        coordinates: [1, 2, 3],
        accuracy: None,
        first_row: 0,
        last_row: None,
        units: [None; 4],
    };
    assert_eq!(mistakes(&sheet, &mapping).len(), 3);
}

#[test]
fn a_mapping_that_cannot_be_is_told() {
    let (text, loaded) = start();
    let sheet = csv("link.toe.body;2760;300;262\n");
    let mapping = Mapping {
        name: 0,
        coordinates: [1, 1, 3],
        accuracy: None,
        first_row: 0,
        last_row: None,
        units: [Some(LengthUnit::Millimetre); 4],
    };
    let error = import(&text, &loaded, "rear", &sheet.rows, &mapping).expect_err("x and y alike");
    assert_eq!(error.to_string(), "the x and the y are taken from one column");
    let mapping = Mapping { coordinates: [1, 2, 3], first_row: 5, ..mapping };
    let error = import(&text, &loaded, "rear", &sheet.rows, &mapping).expect_err("no rows");
    assert_eq!(error, ImportError::NoRows);
    assert!(error.hint().is_some());
}

#[test]
fn nothing_is_written_that_makes_the_file_wrong() {
    let (text, loaded) = start();
    let sheet = csv("name;x;y;z\nlink.toe.body;\"1e6\";300;262\n");
    let mapping = Mapping::guess(&sheet.rows).expect("headings");
    let error = import(&text, &loaded, "rear", &sheet.rows, &mapping).expect_err("a kilometre away");
    assert_eq!(error.to_string(), "`rear.link.toe.body` is more than 100 m: that is no length on a car");
}
