//! Ten thousand spoilt car files: reading never panics, never gives a number that is not one, and every diagnostic
//! points into the text.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use std::fs;
use std::path::Path;

use project::model::{Axle, Car, SurveyPoint};
use project::{KINDS, Severity, line_column, read, starter};
use units::{LengthUnit, UnitSystem};

const FILES: usize = 10_000;

/// Things that people, editors and converters put where they do not belong.
const ODDITIES: [&str; 40] = [
    "1e308",
    "-1e308",
    "1e-320",
    "nan",
    "inf",
    "-inf",
    "9223372036854775807",
    "-9223372036854775808",
    "99999999999999999999",
    "0x7f",
    "1_000",
    "1979-05-27",
    "true",
    "\"\"",
    "''",
    "\"\"\"",
    "[]",
    "[[]]",
    "{}",
    "{ }",
    "[1, 2]",
    "[1, 2, 3, 4]",
    "[\"1 ± 2\", 2, 3]",
    "\"24 1/2 in\"",
    "\"1e400 mm\"",
    "\"\\u00b1\"",
    "\"5' 2 1/2\\\"\"",
    "±",
    "\u{2212}5",
    "\u{201c}x\u{201d}",
    "\u{feff}",
    "\u{1f697}",
    "\r",
    "\n",
    "#",
    "=",
    ".",
    ",",
    "[rear]",
    "[[rear.holes]]",
];

/// A small generator (xorshift64*), so that every run spoils the same files.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let drawn = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        drawn as usize % limit.max(1)
    }

    /// A character boundary of a text.
    fn place(&mut self, text: &str) -> usize {
        let mut at = self.below(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
}

fn spoil(text: &str, dice: &mut Dice) -> String {
    let mut text = text.to_string();
    for _ in 0..1 + dice.below(4) {
        match dice.below(9) {
            0 => {
                let at = dice.place(&text);
                if text[at..].chars().next().is_some() {
                    text.remove(at);
                }
            }
            1 => {
                let at = dice.place(&text);
                text.insert_str(at, ODDITIES[dice.below(ODDITIES.len())]);
            }
            2 => {
                let (a, b) = (dice.place(&text), dice.place(&text));
                let (a, b) = (a.min(b), a.max(b));
                if b - a < 200 {
                    text.replace_range(a..b, "");
                }
            }
            3 => {
                text = with_lines(&text, |lines| {
                    let at = dice.below(lines.len());
                    let line = lines[at].clone();
                    lines.insert(dice.below(at + 2), line);
                });
            }
            4 => {
                text = with_lines(&text, |lines| {
                    lines.remove(dice.below(lines.len()));
                });
            }
            5 => {
                text = with_lines(&text, |lines| {
                    let (a, b) = (dice.below(lines.len()), dice.below(lines.len()));
                    lines.swap(a, b);
                });
            }
            6 => {
                text = with_lines(&text, |lines| {
                    let at = dice.below(lines.len());
                    let mut words: Vec<&str> = lines[at].split(' ').collect();
                    let (a, b) = (dice.below(words.len()), dice.below(words.len()));
                    words.swap(a, b);
                    lines[at] = words.join(" ");
                });
            }
            // A value in place of another.
            7 => {
                text = with_lines(&text, |lines| {
                    let at = dice.below(lines.len());
                    if let Some((key, _)) = lines[at].split_once('=') {
                        lines[at] = format!("{key}= {}", ODDITIES[dice.below(ODDITIES.len())]);
                    }
                });
            }
            // A number in place of another.
            _ => {
                let at = dice.place(&text);
                let found = text[at..].find(|c: char| c.is_ascii_digit()).map(|found| at + found);
                if let Some(from) = found {
                    let length = text[from..].find(|c: char| !c.is_ascii_digit()).unwrap_or(1);
                    text.replace_range(from..from + length, ODDITIES[dice.below(20)]);
                }
            }
        }
    }
    text
}

fn with_lines(text: &str, change: impl FnOnce(&mut Vec<String>)) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_string).collect();
    if !lines.is_empty() {
        change(&mut lines);
    }
    lines.join("\n")
}

fn sources() -> Vec<String> {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let files =
        ["plover/car.toml", "plover/before.toml", "plover/whole.toml", "dunlin/car.toml", "wren/car.toml"];
    let mut texts: Vec<String> =
        files.map(|file| fs::read_to_string(examples.join(file)).expect("an example car")).into();
    for kind in KINDS {
        for length in [LengthUnit::Millimetre, LengthUnit::Inch] {
            texts.push(starter(kind, &UnitSystem { length, ..UnitSystem::default() }).expect("a known kind"));
        }
    }
    texts
}

#[track_caller]
fn check(text: &str) -> bool {
    let loaded = read(text);
    for diagnostic in &loaded.diagnostics {
        let span = diagnostic.span.clone().expect("a place in the file");
        assert!(text.get(span.clone()).is_some(), "{span:?} of {} in\n{text}", text.len());
        assert!(!diagnostic.message.ends_with('.') && !diagnostic.message.is_empty());
        let (line, column) = line_column(text, span.start);
        assert!(line >= 1 && column >= 1);
    }
    let errors = loaded.diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error);
    assert!(loaded.car.is_some() || errors, "no car and no error in\n{text}");
    if let Some(car) = &loaded.car {
        for number in numbers(car) {
            assert!(number.is_finite(), "{number} in\n{text}");
        }
        assert!(car.front.is_some() || car.rear.is_some());
    }
    loaded.car.is_some()
}

fn numbers(car: &Car) -> Vec<f64> {
    let values = [car.wheelbase, car.cg_height, car.brake_front_share, Some(car.drive_front_share)];
    let mut all: Vec<f64> =
        values.iter().flatten().flat_map(|value| [value.value, value.uncertainty]).collect();
    all.extend(&car.choose.travels);
    all.extend(car.frame.to_car(nalgebra::Vector3::new(1.0, 2.0, 3.0)).iter());
    for axle in [&car.front, &car.rear].into_iter().flatten() {
        axle_numbers(axle, &mut all);
    }
    for setup in &car.setups {
        for (end, hole) in &setup.holes {
            assert!(car.axle(*end).is_some_and(|axle| *hole < axle.holes.len()));
        }
    }
    all
}

fn axle_numbers(axle: &Axle, all: &mut Vec<f64>) {
    let mut point = |point: &SurveyPoint| {
        all.extend(point.at.iter().chain(point.uncertainty.iter()));
        assert!(point.uncertainty.iter().all(|sigma| *sigma >= 0.0));
    };
    axle.points.iter().for_each(&mut point);
    axle.holes.iter().for_each(|hole| point(&hole.at));
    point(&axle.wheel.centre);
    assert_eq!(axle.points.len(), axle.scheme.points.len());
    assert!(axle.wheel.loaded_radius.value > 0.0);
    let wheel = [axle.wheel.loaded_radius, axle.wheel.toe, axle.wheel.camber];
    all.extend(wheel.iter().flat_map(|value| [value.value, value.uncertainty]));
    all.extend(axle.rack_travel.iter().chain(axle.wheel.rim_diameter.iter()));
    all.extend(axle.adjusters.iter().map(|adjuster| adjuster.per_turn));
    for element in &axle.scheme.elements {
        all.extend(element.rate.iter().chain(element.force.iter()));
    }
    for plate in &axle.plates {
        assert!(plate.point < axle.points.len() && plate.outline.len() >= 3);
        all.extend([plate.bolt, plate.spacing, plate.edge, plate.uncertainty]);
        all.extend(plate.outline.iter().flat_map(|corner| corner.iter()));
    }
}

#[test]
fn spoilt_files_are_read_without_panic() {
    let sources = sources();
    let mut dice = Dice(0x5eed_0f50_a957_013e);
    let mut cars = 0;
    for _ in 0..FILES {
        let source = &sources[dice.below(sources.len())];
        cars += usize::from(check(&spoil(source, &mut dice)));
    }
    // Both outcomes are well tried.
    assert!((FILES / 20..FILES * 19 / 20).contains(&cars), "{cars} cars");
}

#[test]
fn bytes_that_are_no_file_are_read_without_panic() {
    for text in [
        "", "\u{feff}", "\0", "[", "[[", "]", "=", "a", "a=", "[]", "[[]]", "[.]", "a.=1", "\"", "'''", "{",
        "\r\r",
    ] {
        assert!(!check(text));
    }
    assert!(!check(&"[".repeat(100_000)));
    assert!(!check(&format!("a = {}", "[".repeat(100_000))));
    assert!(!check(&format!("soapstone = 1\n{} = 1", vec!["a"; 10_000].join("."))));
}
