//! Edits of points and values, as rows.

mod edit_common;

use edit_common::rows::{check, check_step, difference, example, hole, odd, point, step, texts};
use project::edit::{At, Coordinate, Edit, EditError, Place, apply, apply_to};
use project::read;

#[test]
fn a_move_is_written_in_the_files_own_frame_units_and_style() {
    let body = || point("rear.link.lower-fore.body");
    check_step(
        "plover/car.toml",
        body(),
        [10.0, 0.0, 15.0],
        "
-body    = [2100, 420, 255]           # on a plate that hangs from the sill, hole A
+body    = [2090, 420, 270]           # on a plate that hangs from the sill, hole A",
    );
    check_step(
        "plover/car.toml",
        body(),
        [0.0, -0.26, 0.0],
        "
-body    = [2100, 420, 255]           # on a plate that hangs from the sill, hole A
+body    = [2100, 419.7, 255]           # on a plate that hangs from the sill, hole A",
    );
    let ball = || point("rear.lower-arm.body-fore");
    check_step(
        "wren/car.toml",
        ball(),
        [0.0, 0.0, 25.4 / 4.0],
        "
-body-fore = [\"64 1/8\", 12, \"2 1/2\"]
+body-fore = [\"64 1/8\", 12, \"2 3/4\"]",
    );
    check_step(
        "wren/car.toml",
        ball(),
        [-25.4 / 32.0, 25.4 / 2.0, 0.5],
        "
-body-fore = [\"64 1/8\", 12, \"2 1/2\"]
+body-fore = [\"64 5/32\", 12.5, \"2.52\"]",
    );
    check_step(
        "plover/car.toml",
        hole("rear.link.lower-fore.body", "B"),
        [0.0, 0.0, -1.0],
        "
-at   = [2106, 420, 286]
+at   = [2106, 420, 285]",
    );
    check_step(
        "plover/car.toml",
        Place::Corner { plate: "rear.plate.lower-fore".into(), index: 2 },
        [0.0, 0.0, 5.0],
        "
-corners     = [[2040, 420, 225], [2145, 420, 225], [2145, 420, 345], [2040, 420, 345]]
+corners     = [[2040, 420, 225], [2145, 420, 225], [2145, 420, 350], [2040, 420, 345]]",
    );
}

#[test]
fn odd_frames_and_spellings() {
    let text = odd();
    check_step(
        &text,
        point("rear.arm.pivot-inner"),
        [25.4, 25.4, 10.0],
        "
-arm.pivot-inner = { at = [\"12 1/4 ± 1/8\", 7, \"310 mm\"] } # surer
+arm.pivot-inner = { at = [\"13 1/4 ± 1/8\", 8, \"300 mm\"] } # surer",
    );
    check_step(
        &text,
        point("rear.arm.pivot-outer"),
        [-25.4 * 5.5, 0.0, 25.4 / 8.0],
        "
-  \"1' 4\\\"\",  # along
+  \"0' 10 1/2\\\"\",  # along
-  '-1 1/2',  # down
+  '-1 5/8',  # down",
    );
    check_step(
        &text,
        hole("rear.arm.pivot-inner", "B"),
        [0.0, 0.0, -25.4],
        "
-  { end = \"arm.pivot-inner\", name = \"B\", at = { at = [12, 7, 2], accuracy = \"0.5 mm\" } },
+  { end = \"arm.pivot-inner\", name = \"B\", at = { at = [12, 7, 3], accuracy = \"0.5 mm\" } },",
    );
    check_step(
        &text,
        point("rear.wheel.centre"),
        [0.0, 25.4, 0.0],
        "
-wheel = { centre = [0, 29, \"-2\"], loaded-radius = \"12 in\", toe = 0, camber = '-1°' }
+wheel = { centre = [0, 30, \"-2\"], loaded-radius = \"12 in\", toe = 0, camber = '-1°' }",
    );
}

#[test]
fn typed_values_are_written_as_typed() {
    let set = |path: &str, text: &str| Edit::Value { path: path.into(), text: Some(text.into()) };
    let row = |path: &str, text: &str, expect: &str| {
        check("plover/car.toml", &set(path, text), expect);
    };
    row("rear.wheel.toe", "0° 8' ± 2'", "-toe           = 0.1\n+toe           = \"0° 8' ± 2'\"");
    row(
        "car.cg-height",
        "19 1/4 in",
        "-cg-height = \"480 ± 20 mm\"            # by raising one end on scales: the least sure number on the car
+cg-height = \"19 1/4 in\"            # by raising one end on scales: the least sure number on the car",
    );
    row(
        "front.wheel.loaded-radius",
        "301",
        "-loaded-radius = 300                  # from that middle down to the floor, on its tyre\n+loaded-radius = 301                  # from that middle down to the floor, on its tyre",
    );
    row(
        "choose.travels",
        "-50, 0, 50",
        "-travels = [-50, 50]                  # toe and camber are shown at these wheel travels, jounce positive\n+travels = [-50, 0, 50]                  # toe and camber are shown at these wheel travels, jounce positive",
    );
    row(
        "setup.cones.holes.rear.link.lower-fore.body",
        "D",
        "-holes = { \"rear.link.lower-fore.body\" = \"A\" }\n+holes = { \"rear.link.lower-fore.body\" = \"D\" }",
    );
    row("rear.link.toe.sleeve", "left-right", "+sleeve  = \"left-right\"");
    row("car.wheelbase", "2600", "+wheelbase = 2600");
    row(
        "setup.wet.holes.rear.link.lower-fore.body",
        "A",
        "+[setup.wet]\n+holes = { \"rear.link.lower-fore.body\" = \"A\" }\n+",
    );
    row("survey.datum.floor mat.z", "12", "+[survey.datum.\"floor mat\"]\n+z = 12\n+");
    check("plover/before.toml", &set("choose.axle", "rear"), "+\n+[choose]\n+axle = \"rear\"");
    let coordinate = Edit::Coordinate {
        place: hole("rear.blade.bush", "low"),
        coordinate: Coordinate::Z,
        text: " 12 1/8 in ".into(),
    };
    check(
        "dunlin/car.toml",
        &coordinate,
        "-at       = [2209, 598, 306]\n+at       = [2209, 598, \"12 1/8 in\"]",
    );
    let whole = Edit::Move { place: point("front.rack"), to: texts("1", "2", "3") };
    let error = apply(&example("dunlin/car.toml"), &whole).expect_err("a rack is no point");
    assert_eq!(error.to_string(), "`front.rack` is not a point of three coordinates");
    let out = Edit::Value { path: "front.wheel.rim-diameter".into(), text: None };
    check("wren/car.toml", &out, "-rim-diameter  = 13");
}

#[test]
fn several_edits_are_one() {
    let text = example("plover/car.toml");
    let wheel = step(&text, point("front.wheel.centre"), [-10.0, 0.0, 0.0]);
    let ball = step(&text, point("front.lower-arm.ball"), [-10.0, 0.0, 0.0]);
    let both = Edit::Several { label: "moved the front upright back".into(), edits: vec![wheel, ball] };
    let edited = apply_to(&text, &read(&text), &both).expect("both");
    // Both by the same step in the file, although the first one moves the origin.
    assert_eq!(
        difference(&text, &edited.text),
        "-centre        = [0, 760, 300]        # the middle of the wheel, not of the hub's face
+centre        = [10, 760, 300]        # the middle of the wheel, not of the hub's face
-ball      = [-12, 690, 190]
+ball      = [-2, 690, 190]
"
    );
    assert_eq!(edited.label, "moved the front upright back");
    let bad = Edit::Value { path: "rear.wheel.toe".into(), text: Some("lots".into()) };
    let half = Edit::Several { label: String::new(), edits: vec![both, bad] };
    assert_eq!(
        apply(&text, &half).expect_err("all or none").to_string(),
        "`rear.wheel.toe`: `lots` is not a number"
    );
}

#[test]
fn labels_say_what_was_done() {
    let text = example("plover/car.toml");
    let label = |edit: &Edit| apply_to(&text, &read(&text), edit).expect("an edit").label;
    let body = || point("rear.link.lower-fore.body");
    assert_eq!(label(&step(&text, body(), [0.0, 0.0, 15.0])), "moved rear.link.lower-fore.body 15 mm up");
    assert_eq!(
        label(&step(&text, hole("rear.link.lower-fore.body", "D"), [3.0, -20.5, 0.0])),
        "moved hole D of rear.link.lower-fore.body 20.5 mm inward, 3 mm forward"
    );
    let toe = Edit::Value { path: "rear.wheel.toe".into(), text: Some(" 0.2".into()) };
    assert_eq!(label(&toe), "set rear.wheel.toe to 0.2");
}

#[test]
fn what_cannot_be_done_is_told() {
    let text = example("plover/car.toml");
    let error = |text: &str, edit: &Edit| apply(text, edit).expect_err("an error");
    let to = |at: At, name: &str| Edit::Move { place: point(name), to: at };
    let missing = error(&text, &to(At::Car([0.0; 3]), "rear.link.lower-for.body"));
    assert_eq!(missing.to_string(), "there is no `rear.link.lower-for.body` in the file");
    assert_eq!(missing.hint().as_deref(), Some("did you mean `rear.link.lower-fore.body`?"));
    let nowhere = error(&text, &to(At::Car([0.0, f64::NAN, 0.0]), "rear.link.toe.body"));
    assert_eq!(nowhere.to_string(), "`rear.link.toe.body` cannot be put there");
    let typed = error(&text, &to(texts("1", "2", "3 gallons"), "rear.link.toe.body"));
    assert_eq!(typed.to_string(), "`z of rear.link.toe.body`: `gallons` is not a known unit");
    let broken = text.replace("[rear.wheel]", "[rear.wheel");
    assert!(matches!(
        error(&broken, &to(At::Car([0.0; 3]), "rear.link.toe.body")),
        EditError::NotToml { .. }
    ));
    let lost = text.replace("x = \"rearward from front axle\"", "x = \"sideways\"");
    let no_frame = error(&lost, &to(At::Car([0.0; 3]), "rear.link.toe.body"));
    assert_eq!(
        no_frame.to_string(),
        "where `rear.link.toe.body` is cannot be worked out until the file's errors are mended"
    );
    assert!(apply(&lost, &to(texts("2760", "300", "270"), "rear.link.toe.body")).is_ok());
    let same = error(&text, &to(texts("2742", "690", "250"), "rear.link.toe.body"));
    assert!(
        matches!(&same, EditError::Refused { diagnostics, text }
        if diagnostics[0].span.clone().is_some_and(|span| text.get(span).is_some())),
        "{same:?}"
    );
    let mut deep = to(texts("1", "2", "3"), "rear.link.toe.body");
    for _ in 0..20 {
        deep = Edit::Several { label: String::new(), edits: vec![deep] };
    }
    assert_eq!(error(&text, &deep), EditError::TooDeep);
}

#[test]
fn edits_travel_as_json() {
    let edit = Edit::Several {
        label: "both".into(),
        edits: vec![
            Edit::Move { place: hole("rear.link.toe.body", "A"), to: At::Car([-2.1, 0.4, 0.3]) },
            Edit::Accuracy { place: point("rear.wheel.centre"), text: None },
        ],
    };
    let json = r#"{"edit":"several","label":"both","edits":[{"edit":"move","place":{"hole":{"point":"rear.link.toe.body","name":"A"}},"to":{"car":[-2.1,0.4,0.3]}},{"edit":"accuracy","place":{"point":"rear.wheel.centre"},"text":null}]}"#;
    assert_eq!(serde_json::to_string(&edit).expect("JSON"), json);
    assert_eq!(serde_json::from_str::<Edit>(json).expect("an edit"), edit);
}
