//! Mistakes in `[survey]`.

use super::check;

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
    check(
        &[(
            r#""up from ground""#,
            r#""up from sill rail"
[survey.datum."sill rial"]
z = 180
[survey.datum.other]
#"#,
        )],
        &[
            "note 13:1 `survey.accuracy` is not given, so each coordinate is taken to be sure to ± 2 mm | say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm",
            r#"error 16:5 `survey.z` measures from `sill rail`, which is not known | did you mean "sill rial"? write "up from ground", "up from NAME", "down from ground", "down from NAME", where NAME is a `[survey.datum.NAME]`"#,
            "error 21:1 `accuracy` is not known in `[survey.datum.other]` | `accuracy` belongs in `[survey]`",
        ],
    );
    check(
        &[(
            r#""up from ground""#,
            r#""up from Sill Rail"
[survey.datum."sill rail"]
x = 180
[survey.datum.other]
#"#,
        )],
        &[
            "note 13:1 `survey.accuracy` is not given, so each coordinate is taken to be sure to ± 2 mm | say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm",
            "error 17:1 `[survey.datum.sill rail]` needs `z`: its height above ground",
            "error 21:1 `accuracy` is not known in `[survey.datum.other]` | `accuracy` belongs in `[survey]`",
        ],
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
