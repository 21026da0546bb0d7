//! Maps: one figure over two others, as lines of equal height with their values, as on a map of the land. Reads the
//! same in black and white.

use super::frame::Frame;
use super::range::Range;
use super::{Axis, ChartSpec, Series};
use crate::labels::elide;
use crate::plane::{Rect, Spot};
use crate::svg;
use crate::text_width;

/// About how many lines there are.
const LINES: f64 = 9.0;

/// Step between the strokes that fill what has no value \[px\].
const STROKES: f64 = 7.0;

/// A map to be drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MapSpec {
    /// What it shows.
    pub title: String,
    /// Along the page.
    pub x: Axis,
    /// Up the page.
    pub y: Axis,
    /// The figure.
    pub of: Axis,
    /// Places along x, rising.
    pub xs: Vec<f64>,
    /// Places along y, rising.
    pub ys: Vec<f64>,
    /// Values, `ys` outside and `xs` inside; `None` where there is none.
    pub values: Vec<Option<f64>>,
    /// Values whose line is a border, each with a word.
    pub borders: Vec<(f64, String)>,
    /// Width of the page \[px\].
    pub width: f64,
    /// Height of the page \[px\].
    pub height: f64,
}

impl MapSpec {
    fn value(&self, column: usize, row: usize) -> Option<f64> {
        let value = self.values.get(row * self.xs.len() + column).copied().flatten();
        value.filter(|v| v.is_finite())
    }

    /// Corners of a field with their values, round it; `None` where one has none.
    fn field(&self, column: usize, row: usize) -> Option<[(f64, f64, f64); 4]> {
        let corner = |c: usize, r: usize| Some((*self.xs.get(c)?, *self.ys.get(r)?, self.value(c, r)?));
        let (right, above) = (column + 1, row + 1);
        Some([corner(column, row)?, corner(right, row)?, corner(right, above)?, corner(column, above)?])
    }

    fn fields(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let columns = self.xs.len().saturating_sub(1);
        (0..self.ys.len().saturating_sub(1)).flat_map(move |r| (0..columns).map(move |c| (c, r)))
    }
}

/// Draws a map as one `<svg>` element.
pub fn map(spec: &MapSpec) -> String {
    let places = |xs: &[f64], ys: &[f64]| Series {
        points: xs.iter().flat_map(|x| ys.iter().map(|y| (*x, *y))).collect(),
        ..Series::default()
    };
    let chart = ChartSpec {
        title: spec.title.clone(),
        x: spec.x.clone(),
        y: spec.y.clone(),
        series: vec![places(&spec.xs, &spec.ys)],
        width: spec.width,
        height: spec.height,
        ..ChartSpec::default()
    };
    let mut frame = Frame::new(&chart);
    frame.y = Range::new(spec.ys.iter().copied(), 8.0, true);
    let mut out = String::with_capacity(16_000);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw map\" role=\"img\" viewBox=\"0 0 ");
    svg::spot(&mut out, (spec.width, spec.height));
    out.push('"');
    svg::attribute(&mut out, "width", spec.width);
    svg::attribute(&mut out, "height", spec.height);
    svg::attribute(&mut out, "font-size", frame.font);
    let over = format!("{}: {} over {} and {}", spec.title, spec.of.words(), spec.x.words(), spec.y.words());
    svg::text_attribute(&mut out, "aria-label", &over);
    out.push('>');
    frame.draw(&mut out, &chart);
    empty(&mut out, spec, &frame);
    let values = Range::new(spec.values.iter().flatten().copied(), LINES, true);
    let mut taken: Vec<Rect> = Vec::new();
    // Borders first: their words have the choice of places.
    for (level, word) in &spec.borders {
        line(&mut out, spec, &frame, *level, "border", word, &mut taken);
    }
    for level in values.ticks() {
        let is_border = spec.borders.iter().any(|(b, _)| (b - level).abs() < values.step * 1e-6);
        if !is_border {
            line(&mut out, spec, &frame, level, "contour", &values.text(level, 0), &mut taken);
        }
    }
    super::head(&mut out, &frame, &chart);
    out.push_str("</svg>");
    out
}

/// Strokes over the fields that have no value.
fn empty(out: &mut String, spec: &MapSpec, frame: &Frame) {
    let mut path = String::new();
    for (column, row) in spec.fields() {
        if spec.field(column, row).is_some() {
            continue;
        }
        let at = |c: usize, r: usize| Some(frame.spot(*spec.xs.get(c)?, *spec.ys.get(r)?));
        let (Some(low), Some(high)) = (at(column, row), at(column + 1, row + 1)) else { continue };
        // Lines x + y = k STROKES of the whole page, cut to the field, so that neighbours join.
        let (left, right, top, bottom) = (low.0, high.0, high.1, low.1);
        let first = ((left + top) / STROKES).ceil() as i64;
        let last = ((right + bottom) / STROKES).floor() as i64;
        for k in first..=last {
            let sum = k as f64 * STROKES;
            let (x0, x1) = ((sum - bottom).max(left), (sum - top).min(right));
            if x0 < x1 {
                svg::segment(&mut path, (x0, sum - x0), (x1, sum - x1));
            }
        }
    }
    svg::path(out, "void", &path);
}

/// The line of one value, with its word where there is room.
fn line(
    out: &mut String,
    spec: &MapSpec,
    frame: &Frame,
    level: f64,
    class: &str,
    word: &str,
    taken: &mut Vec<Rect>,
) {
    let mut pieces: Vec<(Spot, Spot)> = Vec::new();
    for (column, row) in spec.fields() {
        if let Some(corners) = spec.field(column, row) {
            cross(&corners, level, |a, b| {
                pieces.push((frame.spot(a.0, a.1), frame.spot(b.0, b.1)));
            });
        }
    }
    let mut path = String::new();
    for (a, b) in &pieces {
        svg::segment(&mut path, *a, *b);
    }
    svg::path(out, class, &path);
    let text = elide(word, frame.plot.width() / frame.font * 0.4, false);
    let size = (text_width(&text, false) * frame.font, frame.font * 1.2);
    // The middle one of the line's pieces first, then outward.
    let middle = pieces.len() / 2;
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by_key(|i| i.abs_diff(middle));
    for piece in order {
        let Some((a, b)) = pieces.get(piece) else { continue };
        let at = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
        let rect = Rect::sized(at.0 - size.0 / 2.0, at.1 - size.1 / 2.0, size.0, size.1);
        if frame.plot.holds(&rect) && !taken.iter().any(|t| t.meets(&rect)) {
            let class = if class == "border" { "lit" } else { "tick" };
            svg::text(out, class, (rect.left, at.1 + frame.font * 0.36), &text);
            taken.push(rect.grown(2.0));
            return;
        }
    }
}

/// Where a value crosses a field, straight between its corners: marching squares. A saddle is parted at its middle.
fn cross(corners: &[(f64, f64, f64); 4], level: f64, mut piece: impl FnMut((f64, f64), (f64, f64))) {
    let above = corners.map(|c| c.2 >= level);
    let mut crossings: [Option<(f64, f64)>; 4] = [None; 4];
    let mut count = 0;
    for (side, crossing) in crossings.iter_mut().enumerate() {
        let (Some(a), Some(b)) = (corners.get(side), corners.get((side + 1) % 4)) else { continue };
        if (a.2 >= level) != (b.2 >= level) {
            let share = (level - a.2) / (b.2 - a.2);
            *crossing = Some((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            count += 1;
        }
    }
    let mut pair = |i: usize, j: usize| {
        if let (Some(Some(a)), Some(Some(b))) = (crossings.get(i), crossings.get(j)) {
            piece(*a, *b);
        }
    };
    match count {
        2 => {
            let found: Vec<usize> =
                crossings.iter().enumerate().filter(|(_, c)| c.is_some()).map(|(i, _)| i).collect();
            if let [i, j] = found.as_slice() {
                pair(*i, *j);
            }
        }
        4 => {
            let middle = corners.iter().map(|c| c.2).sum::<f64>() / 4.0 >= level;
            let first = above.first().copied().unwrap_or(false);
            // The corner on its own side of the line is cut off by the two sides that meet at it.
            if first == middle {
                pair(0, 1);
                pair(2, 3);
            } else {
                pair(3, 0);
                pair(1, 2);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spec(value: impl Fn(f64, f64) -> Option<f64>) -> MapSpec {
        let xs: Vec<f64> = (0..20).map(|i| f64::from(i) / 19.0).collect();
        let ys: Vec<f64> = (0..14).map(|i| f64::from(i) / 13.0).collect();
        MapSpec {
            title: "height".into(),
            values: ys.iter().flat_map(|y| xs.iter().map(|x| value(*x, *y)).collect::<Vec<_>>()).collect(),
            xs,
            ys,
            borders: vec![(0.5, "half way".into())],
            width: 480.0,
            height: 320.0,
            ..MapSpec::default()
        }
    }

    /// Every piece of a plane's line lies on it, whatever the direction (own).
    #[test]
    fn a_plane_has_straight_lines() {
        for (a, b) in [(1.0, 0.3), (-0.4, 2.0), (0.7, -0.7)] {
            let spec = spec(|x, y| Some(a * x + b * y));
            let mut count = 0;
            for (column, row) in spec.fields() {
                cross(&spec.field(column, row).unwrap(), 0.2, |p, q| {
                    count += 1;
                    for (x, y) in [p, q] {
                        assert!((a * x + b * y - 0.2).abs() < 1e-12);
                    }
                });
            }
            assert!(count > 10, "{count}");
        }
    }

    /// A saddle has two pieces that do not cross.
    #[test]
    fn a_saddle_is_parted() {
        for high in [0.2, 1.4] {
            let corners = [(0.0, 0.0, high), (1.0, 0.0, 0.0), (1.0, 1.0, high), (0.0, 1.0, 0.0)];
            let mut pieces = Vec::new();
            cross(&corners, 0.15, |a, b| pieces.push((a, b)));
            assert_eq!(pieces.len(), 2, "{high}");
        }
    }

    #[test]
    fn what_has_no_value_is_hatched() {
        let whole = map(&spec(|x, y| Some(x + y)));
        assert!(!whole.contains("class=\"void\"") && whole.contains("half way"));
        let part = map(&spec(|x, y| (x + y < 1.5).then_some(x + y)));
        assert!(part.contains("class=\"void\""));
        for odd in [map(&spec(|_, _| None)), map(&MapSpec::default()), map(&spec(|_, _| Some(f64::NAN)))] {
            assert!(odd.starts_with("<svg") && !odd.contains("NaN"), "{odd}");
        }
    }
}
