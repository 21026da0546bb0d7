//! A label never covers another one or a mark, and never leaves the page.
#![allow(clippy::expect_used, clippy::panic, reason = "helpers of tests stop where something is wrong")]

mod common;

use common::{check_labels, every_scene, pages, random_scenes};
use draw::{Overlays, Scene, View, ViewOptions, views};
use resvg::usvg;

type Draw = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

const VIEWS: [(&str, Draw); 3] = [("side", views::side), ("rear", views::rear), ("top", views::top)];

#[test]
fn of_every_demo_at_every_travel() {
    every_scene(|car, scene| {
        let variants = [("a variant with a long name".to_string(), scene)];
        let others = Overlays { ghost: Some(scene), variants: &variants };
        for options in pages(car) {
            for point in scene.points.iter().step_by(3) {
                let options = ViewOptions { focus: Some(&point.key), ..options };
                for (name, draw) in VIEWS {
                    let what = format!("{} {} {name} {}", scene.car, scene.end.name(), options.width_px);
                    check_labels(&draw(scene, &others, &options), &options, &what);
                }
            }
        }
    });
}

#[test]
fn of_random_corners() {
    let mut shown = 0;
    random_scenes(500, 3, |car, scene| {
        for options in pages(car) {
            for (name, draw) in VIEWS {
                let view = draw(scene, &Overlays::default(), &options);
                check_labels(&view, &options, name);
                shown += view.labels.len();
                roxmltree::Document::parse(&view.svg).expect("well-formed");
            }
        }
    });
    // Not by showing nothing.
    assert!(shown > 500 * 3 * 6 * 4, "{shown}");
}

#[test]
fn what_matters_most_is_shown() {
    every_scene(|car, scene| {
        for options in pages(car).iter().filter(|o| o.width_px > 300.0) {
            let text = |view: View| view.labels.into_iter().map(|(t, _)| t).collect::<Vec<_>>().join("\n");
            let side = text(views::side(scene, &Overlays::default(), options));
            if let Some(anti) = &scene.figures.braking {
                assert!(side.contains(anti.name), "{}: {side}", scene.car);
            }
            let rear = text(views::rear(scene, &Overlays::default(), options));
            assert!(rear.contains("camber"), "{}: {rear}", scene.car);
        }
    });
}

/// The estimate of widths holds against a real font.
#[test]
fn words_are_no_wider_than_their_boxes() {
    let mut fonts = usvg::fontdb::Database::new();
    fonts.load_system_fonts();
    if !fonts.faces().any(|f| f.families.iter().any(|(name, _)| name == "DejaVu Sans")) {
        eprintln!("skipped: no DejaVu Sans on this machine");
        return;
    }
    let options = usvg::Options {
        fontdb: std::sync::Arc::new(fonts),
        font_family: "DejaVu Sans".into(),
        ..usvg::Options::default()
    };
    every_scene(|car, scene| {
        if scene.figures.travel != 0.0 {
            return;
        }
        for page in pages(car) {
            for (name, draw) in VIEWS {
                let view = draw(scene, &Overlays::default(), &page);
                let whole = draw::style::standalone_in(&view.svg, draw::style::Theme::Light);
                let tree = usvg::Tree::from_str(&whole, &options).expect("a sound drawing");
                let mut boxes = Vec::new();
                texts(tree.root(), &mut boxes);
                for (text, rect) in &view.labels {
                    for line in text.lines() {
                        let inside = |b: &usvg::Rect| {
                            f64::from(b.left()) >= rect.left - 0.5
                                && f64::from(b.right()) <= rect.right + 0.5
                                && f64::from(b.top()) >= rect.top - 0.5
                                && f64::from(b.bottom()) <= rect.bottom + 0.5
                        };
                        assert!(
                            boxes.iter().any(|(t, b)| t == line && inside(b)),
                            "{name}: `{line}` {rect:?} {boxes:?}"
                        );
                    }
                }
            }
        }
    });
}

fn texts(group: &usvg::Group, out: &mut Vec<(String, usvg::Rect)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => texts(group, out),
            usvg::Node::Text(text) => {
                let words = text.chunks().iter().map(|c| c.text()).collect();
                out.push((words, text.abs_bounding_box()));
            }
            _ => {}
        }
    }
}
