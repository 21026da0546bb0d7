//! The file taken apart again, tag by tag.

use super::*;
use crate::drawing::Layer;

/// Pairs of code and value.
fn tags(text: &str) -> Vec<(u16, &str)> {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0);
    lines.chunks(2).map(|pair| (pair[0].trim().parse().expect("a code"), pair[1])).collect()
}

/// The tags of each entity of a kind.
fn entities<'t>(tags: &'t [(u16, &'t str)], kind: &str) -> Vec<&'t [(u16, &'t str)]> {
    let starts: Vec<usize> = (0..tags.len()).filter(|i| tags[*i].0 == 0).collect();
    starts.windows(2).filter(|w| tags[w[0]].1 == kind).map(|w| &tags[w[0]..w[1]]).collect()
}

fn value(entity: &[(u16, &str)], code: u16) -> f64 {
    entity.iter().find(|(c, _)| *c == code).expect("the code").1.parse().expect("a number")
}

fn drawing() -> Drawing {
    let mut drawing = Drawing::default();
    drawing.add(
        Layer::CUT,
        "outline",
        Shape::Polyline {
            points: vec![[0.0, 0.0, 0.0], [120.0, 0.0, 0.0], [120.0, 80.5, 0.0]],
            closed: true,
        },
    );
    drawing.add(
        Layer::DRILL,
        "A",
        Shape::Circle { centre: [20.0, 20.0, 0.0], normal: [0.0, 0.0, 1.0], radius: 6.1 },
    );
    drawing.add(
        Layer::MARK,
        "bent",
        Shape::Polyline { points: vec![[0.0, 0.0, 0.0], [0.0, 0.0, 5.0]], closed: false },
    );
    drawing.add(
        Layer::NOTE,
        "",
        Shape::Text { at: [1.0, 2.0, 0.0], height: 3.5, rotation_deg: -90.0, text: "Ø 12,2 ± 0,1".into() },
    );
    drawing
}

#[test]
fn says_millimetres() {
    let text = dxf(&drawing()).expect("a file");
    let tags = tags(&text);
    let after = |name: &str| tags.windows(2).find(|w| w[0] == (9, name)).map(|w| w[1].1);
    assert_eq!((after("$INSUNITS"), after("$MEASUREMENT")), (Some("4"), Some("1")));
    assert_eq!(tags.last(), Some(&(0, "EOF")));
    let begun = tags.iter().filter(|t| **t == (0, "SECTION")).count();
    assert_eq!(begun, tags.iter().filter(|t| **t == (0, "ENDSEC")).count());
}

#[test]
fn every_shape_is_there_on_its_layer() {
    let text = dxf(&drawing()).expect("a file");
    let tags = tags(&text);
    let outline = entities(&tags, "LWPOLYLINE");
    assert_eq!((value(outline[0], 90), value(outline[0], 70)), (3.0, 1.0));
    assert!(outline[0].contains(&(8, "cut")));
    assert_eq!(value(entities(&tags, "CIRCLE")[0], 40), 6.1);
    assert_eq!(entities(&tags, "VERTEX").len(), 2);
    assert!(entities(&tags, "TEXT")[0].contains(&(1, "Ø 12,2 ± 0,1")));
    assert_eq!(value(entities(&tags, "TEXT")[0], 50), 270.0);
    let layers: Vec<&str> =
        entities(&tags, "LAYER").iter().filter_map(|e| e.iter().find(|t| t.0 == 2).map(|t| t.1)).collect();
    assert_eq!(layers, ["0", "cut", "drill", "mark", "note"]);
}

#[test]
fn handles_are_each_used_once() {
    let mut large = drawing();
    for i in 0..400 {
        let name = format!("layer-{i}");
        large.add(Layer::new(&name, 3).expect("a layer"), "", Shape::Point { at: [f64::from(i), 0.0, 0.0] });
    }
    let text = dxf(&large).expect("a file");
    let tags = tags(&text);
    // The seed stands in the head under the same code.
    let mut handles: Vec<u32> = tags
        .iter()
        .skip(10)
        .filter(|t| t.0 == 5 || t.0 == 105)
        .map(|t| u32::from_str_radix(t.1, 16).expect("hexadecimal"))
        .collect();
    let count = handles.len();
    handles.sort_unstable();
    handles.dedup();
    assert_eq!(handles.len(), count);
    let seed = tags.iter().find(|t| t.0 == 5).map(|t| u32::from_str_radix(t.1, 16).expect("hexadecimal"));
    assert!(seed > handles.last().copied());
}

#[test]
fn a_circle_in_space_keeps_its_centre() {
    let normal = unit([0.3, -0.5, 0.2]).expect("a direction");
    let centre = [1200.0, -430.0, 215.0];
    let mut drawing = Drawing::default();
    drawing.add(Layer::DRILL, "", Shape::Circle { centre, normal, radius: 5.0 });
    let text = dxf(&drawing).expect("a file");
    let tags = tags(&text);
    let circle = entities(&tags, "CIRCLE")[0];
    let [x, y] = plane(normal);
    let own = [10, 20, 30].map(|code| value(circle, code));
    for k in 0..3 {
        let back = own[0] * x[k] + own[1] * y[k] + own[2] * normal[k];
        // Nine decimals written.
        assert!((back - centre[k]).abs() < 1e-8, "{k}: {back}");
    }
}
