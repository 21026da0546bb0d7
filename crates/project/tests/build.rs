//! `[build]`: what it says, and what a person reads when he slips.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use project::model::{Ask, BuildReading, Car};
use project::{Severity, read};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn text(lines: &str) -> String {
    let start = WHOLE.find("[build]").expect("the demo has one");
    format!("{}\n{lines}\n", &WHOLE[..start])
}

#[track_caller]
fn car(text: &str) -> Car {
    let loaded = read(text);
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    loaded.car.expect("a car")
}

#[track_caller]
fn build(lines: &str) -> BuildReading {
    car(&text(lines)).build.expect("a build")
}

/// The message, and part of its hint.
#[track_caller]
fn check_error(lines: &str, message: &str, hint: &str) {
    let loaded = read(&text(lines));
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    let told: Vec<_> =
        errors.iter().map(|d| format!("{} | {}", d.message, d.hint.as_deref().unwrap_or(""))).collect();
    assert!(
        errors.iter().any(|d| d.message.contains(message)
            && d.hint.as_deref().unwrap_or("").contains(hint)
            && d.span.is_some()),
        "{told:#?}"
    );
}

#[test]
fn what_is_left_out_is_usual() {
    let own = build("[build]\n");
    let usual = BuildReading::usual().expect("the usual steel");
    assert_eq!((own.wanted, own.in_ledger, own.grade), (usual.wanted, false, usual.grade));
    assert!(own.front.is_none() && own.rear.is_none() && own.frame.is_none() && own.cases.is_empty());
}

#[test]
fn own_tables_stand_over_those_of_all() {
    let own = car(WHOLE).build.expect("a build");
    let rear = own.axle(project::model::End::Rear).expect("the rear");
    assert!(own.front.is_none());
    let spring = rear.link("link.lower-aft");
    assert_eq!(spring.section.as_ref().map(|s| s.0.as_str()), Some("tube 45x5"));
    assert_eq!(spring.housed, Some(true));
    // What it does not state is as for all.
    assert_eq!(spring.radial, rear.links.radial);
    assert_eq!(rear.link("link.toe").section.as_ref().map(|s| s.0.as_str()), Some("tube 25x3"));
    let (bracket, own) = rear.bracket(0);
    assert!(!own && bracket.bolt.is_some_and(|bolt| bolt.name == "M12"));
    let lines = "[build]\n[build.rear.brackets]\nbolt = \"M12\"\ntab = 5\n\
                 [build.rear.link.toe.body]\ntab = 8\nshear = \"single\"\nbolt-along = [0, 1, 0]\n";
    let rear = build(lines).rear.expect("the rear");
    let (_, reading) = rear.own_brackets.first().expect("its own");
    assert_eq!((reading.tab, reading.double), (Some(0.008), Some(false)));
    assert!(reading.bolt.is_some_and(|bolt| bolt.name == "M12"));
}

#[test]
fn one_side_of_a_frame_is_enough() {
    let frame = car(WHOLE).build.expect("a build").frame.expect("a frame");
    let node = |name: &str| frame.nodes.iter().position(|n| n.name == name).expect("a node");
    let (left, right) = (node("beam-end"), node("beam-end.right"));
    let (l, r) = (frame.nodes[left].at.at, frame.nodes[right].at.at);
    assert_eq!((l.x, l.y, l.z), (r.x, -r.y, r.z));
    assert_eq!((frame.nodes[left].twin, frame.nodes[right].twin), (right, left));
    let middle = node("beam");
    assert_eq!(frame.nodes[middle].twin, middle);
    assert!(frame.nodes.iter().all(|n| n.name != "beam.right"));
    // A tube that is its own mirror image stands once.
    assert_eq!(frame.tubes.iter().filter(|t| t.name.starts_with("low-aft to low-aft.right")).count(), 1);
    assert_eq!(frame.tubes.len(), 21);
    assert_eq!(frame.feet.len(), 6);
    let soft = frame.feet.iter().find(|f| f.node == node("rail-aft")).expect("a foot");
    assert_eq!((soft.rate, soft.turn_rate), ([20e6; 3], [0.0; 3]));
    let stiff = frame.feet.iter().find(|f| f.node == left).expect("a foot");
    assert!(stiff.rate.iter().chain(&stiff.turn_rate).all(|r| r.is_infinite()));
}

#[test]
fn load_cases_say_how_hard() {
    let own = build(
        "[build]\n[build.case.stop]\nfactor = 1.5\nbraking = \"80 % limit\"\n\
         [build.case.hole]\nup = 4\nspeed = 60\n[build.case.turn]\ncornering = 0.9\n",
    );
    assert_eq!(own.cases[0].braking, Some(Ask::Limit(0.8)));
    assert_eq!(own.cases[0].factor, Some(1.5));
    assert_eq!(own.cases[1].up, Some(4.0));
    assert!(matches!(own.cases[2].cornering, Some(Ask::Stated(a)) if (a - 0.9 * 9.806_65).abs() < 1e-9));
}

#[test]
fn slips_are_told_with_a_remedy() {
    check_error("[build]\nwanted = 0.8\n", "would not hold their own loads", "never less than 1");
    check_error("[build]\ngrade = \"S35\"\n", "does not know the steel `S35`", "did you mean");
    check_error(
        "[build]\ngrade = { yield = \"400 MPa\", ultimate = \"300 MPa\" }\n",
        "less than the yield",
        "where it breaks",
    );
    check_error("[build]\nwantd = 2\n", "`wantd` is not known", "did you mean `wanted`?");
    check_error("[build]\n[build.case.stop]\nbraking = \"3 limit\"\n", "a share of the limit", "70 % limit");
    check_error("[build]\n[build.case.stop]\nfactor = -1\n", "must lie between 0 and 100", "a factor");
    check_error(
        "[build]\n[build.case.jack]\njack = \"rear.link.toe.bdy\"\n",
        "there is no point `link.toe.bdy`",
        "link.toe.body",
    );
    check_error("[build]\n[build.rear.links]\nsection = \"tub 25x3\"\n", "names no section", "for example");
    check_error("[build]\n[build.rear.links]\nthread = \"M13\"\n", "does not know the size `M13`", "");
    check_error("[build]\n[build.rear.brackets]\nclass = \"9.9\"\n", "does not know the class `9.9`", "10.9");
    check_error(
        "[build]\n[build.rear.link.tow]\nsection = \"tube 25x3\"\n",
        "there is no part or point `link.tow`",
        "",
    );
    check_error(
        "[build]\n[build.rear.link.toe]\nsecton = \"tube 25x3\"\n",
        "`secton` is not known",
        "section",
    );
}

const FRAME: &str = "[build]\n[build.frame]\n[build.frame.nodes]\na = [2200, 0, 300]\nb = [2200, 500, 300]\n\
                     [build.frame.carries]\n\"rear.link.toe.body\" = \"b\"\n";

#[test]
fn slips_of_a_frame_are_told() {
    let tube = |lines: &str| format!("{FRAME}[[build.frame.tube]]\n{lines}\n");
    check_error(&tube("from = \"a\"\nto = \"bb\"\nsection = \"box 60x40x3\""), "there is no node `bb`", "b");
    check_error(&tube("from = \"a\"\nto = \"b\""), "needs `section`", "");
    let twice = "from = \"a\"\nto = \"b\"\nsection = \"box 60x40x3\"\n";
    check_error(&tube(&format!("{twice}[[build.frame.tube]]\n{twice}")), "two tubes called", "a `name`");
    let foot = |lines: &str| format!("{FRAME}[[build.frame.foot]]\n{lines}\n");
    check_error(&foot("at = \"b\""), "needs `hold` or `rate`", "");
    check_error(&foot("at = \"b\"\nrate = -3"), "none below zero", "");
    check_error(
        &foot("at = \"b\"\nhold = \"fixed\"\n[[build.frame.foot]]\nat = \"b\"\nhold = \"ball\""),
        "has a foot already",
        "",
    );
    check_error(
        &FRAME.replace("b = [", "\"b.right\" = ["),
        "the ending of what is mirrored",
        "mirror = false",
    );
    check_error(
        &FRAME.replace("rear.link.toe.body", "link.toe.body"),
        "does not say which axle",
        "rear.link.NAME.body",
    );
    let alone = FRAME.split("[build.frame.carries]").next().expect("its head");
    check_error(alone, "`[build.frame.carries]`", "");
}

/// Lines of `[build]` taken out, doubled, cut or exchanged: told, never a panic.
#[test]
fn a_file_in_pieces_is_read_to_its_end() {
    let start = WHOLE.find("[build]").expect("the demo has one");
    let lines: Vec<&str> = WHOLE[start..].lines().collect();
    let mut state: u64 = 7;
    let mut next = |most: usize| {
        // Numerical Recipes' generator of 64 bits (remembered).
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap_or(0) % most.max(1)
    };
    let mut read_whole = 0;
    for _ in 0..400 {
        let mut own: Vec<String> = lines.iter().map(|line| (*line).to_string()).collect();
        for _ in 0..=next(3) {
            let (at, other) = (next(own.len()), next(own.len()));
            match next(5) {
                0 => drop(own.remove(at)),
                1 => own.insert(at, own[other].clone()),
                2 => own.swap(at, other),
                3 => {
                    let cut =
                        own[at].char_indices().nth(next(own[at].chars().count().max(1))).map_or(0, |c| c.0);
                    own[at].truncate(cut);
                }
                _ => own[at] = own[at].replace(['0', '2', '"'], ["7", "-3", "'"][next(3)]),
            }
        }
        let loaded = read(&text(&own.join("\n")));
        read_whole += usize::from(loaded.car.is_some());
    }
    assert!(read_whole > 100, "{read_whole}");
}
