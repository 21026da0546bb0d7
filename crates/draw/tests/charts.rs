//! Charts of ordinary and of odd values.
#![allow(clippy::expect_used, clippy::panic, reason = "helpers of tests stop where something is wrong")]

use draw::chart::{Axis, ChartSpec, Mark, Series, line};
use draw::{Rect, text_width};
use roxmltree::Document;

fn spec(series: Vec<Series>, width: f64) -> ChartSpec {
    ChartSpec {
        title: "Toe <over> travel & more".into(),
        x: Axis { label: "wheel travel".into(), unit: "mm".into() },
        y: Axis { label: "toe".into(), unit: "deg".into() },
        series,
        marks: vec![Mark { x: 0.0, label: "ride height".into() }, Mark { x: 1.0, label: "near it".into() }],
        at: Some(10.0),
        width,
        height: width * 0.6,
    }
}

fn series(name: &str, style: usize, points: &[(f64, f64)]) -> Series {
    let band = Some(points.iter().map(|(_, y)| (y - 0.1, y + 0.1)).collect());
    Series { name: name.into(), points: points.to_vec(), band, style }
}

/// Well-formed; words apart and on the page; no number that is none.
#[track_caller]
fn check(spec: &ChartSpec) -> String {
    let svg = line(spec);
    let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{e}: {svg}"));
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    let font =
        document.root_element().attribute("font-size").and_then(|t| t.parse::<f64>().ok()).expect("a size");
    let boxes: Vec<(String, Rect)> = document
        .descendants()
        .filter(|n| n.tag_name().name() == "text")
        .map(|n| {
            let at = |name| n.attribute(name).and_then(|t| t.parse::<f64>().ok()).expect("a number");
            let text = n.text().unwrap_or_default().to_string();
            let bold = n.attribute("class").is_some_and(|c| c.starts_with("value"));
            let (left, base) = (at("x"), at("y"));
            let wide = text_width(&text, bold) * font;
            (text, Rect { left, top: base - 0.75 * font, right: left + wide, bottom: base + 0.2 * font })
        })
        .collect();
    let page = Rect::sized(0.0, 0.0, spec.width, spec.height).grown(0.01);
    for (i, (text, rect)) in boxes.iter().enumerate() {
        if spec.width >= 200.0 {
            assert!(page.holds(rect), "`{text}` {rect:?}");
        }
        for (other, second) in &boxes[i + 1..] {
            assert!(!rect.meets(second), "`{text}` covers `{other}`");
        }
    }
    svg
}

#[test]
fn several_setups_stay_apart() {
    let curve =
        |k: f64| (-20..=20).map(|i| (f64::from(i), k * f64::from(i).powi(2) * 1e-4)).collect::<Vec<_>>();
    for width in [360.0, 620.0, 900.0] {
        let all = (0..6)
            .map(|i| {
                series(
                    ["as drawn", "hole A", "前側", "a name that is much too long to stand", "e", ""][i],
                    i,
                    &curve(1.0 + 1e-3 * i as f64),
                )
            })
            .collect();
        let svg = check(&spec(all, width));
        for class in ["curve s0", "curve s5", "band s0", "dot s2", "now"] {
            assert!(svg.contains(class), "{class}");
        }
        assert!(svg.contains("data-y-unit=\"deg\"") && svg.contains("data-name=\"hole A\""));
    }
}

#[test]
fn odd_values_give_a_chart() {
    let nan = f64::NAN;
    let cases: [&[(f64, f64)]; 14] = [
        &[],
        &[(0.0, 0.0)],
        &[(3.0, 7.0)],
        &[(0.0, 5.0), (1.0, 5.0)],
        &[(0.0, 1.0), (1.0, nan), (2.0, 3.0), (3.0, 2.0)],
        &[(nan, nan), (nan, 1.0)],
        &[(0.0, f64::INFINITY), (1.0, 2.0)],
        &[(0.0, 1e12), (1.0, -3e12)],
        &[(0.0, 1e-12), (1.0, 3e-12)],
        &[(0.0, 1e300), (1.0, -1e300)],
        &[(0.0, f64::MAX), (1.0, f64::MIN)],
        &[(1e-9, 1.0), (2e-9, 2.0)],
        &[(5.0, 1.0), (5.0, 2.0)],
        &[(0.0, 1.0), (1.0, 1.0 + 1e-15)],
    ];
    for points in cases {
        for width in [20.0, 360.0, 700.0] {
            check(&spec(vec![series("one", 0, points)], width));
            check(&spec(vec![series("one", 0, points), series("two", 1, points)], width));
        }
    }
    check(&spec(Vec::new(), 400.0));
}

#[test]
fn a_gap_breaks_the_curve_and_a_lone_point_is_a_dot() {
    let points =
        [(0.0, 1.0), (1.0, 2.0), (2.0, f64::NAN), (3.0, 2.0), (4.0, f64::NAN), (5.0, 1.0), (6.0, 2.0)];
    let svg = line(&ChartSpec { at: None, ..spec(vec![series("one", 0, &points)], 500.0) });
    let document = Document::parse(&svg).expect("well-formed");
    let curve = document.descendants().find(|n| n.attribute("class") == Some("curve s0")).expect("a curve");
    let path = curve.attribute("d").expect("a path");
    assert_eq!((path.matches('M').count(), path.matches('L').count()), (2, 2), "{path}");
    assert_eq!(svg.matches("<circle").count(), 1);
    assert!(svg.contains("data-y=\"1.00 2.00 - 2.00 - 1.00 2.00\""), "{svg}");
}
