//! Mistakes in wheels and points.

use super::check;

#[test]
fn mistakes_are_told() {
    check(
        &[("camber        = -1.2", "cmaber        = -1.2")],
        &[
            "note 21:1 `camber` is not given in `[front.wheel]` and taken as 0 | toe-in is positive, and camber is negative with the top leaning in",
            "error 25:1 `cmaber` is not known in `[front.wheel]` | did you mean `camber`?",
        ],
    );
    check(
        &[(
            r#"kind = "five-link" "#,
            r#"camber = -1
kind = "five-link" "#,
        )],
        &["error 41:1 `camber` is not known in `[rear]` | `camber` belongs in `[rear.wheel]`"],
    );
    check(
        &[("loaded-radius = 305", "loaded_radius = 305")],
        &[
            "error 44:1 `[rear.wheel]` needs `loaded-radius`, and `loaded_radius` is not known | write `loaded-radius`",
        ],
    );
    check(
        &[(
            r#"centre        = [2600, 735, 305]
"#,
            "",
        )],
        &["error 42:1 `[rear.wheel]` needs `centre`: the wheel's middle, as [x, y, z]"],
    );
    check(
        &[("loaded-radius = 305", r#"loaded-radius = "12 imch""#)],
        &["error 44:21 `rear.wheel.loaded-radius`: `imch` is not a known unit | did you mean `inch`?"],
    );
    check(
        &[("loaded-radius = 305", "loaded-radius = 12")],
        &[
            "warning 44:17 a loaded radius of 12 mm is not between 150 mm and 450 mm | looks like inches in a millimetre file: add `in` and quotes",
        ],
    );
    check(
        &[("loaded-radius = 305", "loaded-radius = [305]")],
        &[
            r#"error 44:17 `rear.wheel.loaded-radius` is a list, where a length is wanted | write it like `305` or `"12 1/2 in"`"#,
        ],
    );
    check(
        &[("loaded-radius = 305", "loaded-radius = 0")],
        &["error 44:17 `rear.wheel.loaded-radius` must be more than zero"],
    );
    check(
        &[(
            r#"toe           = 0.1
"#,
            r#"toe           = 4
"#,
        )],
        &[
            "warning 45:17 a toe of 4 deg is more than 3 deg | toe is the angle of one wheel in degrees, not millimetres across the rim",
        ],
    );
    check(
        &[(
            r#"toe           = 0.1
"#,
            r#"toe           = 400
"#,
        )],
        &["error 45:17 `rear.wheel.toe` is 400 deg: no wheel stands like that | angles are in degrees"],
    );
    check(
        &[("[2600, 735, 305]", "[102.4, 28.9, 12]")],
        &[
            "warning 43:17 `rear.wheel.centre` is 28.9 mm from the centreline | looks like inches in a millimetre file: add `in` and quotes",
            "warning 43:17 a wheelbase of 102.4 mm is not between 1500 mm and 4200 mm | looks like inches in a millimetre file: add `in` and quotes",
        ],
    );
    check(
        &[("[2600, 735, 305]", "[2600, -735, 305]")],
        &[
            "warning 43:17 `rear.wheel.centre` is on the other side of the centreline than most points of its axle | a minus sign too many or too few in y? all points of an axle are of one side",
        ],
    );
    check(
        &[("[18, 640, 430]", "[18,5, 640, 430]")],
        &[
            "error 29:13 `front.upper-arm.ball` has 4 coordinates, where three are wanted | a point is [x, y, z]: write decimals with a point, 12.5, not with a comma",
        ],
    );
    check(
        &[("[18, 640, 430]", "[18, 640]")],
        &[
            "error 29:13 `front.upper-arm.ball` has 2 coordinates, where three are wanted | a point is [x, y, z]: is a coordinate or a comma missing?",
        ],
    );
    check(
        &[("[18, 640, 430]", r#""18, 640, 430""#)],
        &[
            "error 29:13 `front.upper-arm.ball` is a text, where a point is wanted | square brackets in place of the quotes: [18, 640, 430]",
        ],
    );
    check(
        &[("[18, 640, 430]", r#"[18, "64 0", "430 mm ± 1 kg"]"#)],
        &[
            "error 29:22 `front.upper-arm.ball`: `0` follows a complete quantity | remove it, or write it as a comment",
            "error 29:38 `front.upper-arm.ball`: `kg` is a mass, a length is wanted here | a length is written in `mm`, `cm`, `m`, `in` or `ft`",
        ],
    );
    check(
        &[("[18, 640, 430]", "{ at = [18, 640, 430], acuracy = 1 }")],
        &["error 29:36 `acuracy` is not known in `[front.upper-arm.ball]` | did you mean `accuracy`?"],
    );
    check(
        &[("[18, 640, 430]", "{ at = [18, 640, 430], colour = 1 }")],
        &[
            "error 29:36 `colour` is not known in `[front.upper-arm.ball]` | what may stand here: `at`, `accuracy`",
        ],
    );
    check(
        &[("[2640, 670, 200]", "[inf, 300, 1e9]")],
        &[
            "error 52:12 `rear.link.lower-aft.upright`: the number is not finite",
            "error 52:22 `rear.link.lower-aft.upright` is more than 100 m: that is no length on a car",
        ],
    );
    check(
        &[("[2640, 670, 200]", "[2640, 670, 2000]")],
        &[
            "warning 52:11 `rear.link.lower-aft.upright` is 1696.7 mm from the wheel's middle, too far for an end on the upright | z would fit as 200 mm",
        ],
    );
    check(
        &[("[2640, 670, 200]", "[103.9, 26.4, 7.9]")],
        &[
            "warning 52:11 `rear.link.lower-aft.upright` is 2611.7 mm from the wheel's middle, too far for an end on the upright | looks like inches in a millimetre file: add `in` and quotes",
        ],
    );
    check(
        &[("[2640, 300, 230]", "[2640, -300, 230]")],
        &[
            "warning 51:11 `rear.link.lower-aft.body` is 300 mm past the centreline, on the other side than its wheel | a minus sign too many or too few in y?",
        ],
    );
    check(
        &[("[2640, 300, 230]", "[2640, 630, 200]")],
        &[
            "warning 51:11 `rear.link.lower-aft.body` and `rear.link.lower-aft.upright` are 40 mm apart, too short for one part of a suspension | measure both points again",
        ],
    );
    check(
        &[("[2640, 300, 230]", "[264, 300, 230]")],
        &[
            "warning 51:11 `rear.link.lower-aft.body` and `rear.link.lower-aft.upright` are 2404.8 mm apart, too long for one part of a suspension | measure both points again",
        ],
    );
    check(
        &[("[2640, 300, 230]", "[2640, 670, 200]")],
        &[
            "error 52:11 `rear.link.lower-aft.body` and `rear.link.lower-aft.upright` are the same point | was a line copied and not changed?",
        ],
    );
    check(
        &[("[2640, 300, 230]", r#"[2640, 670, "200.5"]"#)],
        &[
            "warning 52:11 `rear.link.lower-aft.body` and `rear.link.lower-aft.upright` are only 0.5 mm apart | was a line copied and not changed?",
        ],
    );
    check(
        &[(
            r#"ball      = [-12, 690, 190]
"#,
            "",
        )],
        &["error 30:1 `[front.lower-arm]` needs `ball`: the middle of its outer ball, as [x, y, z]"],
    );
}
