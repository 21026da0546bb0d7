//! Mistakes in `soapstone`, `[car]`, `[units]` and the tables beside the axles.

use super::{END, check};

/// One more line in `[car]`.
#[track_caller]
fn check_car(line: &str, expect: &[&str]) {
    check(&[(r#"driven = "rear" "#, &format!("{line}\ndriven = \"rear\" "))], expect);
}

#[test]
fn mistakes_are_told() {
    check(
        &[("soapstone = 1 ", "# soapstone = 1 ")],
        &[
            "error 1:1 the file does not say which version of the format it is written in | put `soapstone = 1` on its first line",
        ],
    );
    check(
        &[("soapstone = 1 ", "soapstone = 2 ")],
        &[
            "error 1:13 the file is written in version 2 of the format, and this Soapstone reads 1 | use a newer Soapstone for it",
        ],
    );
    check(
        &[("soapstone = 1 ", r#"soapstone = "1" "#)],
        &["error 1:13 `soapstone` is the version of the format and must be 1 | write `soapstone = 1`"],
    );
    check(&[("[car]", "[cra]")], &["error 3:2 the file needs `car`, and `cra` is not known | write `car`"]);
    check(
        &[(r#"driven = "rear" "#, r#"driven = "raer" "#)],
        &[
            r#"error 5:10 `car.driven` cannot be `raer` | did you mean "rear"? it may be "front", "rear", "all""#,
        ],
    );
    check(
        &[(r#"driven = "rear" "#, r#"driven = "all" "#)],
        &[
            "note 3:2 `drive.front-share` is not given: half of the drive is taken to be at the front | write it as `[drive] front-share = 0.4`",
        ],
    );
    check_car(
        "wheelbase = 2500",
        &[
            "warning 5:13 `car.wheelbase` is 2500 mm, and by the wheels' centres it is 2600 mm | measure both again; with both axles in the file `wheelbase` is not needed",
        ],
    );
    check_car(
        r#"cg-height = "480 ± 20 nm""#,
        &[
            "error 5:23 `car.cg-height`: `nm` is a torque, a length is wanted here | a length is written in `mm`, `cm`, `m`, `in` or `ft`",
        ],
    );
    check_car(
        "cg-height = 19",
        &[
            "warning 5:13 a centre of gravity at a height of 19 mm is not between 200 mm and 1200 mm | looks like inches in a millimetre file: add `in` and quotes",
        ],
    );
    check_car(
        "front-share = 0.6",
        &["error 5:1 `front-share` is not known in `[car]` | `front-share` belongs in `[brakes]`"],
    );
    check(
        &[(r#"length = "mm" "#, r#"length = "inches" "#)],
        &[
            r#"error 8:10 `units.length` cannot be `inches` | did you mean "in"? it may be "mm", "m", "in", "ft""#,
        ],
    );
    check(
        &[(
            r#"angle  = "deg""#,
            r#"angle  = "deg"
speed = "km/h""#,
        )],
        &[
            "error 12:1 `speed` is not known in `[units]` | what may stand here: `length`, `mass`, `force`, `angle`",
        ],
    );
    check(
        &[(
            END,
            r#"[brakes]
front-share = 64
[drive]
front-share = 0.4
"#,
        )],
        &[
            r#"error 72:15 `brakes.front-share` must lie between 0 and 1 | for per cent write "64 %""#,
            r#"error 73:1 `[drive]` shares the drive between two axles, and `car.driven` says that one is driven | take it out, or write `driven = "all"`"#,
        ],
    );
    check(
        &[(
            END,
            r#"[choose]
axle = "left"
travels = [-500, 50]
"#,
        )],
        &[
            r#"error 72:8 `choose.axle` cannot be `left` | it may be "front", "rear""#,
            "warning 73:12 a wheel travel of -500 mm is more than a car has | looks like a digit too many",
        ],
    );
    check(
        &[(
            END,
            r#"[weather]
name = "x"
"#,
        )],
        &[
            "error 71:2 `[weather]` is not known | what may stand here: `soapstone`, `units`, `car`, `survey`, `front`, `rear`, `tyre`, `brakes`, `drive`, `setup`, `choose`, `pedal`, `aero`, `stop`, `jig`, `build`, and 6 more",
        ],
    );
}
