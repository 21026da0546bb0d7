//! Mistakes in the kinds and what hangs from them.

use super::{END, REAR_LINKS, check};

/// Joints of the kind `links`, each with a mistake.
const JOINTS: &str = r#"[rear.joint.one]
type = "rod"
between = ["ground", "uprite"]
from = [2500, 400, 300]
to = [2600, 650, 300]
[rear.joint.two]
type = "line"
between = ["ground", "rocker"]
at = [2500, 400, 300]
[rear.joint.three]
type = "hinge"
between = ["rocker", "rocker"]
at = [2500, 400, 300]
through = [2600, 400, 300]
[rear.joint.four]
type = "roller"
between = ["rack", "rocker"]
"#;

#[test]
fn mistakes_are_told() {
    check(
        &[(r#""five-link""#, r#""five-likn""#)],
        &[
            r#"error 41:8 `rear.kind` cannot be `five-likn` | did you mean "five-link"? it may be "five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links""#,
        ],
    );
    check(
        &[(r#"kind = "five-link""#, r#"# kind = "five-link""#)],
        &[
            r#"error 40:1 `[rear]` needs `kind`: what it is, one of "five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links""#,
        ],
    );
    check(
        &[(
            r#"[rear.link.toe]
body    = [2740, 340, 260]
upright = [2740, 680, 250]
"#,
            "",
        )],
        &[
            "error 40:1 a five-link has five links, and `[rear]` has 4 links: `lower-fore`, `lower-aft`, `upper-fore`, `upper-aft` | each is a table `[rear.link.NAME]` with `body` and `upright`; any names will do",
        ],
    );
    check(
        &[("[rear.link.toe]", "[rear.link]")],
        &[
            "error 40:1 a five-link has five links, and `[rear]` has 4 links: `lower-fore`, `lower-aft`, `upper-fore`, `upper-aft` | each is a table `[rear.link.NAME]` with `body` and `upright`; any names will do",
            "error 60:1 `body` stands in `[rear.link]`, where only named tables may stand | give it a name of its own: `[rear.link.NAME]`, and put `body` below that",
            "error 61:1 `upright` stands in `[rear.link]`, where only named tables may stand | give it a name of its own: `[rear.link.NAME]`, and put `upright` below that",
        ],
    );
    check(
        &[(
            "[rear.link.toe]",
            r#"[rear.upper-arm]
ball = [2500, 600, 400]
[rear.link.toe]"#,
        )],
        &[
            r#"error 59:7 `[rear.upper-arm]` is not part of a five-link | it belongs to the kind "double-wishbone""#,
        ],
    );
    check(
        &[("[front.wheel]", "[front.weel]")],
        &["error 21:8 `[front]` needs `wheel`, and `weel` is not known | write `wheel`"],
    );
    check(
        &[("travel = 68", "travle = 68")],
        &["error 35:1 `[front.rack]` needs `travel`, and `travle` is not known | write `travel`"],
    );
    check(
        &[(
            "[rear.wheel]",
            r#"[rear.rack]
travel = 60
[rear.wheel]"#,
        )],
        &[
            r#"error 42:7 `[rear.rack]` is there, and no link rides on it | name the link in `[rear]`: steered = "toe""#,
        ],
    );
    check(
        &[(
            r#"kind = "five-link" "#,
            r#"steered = "tow"
kind = "five-link" "#,
        )],
        &["error 41:11 `rear.steered` names `tow`, and there is no such link | did you mean `toe`?"],
    );
    check(
        &[(
            r#"kind = "five-link" "#,
            r#"steered = "toe"
kind = "five-link" "#,
        )],
        &[
            "error 40:1 `[rear]` needs `[rear.rack]`: the rack that the `steered` link rides on, with its `travel` each way",
        ],
    );
    check(
        &[(
            r#"kind = "five-link" "#,
            r#"brakes = "onboard"
kind = "five-link" "#,
        )],
        &[
            r#"error 41:10 `rear.brakes` cannot be `onboard` | did you mean "inboard"? it may be "outboard", "inboard""#,
        ],
    );
    check(
        &[(
            r#"[front.rack]
travel = 68
"#,
            "",
        )],
        &[
            "note 34:8 without `[front.rack]` the tie rod is read as a toe link on the body | add `[front.rack]` with its `travel` each way, and the wheel steers",
        ],
    );
    check(
        &[(
            "[rear.link.toe]",
            r#"[rear.link.toe]
sleeve = "left-right""#,
        )],
        &[
            r#"error 59:1 `[rear.link.toe]` needs `thread`: the thread that the sleeve turns on, such as "M14x1.5" or "18 tpi""#,
        ],
    );
    check(
        &[(
            "[rear.link.toe]",
            r#"[rear.link.toe]
thread = "M14x1.5"
sleeve = "right-left""#,
        )],
        &[
            r#"error 61:10 `rear.link.toe.sleeve` cannot be `right-left` | it may be "one-thread", "left-right""#,
        ],
    );
    check(
        &[(
            END,
            r#"[rear.spring]
body  = [2640, 500, 450]
mount = [2640, 520, 225]
on = "link.lower-fo"
rate = "35 N/mm"
force = "3 kN"
"#,
        )],
        &[
            r#"error 74:6 `rear.spring.on` is "link.lower-fo", and there is no such part here | did you mean "link.lower-fore"? it may be "upright", "link.lower-fore", "link.lower-aft", "link.upper-fore", "link.upper-aft", "link.toe""#,
        ],
    );
    check(
        &[(
            END,
            r#"[rear.spring]
body  = [2640, 500, 450]
mount = [2640, 520, 225]
rate = "35 kg"
"#,
        )],
        &[
            r#"error 71:1 `[rear.spring]` needs `on`: what its moving end is fixed to, one of "upright", "link.lower-fore", "link.lower-aft", "link.upper-fore", "link.upper-aft", "link.toe""#,
            "error 74:12 `rear.spring.rate`: `kg` is a mass, a rate is wanted here | a rate is written in `N/mm`, `N/m`, `lbf/in` or `kgf/mm`",
        ],
    );
    check(
        &[
            (
                r#"kind = "five-link" "#,
                r#"kind = "links"
bodies = ["upright", "rocker"]
#"#,
            ),
            (REAR_LINKS, JOINTS),
        ],
        &[
            "error 51:22 there is no body `uprite` | did you mean `upright`?",
            "error 54:1 `[rear.joint.two]` needs `along` or `through`: where the line goes: a direction or a second point",
            "error 58:1 joint `three` has the same body on both sides",
            r#"error 64:8 `rear.joint.four.type` cannot be `roller` | it may be "rod", "ball", "hinge", "line", "plane""#,
            "error 65:12 there is no rack on this axle | add its table `rack` with its `travel` each way",
        ],
    );
    check(
        &[
            (
                r#"kind = "five-link" "#,
                r#"kind = "links"
bodies = ["uprihgt"]
#"#,
            ),
            (REAR_LINKS, JOINTS),
        ],
        &[
            r#"error 42:10 `rear.bodies` needs "upright": the part that carries the wheel | `uprihgt` should read `upright`"#,
        ],
    );
}
