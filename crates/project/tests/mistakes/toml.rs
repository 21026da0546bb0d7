//! Mistakes in text that is not TOML.

use super::{END, check};

#[test]
fn mistakes_are_told() {
    check(
        &[("loaded-radius = 305", "loaded-radius = 12 1/2 in")],
        &[r#"error 44:17 `12 1/2 in` needs quotes around it | write `"12 1/2 in"`"#],
    );
    check(
        &[("[18, 640, 430]", "[18, 24 1/2 in, 430]")],
        &[r#"error 29:18 `24 1/2 in` needs quotes around it | write `"24 1/2 in"`"#],
    );
    check(
        &[("[18, 640, 430]", "[18 640, 430]")],
        &["error 29:14 a comma is missing in `18 640` | write `18, 640`"],
    );
    check(
        &[("[18, 640, 430]", "[18, 640, 430")],
        &["error 29:13 the closing bracket of this list is missing | end the list with `]`"],
    );
    check(
        &[("camber        = -1.2", "camber  -1.2")],
        &["error 25:1 `=` is missing on this line | write `camber = -1.2`, or begin a comment with `#`"],
    );
    check(
        &[("camber        = -1.2", "camber: -1.2")],
        &["error 25:1 `=` is missing on this line | write `camber = -1.2`, or begin a comment with `#`"],
    );
    check(
        &[("camber        = -1.2", "camber =")],
        &["error 25:1 `camber` has no value | write something after the `=`, or take the line out"],
    );
    check(
        &[(
            END,
            r#"[front.wheel]
toe = 1
"#,
        )],
        &[
            "error 71:8 `[front.wheel]` is given twice; the first is on line 21 | join the two, or rename one of them",
        ],
    );
    check(
        &[(
            "camber        = -1.2",
            r#"camber        = -1.2
camber = 1"#,
        )],
        &["error 26:1 `camber` is given twice; the first is on line 25 | take one of them out"],
    );
    check(
        &[("toe           = 0.05", "toe           = 0,05")],
        &["error 24:17 `0,05` has a decimal comma | write `0.05`"],
    );
    check(
        &[("toe           = 0.05", "toe           = .05")],
        &["error 24:17 `.05` is not written as TOML wants a number | write `0.05`"],
    );
    check(
        &[("[0, 760, 300]", "[0, 0760, 300]")],
        &["error 22:21 `0760` is not written as TOML wants a number | write `760`"],
    );
    check(
        &[("-1.2", "−1.2")],
        &["error 25:17 `−1.2` begins with a dash that is not a minus sign | write `-1.2`"],
    );
    check(
        &[("[rear.link.toe]", "[rear.link.toe")],
        &["error 59:1 the brackets of `[rear.link.toe` do not match | write `[rear.link.toe]`"],
    );
    check(
        &[("[front.tie-rod]", "[front.tie rod]")],
        &[
            "error 36:1 the table's name `front.tie rod` has a space in it | write `[front.tie-rod]`, or a dot for a table in a table",
        ],
    );
    check(
        &[("loaded-radius = 305", "loaded radius = 305")],
        &["error 44:1 the key `loaded radius` has a space in it | write `loaded-radius`"],
    );
    check(
        &[(r#""mm" "#, "“mm” ")],
        &[r#"error 8:10 curly quotes do not hold a text here | use straight quotes: ""#],
    );
    check(
        &[(r#"driven = "rear" "#, "driven = rear ")],
        &[r#"error 5:10 `rear` needs quotes around it | write `"rear"`"#],
    );
    check(
        &[(r#"driven = "rear" "#, r#"driven = "rear "#)],
        &["error 5:10 the closing quote is missing | end the text with the quote that it began with"],
    );
    check(
        &[("loaded-radius = 305", r#"loaded-radius = "12 1/2"""#)],
        &[r#"error 44:17 an inch mark ends the text too early | write it as "12 1/2\"", or use `in`"#],
    );
}
