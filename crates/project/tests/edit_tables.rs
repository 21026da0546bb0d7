//! Edits of accuracies, holes and whole tables, as rows.

mod edit_common;

use edit_common::comments;
use edit_common::rows::{check, difference, example, hole, odd, point, texts};
use project::edit::{At, Edit, EditError, Place, apply};

#[test]
fn accuracies_come_and_go() {
    let set = |place: Place, text: Option<&str>| Edit::Accuracy { place, text: text.map(str::to_string) };
    let body = point("rear.link.toe.body");
    let with = check(
        "plover/car.toml",
        &set(body.clone(), Some("0.5")),
        "-body    = [2760, 300, 262]\n+body    = { at = [2760, 300, 262], accuracy = 0.5 }",
    );
    let more = check(
        &with,
        &set(body.clone(), Some("1/32 in")),
        "-body    = { at = [2760, 300, 262], accuracy = 0.5 }\n+body    = { at = [2760, 300, 262], accuracy = \"1/32 in\" }",
    );
    assert_eq!(apply(&more, &set(body, None)).as_deref(), Ok(example("plover/car.toml").as_str()));
    check("dunlin/car.toml", &set(hole("rear.blade.bush", "as-built"), Some("1")), "+accuracy = 1");
    let low = hole("rear.blade.bush", "low");
    check(
        "dunlin/car.toml",
        &set(low, None),
        "-accuracy = 1                         # from the bracket's drawing",
    );
    check(
        &odd(),
        &set(hole("rear.arm.pivot-inner", "B"), None),
        "-  { end = \"arm.pivot-inner\", name = \"B\", at = { at = [12, 7, 2], accuracy = \"0.5 mm\" } },
+  { end = \"arm.pivot-inner\", name = \"B\", at = [12, 7, 2] },",
    );
    check(
        &odd(),
        &set(hole("rear.arm.pivot-inner", "A"), Some("1/64")),
        "-  { end = \"arm.pivot-inner\", name = \"A\", at = [12, 7, \"1\"] },
+  { end = \"arm.pivot-inner\", name = \"A\", at = [12, 7, \"1\"], accuracy = \"1/64\" },",
    );
}

#[test]
fn holes_are_added_renamed_and_taken_out() {
    let end = || "rear.link.lower-fore.body".to_string();
    let at = texts("2110", "420", "300");
    let add = Edit::AddHole { point: end(), name: " E ".into(), at, accuracy: Some("0.5".into()) };
    let with = check(
        "plover/car.toml",
        &add,
        "+[[rear.holes]]
+end      = \"link.lower-fore.body\"
+name     = \"E\"
+at       = [2110, 420, 300]
+accuracy = 0.5
+",
    );
    let remove = |name: &str| Edit::RemoveHole { point: end(), name: name.into() };
    assert_eq!(apply(&with, &remove("E")).as_deref(), Ok(example("plover/car.toml").as_str()));
    let in_use = apply(&with, &remove("C")).expect_err("a setup uses it");
    assert_eq!(in_use.to_string(), "the setup `circuit` uses hole `C` of `rear.link.lower-fore.body`");
    assert_eq!(in_use.hint().as_deref(), Some("give `circuit` another hole first"));
    check(
        "plover/car.toml",
        &Edit::RenameHole { point: end(), name: "C".into(), to: "mid".into() },
        "-name = \"C\"                           # high: the links hold the body down, at a price over bumps
+name = \"mid\"                           # high: the links hold the body down, at a price over bumps
-holes = { \"rear.link.lower-fore.body\" = \"C\" }\n+holes = { \"rear.link.lower-fore.body\" = \"mid\" }",
    );
    // The first hole of a car: in the style of the point, behind everything of its axle.
    let wren = example("wren/car.toml");
    let ball = At::Car([0.4064, 0.6, 0.2]);
    let first =
        Edit::AddHole { point: "front.lower-arm.ball".into(), name: "low".into(), at: ball, accuracy: None };
    let after = apply(&wren, &first).expect("a hole");
    let expect = "on    = \"lower-arm\"\n\n[[front.holes]]\nend  = \"lower-arm.ball\"\nname = \"low\"\nat   = [-30.5, \"23 5/8\", \"1 5/8\"]\n\n# ----";
    assert!(after.contains(expect), "{}", difference(&wren, &after));
    let add = |name: &str| Edit::AddHole {
        point: "rear.arm.pivot-inner".into(),
        name: name.into(),
        at: texts("12", "7", "2 1/2"),
        accuracy: None,
    };
    let with = check(
        &odd(),
        &add("C"),
        "-  { end = \"arm.pivot-inner\", name = \"B\", at = { at = [12, 7, 2], accuracy = \"0.5 mm\" } },
+  { end = \"arm.pivot-inner\", name = \"B\", at = { at = [12, 7, 2], accuracy = \"0.5 mm\" } }, { end = \"arm.pivot-inner\", name = \"C\", at = [12, 7, \"2 1/2\"] },",
    );
    let remove = Edit::RemoveHole { point: "rear.arm.pivot-inner".into(), name: "C".into() };
    assert_eq!(apply(&with, &remove), Ok(odd()));
    for (name, expect) in [
        ("A", "`rear.arm.pivot-inner` has a hole called `A` already"),
        (" ", "a hole needs a name of at least one letter, on one line"),
        ("a\nb", "a hole needs a name of at least one letter, on one line"),
    ] {
        assert_eq!(apply(&odd(), &add(name)).expect_err(name).to_string(), expect);
    }
}

#[test]
fn tables_are_appended_and_taken_out() {
    let toml = "\n# a guess\n[setup.wet]\nholes = { \"rear.link.lower-fore.body\" = \"A\" }\n\n";
    let with = check(
        "plover/car.toml",
        &Edit::Append { toml: toml.into() },
        "+\n+# a guess\n+[setup.wet]\n+holes = { \"rear.link.lower-fore.body\" = \"A\" }",
    );
    check(
        &with,
        &Edit::RemoveTable { path: "setup.cones".into() },
        "-[setup.cones]                        # free, and kind over a rough airfield
-holes = { \"rear.link.lower-fore.body\" = \"A\" }
-",
    );
    check(
        "plover/car.toml",
        &Edit::RemoveTable { path: "front.bar-link".into() },
        "-[front.bar-link]
-body  = [75, 560, 320]               # the end of the anti-roll bar's arm
-mount = [60, 575, 212]               # the end that moves with the suspension
-on    = \"lower-arm\"
-",
    );
    let error = apply(&with, &Edit::RemoveTable { path: "rear.link.toe".into() }).expect_err("it is needed");
    assert!(matches!(&error, EditError::Refused { diagnostics, .. } if !diagnostics.is_empty()), "{error:?}");
    let error =
        apply(&with, &Edit::Append { toml: "[rear.wing]\nspan = 1400".into() }).expect_err("not known");
    assert_eq!(error.to_string(), "`[rear.wing]` is not part of a five-link");
}

/// Values of tyres, brakes, bars, air, the stop and setups: value, unit and ± as typed, the comment behind it kept.
#[test]
fn figures_of_the_whole_car() {
    let set = |path: &str, text: &str| Edit::Value { path: path.into(), text: Some(text.into()) };
    let row = |path: &str, text: &str, expect: &str| {
        let file = "plover/whole.toml";
        let after = check(file, &set(path, text), expect);
        assert_eq!(comments(&after), comments(&example(file)), "the comments of the file");
    };
    row(
        "tyre.vertical-rate",
        "205 ± 8",
        "-vertical-rate       = \"212 ± 10\"     # N/mm, one tyre at the pressure that is run
+vertical-rate       = \"205 ± 8\"     # N/mm, one tyre at the pressure that is run",
    );
    row(
        "tyre.nominal-load",
        "3.2 kN",
        "-nominal-load        = 3000           # the load at which the following hold
+nominal-load        = \"3.2 kN\"           # the load at which the following hold",
    );
    row(
        "pedal.ratio",
        "5.2 ± 0.05",
        "-ratio        = \"5.4 ± 0.05\"          # pad to pivot over rod to pivot
+ratio        = \"5.2 ± 0.05\"          # pad to pivot over rod to pivot",
    );
    row(
        "pedal.front-master",
        "3/4 in",
        "-front-master = 17.8                  # bores
+front-master = \"3/4 in\"                  # bores",
    );
    row(
        "pedal.bias",
        "56 %",
        "-bias         = \"54 %\"                # share of the rod's force on the front cylinder
+bias         = \"56 %\"                # share of the rod's force on the front cylinder",
    );
    row("rear.bar.diameter", "17 ± 0.1 mm", "-diameter = \"16 ± 0.1\"\n+diameter = \"17 ± 0.1 mm\"");
    row(
        "setup.cones.rear.bar.diameter",
        "18 ± 0.1",
        "-diameter = \"19 ± 0.1\"                # the other bar, on the same arms
+diameter = \"18 ± 0.1\"                # the other bar, on the same arms",
    );
    row("setup.cones.pedal.bias", "0.5", "-bias = \"52 %\"\n+bias = 0.5");
    row(
        "aero.rear-downforce-area",
        "0.5 ± 0.05",
        "-rear-downforce-area  = \"0.42 ± 0.06\"\n+rear-downforce-area  = \"0.5 ± 0.05\"",
    );
    row(
        "stop.from",
        "115 mph",
        "-from         = 190                   # km/h\n+from         = \"115 mph\"                   # km/h",
    );
    row(
        "stop.deceleration",
        "1.1",
        "-deceleration = 1.0                   # g\n+deceleration = 1.1                   # g",
    );
    row("rear.disc.friction", "0.38 ± 0.03", "-friction  = \"0.40 ± 0.03\"\n+friction  = \"0.38 ± 0.03\"");
    row(
        "front.disc.pistons",
        "36, 36, 40, 40",
        "-pistons   = [38, 38, 38, 38]         # bores of all four
+pistons   = [36, 36, 40, 40]         # bores of all four",
    );
    row(
        "front.damper.bump-stop.gap",
        "30",
        "-gap      = 34                        # free shaft at ride height
+gap      = 30                        # free shaft at ride height",
    );
}

/// What the new figures make impossible is refused, and the file stays as it was.
#[test]
fn figures_that_no_car_has_are_refused() {
    let text = example("plover/whole.toml");
    for (path, typed, message) in [
        ("tyre.friction", "12.5", "`tyre.friction` is 12.5, which no tyre has"),
        ("pedal.bias", "54", "for per cent"),
        ("stop.from", "fast", "stop.from"),
        ("stop.to", "200", "the stop must end slower than it begins"),
        ("aero.drag-area", "78", "larger than any car"),
        ("rear.bar.bore", "20", "the bore is as wide as the bar"),
    ] {
        let edit = Edit::Value { path: path.into(), text: Some(typed.into()) };
        let error = apply(&text, &edit).expect_err(path);
        let told = format!("{error} {error:?}");
        assert!(told.contains(message), "{told}");
    }
}
