//! What the tables in the terminal say, and how they say it.

use crate::run::{DEMOS, PLOVER, demo, file, good};

/// Width of a table where there is no terminal [characters].
const WIDTH: usize = 100;

#[track_caller]
fn check_width(args: &[&str]) {
    for line in good(args).lines() {
        assert!(line.chars().count() <= WIDTH, "{args:?}: {line}");
    }
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    for name in DEMOS {
        for axle in ["front", "rear"] {
            if name != "plover/before.toml" || axle == "rear" {
                check_width(&["choose", &demo(name), "--axle", axle]);
            }
        }
    }
    check_width(&["holes", "--want", "anti-lift=35,50,65"]);
    check_width(&["holes", "--want", "anti-lift=50,900"]);
    check_width(&["holes", "--want", "anti-lift=50,50.1,50.2,50.3"]);
}

/// Text without its line breaks, which depend on the width.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Decimals of the value in a cell such as `12.3 ± 0.4`; `None` where it is no figure.
fn decimals(cell: &str) -> Option<usize> {
    let number = cell.split(' ').next()?;
    number.parse::<f64>().ok()?;
    Some(number.split_once('.').map_or(0, |(_, d)| d.len()))
}

#[test]
fn a_column_has_one_number_of_decimals() {
    let mut columns_seen = 0;
    for name in DEMOS {
        let table = good(&["choose", &demo(name)]);
        for block in table.split("\n\n").filter(|b| b.contains("──")) {
            // Rows begin below the line; cells are parted by at least two spaces.
            let rows: Vec<Vec<&str>> = block
                .lines()
                .skip_while(|l| !l.contains("──"))
                .skip(1)
                .take_while(|l| l.contains("  ") && !l.starts_with("turns") && !l.starts_with(' '))
                .map(|l| l.split("  ").map(str::trim).filter(|c| !c.is_empty()).collect())
                .collect();
            for column in 1..rows.first().map_or(0, Vec::len) {
                let found: std::collections::BTreeSet<usize> =
                    rows.iter().filter_map(|r| decimals(r.get(column)?)).collect();
                assert!(found.len() <= 1, "{name}: column {column} of\n{block}");
                columns_seen += 1;
            }
        }
    }
    assert!(columns_seen > 50, "{columns_seen}");
}

#[test]
fn a_side_view_arm_that_says_nothing_is_long_and_a_footnote_says_why() {
    let car = demo("wren/car.toml");
    let front = good(&["choose", &car, "--axle", "front"]);
    let row = front.lines().find(|l| l.starts_with("as drawn")).unwrap();
    assert!(row.contains(" long "), "{row}");
    assert!(one_line(&front).contains("more than 0.3 of it"), "{front}");
    let rear = good(&["choose", &demo(PLOVER)]);
    assert!(!rear.contains("long\""), "no footnote without the word: {rear}");
    for args in [["--axle", "front"], ["--at", "lower-arm.body-fore=A"]] {
        let mut explain = vec!["explain", "side-view-arm", &car];
        explain.extend(args);
        let worked = good(&explain);
        assert!(one_line(&worked).contains("more than 0.3 of it"), "{worked}");
    }
}

#[test]
fn a_short_arm_and_a_hole_without_a_link_are_remarked_beside_the_table() {
    let table = one_line(&good(&["choose", &demo("dunlin/car.toml")]));
    for words in [
        "all rows (note): the side-view arm is shorter than 500 mm",
        "(common practice)",
        "as-built (road), low (hill), high (note): nothing to set: the arm is re-hung",
    ] {
        assert!(table.contains(words), "`{words}` is not in\n{table}");
    }
    let starter = file("short-arm.toml", good(&["new", "semi-trailing-arm"]));
    assert!(good(&["choose", &starter]).contains("the side-view arm is shorter than 500 mm"));
    let long = good(&["choose", &demo(PLOVER)]);
    assert!(!long.contains("shorter than") && !long.contains("re-hung"), "{long}");
}

#[test]
fn the_footnote_on_a_steady_stop_suits_the_axle() {
    let (front, rear) = (good(&["choose", "--axle", "front"]), good(&["choose", "--axle", "rear"]));
    assert!(front.contains("end dives") && !front.contains("end rises"), "{front}");
    assert!(rear.contains("end rises") && !rear.contains("end dives"), "{rear}");
}
