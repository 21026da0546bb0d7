//! Line charts: several setups over one quantity, with units on both axes.
//!
//! Values arrive in the units that are shown. Curves differ by colour, by dash and by a name at their end.

mod data;
mod frame;
mod map;
mod names;
mod range;

use crate::labels::elide;
use crate::plane::Rect;
use crate::svg;
use frame::Frame;

pub use map::{MapSpec, map};

/// What one axis shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Axis {
    /// What is measured along it, such as `wheel travel`.
    pub label: String,
    /// The unit of its values; empty for a plain number.
    pub unit: String,
}

/// A curve.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Series {
    /// Its name, written at its end; empty for none.
    pub name: String,
    /// Places and values; a gap where either is not finite.
    pub points: Vec<(f64, f64)>,
    /// Lowest and highest value at each place, where a ± is known.
    pub band: Option<Vec<(f64, f64)>>,
    /// Which colour and dash: 0 is the car itself, 1 to 5 are others; it wraps round.
    pub style: usize,
}

/// A place worth a word, such as an end of the travel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mark {
    /// Where along the axis.
    pub x: f64,
    /// The word.
    pub label: String,
}

/// A chart to be drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChartSpec {
    /// What it shows.
    pub title: String,
    /// Along the page.
    pub x: Axis,
    /// Up the page.
    pub y: Axis,
    /// The curves; the first is the one whose value is read out.
    pub series: Vec<Series>,
    /// Places worth a word.
    pub marks: Vec<Mark>,
    /// Where the car now stands.
    pub at: Option<f64>,
    /// Width of the page \[px\].
    pub width: f64,
    /// Height of the page \[px\].
    pub height: f64,
}

impl ChartSpec {
    /// Size of the words \[px\].
    fn font(&self) -> f64 {
        if self.width < 480.0 { 13.0 } else { 15.0 }
    }
}

impl Axis {
    /// `wheel travel, mm`.
    fn words(&self) -> String {
        match (self.label.is_empty(), self.unit.is_empty()) {
            (false, false) => format!("{}, {}", self.label, self.unit),
            (false, true) => self.label.clone(),
            (true, _) => self.unit.clone(),
        }
    }
}

/// Draws a chart as one `<svg>` element.
pub fn line(spec: &ChartSpec) -> String {
    let frame = Frame::new(spec);
    let mut out = String::with_capacity(12_000);
    let page = (spec.width, spec.height);
    out.push_str(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw chart\" role=\"img\" viewBox=\"0 0 ",
    );
    svg::spot(&mut out, page);
    out.push('"');
    svg::attribute(&mut out, "width", page.0);
    svg::attribute(&mut out, "height", page.1);
    svg::attribute(&mut out, "font-size", frame.font);
    frame.attributes(&mut out, spec);
    let over = format!("{}: {} over {}", spec.title, spec.y.words(), spec.x.words());
    svg::text_attribute(&mut out, "aria-label", &over);
    out.push('>');
    frame.draw(&mut out, spec);
    for series in &spec.series {
        band(&mut out, &frame, series);
    }
    for series in &spec.series {
        curve(&mut out, &frame, series);
    }
    if let Some(at) = spec.at {
        now(&mut out, &frame, spec, at);
    }
    names::draw(&mut out, &frame, spec);
    head(&mut out, &frame, spec);
    out.push_str("</svg>");
    out
}

fn class(kind: &str, series: &Series) -> String {
    format!("{kind} s{}", series.style % 6)
}

/// The area of the ±, one piece for each unbroken run.
fn band(out: &mut String, frame: &Frame, series: &Series) {
    let Some(band) = &series.band else { return };
    let rows: Vec<Option<(f64, f64, f64)>> = series
        .points
        .iter()
        .zip(band)
        .map(|((x, _), (lo, hi))| (x + lo + hi).is_finite().then_some((*x, *lo, *hi)))
        .collect();
    let mut path = String::new();
    for run in rows.split(Option::is_none).filter(|run| run.len() > 1) {
        let upper = run.iter().flatten().map(|(x, _, hi)| (*x, *hi));
        let lower = run.iter().flatten().rev().map(|(x, lo, _)| (*x, *lo));
        for (i, (x, y)) in upper.chain(lower).enumerate() {
            path.push(if i == 0 { 'M' } else { 'L' });
            svg::spot(&mut path, frame.spot(x, y));
        }
        path.push('Z');
    }
    svg::path(out, &class("band", series), &path);
}

/// The curve with its values as data; a point that stands alone is a dot.
fn curve(out: &mut String, frame: &Frame, series: &Series) {
    let finite = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
    out.push_str("<g class=\"series\"");
    svg::text_attribute(out, "data-name", &series.name);
    data::attributes(out, frame, series);
    out.push('>');
    let mut path = String::with_capacity(series.points.len() * 14);
    let mut dots = Vec::new();
    for run in series.points.split(|p| !finite(p)) {
        if let [(x, y)] = run {
            dots.push(frame.spot(*x, *y));
            continue;
        }
        for (i, (x, y)) in run.iter().enumerate() {
            path.push(if i == 0 { 'M' } else { 'L' });
            svg::spot(&mut path, frame.spot(*x, *y));
        }
    }
    svg::path(out, &class("curve", series), &path);
    for dot in dots {
        svg::circle(out, &class("dot", series), dot, 4.0);
    }
    out.push_str("</g>");
}

/// Where the car stands: a line, and a dot on every curve.
fn now(out: &mut String, frame: &Frame, spec: &ChartSpec, at: f64) {
    if !frame.x.has(at) {
        return;
    }
    let x = frame.spot(at, 0.0).0;
    let mut path = String::new();
    svg::segment(&mut path, (x, frame.plot.top), (x, frame.plot.bottom));
    svg::path(out, "now", &path);
    for series in &spec.series {
        if let Some(y) = data::value_at(series, at) {
            svg::circle(out, &class("dot", series), frame.spot(at, y), 4.5);
        }
    }
}

/// Title, the value where the car stands, and what runs up the page.
fn head(out: &mut String, frame: &Frame, spec: &ChartSpec) {
    let font = frame.font;
    let inner = Rect::sized(4.0, 0.0, spec.width - 8.0, spec.height);
    let room = inner.width() / font;
    if room < 2.0 {
        return;
    }
    let title = elide(&spec.title, room, true);
    svg::text(out, "value", (inner.left, font * 1.15), &title);
    let title_width = crate::text_width(&title, true);
    let read = spec.at.and_then(|at| data::value_at(spec.series.first()?, at));
    if let Some(value) = read {
        let unit = &spec.y.unit;
        let text = format!("{}{}{unit}", frame.y.text(value, 1), if unit.is_empty() { "" } else { " " });
        let width = crate::text_width(&text, true);
        if title_width + width + 1.0 <= room {
            svg::text(out, "value lit", (inner.right - width * font, font * 1.15), &text);
        }
    }
    let words = spec.y.words();
    svg::text(out, "tick", (inner.left, font * 2.45), &elide(&words, room, false));
}
