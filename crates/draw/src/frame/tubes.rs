//! The tubes: thin where they rest, in the line of their class where they are under load.

use nalgebra::Vector3;

use super::places::{SAME, Shape};
use super::signs::ROOMY;
use super::usage::{self, Class};
use super::{FrameTube, Sheet};
use crate::labels::{Label, elide};
use crate::plane::{Spot, between, distance};
use crate::svg;

/// A tube shorter than this on the page is seen from its end, and is drawn as a dot \[px\].
const DOT: f64 = 4.0;

/// A number nearer than this to a tube more in use would seem to belong to that one \[px\].
const COVER: f64 = 7.0;

/// From one hatch mark of a tube that is too weak to the next, and half the length of one \[px\].
const HATCH_STEP: f64 = 9.0;
const HATCH: f64 = 6.5;

/// Longest name of a tube beside it \[font sizes\].
const LONGEST: f64 = 11.0;

/// Where along a tube its number may stand, the best first.
const SHARES: [f64; 5] = [0.5, 0.34, 0.66, 0.2, 0.8];

/// Draws them all and asks for their labels.
pub(crate) fn draw(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>]) {
    let mut rest = String::new();
    for run in shapes.iter().flat_map(|s| &s.rest) {
        let run = spots(sheet, run);
        polyline(&mut rest, &run);
        keep_off(sheet, &run, 0.4);
    }
    svg::path(&mut sheet.out, "rest", &rest);
    let now: Vec<Vec<Vec<Spot>>> =
        shapes.iter().map(|s| s.now.iter().map(|run| spots(sheet, run)).collect()).collect();
    let mut order: Vec<(&Shape<'_>, &Vec<Vec<Spot>>)> = shapes.iter().zip(&now).collect();
    // The most used on top; a stable sort, so that equals keep the order of the file.
    order.sort_by(|(a, _), (b, _)| a.class.cmp(&b.class).then(a.tube.uses.total_cmp(&b.tube.uses)));
    for (shape, runs) in &order {
        tube(sheet, shape, runs);
        for run in *runs {
            keep_off(sheet, run, weight(shape.class));
        }
    }
    order.sort_by(|(a, _), (b, _)| b.class.cmp(&a.class).then(b.tube.uses.total_cmp(&a.tube.uses)));
    labels(sheet, &order);
}

fn spots(sheet: &Sheet<'_>, run: &[Vector3<f64>]) -> Vec<Spot> {
    run.iter().map(|at| sheet.aim.spot(at)).collect()
}

/// How much words had better not cross a line: the more a tube is in use, the more of it should be seen.
fn weight(class: Class) -> f64 {
    match class {
        Class::Low | Class::Quarter | Class::Half => 1.0,
        Class::High => 1.5,
        Class::Unknown | Class::Over => 2.5,
    }
}

fn keep_off(sheet: &mut Sheet<'_>, run: &[Spot], weight: f64) {
    for (a, b) in pieces(run) {
        sheet.layout.line(a, b, weight);
    }
}

fn tube(sheet: &mut Sheet<'_>, shape: &Shape<'_>, runs: &[Vec<Spot>]) {
    let words = match shape.class {
        Class::Unknown => format!("{}: use not known", shape.tube.name),
        Class::Over => format!("{}: {} in use, too weak", shape.tube.name, usage::text(shape.tube.uses)),
        _ => format!("{}: {} in use", shape.tube.name, usage::text(shape.tube.uses)),
    };
    let out = &mut sheet.out;
    out.push_str("<g class=\"tube\" role=\"img\"");
    svg::text_attribute(out, "data-name", &shape.tube.name);
    if let Some(percent) = usage::percent(shape.tube.uses).filter(|p| p.is_finite()) {
        svg::attribute(out, "data-use", percent);
    }
    svg::text_attribute(out, "aria-label", &words);
    out.push_str("><title>");
    svg::escape(out, &words);
    out.push_str("</title>");
    let mut grip = String::new();
    for run in runs {
        polyline(&mut grip, run);
        stroke(out, shape.class, run);
    }
    // Wide and unseen: a thin line is hard to point at.
    svg::path(out, "grip", &grip);
    out.push_str("</g>");
}

/// Draws a line of a class; also the samples of the legend.
pub(crate) fn stroke(out: &mut String, class: Class, run: &[Spot]) {
    let Some(first) = run.first() else { return };
    let reach = run.iter().map(|at| distance(*first, *at)).fold(0.0, f64::max);
    if reach < DOT {
        svg::circle(out, class.name(), *first, class.radius());
        return;
    }
    let mut path = String::with_capacity(run.len() * 14);
    polyline(&mut path, run);
    svg::path(out, class.name(), &path);
    if class == Class::Over {
        svg::path(out, "core", &path);
        svg::path(out, "hatch", &hatch(run));
    }
}

fn polyline(path: &mut String, run: &[Spot]) {
    for (i, at) in run.iter().enumerate() {
        path.push(if i == 0 { 'M' } else { 'L' });
        svg::spot(path, *at);
    }
}

/// Slanting marks across a line, evenly along it.
fn hatch(run: &[Spot]) -> String {
    let mut path = String::new();
    let mut ahead = HATCH_STEP / 2.0;
    for (a, b) in pieces(run) {
        let length = distance(a, b);
        if length < 1e-6 {
            continue;
        }
        let (dx, dy) = ((b.0 - a.0) / length, (b.1 - a.1) / length);
        // Turned by 60 degrees from the line.
        let (sx, sy) = ((0.5 * dx - 0.866 * dy) * HATCH, (0.866 * dx + 0.5 * dy) * HATCH);
        while ahead < length {
            let at = between(a, b, ahead / length);
            svg::segment(&mut path, (at.0 - sx, at.1 - sy), (at.0 + sx, at.1 + sy));
            ahead += HATCH_STEP;
        }
        ahead -= length;
    }
    path
}

/// Numbers beside the tubes, the most used one first. A tube that is too weak, or whose use is not known, is named
/// as well where the page is wide.
fn labels(sheet: &mut Sheet<'_>, order: &[(&Shape<'_>, &Vec<Vec<Spot>>)]) {
    let mut numbered: Vec<&Shape<'_>> = Vec::new();
    let mut above: Vec<(Spot, Spot)> = Vec::new();
    for (shape, runs) in order {
        let Some(run) = runs.iter().max_by(|a, b| length(a).total_cmp(&length(b))) else { continue };
        let mut anchors: Vec<Spot> = SHARES.iter().filter_map(|share| along(run, *share)).collect();
        if shape.class != Class::Over {
            anchors.retain(|at| above.iter().all(|(a, b)| away(*at, *a, *b) >= COVER));
        }
        above.extend(runs.iter().flat_map(|run| pieces(run)));
        if anchors.is_empty() {
            continue;
        }
        let text = usage::text(shape.tube.uses);
        let twin = |other: &Shape<'_>| {
            shape.class != Class::Over
                && usage::text(other.tube.uses) == text
                && mirrored(shape.tube, other.tube)
        };
        if numbered.iter().any(|other| twin(other)) {
            continue;
        }
        numbered.push(shape);
        let (class, rank) = match shape.class {
            Class::Over => ("value over", 0),
            Class::Unknown => ("value", 1),
            Class::High => ("value", 3),
            Class::Half => ("name", 4),
            Class::Quarter => ("faint", 5),
            Class::Low => ("faint", 6),
        };
        let mut label = Label { lines: vec![text.clone()], short: None, class, anchors, reach: 4.0, rank };
        let named = shape.class >= Class::Unknown && sheet.page.width() >= ROOMY;
        if named && !shape.tube.name.is_empty() {
            label.lines = vec![format!("{} {text}", elide(&shape.tube.name, LONGEST, true))];
            label.short = Some(text);
        }
        sheet.layout.label(label);
    }
}

fn length(run: &[Spot]) -> f64 {
    pieces(run).map(|(a, b)| distance(a, b)).sum()
}

/// The place at a share of a line's length.
fn along(run: &[Spot], share: f64) -> Option<Spot> {
    let mut ahead = length(run) * share;
    for (a, b) in pieces(run) {
        let piece = distance(a, b);
        if ahead <= piece {
            return Some(between(a, b, ahead / piece.max(1e-9)));
        }
        ahead -= piece;
    }
    run.last().copied()
}

fn pieces(run: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> {
    let single = run.first().filter(|_| run.len() == 1).map(|at| (*at, *at));
    run.iter().copied().zip(run.iter().copied().skip(1)).chain(single)
}

/// Distance of a place from a line between two others.
fn away(at: Spot, a: Spot, b: Spot) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let share = ((at.0 - a.0) * dx + (at.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-9);
    distance(at, between(a, b, share.clamp(0.0, 1.0)))
}

/// Whether two tubes are each other's image in the middle plane of the car.
fn mirrored(a: &FrameTube, b: &FrameTube) -> bool {
    let flip = |at: &Vector3<f64>| Vector3::new(at.x, -at.y, at.z);
    let same = |(a, b): (&Vector3<f64>, &Vector3<f64>)| (flip(a) - b).norm() < SAME;
    a.rest.len() == b.rest.len()
        && (a.rest.iter().zip(&b.rest).all(same) || a.rest.iter().zip(b.rest.iter().rev()).all(same))
}
