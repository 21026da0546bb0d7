//! Mistakes in `[survey]`.

use super::check;

/// A height taken from a datum whose name or contents are not right; what follows in `[survey]` falls into another.
#[track_caller]
fn check_datum(z: &str, name: &str, axis: &str, told: &str) {
    let by = format!("\"{z}\"\n[survey.datum.\"{name}\"]\n{axis} = 180\n[survey.datum.other]\n#");
    check(
        &[(r#""up from ground""#, &by)],
        &[
            "note 13:1 `survey.accuracy` is not given, so each coordinate is taken to be sure to ± 2 mm | say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm",
            told,
            "error 21:1 `accuracy` is not known in `[survey.datum.other]` | `accuracy` belongs in `[survey]`",
        ],
    );
}

#[test]
fn mistakes_are_told() {
    check(
        &[("[survey] ", "[servey] ")],
        &["error 13:2 the file needs `survey`, and `servey` is not known | write `survey`"],
    );
    check(
        &[("rearward from front axle", "backwards from the frnt axle")],
        &[
            r#"error 14:5 `survey.x` measures from `frnt axle`, which is not known | did you mean "front axle"? write "rearward from front axle", "rearward from rear axle", "rearward from NAME", "forward from front axle", "forward from rear axle", "forward from NAME", where NAME is a `[survey.datum.NAME]`"#,
        ],
    );
    check(
        &[("rearward from front axle", "rearward")],
        &[
            r#"error 14:5 `survey.x` does not say from where | write "rearward from front axle", "rearward from rear axle", "rearward from NAME", "forward from front axle", "forward from rear axle", "forward from NAME", where NAME is a `[survey.datum.NAME]`"#,
        ],
    );
    check(
        &[("left from centreline", "lift from centreline")],
        &[
            r#"error 15:5 `survey.y` does not understand `lift` | did you mean "left"? write "left from centreline", "right from centreline""#,
        ],
    );
    check(
        &[("left from centreline", "up from centreline")],
        &[
            r#"error 15:5 `survey.y` cannot point up: that is a direction of `z` | write "left from centreline", "right from centreline""#,
        ],
    );
    check(
        &[("up from ground", "up from sill")],
        &[
            r#"error 16:5 `survey.z` measures from `sill`, which is not known | write "up from ground", "up from NAME", "down from ground", "down from NAME", where NAME is a `[survey.datum.NAME]`"#,
        ],
    );
    check_datum(
        "up from sill rail",
        "sill rial",
        "z",
        r#"error 16:5 `survey.z` measures from `sill rail`, which is not known | did you mean "sill rial"? write "up from ground", "up from NAME", "down from ground", "down from NAME", where NAME is a `[survey.datum.NAME]`"#,
    );
    check_datum(
        "up from Sill Rail",
        "sill rail",
        "x",
        "error 17:1 `[survey.datum.sill rail]` needs `z`: its height above ground",
    );
    check(
        &[("accuracy = 1.5 ", "# accuracy = 1.5 ")],
        &[
            "note 13:1 `survey.accuracy` is not given, so each coordinate is taken to be sure to ± 2 mm | say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm",
        ],
    );
    check(
        &[("accuracy = 1.5 ", "accuracy = 0 ")],
        &[
            "warning 17:12 an accuracy of 0 claims a perfect survey, and every ± that follows from it will be too small | a careful tape and plumb-bob give about 2 mm",
        ],
    );
    check(
        &[("accuracy = 1.5 ", "accuracy = 150 ")],
        &[
            "warning 17:12 an accuracy of 150 mm is too coarse to place a pickup | it is the ± of one coordinate, not of the car",
        ],
    );
    check(
        &[("accuracy = 1.5 ", "accuracy = -1 ")],
        &["error 17:12 `survey.accuracy` is a spread and cannot be negative"],
    );
}
