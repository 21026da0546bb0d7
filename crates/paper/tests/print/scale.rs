//! True scale, measured on pictures that two independent renderers make: resvg of the page, poppler of the PDF.

use paper::sheet::Paper;
use paper::template::{Clearance, Pattern, PatternHole, TemplateError, of_plate, sheets};
use paper::{Document, Fonts, Head, pdf, png};
use project::model::End;
use units::UnitSystem;

use crate::picture::Picture;
use crate::tools::{folder, poppler};

/// What a steel rule shows [mm].
const TOLERANCE: f64 = 0.05;

pub fn head(title: &str, paper: Paper) -> Head {
    Head {
        title: title.into(),
        subject: String::new(),
        date: "2026-05-17".into(),
        revision: "7".into(),
        caution: "Planning figures, not an approval.".into(),
        paper,
    }
}

/// The demo car's plate, left side.
fn plover() -> Pattern {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/plover/car.toml");
    let car = project::read(&std::fs::read_to_string(path).unwrap()).car.unwrap();
    let rear = car.axle(End::Rear).unwrap();
    let [left, _] = of_plate(End::Rear, &rear.plates[0], &rear.holes, &Clearance::default()).unwrap();
    left
}

fn document(pattern: &Pattern, paper: Paper) -> Document {
    let mut document = Document::new(head("Templates", paper));
    sheets(&mut document, &Fonts::new(), pattern, &UnitSystem::default()).unwrap();
    document
}

/// Pictures of a page: by resvg at 254 dpi, and of the PDF by poppler, at thrice that because it moves lines to
/// whole pixels.
fn pictures(document: &Document, page: usize, name: &str) -> Vec<(&'static str, Picture)> {
    let fonts = Fonts::new();
    let png = png::png(document, &fonts, page, 254.0).unwrap();
    let mut list = vec![("resvg", Picture::from_png(&png, 254.0))];
    let folder = folder(name);
    let file = folder.join("document.pdf");
    std::fs::write(&file, pdf::pdf(document, &fonts).unwrap()).unwrap();
    let nth = (page + 1).to_string();
    let args = ["-gray", "-r", "762", "-f", &nth, "-l", &nth, file.to_str().unwrap()];
    if let Some(bytes) = poppler("pdftoppm", &args) {
        list.push(("poppler", Picture::from_pgm(&bytes, 762.0)));
    }
    list
}

/// Both bars of a page, with all their ticks.
#[track_caller]
fn check_bars(who: &str, picture: &Picture) {
    // No other line of a template page is as long as either; the plate's edges here are not.
    for (length, steps) in [(100.0, 10), (4.0 * 25.4, 8)] {
        let lines = picture.lines(length - 0.5, length + 0.6, false);
        let ticks: Vec<Vec<f64>> = lines
            .iter()
            .map(|(y, start)| picture.crossings(y - 1.5, start - 1.0, start + length + 2.0, false))
            .filter(|ticks| ticks.len() == steps + 1)
            .collect();
        assert_eq!(ticks.len(), 1, "{who}: {length} mm: {lines:?}");
        for (i, tick) in ticks[0].iter().enumerate() {
            let want = length * i as f64 / steps as f64;
            let got = tick - ticks[0][0];
            assert!((got - want).abs() < TOLERANCE, "{who}: tick {i} of {length} mm at {got:.3}");
        }
    }
}

#[test]
fn bars_edges_and_holes_are_true() {
    let pattern = plover();
    for paper in [Paper::A4, Paper::Letter] {
        let document = document(&pattern, paper);
        for (who, picture) in pictures(&document, 0, &format!("scale-{paper:?}")) {
            let size = paper.size();
            let got = (picture.width as f64 / picture.per_mm, picture.height as f64 / picture.per_mm);
            assert!((got.0 - size.width).abs() < 0.1 && (got.1 - size.height).abs() < 0.1, "{who}: {got:?}");
            check_bars(who, &picture);
            holes(who, &picture, &pattern, (105.0, 120.0));
        }
    }
}

/// Edges of a rectangular plate, and every hole's centre and diameter from its lower left corner.
#[track_caller]
fn holes(who: &str, picture: &Picture, pattern: &Pattern, (width, height): (f64, f64)) {
    let rows = picture.lines(width - 0.5, width + 1.5, false);
    let columns = picture.lines(height - 0.5, height + 1.5, true);
    let (top, bottom) = (rows[0].0, rows.last().unwrap().0);
    let (left, right) = (columns[0].0, columns.last().unwrap().0);
    assert!((bottom - top - height).abs() < TOLERANCE, "{who}: height {:.3}", bottom - top);
    assert!((right - left - width).abs() < TOLERANCE, "{who}: width {:.3}", right - left);
    let mut centres = Vec::new();
    for hole in &pattern.holes {
        let (x, y) = (left + hole.at.0, bottom - hole.at.1);
        let mut centre = [0.0; 2];
        for (upright, along, across) in [(false, x, y), (true, y, x)] {
            // A chord beside the centre, clear of the other arm of the cross and of the punch ring.
            let beside = 3.0;
            let reach = hole.diameter / 2.0;
            let crossings = picture.crossings(across + beside, along - reach, along + reach, upright);
            let [first, arm, last] = crossings[..] else {
                panic!("{who}: {} has {crossings:?} across", hole.label)
            };
            // The row of pixels that was read has its own middle.
            let row = ((across + beside) * picture.per_mm).floor() + 0.5;
            let beside = row / picture.per_mm - across;
            let diameter = 2.0 * ((last - first) / 2.0).hypot(beside);
            assert!((diameter - hole.diameter).abs() < TOLERANCE, "{who}: {} ⌀{diameter:.3}", hole.label);
            assert!((arm - along).abs() < TOLERANCE, "{who}: {} cross {arm:.3}", hole.label);
            centre[usize::from(upright)] = (first + last) / 2.0;
        }
        centres.push(centre);
    }
    for distance in pattern.distances() {
        let (a, b) = (centres[distance.holes.0], centres[distance.holes.1]);
        let got = (a[0] - b[0]).hypot(a[1] - b[1]);
        assert!((got - distance.length).abs() < TOLERANCE, "{who}: {:?} {got:.3}", distance.holes);
    }
}

/// A plate of 460 by 390 mm with sixty holes.
pub fn large() -> Pattern {
    let mut pattern = Pattern {
        title: "Plate кронштейн-задний-нижний 後方下部取付板 with a name that goes on for longer than any page is wide, \
                and then some more of it"
            .into(),
        seen: "seen from the left of the car, from outside".into(),
        bolt: 10.0,
        outline: vec![(0.0, 0.0), (460.0, 0.0), (460.0, 300.0), (300.0, 390.0), (0.0, 390.0)],
        directions: plover().directions,
        datums: plover().datums,
        least: Some((25.0, 15.0)),
        ..Pattern::default()
    };
    for i in 0..60 {
        let (column, row) = (f64::from(i % 10), f64::from(i / 10));
        pattern.holes.push(PatternHole {
            label: if i == 7 {
                "отверстие-для-регулировки-№7".into()
            } else {
                format!("{}", i + 1)
            },
            at: (20.0 + 40.0 * column, 25.0 + 45.0 * row),
            diameter: if i % 3 == 0 { 10.25 } else { 8.25 },
            note: String::new(),
        });
    }
    pattern
}

/// Every tile has true bars, and each hole appears whole with the right diameter on some tile.
#[test]
fn a_large_plate_is_tiled_at_true_scale() {
    let pattern = large();
    let document = document(&pattern, Paper::A4);
    let tiles = document.bookmarks().iter().find(|b| b.words.contains("distances")).unwrap().page;
    // Two by four on turned sheets; three by three upright would take one more.
    assert_eq!(tiles, 8, "tiles");
    for page in [0, 7] {
        for (who, picture) in pictures(&document, page, &format!("large-{page}")) {
            check_bars(who, &picture);
        }
    }
    // Holes on a tile are at their pitch: the arms of their crosses say so.
    let svg = document.svg(&Fonts::new(), 2).unwrap();
    assert!(svg.contains("Tile 3 of 8"));
    let (_, picture) = pictures(&document, 2, "large-2").swap_remove(0);
    // Every third hole is the larger one: its arms are 15.25 mm long.
    let arms: Vec<f64> = picture.lines(14.8, 15.8, true).iter().map(|line| line.0).collect();
    let apart = |a: &f64, b: &f64| (b - a - 120.0).abs() < TOLERANCE;
    assert!(arms.iter().any(|a| arms.iter().any(|b| apart(a, b))), "{arms:?}");
}

/// Overlap and step are exact: measured over a register cross, holes on two tiles are whole pitches apart.
#[test]
fn seams_meet() {
    let document = document(&large(), Paper::A4);
    let left = pictures(&document, 2, "seam-2");
    let right = pictures(&document, 3, "seam-3");
    for ((who, left), (_, right)) in left.iter().zip(&right) {
        // Crosses have arms of 8 mm; those of the upright seam are near the right end of one tile, the left end of
        // the other.
        let cross = |picture: &Picture, near: f64| {
            let lines = picture.lines(7.7, 8.5, false);
            let (y, start) = *lines.iter().find(|line| (line.1 + 4.0 - near).abs() < 1.0).unwrap();
            let x = picture.crossings(y + 2.5, start, start + 8.0, false);
            assert_eq!(x.len(), 1, "{who}: {x:?}");
            (x[0], y)
        };
        let (a, b) = (cross(left, 278.0), cross(right, 19.0));
        assert!((a.1 - b.1).abs() < TOLERANCE, "{who}: {a:?} {b:?}");
        let hole = |picture: &Picture| {
            let arms = picture.lines(12.8, 16.0, true);
            arms.iter().map(|line| line.0).find(|x| (30.0..260.0).contains(x)).unwrap()
        };
        let pitches = (a.0 - hole(left) + hole(right) - b.0) / 40.0;
        assert!((pitches - pitches.round()).abs() * 40.0 < TOLERANCE, "{who}: {pitches}");
    }
}

/// Every plate of the demo cars, both sides, either paper and unit: words in the frame and off one another, the
/// list on the same page, distances the same on both sides.
#[test]
fn words_of_a_template_keep_apart() {
    let inches = UnitSystem { length: units::LengthUnit::Inch, ..UnitSystem::default() };
    let mut count = 0;
    for name in ["plover", "wren", "dunlin"] {
        let path = format!("{}/../../examples/{name}/car.toml", env!("CARGO_MANIFEST_DIR"));
        let car = project::read(&std::fs::read_to_string(path).unwrap()).car.unwrap();
        for end in [End::Front, End::Rear] {
            let Some(axle) = car.axle(end) else { continue };
            for plate in &axle.plates {
                let pair = of_plate(end, plate, &axle.holes, &Clearance::default()).unwrap();
                assert_eq!(pair[0].distances(), pair[1].distances());
                for (paper, units) in [(Paper::A4, UnitSystem::default()), (Paper::Letter, inches)] {
                    let mut document = Document::new(head("Templates", paper));
                    for pattern in &pair {
                        sheets(&mut document, &Fonts::new(), pattern, &units).unwrap();
                    }
                    assert_eq!(document.len(), 2, "{name} {} {paper:?}", plate.name);
                    let all = crate::flow::check(&document);
                    for what in ["left side", "right side", "datum A", "front", "100 mm", "4 in"] {
                        assert!(all.contains(what), "{what}: {all}");
                    }
                    count += 1;
                }
            }
        }
    }
    assert!(count >= 4, "{count}");
}

#[test]
fn what_no_one_would_tape_together_is_refused() {
    let mut document = Document::new(head("Templates", Paper::A4));
    let mut pattern = large();
    pattern.outline.iter_mut().for_each(|at| *at = (at.0 * 1e3, at.1 * 1e3));
    let error = sheets(&mut document, &Fonts::new(), &pattern, &UnitSystem::default()).unwrap_err();
    assert!(matches!(error, TemplateError::TooLarge { .. }), "{error}");
    pattern.outline[0].0 = f64::NAN;
    pattern.outline.truncate(2);
    let error = sheets(&mut document, &Fonts::new(), &pattern, &UnitSystem::default()).unwrap_err();
    assert!(error.to_string().contains("at least three corners"), "{error}");
    assert!(document.is_empty());
}
