//! Mistakes in holes, plates and setups.

use super::{END, check};

/// A plate for the lower fore link with this bolt and these corners.
#[track_caller]
fn check_plate(bolt: &str, corners: &str, expect: &[&str]) {
    let plate =
        format!("[rear.plate.p]\nend = \"link.lower-fore.body\"\nbolt = {bolt}\ncorners = {corners}\n");
    check(&[(END, &plate)], expect);
}

#[test]
fn mistakes_are_told() {
    check(
        &[(
            r#"end  = "link.lower-fore.body"
name = "B""#,
            r#"end  = "link.lower-for.body"
name = "B""#,
        )],
        &[
            "error 68:8 there is no point `link.lower-for.body` on this axle | did you mean `link.lower-fore.body`?",
        ],
    );
    check(
        &[(r#"name = "B""#, r#"name = "A""#)],
        &["error 69:8 `link.lower-fore.body` has two holes called `A` | the first one is on line 66"],
    );
    check(
        &[(r#"name = "B""#, "name = 2")],
        &["error 69:8 `rear.holes.name` is a number, where a name is wanted | put quotes around it"],
    );
    check(
        &[("[2108, 420, 310]", "[2508, 420, 310]")],
        &[
            "warning 70:8 hole `B` is 409.1 mm from `rear.link.lower-fore.body`, which it would replace | measure it again, or correct its `end`",
        ],
    );
    check(
        &[
            (
                "[[rear.holes]]                       #",
                r#"[rear.hole]
#"#,
            ),
            (
                r#"[[rear.holes]]
"#,
                r#"[rear.hole.x]
"#,
            ),
        ],
        &["error 63:7 `[rear.hole]` is not part of a five-link | did you mean `[rear.holes]`?"],
    );
    check_plate(
        r#""M12""#,
        "[[2000, 420, 200], [2200, 420, 200], [2200, 427, 400], [2000, 420, 400]]",
        &[
            "error 74:48 corner 3 of `rear.plate.p.corners` is 7 mm out of the plane of the others | a plate is flat: measure that corner again",
        ],
    );
    check_plate(
        r#""M12""#,
        "[[2000, 420, 200], [2200, 420, 400], [2200, 420, 200], [2000, 420, 400]]",
        &[
            "error 74:11 the outline of `rear.plate.p.corners` crosses itself: side 1 to 2 and side 3 to 4 | give the corners in order around the plate",
        ],
    );
    check_plate(
        r#""M12""#,
        "[[2000, 420, 200], [2200, 420, 400]]\nlink-length = [440, 400]",
        &[
            "error 74:11 `rear.plate.p.corners` has 2 corners, where 3 to 100 are wanted",
            "error 75:15 `rear.plate.p.link-length` has the greater length first | swap them",
        ],
    );
    check_plate(
        "480",
        "[[2000, 420, 200], [2200, 420, 200], [2200, 420, 400]]",
        &[
            "warning 70:8 holes `A` and `B` are 31 mm apart, less than their bolt of 480 mm | only one of them can be drilled",
            "warning 73:8 a bolt of 480 mm is not between 5 mm and 30 mm | divided by 25.4 it would do: was it converted to millimetres twice?",
        ],
    );
    check(
        &[
            ("[2108, 420, 310]", "[2104, 420, 288]"),
            (
                END,
                r#"[rear.plate.p]
end = "link.lower-fore.body"
bolt = "M12"
corners = [[2000, 420, 200], [2200, 420, 200], [2200, 420, 400], [2000, 420, 400]]
"#,
            ),
        ],
        &[
            "warning 70:8 holes `A` and `B` are 8.9 mm apart, less than their bolt of 12 mm | only one of them can be drilled",
        ],
    );
    check(
        &[(
            END,
            r#"[setup.wet]
holes = { "rear.link.lower-fore.body" = "Z", "rear.link.toe.body" = "A", "link.toe" = "A", "front.link.x" = "A" }
"#,
        )],
        &[
            "error 72:41 `rear.link.lower-fore.body` has no hole `Z` | one of `A`, `B`",
            "error 72:46 `rear.link.toe.body` has no holes to choose from | ends with holes: `link.lower-fore.body`",
            r#"error 72:74 `link.toe` does not say which axle it is about | write it in quotes as "rear.link.NAME.body" or "front.link.NAME.body""#,
            "error 72:92 there is no point `link.x` on the front axle",
        ],
    );
    check(
        &[(
            END,
            r#"[setup.wet]
holes = { rear.link.toe.body = "A" }
"#,
        )],
        &[
            r#"error 72:11 `rear` does not say which axle it is about | write it in quotes as "rear.link.NAME.body" or "front.link.NAME.body""#,
        ],
    );
}
