//! Edits as rows: what stands in the file, what is done, and the lines that differ afterwards.

use std::path::Path;

use project::edit::{At, Edit, Place, apply, place_at};
use project::read;

pub fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    std::fs::read_to_string(path).expect("an example")
}

/// The lines that went, with `-`, and those that came, with `+`.
pub fn difference(before: &str, after: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let tail = old[head..].iter().rev().zip(new[head..].iter().rev()).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[head..old.len() - tail], &new[head..new.len() - tail]);
    let line = |sign: &'static str| move |line: &&str| format!("{sign}{line}\n");
    if old.len() == new.len() {
        // Line by line, so that what stayed between two changes is not shown.
        let changed = old.iter().zip(new).filter(|(a, b)| a != b);
        return changed.map(|(a, b)| format!("-{a}\n+{b}\n")).collect();
    }
    old.iter().map(line("-")).chain(new.iter().map(line("+"))).collect()
}

#[track_caller]
pub fn check(file: &str, edit: &Edit, expect: &str) -> String {
    let before = if file.ends_with(".toml") { example(file) } else { file.to_string() };
    let after = apply(&before, edit).unwrap_or_else(|error| panic!("{error}: {error:?}"));
    let found = difference(&before, &after);
    assert_eq!(found.trim_end(), expect.trim(), "\n{found}");
    after
}

pub fn point(name: &str) -> Place {
    Place::Point(name.into())
}

pub fn hole(point: &str, name: &str) -> Place {
    Place::Hole { point: point.into(), name: name.into() }
}

pub fn texts(x: &str, y: &str, z: &str) -> At {
    At::Typed([x.into(), y.into(), z.into()])
}

/// Moves a place by a step in the car's axes \[mm\].
#[track_caller]
pub fn step(text: &str, place: Place, step: [f64; 3]) -> Edit {
    let loaded = read(text);
    let at = place_at(loaded.car.as_ref().expect("a car"), &place).expect("a place");
    Edit::Move { place, to: At::Car([0, 1, 2].map(|i| at[i] + step[i] * 1e-3)) }
}

#[track_caller]
pub fn check_step(file: &str, place: Place, by: [f64; 3], expect: &str) {
    let before = if file.ends_with(".toml") { example(file) } else { file.to_string() };
    let edit = step(&before, place.clone(), by);
    let after = check(&before, &edit, expect);
    let at = |text: &str| place_at(read(text).car.as_ref().expect("a car"), &place).expect("a place");
    let wanted = at(&before) + nalgebra::Vector3::from(by) * 1e-3;
    assert!((at(&after) - wanted).amax() < 0.21e-3, "{} {wanted}", at(&after));
}

/// A file that was measured on the right, forward from the rear axle and down from a rail, in many spellings.
pub const ODD: &str = r#"soapstone = 1
car.name = 'Teal' # a table of dotted keys
car.driven = "rear"
[units]
length = "in"
[survey]
x = "forward from rear axle"
y = "right from centreline"
z = "down from rail"
accuracy = "1/16"
[rear]
kind = "semi-trailing-arm"
wheel = { centre = [0, 29, "-2"], loaded-radius = "12 in", toe = 0, camber = '-1°' }
arm.pivot-inner = { at = ["12 1/4 ± 1/8", 7, "310 mm"] } # surer
arm.pivot-outer = [
  "1' 4\"",  # along
  21.5,      # across
  '-1 1/2',  # down
]
holes = [
  { end = "arm.pivot-inner", name = "A", at = [12, 7, "1"] },
  { end = "arm.pivot-inner", name = "B", at = { at = [12, 7, 2], accuracy = "0.5 mm" } },
]
[survey.datum.rail]
z = "10 1/4"
"#;

pub fn odd() -> String {
    let text = ODD.to_string();
    assert!(read(&text).car.is_some(), "{:?}", read(&text).diagnostics);
    text
}
