//! The file taken apart again: every reference is to an instance before it, units and shapes are there.

use super::*;
use crate::drawing::Layer;

fn drawing() -> Drawing {
    let mut drawing = Drawing::default();
    drawing.add(
        Layer::MARK,
        "rear.link.toe",
        Shape::Line { from: [0.0, 300.0, 262.0], to: [3.0, 700.0, 250.0] },
    );
    drawing.add(
        Layer::DRILL,
        "hole Ä",
        Shape::Circle { centre: [10.0, 0.0, 5.0], normal: [0.0, 2.0, 0.0], radius: 6.1 },
    );
    drawing.add(
        Layer::CUT,
        "plate",
        Shape::Polyline { points: vec![[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 1.0]], closed: true },
    );
    drawing.add(Layer::MARK, "centre", Shape::Point { at: [1.0, 2.0, 3.0] });
    drawing.add(
        Layer::NOTE,
        "",
        Shape::Text { at: [0.0; 3], height: 5.0, rotation_deg: 0.0, text: "up".into() },
    );
    drawing
}

#[test]
fn references_point_backward_and_nothing_is_lost() {
    let head = StepHead { title: "jig, rear".into(), ..StepHead::default() };
    let text = step(&drawing(), &head).expect("a file");
    assert!(text.is_ascii());
    let data = text.split("DATA;\n").nth(1).and_then(|t| t.split("ENDSEC;").next()).expect("data");
    for (index, line) in data.lines().enumerate() {
        let (number, instance) = line.split_once('=').expect("an instance");
        assert_eq!(number, format!("#{}", index + 1));
        for reference in instance.split('#').skip(1) {
            let digits: String = reference.chars().take_while(char::is_ascii_digit).collect();
            assert!(digits.parse::<usize>().expect("a number") <= index, "{line}");
        }
    }
    for wanted in [
        "SI_UNIT(.MILLI.,.METRE.)",
        "TRIMMED_CURVE('rear.link.toe',",
        "CIRCLE('hole \\X2\\00C4\\X0\\',",
        "POLYLINE('plate',",
        "CARTESIAN_POINT('centre',(1.0,2.0,3.0))",
        "PRESENTATION_LAYER_ASSIGNMENT('drill','',",
        "GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION('jig, rear',",
    ] {
        assert!(text.contains(wanted), "{wanted}\n{text}");
    }
    assert!(!text.contains("'note'"));
}

#[test]
fn words_alone_are_nothing() {
    let mut words = Drawing::default();
    words.add(
        Layer::NOTE,
        "",
        Shape::Text { at: [0.0; 3], height: 5.0, rotation_deg: 0.0, text: "up".into() },
    );
    assert!(matches!(step(&words, &StepHead::default()), Err(ExchangeError::Nothing)));
}
