//! Drawings of ordinary and of odd frames.

mod beam;

use nalgebra::Vector3;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use roxmltree::Document;

use super::*;
use crate::text_width;
use beam::{at, beam, spec, tube};

const VIEWS: [FrameView; 4] = [FrameView::Left, FrameView::Behind, FrameView::Above, FrameView::Corner];

/// Numbers of paths and attributes that are places on the page.
fn coordinates(document: &Document<'_>) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    for node in document.descendants() {
        if let Some(path) = node.attribute("d") {
            for part in path.split(['M', 'L', 'Z']).filter(|p| !p.is_empty()) {
                let mut pair =
                    part.split(' ').map(|n| n.parse::<f64>().unwrap_or_else(|e| panic!("{e}: {path}")));
                all.push((pair.next().unwrap(), pair.next().unwrap()));
            }
        }
        let number = |name| node.attribute(name).and_then(|t| t.parse::<f64>().ok());
        if let (Some(x), Some(y)) = (number("cx"), number("cy")) {
            all.push((x, y));
        }
    }
    all
}

/// Well-formed; everything on the page; words apart and off the marks.
#[track_caller]
fn check(spec: &FrameSpec) -> Drawn {
    let drawn = draw(spec);
    let svg = &drawn.svg;
    let document = Document::parse(svg).unwrap_or_else(|e| panic!("{e}: {svg}"));
    assert!(!svg.contains("NaN") && !svg.contains("inf\"") && !svg.contains("inf "), "{svg}");
    let page = spec.page();
    for spot in coordinates(&document) {
        assert!(page.grown(0.5).has(spot), "{spot:?} {:?} {page:?}", spec.from);
    }
    for (i, (text, rect)) in drawn.labels.iter().enumerate() {
        assert!(page.holds(rect), "`{text}` leaves the page: {rect:?}");
        assert!(!drawn.marks.iter().any(|m| m.meets(rect)), "`{text}` covers a mark");
        for (other, second) in &drawn.labels[i + 1..] {
            assert!(!rect.meets(second), "`{text}` covers `{other}`");
        }
    }
    // Every word of the page, placed or fixed.
    let font = spec.font();
    let boxes: Vec<(String, Rect)> = document
        .descendants()
        .filter(|n| n.tag_name().name() == "text")
        .map(|n| {
            let at = |name| n.attribute(name).and_then(|t| t.parse::<f64>().ok()).unwrap();
            let text = n.text().unwrap_or_default().to_string();
            let bold = n.attribute("class").is_some_and(|c| c.starts_with("value"));
            let (left, base) = (at("x"), at("y"));
            let wide = text_width(&text, bold) * font;
            (text, Rect { left, top: base - 0.75 * font, right: left + wide, bottom: base + 0.2 * font })
        })
        .collect();
    for (i, (text, rect)) in boxes.iter().enumerate() {
        assert!(page.grown(0.01).holds(rect), "`{text}` {rect:?} {page:?}");
        for (other, second) in &boxes[i + 1..] {
            assert!(!rect.meets(second), "`{text}` covers `{other}`");
        }
    }
    drawn
}

fn pages(spec: &FrameSpec) -> Vec<FrameSpec> {
    let mut all = Vec::new();
    for (width, height) in [(900.0, 520.0), (360.0, 400.0), (360.0, 240.0), (140.0, 90.0), (60.0, 500.0)] {
        for from in VIEWS {
            all.push(FrameSpec { width, height, from, ..spec.clone() });
        }
    }
    all
}

#[test]
fn a_box_beam_reads_on_every_page() {
    for spec in pages(&beam()) {
        let drawn = check(&spec);
        assert_eq!(drawn.svg, frame(&spec), "the same again");
        if spec.width < 300.0 {
            continue;
        }
        let words = |word: &str| assert!(drawn.svg.contains(word), "{word} {:?} {}", spec.from, drawn.svg);
        words("2 of 20 tubes are too weak");
        words("give drawn");
        words(" times larger");
        words("over 100 %");
        words("data-name=\"side brace left\"");
        words("class=\"hatch\"");
        let labels: Vec<&str> = drawn.labels.iter().map(|(text, _)| text.as_str()).collect();
        assert!(labels.iter().any(|l| l.contains("112 %")), "{labels:?}");
    }
}

#[test]
fn a_mirrored_number_stands_once() {
    let mut spec = spec(vec![
        tube("post left", at(0.0, 0.3, 0.0), at(0.0, 0.3, 0.4), 0.55),
        tube("post right", at(0.0, -0.3, 0.4), at(0.0, -0.3, 0.0), 0.55),
        tube("rail", at(0.0, 0.3, 0.4), at(0.0, -0.3, 0.4), 0.3),
    ]);
    let count =
        |spec: &FrameSpec, text: &str| check(spec).labels.iter().filter(|(t, _)| t.contains(text)).count();
    assert_eq!((count(&spec, "55 %"), count(&spec, "30 %")), (1, 1));
    // Other numbers stand both; tubes that are too weak too.
    spec.tubes[1].uses = 0.56;
    assert_eq!((count(&spec, "55 %"), count(&spec, "56 %")), (1, 1));
    spec.tubes[0].uses = 1.3;
    spec.tubes[1].uses = 1.3;
    assert_eq!((count(&spec, "130 %"), count(&spec, "post right 130 %")), (2, 1));
    // From the left one hides the other: the worse number stands there.
    spec.tubes[1].uses = 0.56;
    spec.from = FrameView::Left;
    spec.magnification = 0.0;
    assert_eq!((count(&spec, "130 %"), count(&spec, "56 %")), (1, 0));
}

#[test]
fn the_worst_is_drawn_last() {
    let svg = frame(&beam());
    let classes: Vec<&str> = svg.split("<g class=\"tube\"").skip(1).collect();
    let over: Vec<bool> = classes.iter().map(|g| g.contains("class=\"core\"")).collect();
    assert_eq!(over.iter().filter(|o| **o).count(), 2);
    assert!(over.is_sorted(), "{over:?}");
}

#[test]
fn the_magnification_is_round() {
    let beam = |give: f64| {
        let mut t = tube("t", at(0.0, 0.5, 0.0), at(0.0, -0.5, 0.0), 0.5);
        t.moved = t.rest.iter().map(|_| at(0.0, 0.0, -give)).collect();
        magnification(&[t])
    };
    // A frame of 1 m and 60 mm of give wanted: give and magnification.
    for (give, expect) in [
        (1.2e-3, 50.0),
        (0.9e-3, 50.0),
        (0.65e-3, 100.0),
        (6e-3, 10.0),
        (0.06, 1.0),
        (1.0, 1.0),
        (1e-5, 1000.0),
        (1e-12, 1000.0),
        (0.0, 1.0),
        (f64::NAN, 1.0),
        (f64::INFINITY, 1.0),
    ] {
        assert_eq!(beam(give), expect, "{give}");
    }
    assert_eq!(magnification(&[]), 1.0);
    assert_eq!(magnification(&[FrameTube { rest: vec![Vector3::zeros()], ..FrameTube::default() }]), 1.0);
}

#[test]
fn odd_frames_give_a_drawing() {
    let nan = f64::NAN;
    let one = tube("only", at(0.0, 0.3, 0.0), at(0.0, -0.3, 0.2), 0.3);
    let lost = FrameTube { rest: vec![at(nan, 0.0, 0.0); 3], ..one.clone() };
    let unsure = FrameTube { moved: vec![at(0.0, nan, 0.0); 7], ..one.clone() };
    let short = FrameTube { moved: vec![at(0.0, 0.0, 1e-3); 3], ..one.clone() };
    let far = FrameTube { rest: vec![at(1e300, 0.0, 0.0), at(0.0, 0.0, 0.0)], ..one.clone() };
    let still = FrameTube { moved: Vec::new(), ..one.clone() };
    let unknown = FrameTube { uses: nan, ..one.clone() };
    let endless = FrameTube { uses: f64::INFINITY, ..one.clone() };
    let point = FrameTube { rest: vec![at(0.0, 0.0, 0.3); 2], ..one.clone() };
    let bare = FrameTube::default();
    let cases: [(&[&FrameTube], &str); 11] = [
        (&[], "no tubes to draw"),
        (&[&bare], "no tubes to draw"),
        (&[&one], "give drawn"),
        (&[&lost], "1 tube without a place, not drawn"),
        (&[&one, &unsure], "1 tube whose give is not known, drawn at rest"),
        (&[&short], "1 tube whose give is not known, drawn at rest"),
        (&[&far], "give drawn"),
        (&[&still], "no give to draw"),
        (&[&unknown], "1 tube whose use is not known"),
        (&[&endless, &point], "over 999 %"),
        (&[&point], "give drawn"),
    ];
    for (tubes, words) in cases {
        for base in pages(&spec(tubes.iter().map(|t| (*t).clone()).collect())) {
            for larger in [base.magnification, 0.0, -1.0, nan, 1e300] {
                let mut odd = FrameSpec { magnification: larger, ..base.clone() };
                let drawn = check(&odd);
                if larger == base.magnification {
                    assert!(drawn.svg.contains(words), "{words}: {}", drawn.svg);
                }
                odd.feet = vec![("f".into(), at(nan, 0.0, 0.0)), ("".into(), at(0.0, 0.0, 0.0))];
                odd.nodes = vec![("n".into(), at(0.0, 1e9, 0.0)), ("<n>".into(), at(0.0, 0.1, 0.0))];
                let load = |force| FrameLoad {
                    name: "l".into(),
                    force,
                    text: "1 kN".into(),
                    ..FrameLoad::default()
                };
                odd.loads = vec![
                    load(Vector3::zeros()),
                    load(at(nan, 0.0, 0.0)),
                    load(at(1e308, 1e308, 0.0)),
                    load(at(0.0, 0.0, 1e-300)),
                ];
                odd.length_unit.metres = if larger > 0.0 { 0.3048 } else { nan };
                check(&odd);
                (odd.width, odd.height) = (nan, -3.0);
                check(&odd);
            }
        }
    }
}

const NAMES: [&str; 8] = [
    "a tube with a rather long name that fits nowhere",
    "<b>&\"'",
    "нижний передний рычаг",
    "الذراع السفلي",
    "前側下リンク",
    "𐍈🏁🔧",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
    "x\u{0}\u{7}y\nz",
];

#[test]
fn two_hundred_random_frames_stay_on_the_page() {
    let mut rng = StdRng::seed_from_u64(11);
    let mut shown = 0;
    for _ in 0..200 {
        let mut place = |reach: f64| Vector3::from([(); 3].map(|()| rng.random_range(-reach..reach)));
        let joints: Vec<_> = (0..12).map(|_| place(0.6)).collect();
        let gives: Vec<_> = (0..12).map(|_| place(0.01)).collect();
        let forces: Vec<_> = (0..4).map(|_| place(8000.0)).collect();
        let mut spec = spec(Vec::new());
        for i in 0..rng.random_range(1..40_usize) {
            let (a, b) = (rng.random_range(0..12_usize), rng.random_range(0..12_usize));
            let between = |from: &[Vector3<f64>]| {
                (0..=10).map(|k| from[a] + (from[b] - from[a]) * (f64::from(k) / 10.0)).collect()
            };
            spec.tubes.push(FrameTube {
                name: NAMES.get(i).map_or_else(|| format!("tube {i}"), ToString::to_string),
                rest: between(&joints),
                moved: between(&gives),
                uses: rng.random_range(0.0..1.3),
            });
        }
        spec.nodes = joints.iter().enumerate().map(|(i, at)| (format!("joint {i}"), *at)).collect();
        spec.feet = joints.iter().take(3).map(|at| ("mount".to_string(), *at)).collect();
        for (at, force) in joints.iter().skip(3).zip(&forces) {
            let text = format!("{:.1} kN", force.norm() / 1e3);
            spec.loads.push(FrameLoad { name: "pull".into(), at: *at, force: *force, text });
        }
        spec.magnification = magnification(&spec.tubes);
        for page in pages(&spec) {
            shown += check(&page).labels.len();
        }
    }
    // Not by showing nothing.
    assert!(shown > 200 * 20 * 4, "{shown}");
}

/// Writes pages to be looked at: `cargo test -p soapstone-draw sheets_to_look_at -- --ignored`.
#[test]
#[ignore = "writes files for the eye"]
fn sheets_to_look_at() {
    let folder = std::env::temp_dir().join("loaded-frames");
    std::fs::create_dir_all(&folder).unwrap();
    for from in VIEWS {
        for (width, height) in [(900.0, 520.0), (360.0, 420.0)] {
            let svg = frame(&FrameSpec { from, width, height, ..beam() });
            for theme in [crate::style::Theme::Light, crate::style::Theme::Dark, crate::style::Theme::Print] {
                let name = format!("{from:?}-{width}-{theme:?}.svg").to_lowercase();
                std::fs::write(folder.join(name), crate::style::standalone_in(&svg, theme)).unwrap();
            }
        }
    }
    // A page with the stylesheet as a reader gets it; a use that is not known, one tube that does not give.
    let mut odd = beam();
    odd.tubes[3].uses = f64::NAN;
    odd.tubes[0].moved = vec![at(f64::NAN, 0.0, 0.0)];
    let page =
        format!("<!doctype html><meta charset=utf-8><style>{}</style>{}", *crate::style::CSS, frame(&odd));
    std::fs::write(folder.join("page.html"), page).unwrap();
}
