//! The tables of what can be bought, and how sizes are written.

#![allow(missing_docs, reason = "tests")]
#![expect(clippy::unwrap_used, reason = "a fault in a helper fails its test")]

use std::f64::consts::PI;

use steel::grade::{DENSITY, Grade, classes, grades};
use steel::section::Shape;
use steel::stock::{Size, bars, bolt, bolts, boxes, find, flats, shape, tubes};

/// Closeness of printed masses.
const MASS: f64 = 0.02;

const INCH: f64 = 0.0254;

#[track_caller]
fn near(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "found {found}, expected {expected}");
}

/// Area [m^2], a box with round corners of the outer radius and one a wall less.
fn area(shape: Shape) -> f64 {
    match shape {
        Shape::Round { diameter, wall } => PI * wall * (diameter - wall),
        Shape::Bar { diameter } => PI / 4.0 * diameter * diameter,
        Shape::Flat { height, width } => height * width,
        Shape::Box { height, width, wall, corner } => {
            let inner = (corner - wall).max(0.0);
            let hole = (height - 2.0 * wall) * (width - 2.0 * wall) - (4.0 - PI) * inner * inner;
            height * width - (4.0 - PI) * corner * corner - hole
        }
    }
}

fn all() -> impl Iterator<Item = &'static Size> {
    [tubes(), boxes(), flats(), bars()].into_iter().flatten()
}

/// Rows below the head of a table.
fn count(table: &str) -> usize {
    table.lines().filter(|line| !line.trim().is_empty()).count() - 1
}

#[test]
fn no_row_is_lost() {
    let of = |tables: &[&str]| tables.iter().map(|table| count(table)).sum::<usize>();
    assert_eq!(
        tubes().len(),
        of(&[include_str!("../data/tubes_metric.csv"), include_str!("../data/tubes_inch.csv")])
    );
    assert_eq!(
        boxes().len(),
        of(&[include_str!("../data/boxes_metric.csv"), include_str!("../data/boxes_inch.csv")])
    );
    assert_eq!(flats().len(), of(&[include_str!("../data/flats.csv")]));
    assert_eq!(bars().len(), of(&[include_str!("../data/bars.csv")]));
    assert_eq!(
        bolts().len(),
        of(&[include_str!("../data/bolts_metric.csv"), include_str!("../data/bolts_inch.csv")])
    );
    assert_eq!(grades().len(), of(&[include_str!("../data/grades.csv")]));
    assert_eq!(classes().len(), of(&[include_str!("../data/classes.csv")]));
}

#[test]
fn every_size_is_sane_and_found_by_its_name() {
    for size in all() {
        let sane = match size.shape {
            Shape::Round { diameter, wall } => 0.008 < diameter && diameter < 0.08 && wall < diameter / 3.0,
            Shape::Box { height, width, wall, corner } => {
                width <= height
                    && height < 0.13
                    && wall < width / 4.0
                    && wall <= corner
                    && corner <= width / 2.0
            }
            Shape::Bar { diameter } => 0.005 < diameter && diameter < 0.04,
            Shape::Flat { height, width } => width < height && height < 0.11,
        };
        assert!(sane && size.source.contains("re"), "{size:?}");
        assert!(area(size.shape) > 0.0);
        assert_eq!(find(&size.name.to_uppercase()).unwrap(), size);
    }
}

/// Masses as printed; those of ASTM A500 are of the nominal wall, of which the design wall is 0.93.
#[test]
fn printed_masses_agree_with_the_section() {
    let mut printed = 0;
    for size in all() {
        let Some(mass) = size.mass else { continue };
        let nominal = match size.shape {
            Shape::Box { height, width, wall, corner } if size.name.starts_with("hss") => {
                Shape::Box { height, width, wall: wall / 0.93, corner: corner / 0.93 }
            }
            other => other,
        };
        near(area(nominal) * DENSITY, mass, MASS);
        printed += 1;
    }
    assert!(printed > 100, "{printed}");
}

/// AISC v15 tables, read in an open package: HSS 4x2x1/8 has 1.30 in^2 with a wall of .116 in, 3x2x1/8 1.07, 2x2x1/8 .840.
#[test]
fn areas_of_american_tables() {
    for (name, square_inches) in [
        ("hss 4x2x1/8 in", 1.30),
        ("hss 3x2x1/8 in", 1.07),
        ("hss 2x2x1/8 in", 0.840),
        ("hss 4x2x1/4 in", 2.44),
    ] {
        near(area(find(name).unwrap().shape) / (INCH * INCH), square_inches, 5e-3);
    }
}

/// EN 10219-2, read in a trade table: 60x40x3 has 5.41 cm^2, 50x30x3 4.21, 40x20x2 2.14.
#[test]
fn areas_of_european_tables() {
    for (name, square_centimetres) in [("box 60x40x3", 5.41), ("box 50x30x3", 4.21), ("box 40x20x2", 2.14)] {
        near(area(find(name).unwrap().shape) * 1e4, square_centimetres, 3e-3);
    }
}

#[test]
fn bolts_agree_with_the_formulas_of_their_standards() {
    for bolt in bolts() {
        near(bolt.thread.stress_area(), bolt.stress_area, 5e-3);
        assert!(bolt.hole > bolt.thread.diameter && bolt.hole < bolt.thread.diameter + 2.1e-3, "{bolt:?}");
        let heads = bolt.flats / bolt.thread.diameter;
        assert!(1.4 < heads && heads < 1.8, "{bolt:?}");
    }
    near(bolt("m12 x 1.25").unwrap().stress_area, 92.1e-6, 1e-9);
    near(bolt("1/2-20 unf").unwrap().stress_area, 0.1599 * INCH * INCH, 1e-9);
    assert_eq!(bolt("M13"), None);
}

#[test]
fn grades_are_sane() {
    for grade in grades() {
        assert!(200e6 < grade.yields && grade.yields < grade.breaks && grade.breaks < 700e6, "{grade:?}");
        assert!(
            grade.source.contains("read")
                || grade.source.contains("remembered")
                || grade.source.contains("known")
        );
    }
    let s355 = Grade::named("s355 J2H").unwrap();
    near(s355.yields, 355e6, 1e-12);
    near(s355.breaks, 470e6, 1e-12);
    let fault = Grade::named("S999").unwrap_err().to_string();
    assert!(fault.contains("`S999` is not in the table of grades"));
}

#[track_caller]
fn reads(text: &str, expected: Shape) {
    let found = shape(text).unwrap();
    let sizes = |shape| match shape {
        Shape::Round { diameter, wall } => [1.0, diameter, wall, 0.0, 0.0],
        Shape::Box { height, width, wall, corner } => [2.0, height, width, wall, corner],
        Shape::Bar { diameter } => [3.0, diameter, 0.0, 0.0, 0.0],
        Shape::Flat { height, width } => [4.0, height, width, 0.0, 0.0],
    };
    for (found, expected) in sizes(found).iter().zip(sizes(expected)) {
        assert!((found - expected).abs() < 1e-12, "{text}: {found} {expected}");
    }
}

#[test]
fn sizes_as_people_write_them() {
    let tube = |diameter, wall| Shape::Round { diameter, wall };
    reads("tube 25x2.5", tube(0.025, 0.0025));
    reads("  Tube 25 × 2,5 mm ", tube(0.025, 0.0025));
    reads("tube25x2.5", tube(0.025, 0.0025));
    reads("tube 1 x 0.095 in", tube(INCH, 0.095 * INCH));
    reads("tube 1-1/8 x .095 in", tube(1.125 * INCH, 0.095 * INCH));
    reads("tube 1 1/8 x 1/8\"", tube(1.125 * INCH, 0.125 * INCH));
    reads("tube 25mm x 2.5mm", tube(0.025, 0.0025));
    reads("tube 1\" x 2.5 mm", tube(INCH, 0.0025));
    let boxed = |height, width, wall, corner| Shape::Box { height, width, wall, corner };
    reads("box 60x40x3", boxed(0.060, 0.040, 0.003, 0.006));
    reads("box 40x3", boxed(0.040, 0.040, 0.003, 0.006));
    reads("box 100x100x8", boxed(0.100, 0.100, 0.008, 0.020));
    reads("box 2x1x1/8 in", boxed(2.0 * INCH, INCH, INCH / 8.0, INCH / 4.0));
    reads("hss 2x1x1/8 in", boxed(2.0 * INCH, INCH, 0.11625 * INCH, 0.2325 * INCH));
    reads("bar 12", Shape::Bar { diameter: 0.012 });
    reads("rod 1/2 in", Shape::Bar { diameter: 0.5 * INCH });
    reads("flat 50x6", Shape::Flat { height: 0.050, width: 0.006 });
    reads("plate 50x0.8", Shape::Flat { height: 0.050, width: 0.0008 });
}

#[test]
fn what_is_wrong_with_a_size_is_said() {
    for (text, words) in [
        ("", "must begin with tube, box"),
        ("angle 40x40x4", "must begin with tube, box"),
        ("tube 25", "outer diameter and wall; write for instance `tube 25x2.5`"),
        ("box 60x40x3x2", "height, width and wall; write for instance `box 60x40x3`"),
        ("bar 12x3", "one size"),
        ("flat 50", "width and thickness"),
        ("tube axb", "not a number"),
        ("tube 25x-2", "not a number"),
        ("tube 25x0", "not a number"),
        ("tube 25x1/0", "not a number"),
        ("tube nan x 2", "not a number"),
        ("tube inf x 2", "not a number"),
        ("tube 25x13", "a wall of 13.00 mm fills a tube of 25.0 mm"),
        ("box 60x10x5", "fills a tube of 10.0 mm"),
        ("tube 1 x 0.095", "write `in` at the end"),
        ("tube 60x2 in", "leave `in` away"),
        ("bar 1000000", "out of all reason"),
        ("tübe 25x2", "must begin with"),
        ("box 60x40×", "not a number"),
    ] {
        let fault = shape(text).unwrap_err().to_string();
        assert!(fault.contains(words), "{text}: {fault}");
    }
}

/// Whatever a slip of the keys makes of a size, the answer is a section that can be or an error.
#[test]
fn no_text_upsets_the_reader() {
    let written =
        ["tube 25x2.5", "tube 1-1/8 x 0.095 in", "box 60x40x3", "hss 4x2x1/8 in", "bar 12", "flat 50x6"];
    let slips = ["", " ", "x", "×", "1", "9", ".", ",", "/", "-", "in", "mm", "\"", "é", "e9", "İ"];
    // Knuth's 64-bit linear congruential generator (MMIX).
    let mut state: u64 = 20_261_126;
    let mut draw = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    let mut read = 0;
    for _ in 0..20_000 {
        let mut keys: Vec<String> = written[draw(written.len())].chars().map(String::from).collect();
        for _ in 0..=draw(4) {
            let at = draw(keys.len());
            keys[at] = slips[draw(slips.len())].to_owned();
        }
        let text = keys.concat();
        if let Ok(shape) = shape(&text) {
            assert!(area(shape) > 0.0 && area(shape).is_finite(), "{text}");
            read += 1;
        }
    }
    assert!((500..19_500).contains(&read), "{read}");
}
