//! Scale, the map between page and car, and what a script reads off a drawing.
#![allow(clippy::expect_used, clippy::panic, reason = "helpers of tests stop where something is wrong")]

mod common;

use common::{every_scene, pages};
use draw::{Fit, Overlays, Scene, Show, View, ViewMap, ViewOptions, views};
use nalgebra::Vector3;
use roxmltree::Document;

type Draw = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

const VIEWS: [Draw; 3] = [views::side, views::rear, views::top];

/// Coordinates are written to a thousandth of a pixel \[px\].
const WRITTEN: f64 = 1e-3;

fn each(mut run: impl FnMut(&Scene, &View, &ViewOptions<'_>)) {
    every_scene(|car, scene| {
        for options in pages(car) {
            for draw in VIEWS {
                run(scene, &draw(scene, &Overlays::default(), &options), &options);
            }
        }
    });
}

/// The middle of the hit circle and `data-at` \[mm\] of every point of a drawing.
fn points(svg: &str) -> Vec<(String, (f64, f64), Vector3<f64>)> {
    let document = Document::parse(svg).expect("well-formed");
    let number = |text: Option<&str>| text.and_then(|t| t.parse::<f64>().ok()).expect("a number");
    document
        .descendants()
        .filter_map(|node| {
            let key = node.attribute("data-point")?;
            let hit = node.children().find(|c| c.attribute("class") == Some("hit")).expect("a hit circle");
            assert!(number(hit.attribute("r")) >= 22.0);
            let at: Vec<f64> = node.attribute("data-at")?.split(' ').map(|t| number(Some(t))).collect();
            let spot = (number(hit.attribute("cx")), number(hit.attribute("cy")));
            Some((key.to_string(), spot, Vector3::from_column_slice(&at)))
        })
        .collect()
}

#[test]
fn the_map_goes_both_ways() {
    each(|scene, view, _| {
        for at in &scene.left.at {
            let back = view.map.to_car(view.map.to_page(at), at);
            assert!((back - at).norm() < 1e-9, "{at} {back}");
        }
    });
}

#[test]
fn distances_are_to_scale() {
    each(|_, view, _| {
        let all = points(&view.svg);
        for (i, (_, spot, at)) in all.iter().enumerate() {
            for (_, other, place) in &all[i + 1..] {
                let (mut d, near) = (at - place, view.map.direction.near(&(at - place)));
                // Without the part that runs toward the viewer.
                let flat = (d.norm_squared() - near * near).max(0.0).sqrt();
                let page = (spot.0 - other.0).hypot(spot.1 - other.1);
                assert!((page - flat / view.map.mm_per_px).abs() < 0.01, "{page} {flat}");
                d.fill(0.0);
            }
        }
    });
}

/// As a script does it: from the attributes alone.
#[test]
fn the_attributes_say_the_same_as_the_map() {
    each(|scene, view, options| {
        let document = Document::parse(&view.svg).expect("well-formed");
        let root = document.root_element();
        let list = |name: &str| -> Vec<f64> {
            root.attribute(name).expect(name).split(' ').map(|t| t.parse().expect("a number")).collect()
        };
        let scale = list("data-mm-per-px")[0];
        let origin = list("data-origin");
        let axis = |name: &str| {
            let text = root.attribute(name).expect(name);
            let sign = if text.starts_with('-') { -1.0 } else { 1.0 };
            ("xyz".find(&text[1..]).expect("an axis"), sign)
        };
        let ((right, right_sign), (up, up_sign)) = (axis("data-right"), axis("data-up"));
        for (key, spot, at) in points(&view.svg) {
            let found_right = right_sign * (spot.0 - origin[0]) * scale;
            let found_up = up_sign * (origin[1] - spot.1) * scale;
            let tolerance = WRITTEN * scale + 1e-3;
            assert!((found_right - at[right]).abs() < tolerance, "{key}");
            assert!((found_up - at[up]).abs() < tolerance, "{key}");
            let point = &scene.points[scene.point(&key).expect("a known point")];
            let here = scene.left.at[scene.point(&key).expect("a known point")];
            assert!((here * 1000.0 - at).norm() < 2e-3, "{}", point.key);
            let (sign, zero) = (list("data-frame-sign"), list("data-frame-origin"));
            let shown = options.frame.to_survey(here) * 1000.0;
            for k in 0..3 {
                assert!((sign[k] * (at[k] - zero[k]) - shown[k]).abs() < 2e-3);
            }
        }
    });
}

#[test]
fn a_drawing_is_well_formed_and_has_no_colours() {
    each(|scene, view, options| {
        let document = Document::parse(&view.svg).expect("well-formed");
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            for name in ["style", "fill", "stroke", "id"] {
                assert!(node.attribute(name).is_none(), "{name}");
            }
            assert!(
                node.is_element() && !["script", "foreignObject", "image"].contains(&node.tag_name().name())
            );
        }
        if options.region == Fit::Car || options.region == Fit::Corner {
            assert_eq!(points(&view.svg).len(), scene.points.len(), "{}", scene.car);
        }
        draw::style::standalone(&view.svg);
        Document::parse(&draw::style::standalone(&view.svg)).expect("well-formed with its style");
    });
}

#[test]
fn a_held_map_is_kept() {
    every_scene(|car, scene| {
        let options = ViewOptions::new(600.0, 400.0, car.units, &car.frame);
        let map: ViewMap = views::side(scene, &Overlays::default(), &options).map;
        let held = ViewOptions { region: Fit::Held(map), ..options };
        assert_eq!(views::side(scene, &Overlays::default(), &held).map, map);
        // A map of another view is of no use here.
        assert_ne!(views::top(scene, &Overlays::default(), &held).map.direction, map.direction);
    });
}

#[test]
fn a_mirrored_wheel_stands_where_the_left_one_does() {
    every_scene(|_, scene| {
        let (left, right) = (&scene.left, &scene.right);
        if scene.figures.travel == 0.0 || scene.left.wheel.spin.x.abs() < 0.01 {
            assert!((left.contact.y + right.contact.y).abs() < 1e-9);
        }
        assert!((left.wheel.centre.z - right.wheel.centre.z).abs() < 1e-9);
        assert!(right.wheel.spin.y < 0.0);
    });
}

#[test]
fn what_is_not_wanted_is_not_drawn() {
    every_scene(|car, scene| {
        let none = Show {
            construction: false,
            link_lines: false,
            labels: false,
            elements: false,
            holes: false,
            right: false,
            handles: false,
            grips: false,
            scale: false,
        };
        let options = ViewOptions { show: none, ..ViewOptions::new(600.0, 400.0, car.units, &car.frame) };
        for draw in VIEWS {
            let view = draw(scene, &Overlays::default(), &options);
            assert!(
                view.labels.is_empty() && !view.svg.contains("<text") && !view.svg.contains("data-point")
            );
            for class in ["contact-line", "roll-line", "spring", "hole", "scale-bar", "other-side"] {
                assert!(!view.svg.contains(&format!("class=\"{class}\"")), "{class}");
            }
        }
    });
}

/// Broken input gives a drawing all the same.
#[test]
fn nothing_breaks_on_odd_numbers() {
    every_scene(|car, scene| {
        let mut odd = scene.clone();
        odd.left.at[0] = Vector3::new(f64::NAN, f64::INFINITY, -1e300);
        odd.figures.contact_slope = f64::INFINITY;
        odd.figures.side_arm = f64::INFINITY;
        odd.wheelbase = None;
        for (width, height) in [(0.0, 0.0), (1.0, 1.0), (300.0, 200.0)] {
            let options = ViewOptions::new(width, height, car.units, &car.frame);
            for draw in VIEWS {
                Document::parse(&draw(&odd, &Overlays::default(), &options).svg).expect("well-formed");
            }
        }
    });
}
