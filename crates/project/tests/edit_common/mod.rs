//! Files to edit, and edits to make.
#![allow(dead_code, reason = "each test uses its part")]
#![allow(clippy::expect_used, clippy::panic, reason = "a test may panic, its helpers too")]

pub mod disk;
pub mod rows;

use std::fs;
use std::path::{Path, PathBuf};

use project::edit::{At, Coordinate, Edit, Place, place_at};
use project::model::{Axle, Car};
use project::{KINDS, Loaded, starter};
use units::{LengthUnit, UnitSystem};

/// Every example and every starter, with its name.
pub fn files() -> Vec<(String, String)> {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut files = Vec::new();
    for folder in fs::read_dir(examples).expect("examples").flatten() {
        for file in fs::read_dir(folder.path()).into_iter().flatten().flatten() {
            if file.path().extension().is_some_and(|ending| ending == "toml") {
                let name = format!("{}/{}", folder.file_name().display(), file.file_name().display());
                files.push((name, fs::read_to_string(file.path()).expect("an example")));
            }
        }
    }
    for length in [LengthUnit::Millimetre, LengthUnit::Inch, LengthUnit::Metre] {
        let units = UnitSystem { length, ..UnitSystem::default() };
        for kind in KINDS {
            files.push((format!("{kind} in {}", length.symbol()), starter(kind, &units).expect("a starter")));
        }
    }
    files.sort();
    files
}

/// The comments of a file.
pub fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(comment).collect()
}

fn comment(line: &str) -> Option<&str> {
    let (mut quote, mut escaped) = (None, false);
    for (at, letter) in line.char_indices() {
        match (quote, letter) {
            (None, '#') => return line.get(at..).map(str::trim_end),
            (None, '"' | '\'') => quote = Some(letter),
            (Some('"'), '\\') if !escaped => {
                escaped = true;
                continue;
            }
            (Some(open), close) if open == close && !escaped => quote = None,
            _ => {}
        }
        escaped = false;
    }
    None
}

/// A small generator (xorshift64*), so that every run makes the same edits.
pub struct Dice(pub u64);

impl Dice {
    /// A number from 0 up to, not including, `limit`.
    pub fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) as usize % limit.max(1)
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> Option<&'a T> {
        all.get(self.below(all.len()))
    }

    /// A length of a few millimetres \[m\], often one that no tape shows.
    fn step(&mut self) -> f64 {
        let millimetres = self.below(200) as f64 / 10.0 - 10.0;
        if self.below(3) == 0 { millimetres / 3.0 * 1e-3 } else { millimetres.round() * 1e-3 }
    }
}

/// An edit that a person might make; most are good.
pub fn random_edit(text: &str, loaded: &Loaded, dice: &mut Dice) -> Edit {
    let nothing = || Edit::Append { toml: String::new() };
    let Some(car) = &loaded.car else { return nothing() };
    let axles: Vec<&Axle> = [&car.front, &car.rear].into_iter().flatten().collect();
    let Some(axle) = dice.of(&axles).copied() else { return nothing() };
    let end = axle.end.name();
    let point = |index: usize| format!("{end}.{}", axle.scheme.points.get(index).map_or("", String::as_str));
    let some_point = point(dice.below(axle.points.len()));
    let hole = dice.of(&axle.holes).map(|hole| (point(hole.point), hole.name.clone()));
    let place = match &hole {
        Some((point, name)) if dice.below(3) == 0 => Place::Hole { point: point.clone(), name: name.clone() },
        _ => Place::Point(some_point.clone()),
    };
    let quantity = ["305", "12 1/2 in", "0.3 m", "11.5 in ± 1/16", "622,5 mm", "300 ± 1 mm"];
    let quantity = dice.of(&quantity).expect("a text").to_string();
    match dice.below(12) {
        0..=4 => moved(car, place, dice),
        5 => {
            let Some(at) = place_at(car, &place) else { return nothing() };
            let coordinate = *dice.of(&Coordinate::ALL).expect("a coordinate");
            let written = car.frame.to_survey(nalgebra::Vector3::new(at.x, at.y, at.z));
            let index = Coordinate::ALL.iter().position(|other| *other == coordinate).unwrap_or(0);
            let text = format!("{:.1} ± 0.5 mm", written[index] * 1e3 + dice.below(5) as f64);
            Edit::Coordinate { place, coordinate, text }
        }
        6 => {
            let text = (dice.below(3) > 0).then(|| format!("{} mm", 1 + dice.below(3)));
            Edit::Accuracy { place, text }
        }
        7 => {
            let at = place_at(car, &Place::Point(some_point.clone())).unwrap_or_default();
            let at = At::Car([at.x + 0.01 + dice.step(), at.y, at.z + dice.step()]);
            Edit::AddHole { point: some_point, name: format!("H{}", dice.below(40)), at, accuracy: None }
        }
        8 => match hole {
            Some((point, name)) => Edit::RenameHole { point, name, to: format!("N{}", dice.below(40)) },
            None => nothing(),
        },
        9 => match hole {
            Some((point, name)) => Edit::RemoveHole { point, name },
            None => nothing(),
        },
        10 => {
            let (path, typed) = match dice.below(4) {
                0 => (format!("{end}.wheel.loaded-radius"), quantity),
                1 => (format!("{end}.wheel.toe"), format!("0° {}'", dice.below(20))),
                2 => ("brakes.front-share".to_string(), format!("{} %", 55 + dice.below(20))),
                _ => ("car.name".to_string(), format!("Teal \"{}\" # {}", dice.below(9), dice.below(9))),
            };
            Edit::Value { path, text: Some(typed) }
        }
        _ => {
            let edits = vec![moved(car, place, dice), moved(car, Place::Point(some_point), dice)];
            let _ = text;
            Edit::Several { label: "moved two points".into(), edits }
        }
    }
}

fn moved(car: &Car, place: Place, dice: &mut Dice) -> Edit {
    let at = place_at(car, &place).unwrap_or_default();
    let to = At::Car([at.x + dice.step(), at.y + dice.step(), at.z + dice.step()]);
    Edit::Move { place, to }
}

/// A folder that is gone when the test is.
pub struct Folder(pub PathBuf);

impl Folder {
    /// A new one; `name` tells it from those of other tests.
    pub fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("soapstone-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder");
        Self(path.canonicalize().expect("a folder"))
    }

    /// A file in it.
    pub fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, text).expect("a file");
        path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
