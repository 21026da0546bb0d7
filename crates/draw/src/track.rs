//! A course from above with a figure along it: five classes from the least to the most, told apart by colour, width and
//! dash alike, so that they read on grey paper and to eyes that are blind to a colour.

use crate::aim::Aim;
use crate::labels::{Label, Layout, text_width};
use crate::plane::Rect;
use crate::svg;

/// Classes of the figure.
pub const CLASSES: usize = 5;

/// Air around the course \[px\].
const EDGE: f64 = 10.0;

/// Length of a sample of the legend \[px\].
const SAMPLE: f64 = 30.0;

/// Way between marks at most so many on a course.
const MARKS: f64 = 14.0;

/// A course to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackSpec {
    /// What it shows.
    pub title: String,
    /// Places \[m\] and the figure there, as it is shown.
    pub places: Vec<([f64; 2], f64)>,
    /// Way from place to place \[m\].
    pub step: f64,
    /// Whether the end leads to the start.
    pub closed: bool,
    /// Edges of the road at each place, left and right \[m\]; empty where they are not known.
    pub edges: Vec<[[f64; 2]; 2]>,
    /// Cones \[m\].
    pub cones: Vec<[f64; 2]>,
    /// Where sections begin.
    pub sections: Vec<(usize, String)>,
    /// Unit of the figure.
    pub unit: String,
    /// Unit of ways: its symbol and its size \[m\].
    pub way: (String, f64),
    /// Size of the page \[px\].
    pub width: f64,
    /// Height \[px\].
    pub height: f64,
}

/// Borders of the classes: round figures between the least and the most.
fn borders(least: f64, most: f64) -> [f64; CLASSES - 1] {
    // A figure that hardly changes still gets borders that differ.
    let span = (most - least).max(1e-3 * most.abs()).max(1e-9) / CLASSES as f64;
    let magnitude = 10f64.powf(span.log10().floor());
    let round = [1.0, 2.0, 5.0, 10.0]
        .map(|r| r * magnitude)
        .into_iter()
        .min_by(|a, b| (a / span).ln().abs().total_cmp(&(b / span).ln().abs()))
        .unwrap_or(span);
    let middle = (0.5 * (least + most) / round).round() * round;
    // Two to either side of the middle, which is one of them or lies between.
    std::array::from_fn(|i| middle + (i as f64 - 1.5) * round - 0.5 * round)
}

fn class(value: f64, borders: &[f64; CLASSES - 1]) -> usize {
    borders.iter().filter(|b| value >= **b).count()
}

const NAMES: [&str; CLASSES] = ["pace-0", "pace-1", "pace-2", "pace-3", "pace-4"];

/// Draws a course as one `<svg>` element, with classes and no colours of its own.
pub fn track(spec: &TrackSpec) -> String {
    let sound = |size: f64, other: f64| if size >= 1.0 { size.min(2e4) } else { other };
    let page = Rect::sized(0.0, 0.0, sound(spec.width, 900.0), sound(spec.height, 480.0));
    let font = if page.width() < 520.0 { 13.0 } else { 15.0 };
    let places: Vec<([f64; 2], f64)> = spec
        .places
        .iter()
        .copied()
        .filter(|(p, v)| p.iter().all(|x| x.abs() < 1e6) && v.is_finite())
        .collect();
    let mut out = String::with_capacity(40_000);
    let values = places.iter().map(|p| p.1);
    let (least, most) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
    out.push_str(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw track\" role=\"img\" viewBox=\"0 0 ",
    );
    svg::spot(&mut out, (page.width(), page.height()));
    out.push('"');
    svg::attribute(&mut out, "width", page.width());
    svg::attribute(&mut out, "height", page.height());
    svg::attribute(&mut out, "font-size", font);
    let words = if places.is_empty() {
        format!("{}: nothing to draw", spec.title)
    } else {
        format!("{}: from {least:.0} to {most:.0} {}", spec.title, spec.unit)
    };
    svg::text_attribute(&mut out, "aria-label", &words);
    out.push('>');
    svg::text(&mut out, "title", (EDGE, EDGE + font), &spec.title);
    let mut layout = Layout::new(page, font);
    let top = 2.0 * EDGE + font;
    layout.mark(Rect { bottom: top, ..page });
    if places.len() > 1 {
        let borders = borders(least, most);
        let bottom = legend(&mut out, spec, &borders, page, font);
        layout.mark(Rect { top: bottom, ..page });
        let air = 3.2 * font;
        let plot =
            Rect { left: air, top: top + 0.6 * air, right: page.right - air, bottom: bottom - 0.6 * air };
        let mut all: Vec<[f64; 2]> = places.iter().map(|p| p.0).collect();
        all.extend(&spec.cones);
        let aim = Aim::fit(&all, &plot);
        edges(&mut out, spec, &aim);
        path(&mut out, &mut layout, &places, spec.closed, &borders, &aim);
        cones(&mut out, &mut layout, spec, &aim);
        marks(&mut out, &mut layout, spec, &places, &aim);
    }
    layout.place();
    out.push_str("<g class=\"words\" aria-hidden=\"true\">");
    layout.write(&mut out);
    out.push_str("</g></svg>");
    out
}

fn legend(out: &mut String, spec: &TrackSpec, borders: &[f64; CLASSES - 1], page: Rect, font: f64) -> f64 {
    let high = 1.4 * font;
    let words = |i: usize| match (i.checked_sub(1).and_then(|k| borders.get(k)), borders.get(i)) {
        (None, Some(b)) => format!("below {b:.0}"),
        (Some(a), Some(b)) => format!("{a:.0} to {b:.0}"),
        (Some(a), None) => format!("above {a:.0} {}", spec.unit),
        (None, None) => String::new(),
    };
    let mut rows: Vec<Vec<(usize, f64, String)>> = vec![Vec::new()];
    let mut x = EDGE;
    for i in 0..CLASSES {
        let text = words(i);
        let wide = SAMPLE + 6.0 + text_width(&text, false) * font + 16.0;
        if x + wide > page.right - EDGE && x > EDGE {
            rows.push(Vec::new());
            x = EDGE;
        }
        if let Some(row) = rows.last_mut() {
            row.push((i, x, text));
        }
        x += wide;
    }
    let top = page.bottom - EDGE - high * rows.len() as f64;
    out.push_str("<g class=\"legend\">");
    for (r, row) in rows.iter().enumerate() {
        let y = top + (r as f64 + 0.5) * high;
        for (i, x, text) in row {
            let mut line = String::new();
            svg::segment(&mut line, (*x + 2.0, y), (*x + SAMPLE - 2.0, y));
            svg::path(out, NAMES.get(*i).copied().unwrap_or("pace-0"), &line);
            svg::text(out, "scale", (*x + SAMPLE + 6.0, y + 0.36 * font), text);
        }
    }
    out.push_str("</g>");
    top - 4.0
}

fn edges(out: &mut String, spec: &TrackSpec, aim: &Aim) {
    for side in 0..2 {
        let mut line = String::new();
        for (i, edge) in spec.edges.iter().enumerate() {
            let Some(at) = edge.get(side) else { continue };
            line.push(if i == 0 { 'M' } else { 'L' });
            svg::spot(&mut line, aim.spot(*at));
        }
        if !line.is_empty() {
            if spec.closed {
                line.push('Z');
            }
            svg::path(out, "frame", &line);
        }
    }
}

fn path(
    out: &mut String,
    layout: &mut Layout,
    places: &[([f64; 2], f64)],
    closed: bool,
    borders: &[f64; CLASSES - 1],
    aim: &Aim,
) {
    let legs = if closed { places.len() } else { places.len() - 1 };
    let mut i = 0;
    let get = |i: usize| places.get(i % places.len());
    while i < legs {
        let Some(first) = get(i) else { break };
        let own = class(first.1, borders);
        let mut line = String::from("M");
        let mut before = aim.spot(first.0);
        svg::spot(&mut line, before);
        while i < legs {
            let (Some(here), Some(next)) = (get(i), get(i + 1)) else { break };
            if class(here.1, borders) != own {
                break;
            }
            let to = aim.spot(next.0);
            // Half a pixel on is no other place.
            if (to.0 - before.0).hypot(to.1 - before.1) > 0.7 || i + 1 >= legs {
                line.push('L');
                svg::spot(&mut line, to);
                layout.line(before, to, 2.0);
                before = to;
            }
            i += 1;
        }
        if let Some(next) = get(i) {
            line.push('L');
            svg::spot(&mut line, aim.spot(next.0));
        }
        svg::path(out, NAMES.get(own).copied().unwrap_or("pace-0"), &line);
    }
}

fn cones(out: &mut String, layout: &mut Layout, spec: &TrackSpec, aim: &Aim) {
    for cone in &spec.cones {
        let at = aim.spot(*cone);
        svg::circle(out, "joint", at, 2.2);
        layout.mark(Rect::around(at, 2.5));
    }
}

/// Start with the way it goes, ways along, names of sections.
fn marks(out: &mut String, layout: &mut Layout, spec: &TrackSpec, places: &[([f64; 2], f64)], aim: &Aim) {
    if let (Some(first), Some(next)) = (places.first(), places.get(1)) {
        let (a, b) = (aim.spot(first.0), aim.spot(next.0));
        let long = (b.0 - a.0).hypot(b.1 - a.1).max(1e-9);
        let (x, y) = ((b.0 - a.0) / long, (b.1 - a.1) / long);
        let mut line = String::new();
        svg::segment(&mut line, (a.0 - 9.0 * y, a.1 + 9.0 * x), (a.0 + 9.0 * y, a.1 - 9.0 * x));
        let tip = (a.0 - 9.0 * y + 14.0 * x, a.1 + 9.0 * x + 14.0 * y);
        svg::segment(&mut line, (a.0 - 9.0 * y, a.1 + 9.0 * x), tip);
        svg::segment(&mut line, tip, (tip.0 - 5.0 * x - 3.0 * y, tip.1 - 5.0 * y + 3.0 * x));
        svg::path(out, "now", &line);
        layout.mark(Rect::around(a, 9.0));
    }
    let total = spec.step * places.len() as f64 / spec.way.1.max(1e-9);
    let every = [10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0]
        .into_iter()
        .find(|e| total / e <= MARKS)
        .unwrap_or(10_000.0);
    let mut k = 1.0;
    while k * every < total {
        let index = (k * every * spec.way.1 / spec.step).round() as usize;
        if let Some((at, _)) = places.get(index) {
            let at = aim.spot(*at);
            svg::circle(out, "dot", at, 2.5);
            layout.label(Label {
                lines: vec![format!("{:.0} {}", k * every, spec.way.0)],
                short: Some(format!("{:.0}", k * every)),
                class: "scale",
                anchors: vec![at],
                reach: 4.0,
                rank: 2,
            });
        }
        k += 1.0;
    }
    for (index, name) in &spec.sections {
        let Some((at, _)) = places.get(*index) else { continue };
        layout.label(Label {
            lines: vec![name.clone()],
            short: None,
            class: "name",
            anchors: vec![aim.spot(*at)],
            reach: 6.0,
            rank: 1,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn oval() -> TrackSpec {
        let places: Vec<([f64; 2], f64)> = (0..400)
            .map(|i| {
                let a = std::f64::consts::TAU * f64::from(i) / 400.0;
                ([300.0 * a.cos(), 120.0 * a.sin()], 120.0 + 60.0 * (2.0 * a).sin())
            })
            .collect();
        TrackSpec {
            title: "an oval".into(),
            step: 3.5,
            closed: true,
            edges: Vec::new(),
            cones: vec![[0.0, 0.0]],
            sections: vec![(0, "start".into()), (200, "far <end>".into())],
            unit: "km/h".into(),
            way: ("m".into(), 1.0),
            places,
            width: 700.0,
            height: 420.0,
        }
    }

    #[test]
    fn all_classes_stand_on_the_page_and_in_the_legend() {
        let svg = track(&oval());
        for name in NAMES {
            assert!(svg.matches(name).count() >= 2, "{name}");
        }
        assert!(svg.contains("far &lt;end&gt;") && svg.contains("500 m"));
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
    }

    #[test]
    fn borders_are_round_and_rise() {
        for (least, most) in [(40.0, 203.0), (12.0, 19.0), (0.0, 1.0), (90.0, 90.0), (3.0, 4000.0)] {
            let b = borders(least, most);
            assert!(b.windows(2).all(|w| w[0] < w[1]), "{b:?}");
            assert!(
                b[0] > least - (most - least) - 1.0 && b[3] < most + (most - least) + 1.0,
                "{least} {most} {b:?}"
            );
        }
    }

    #[test]
    fn odd_courses_are_drawn() {
        let empty = TrackSpec { places: Vec::new(), ..oval() };
        assert!(track(&empty).contains("nothing to draw"));
        let one = TrackSpec { places: vec![([1.0, 1.0], 3.0); 5], width: 0.0, height: f64::NAN, ..oval() };
        assert!(!track(&one).contains("NaN"));
        let broken = TrackSpec { places: vec![([f64::NAN, 1.0], 3.0), ([1e9, 0.0], 1.0)], ..oval() };
        assert!(track(&broken).contains("nothing to draw"));
    }
}
