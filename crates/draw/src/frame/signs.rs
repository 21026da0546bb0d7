//! Joints, ground and forces.

use nalgebra::Vector3;

use super::aim::usable;
use super::places::{SAME, Shape, loaded};
use super::{FrameLoad, Sheet};
use crate::labels::{Label, elide};
use crate::plane::{Rect, Spot};
use crate::svg;

/// Reach of the ground sign from its point \[px\]: upper left, lower right.
pub(crate) const FOOT: [Spot; 2] = [(-11.0, -2.0), (11.0, 18.0)];

/// The longest arrow, as a share of the plot's smaller side, and its bounds \[px\].
const ARROW: f64 = 0.18;
const ARROW_BOUNDS: (f64, f64) = (12.0, 64.0);

/// A force of which less than this share is seen acts along the line of sight, and is a ring instead of an arrow.
const ALONG: f64 = 0.3;

/// From this width of the page on there is room for names beside numbers \[px\].
pub(crate) const ROOMY: f64 = 560.0;

/// Longest name \[font sizes\].
const LONGEST: f64 = 12.0;

/// A plot with a smaller side has no room for forces and ground \[px\].
const SMALL: f64 = 56.0;

/// Whether forces and ground are drawn at all.
pub(crate) fn have_room(sheet: &Sheet<'_>) -> bool {
    sheet.plot.width().min(sheet.plot.height()) >= SMALL
}

/// A force on the page.
#[derive(Clone, Debug)]
pub(crate) struct Arrow<'a> {
    pub load: &'a FrameLoad,
    /// Where it acts, under load.
    pub at: Vector3<f64>,
    /// From there to its tail and to its tip \[px\].
    pub from: Spot,
    pub to: Spot,
    /// Instead of an arrow: whether a force along the line of sight comes toward the eye.
    pub toward: Option<bool>,
}

/// The forces that can be drawn. An arrow that points into the frame ends at its point, any other begins there, so
/// that it stands outside.
pub(crate) fn arrows<'a>(sheet: &Sheet<'a>, shapes: &[Shape<'_>]) -> Vec<Arrow<'a>> {
    let sound = |l: &&FrameLoad| usable(&l.at) && l.force.norm().is_finite() && l.force.norm() > 0.0;
    let room = have_room(sheet);
    let loads: Vec<&FrameLoad> = sheet.spec.loads.iter().filter(|_| room).filter(sound).collect();
    let most = loads.iter().map(|l| l.force.norm()).fold(0.0, f64::max);
    let longest = (sheet.plot.width().min(sheet.plot.height()) * ARROW).clamp(ARROW_BOUNDS.0, ARROW_BOUNDS.1);
    let places: Vec<Vector3<f64>> = shapes.iter().flat_map(|s| s.rest.iter().flatten().copied()).collect();
    let (mut lo, mut hi) = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
    for at in &places {
        (lo, hi) = (lo.inf(at), hi.sup(at));
    }
    let middle = if places.is_empty() { Vector3::zeros() } else { (lo + hi) / 2.0 };
    loads
        .into_iter()
        .map(|load| {
            let at = loaded(shapes, &load.at);
            let way = sheet.aim.flat(&(load.force / most));
            let way = (way.0 * longest, way.1 * longest);
            let seen = way.0.hypot(way.1);
            let whole = longest * load.force.norm() / most;
            let toward = (seen < ALONG * whole).then(|| sheet.aim.near(&load.force) > 0.0);
            let (from, to) = if (load.at - middle).dot(&(load.force / most)) < 0.0 {
                ((-way.0, -way.1), (0.0, 0.0))
            } else {
                ((0.0, 0.0), way)
            };
            Arrow { load, at, from, to, toward }
        })
        .collect()
}

/// Draws joints, ground and forces, and asks for their names.
pub(crate) fn draw(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>], arrows: &[Arrow<'_>]) {
    if have_room(sheet) {
        feet(sheet);
    }
    joints(sheet, shapes);
    for arrow in arrows {
        force(sheet, arrow);
    }
}

/// Words that have not yet their room.
fn word(sheet: &mut Sheet<'_>, class: &'static str, rank: u8, anchor: Spot, reach: f64, text: &str) {
    let lines = vec![elide(text, LONGEST, false).into_owned()];
    sheet.layout.label(Label { lines, short: None, class, anchors: vec![anchor], reach, rank });
}

/// A triangle on hatched ground.
fn feet(sheet: &mut Sheet<'_>) {
    for (name, at) in sheet.spec.feet.iter().filter(|(_, at)| usable(at)) {
        let (x, y) = sheet.aim.spot(at);
        let mut path = String::new();
        let at = |dx: f64, dy: f64| (x + dx, y + dy);
        path.push('M');
        svg::spot(&mut path, at(0.0, 0.0));
        for corner in [at(-7.0, 11.0), at(7.0, 11.0)] {
            path.push('L');
            svg::spot(&mut path, corner);
        }
        path.push('Z');
        let mut ground = String::new();
        svg::segment(&mut ground, at(-10.0, 11.0), at(10.0, 11.0));
        for dx in [-7.0, -2.0, 3.0, 8.0] {
            svg::segment(&mut ground, at(dx, 11.0), at(dx - 4.0, 16.0));
        }
        svg::path(&mut sheet.out, "foot", &path);
        svg::path(&mut sheet.out, "ground-hatch", &ground);
        sheet.layout.mark(Rect { left: x - 11.0, top: y - 2.0, right: x + 11.0, bottom: y + 17.0 });
        if sheet.page.width() >= ROOMY {
            word(sheet, "name", 7, (x, y + 9.0), 12.0, name);
        }
    }
}

fn joints(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>]) {
    for (name, at) in sheet.spec.nodes.iter().filter(|(_, at)| usable(at)) {
        if sheet.spec.feet.iter().any(|(_, foot)| (foot - at).norm() < SAME) {
            continue;
        }
        let spot = sheet.aim.spot(&loaded(shapes, at));
        svg::circle(&mut sheet.out, "joint", spot, 2.5);
        sheet.layout.mark(Rect::around(spot, 3.5));
        // Where a force acts its own name says more.
        let pushed = sheet.spec.loads.iter().any(|l| (l.at - at).norm() < SAME && l.name == *name);
        if !pushed && sheet.page.width() >= ROOMY {
            word(sheet, "faint", 8, spot, 4.0, name);
        }
    }
}

/// An arrow, or a ring with a dot (toward the eye) or a cross (away from it).
fn force(sheet: &mut Sheet<'_>, arrow: &Arrow<'_>) {
    let at = sheet.aim.spot(&arrow.at);
    let (tail, tip) = ((at.0 + arrow.from.0, at.1 + arrow.from.1), (at.0 + arrow.to.0, at.1 + arrow.to.1));
    let out = &mut sheet.out;
    out.push_str("<g class=\"force\" role=\"img\"");
    svg::text_attribute(out, "data-name", &arrow.load.name);
    let words = format!("{}: {}", arrow.load.name, arrow.load.text);
    svg::text_attribute(out, "aria-label", &words);
    out.push_str("><title>");
    svg::escape(out, &words);
    out.push_str("</title>");
    // The free end carries the words.
    let mut anchor = if arrow.to == (0.0, 0.0) { tail } else { tip };
    if let Some(toward) = arrow.toward {
        anchor = at;
        svg::circle(out, "load ring", at, 7.0);
        if toward {
            svg::circle(out, "load tip", at, 2.5);
        } else {
            let mut path = String::new();
            svg::segment(&mut path, (at.0 - 4.9, at.1 - 4.9), (at.0 + 4.9, at.1 + 4.9));
            svg::segment(&mut path, (at.0 - 4.9, at.1 + 4.9), (at.0 + 4.9, at.1 - 4.9));
            svg::path(out, "load", &path);
        }
        sheet.layout.mark(Rect::around(at, 8.0));
    } else {
        let length = (tip.0 - tail.0).hypot(tip.1 - tail.1).max(1e-9);
        let (dx, dy) = ((tip.0 - tail.0) / length, (tip.1 - tail.1) / length);
        let head = (0.5 * length).clamp(4.0, 10.0);
        let neck = (tip.0 - dx * head, tip.1 - dy * head);
        let mut path = String::new();
        if length > head {
            svg::segment(&mut path, tail, neck);
        }
        svg::path(out, "load", &path);
        let mut path = String::from("M");
        svg::spot(&mut path, tip);
        for side in [0.36, -0.36] {
            path.push('L');
            svg::spot(&mut path, (neck.0 - dy * head * side, neck.1 + dx * head * side));
        }
        path.push('Z');
        svg::path(out, "load tip", &path);
        sheet.layout.line(tail, tip, 1.0);
        let (left, right) = (tip.0.min(neck.0), tip.0.max(neck.0));
        let (top, bottom) = (tip.1.min(neck.1), tip.1.max(neck.1));
        sheet.layout.mark(Rect { left, top, right, bottom }.grown(2.0));
    }
    sheet.out.push_str("</g>");
    let text = elide(&arrow.load.text, LONGEST, true).into_owned();
    let mut lines = vec![text.clone()];
    if !arrow.load.name.is_empty() && sheet.page.width() >= ROOMY {
        lines.insert(0, elide(&arrow.load.name, LONGEST, false).into_owned());
    }
    let reach = if arrow.toward.is_some() { 8.0 } else { 3.0 };
    let label = Label { lines, short: Some(text), class: "value", anchors: vec![anchor, at], reach, rank: 2 };
    sheet.layout.label(label);
}
