//! What is said of corners that do not hold their wheel, or hold it twice.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a test may stop where it cannot go on")]

mod common;

use linkage::Frame;
use nalgebra::Vector3;
use suspension::scheme::{JointKind, PointOn, Scheme, UPRIGHT};
use suspension::{Corner, Finding, diagnose, kinds};

use common::{FIVE_LINK, WISHBONE, wheel};

type Rod = (&'static str, [f64; 3], [f64; 3]);

/// A rear five-link that works.
const SOUND: [Rod; 5] = [
    ("trailing", FIVE_LINK[0], FIVE_LINK[1]),
    ("lower-fore", FIVE_LINK[2], FIVE_LINK[3]),
    ("lower-aft", FIVE_LINK[4], FIVE_LINK[5]),
    ("upper-fore", FIVE_LINK[6], FIVE_LINK[7]),
    ("upper-aft", FIVE_LINK[8], FIVE_LINK[9]),
];

fn rods(list: &[Rod]) -> Corner<f64> {
    let mut s = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let mut points = Vec::new();
    for (name, body, upright) in list {
        points.extend([Vector3::from(*body), Vector3::from(*upright)]);
        let a = PointOn { frame: Frame::Ground, point: s.add_point(format!("{name}.body")) };
        let b = PointOn { frame: Frame::Body(UPRIGHT), point: s.add_point(format!("{name}.upright")) };
        s.add_joint(*name, JointKind::Rod { a, b });
    }
    Corner::new(&s, &points, &wheel()).unwrap()
}

/// The sound five-link with one rod put elsewhere.
fn with(name: &str, body: [f64; 3], upright: [f64; 3]) -> Vec<Rod> {
    SOUND.iter().map(|r| if r.0 == name { (r.0, body, upright) } else { *r }).collect()
}

/// One finding: fatal or not, words in the message, words in the hint, names.
#[track_caller]
fn check(corner: &Corner<f64>, fatal: bool, message: &str, hint: &str, names: &[&str]) {
    let found = diagnose(corner);
    let [only] = found.as_slice() else { panic!("one finding expected, found {found:?}") };
    check_one(only, fatal, message, hint, names);
}

#[track_caller]
fn check_one(found: &Finding, fatal: bool, message: &str, hint: &str, names: &[&str]) {
    assert_eq!(found.message, message);
    assert_eq!(found.fatal, fatal);
    let said = found.hint.as_deref().unwrap_or_default();
    assert!(said.contains(hint), "hint: {said}");
    assert_eq!(found.joints, names);
}

#[test]
fn a_sound_corner_is_not_commented() {
    assert_eq!(diagnose(&rods(&SOUND)), []);
}

#[test]
fn two_rods_on_one_line() {
    let list = with("lower-aft", [0.085, 0.48, 0.20], [0.0925, 0.75, 0.185]);
    check(
        &rods(&list),
        true,
        "`lower-fore` and `lower-aft` lie on one line, so that one of them holds nothing: the wheel can wind up about \
         its axle freely",
        "move one end of `lower-aft` off that line",
        &["lower-fore", "lower-aft"],
    );
}

#[test]
fn two_rods_with_the_same_ends() {
    let list = with("upper-aft", SOUND[3].1, SOUND[3].2);
    check(
        &rods(&list),
        true,
        "`upper-fore` and `upper-aft` join the same two points, so that one of them holds nothing: the wheel can \
         wind up about its axle freely",
        "move one end of `upper-aft` to another place",
        &["upper-fore", "upper-aft"],
    );
}

#[test]
fn too_few_rods() {
    let said = [
        (
            "trailing",
            "4 rods hold the wheel, and it takes 5: the wheel can wind up about its axle freely",
            "fore and aft",
        ),
        (
            "lower-aft",
            "4 rods hold the wheel, and it takes 5: the wheel can wind up about its axle freely",
            "fore and aft",
        ),
    ];
    for (without, message, hint) in said {
        let list: Vec<Rod> = SOUND.iter().filter(|r| r.0 != without).copied().collect();
        check(&rods(&list), true, message, hint, &[]);
    }
    let found = diagnose(&rods(&SOUND[..3]));
    assert!(found[0].message.starts_with("3 rods hold the wheel, and it takes 5: "), "{found:?}");
    assert!(found[0].hint.as_ref().unwrap().starts_with("add 2 rods: "), "{found:?}");
    let found = diagnose(&rods(&SOUND[..1]));
    assert!(found[0].message.starts_with("1 rod holds the wheel, and it takes 5: "), "{found:?}");
}

#[test]
fn six_rods_hold_the_wheel_fast() {
    let mut list = SOUND.to_vec();
    list.push(("one-more", [0.2, 0.3, 0.7], [0.0, 0.68, 0.5]));
    check(
        &rods(&list),
        true,
        "the wheel cannot move: 6 rods hold it, and 5 would leave it its travel",
        "take one rod away",
        &[],
    );
}

#[test]
fn all_rods_aim_at_one_line() {
    let foot = |z: f64| Vector3::new(0.02, 0.65, z);
    let list: Vec<Rod> = SOUND
        .iter()
        .zip([0.18, 0.24, 0.30, 0.38, 0.46])
        .map(|((name, body, _), z)| (*name, *body, [foot(z).x, foot(z).y, z]))
        .collect();
    check(
        &rods(&list),
        true,
        "all rods aim at one line, which stands upright: all the wheel can do is turn about it",
        "move an end of one rod, say `upper-aft`, so that it passes that line at some distance",
        &["trailing", "lower-fore", "lower-aft", "upper-fore", "upper-aft"],
    );
    // Beyond their ends too: the ends are short of the line.
    let short: Vec<Rod> = list
        .iter()
        .map(|(name, b, u)| (*name, *b, std::array::from_fn(|k| b[k] + 0.8 * (u[k] - b[k]))))
        .collect();
    assert_eq!(diagnose(&rods(&short))[0].message, diagnose(&rods(&list))[0].message);
}

#[test]
fn all_rods_parallel() {
    let list: Vec<Rod> = SOUND.iter().map(|(name, b, u)| (*name, [u[0], b[1], u[2]], *u)).collect();
    let corner = rods(&list);
    let found = diagnose(&corner);
    assert!(found[0].fatal);
    assert!(found[0].message.starts_with("all rods run parallel: the wheel can "), "{found:?}");
    assert!(found[0].message.contains("move fore and aft"), "{found:?}");
    assert!(found[0].hint.as_ref().unwrap().starts_with("turn 2 of them"), "{found:?}");
}

#[test]
fn a_wheel_that_cannot_go_up_and_down() {
    let list = with("lower-fore", [0.0, 0.72, 0.9], [0.0, 0.72, 0.4]);
    let found = diagnose(&rods(&list));
    assert!(
        found[0].fatal && found[0].message.starts_with("the wheel cannot go up and down: all it can do is ")
    );
    assert_eq!(
        found[0].hint.as_deref(),
        Some("`lower-fore` stands upright and holds the wheel's height: lay it down")
    );
    assert_eq!(found[0].joints, ["lower-fore"]);
}

#[test]
fn hinges_that_repeat_each_other() {
    let mut s = kinds::semi_trailing_arm();
    let (from, to) = (s.points.len(), s.points.len() + 1);
    s.add_point("second.inner");
    s.add_point("second.outer");
    let (a, b) = (Frame::Ground, Frame::Body(UPRIGHT));
    s.add_joint("second hinge", JointKind::Hinge { a, b, from, to });
    let at = |list: [[f64; 3]; 4]| list.map(Vector3::from).to_vec();
    // On the same axis: it moves, if all is true.
    let same = at([[0.4, 0.2, 0.3], [0.4, 0.4, 0.3], [0.4, 0.5, 0.3], [0.4, 0.6, 0.3]]);
    check(
        &Corner::new(&s, &same, &wheel()).unwrap(),
        false,
        "`arm hinge` and `second hinge` repeat part of what each other hold: the wheel moves only if they are exactly true",
        "expect them to bind in steel",
        &["arm hinge", "second hinge"],
    );
    // On another axis: it is stuck.
    let other = at([[0.4, 0.2, 0.3], [0.4, 0.4, 0.3], [0.45, 0.5, 0.35], [0.4, 0.6, 0.3]]);
    let found = diagnose(&Corner::new(&s, &other, &wheel()).unwrap());
    assert!(found[0].fatal && found[0].message.starts_with("the wheel cannot move"), "{found:?}");
    assert!(found[0].hint.as_ref().unwrap().contains("`second hinge`"), "{found:?}");
}

#[test]
fn rods_that_nearly_fail() {
    // Half a millimetre off the line of its neighbour.
    let list = with("lower-aft", [0.085, 0.48, 0.2005], [0.0925, 0.75, 0.185]);
    let found = diagnose(&rods(&list));
    let [only] = found.as_slice() else { panic!("{found:?}") };
    assert!(!only.fatal);
    assert_eq!(
        only.message,
        "the links have next to no leverage against the wheel's wish to wind up about its axle: a millimetre \
         of error or of bush gives many at the tyre"
    );
    assert!(
        only.joints.contains(&"lower-fore".into()) && only.joints.contains(&"lower-aft".into()),
        "{only:?}"
    );
}

#[test]
fn an_arm_that_misses_its_tie_rod() {
    let mut s = kinds::double_wishbone(true);
    s.joints.retain(|j| !j.name.contains("tie-rod"));
    let points = WISHBONE.map(Vector3::from);
    let message = "4 rods hold the wheel, and it takes 5: the wheel can steer freely";
    check(&Corner::new(&s, &points, &wheel()).unwrap(), true, message, "tie rod or toe link", &[]);
    // The same with the arms as bodies.
    kinds::carry_on_link(&mut s, "upper-arm").unwrap();
    let message = "too little holds the wheel: the wheel can steer freely";
    check(&Corner::new(&s, &points, &wheel()).unwrap(), true, message, "tie rod or toe link", &[]);
}

#[test]
fn nothing_at_all() {
    let s = Scheme { bodies: vec!["upright".into()], ..Scheme::default() };
    let found = diagnose(&Corner::new(&s, &[], &wheel()).unwrap());
    assert!(found[0].fatal && !found[0].message.is_empty(), "{found:?}");
}
