//! Construction in side view: contact line, hub line, instant centre, height of the centre of gravity.

use nalgebra::Vector3;

use super::sheet::Sheet;
use super::words;
use crate::labels::Label;
use crate::plane::{Rect, Spot, between};
use crate::scene::{LineKind, Through};
use crate::svg;

/// A link whose side view is shorter than this share of its length runs across the car: its line there says little.
const SEEN_ALONG: f64 = 0.5;

/// From this width of the page on there is room for the side-view arm beside its line \[px\].
const ROOMY: f64 = 560.0;

/// Where a line is drawn to if there is no far axle \[m\].
const NO_WHEELBASE: f64 = 2.5;

/// Draws it all.
pub(crate) fn construction(sheet: &mut Sheet<'_>) {
    axis(sheet);
    if !sheet.options.show.construction {
        return;
    }
    if sheet.options.show.link_lines {
        link_lines(sheet);
    }
    heights(sheet);
    let centre_on_page = instant_centre(sheet);
    slope_line(sheet, Through::Hub, true);
    slope_line(sheet, Through::Contact, centre_on_page);
}

/// The steering axis through both outer balls, down to the ground.
fn axis(sheet: &mut Sheet<'_>) {
    super::rear::steering_axis(sheet);
}

/// The line from the contact point (the wheel centre) toward the other axle, and what it gives there.
fn slope_line(sheet: &mut Sheet<'_>, through: Through, arm_is_shown: bool) {
    let scene = sheet.scene;
    let figures = &scene.figures;
    let (start, slope, name, class) = match through {
        Through::Contact => (scene.left.contact, figures.contact_slope, "contact line", "contact-line"),
        Through::Hub => (scene.left.wheel.centre, figures.hub_slope, "hub line", "hub-line"),
    };
    if !slope.is_finite() {
        return;
    }
    let units = &sheet.options.units;
    let length = scene.wheelbase.unwrap_or(NO_WHEELBASE);
    let toward = scene.toward_other();
    let end = start + Vector3::new(toward * length, 0.0, slope * length);
    let mut lines = vec![name.to_string()];
    match scene.wheelbase {
        Some(_) => lines.push(words::rise(slope * length, scene.end_names().1, units)),
        None => lines.push(format!("slope {}", words::angle(slope.atan(), units))),
    }
    let antis = [&figures.braking, &figures.driving].into_iter().flatten().filter(|a| a.through == through);
    let antis: Vec<String> = antis.map(words::anti).collect();
    let short = antis.first().cloned();
    let matters = short.is_some();
    if !matters && through == Through::Hub {
        // Nothing of this car goes with the hub line.
        return;
    }
    let roomy = sheet.options.width_px >= ROOMY && antis.len() < 2;
    if roomy && !arm_is_shown && figures.side_arm.is_finite() {
        lines.push(format!("side-view arm {}", words::length(figures.side_arm.abs(), units)));
    }
    lines.extend(antis);
    let (a, b) = (sheet.spot(&start), sheet.spot(&end));
    let Some((a, b)) = sheet.rule(class, a, b) else { return };
    if sheet.page.grown(-1.0).has(b) && scene.wheelbase.is_some() {
        svg::circle(&mut sheet.out, "cut", b, 3.0);
        sheet.layout.mark(Rect::around(b, 4.0));
    }
    let anchors = [0.72, 0.5, 0.9, 0.3].map(|share| between(a, b, share)).to_vec();
    let short = short.or_else(|| Some(name.to_string()));
    let rank = if through == Through::Contact { 1 } else { 2 };
    sheet.label(Label { lines, short, class: "value", anchors, reach: 2.0, rank });
}

/// The mark of the instant centre; whether it is on the page.
fn instant_centre(sheet: &mut Sheet<'_>) -> bool {
    let Some(centre) = sheet.scene.figures.side_centre else { return false };
    let spot = sheet.spot(&centre);
    if !sheet.page.grown(-8.0).has(spot) {
        return false;
    }
    cross(sheet, spot);
    let units = &sheet.options.units;
    let contact = &sheet.scene.left.contact;
    let ahead = centre.x - contact.x;
    let way = if ahead < 0.0 { "behind" } else { "ahead of" };
    sheet.label(Label {
        lines: vec![
            "instant centre".into(),
            format!("{} {way} the wheel", words::length(ahead.abs(), units)),
            words::above_ground(centre.z - contact.z, units),
        ],
        short: Some("instant centre".into()),
        class: "value",
        anchors: vec![spot],
        reach: 7.0,
        rank: 2,
    });
    true
}

/// A small cross in a circle.
pub(crate) fn cross(sheet: &mut Sheet<'_>, at: Spot) {
    let mut path = String::new();
    svg::segment(&mut path, (at.0 - 9.0, at.1), (at.0 + 9.0, at.1));
    svg::segment(&mut path, (at.0, at.1 - 9.0), (at.0, at.1 + 9.0));
    svg::path(&mut sheet.out, "centre", &path);
    svg::circle(&mut sheet.out, "centre", at, 5.0);
    sheet.layout.mark(Rect::around(at, 7.0));
}

/// Where the contact points of both axles are, and how high the centre of gravity is.
fn heights(sheet: &mut Sheet<'_>) {
    let scene = sheet.scene;
    let units = sheet.options.units;
    let centre = scene.left.wheel.centre;
    let ground = scene.left.contact.z;
    let far = scene.wheelbase.map(|l| centre.x + scene.toward_other() * l);
    if let Some(height) = scene.cg_height {
        let from = sheet.spot(&Vector3::new(centre.x, 0.0, height));
        let to = match far {
            Some(x) => sheet.spot(&Vector3::new(x, 0.0, height)),
            None => (from.0 - scene.toward_other() * sheet.page.width(), from.1),
        };
        if let Some((a, b)) = sheet.rule("cg", from, to) {
            let anchors = [0.5, 0.25, 0.75, 0.08].map(|share| between(a, b, share)).to_vec();
            sheet.label(Label {
                lines: vec![format!("centre of gravity {} high", words::length(height, &units))],
                short: Some(format!("c.g. {}", words::length(height, &units))),
                class: "faint",
                anchors,
                reach: 1.0,
                rank: 5,
            });
        }
    }
    if let Some(x) = far {
        let rise = scene.figures.contact_slope.max(scene.figures.hub_slope) * scene.wheelbase.unwrap_or(0.0);
        let top = rise.max(scene.cg_height.unwrap_or(0.3)) + 0.08;
        let foot = sheet.spot(&Vector3::new(x, 0.0, ground));
        let head = sheet.spot(&Vector3::new(x, 0.0, ground + top));
        sheet.rule("axle-line", foot, head);
        if let Some(length) = scene.wheelbase.filter(|_| sheet.page.has(foot)) {
            let other = sheet.spot(&Vector3::new(centre.x, 0.0, ground));
            let anchors = [0.5, 0.35, 0.65].map(|share| between(foot, other, share)).to_vec();
            let text = format!("wheelbase {}", words::length(length, &units));
            sheet.word("faint", 5, anchors, 1.0, &text);
        }
    }
}

/// The lines of those links that run along the car, extended to the edge of the page.
fn link_lines(sheet: &mut Sheet<'_>) {
    let scene = sheet.scene;
    let mut path = String::new();
    let mut first = None;
    for line in scene.lines.iter().filter(|l| l.kind == LineKind::Link) {
        let Some((a, b)) = scene.ends(line, &scene.left) else { continue };
        if (b.x - a.x).hypot(b.z - a.z) < SEEN_ALONG * (b - a).norm() {
            continue;
        }
        let (a, b) = (sheet.spot(&a), sheet.spot(&b));
        let Some((from, to)) = sheet.page.clip(between(a, b, -20.0), between(a, b, 21.0)) else { continue };
        svg::segment(&mut path, from, to);
        sheet.layout.line(from, to, 0.4);
        // The end toward the other axle.
        let ahead = if (from.0 < to.0) == (scene.toward_other() > 0.0) { (to, from) } else { (from, to) };
        first = first.or(Some(ahead));
    }
    svg::path(&mut sheet.out, "link-line", &path);
    if let Some((near, end)) = first {
        let anchors = [0.8, 0.9, 0.65].map(|share| between(near, end, share)).to_vec();
        sheet.label(Label {
            lines: vec!["line of the link in side view".into()],
            short: Some("line of the link".into()),
            class: "faint",
            anchors,
            reach: 1.0,
            rank: 7,
        });
    }
}
