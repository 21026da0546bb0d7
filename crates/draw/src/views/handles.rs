//! Marks of points and holes: small to the eye, large to the finger.

use std::fmt::Write;

use units::Dimension;

use super::map::triple;
use super::sheet::Sheet;
use super::words;
use crate::labels::Label;
use crate::plane::{Rect, Spot};
use crate::scene::{Hole, LineKind, Point, Role};
use crate::svg;

/// Radius in which a finger or pointer takes hold of a mark \[px\]: 44 px across, as WCAG 2.5.5 asks. Where marks
/// stand closer than that, their circles overlap, and a script had better take the nearest.
const HOLD: f64 = 22.0;

/// Radius of the drawn marks \[px\].
const MARK: f64 = 4.0;
const HOLE: f64 = 5.0;

/// From this width of the page on the lit point is named \[px\].
const ROOMY: f64 = 560.0;

/// Draws the holes, then the points that are shown.
pub(crate) fn draw(sheet: &mut Sheet<'_>) {
    let scene = sheet.scene;
    if sheet.options.show.holes {
        for hole in &scene.holes {
            hole_mark(sheet, hole);
        }
    }
    if !sheet.options.show.handles {
        return;
    }
    for (i, point) in scene.points.iter().enumerate() {
        let (Some(spot), Some(at)) = (sheet.at.get(i).copied(), scene.left.at.get(i)) else { continue };
        let hidden = !sheet.options.show.elements
            && scene.lines.iter().filter(|l| l.from == i || l.to == i).all(|l| {
                matches!(l.kind, LineKind::Spring | LineKind::Damper | LineKind::BarLink | LineKind::Member)
            });
        if hidden || !sheet.page.has(spot) {
            continue;
        }
        point_mark(sheet, point, spot, at);
    }
}

fn point_mark(sheet: &mut Sheet<'_>, point: &Point, spot: Spot, at: &nalgebra::Vector3<f64>) {
    let focus = sheet.options.focus == Some(point.key.as_str());
    let (right, up) = (sheet.map.direction.right().axis, sheet.map.direction.up().axis);
    let units = sheet.options.units;
    let shown = sheet.options.frame.to_survey(*at);
    let unit = units.symbol(Dimension::Length);
    let coordinate = |axis: usize| {
        let value = shown.iter().nth(axis).copied().unwrap_or(0.0);
        (["x", "y", "z"].get(axis).copied().unwrap_or(""), words::coordinate(value, &units))
    };
    let ((right_name, right_value), (up_name, up_value)) = (coordinate(right), coordinate(up));
    let out = &mut sheet.out;
    out.push_str(if focus { "<g class=\"pt lit\"" } else { "<g class=\"pt\"" });
    svg::text_attribute(out, "data-point", &point.key);
    let _ = write!(out, " data-role=\"{}\" data-at=\"", point.role.name());
    triple(out, &(at * 1000.0));
    if point.role != Role::Body {
        out.push_str("\" data-design=\"");
        triple(out, &(point.design * 1000.0));
    }
    if sheet.options.show.grips {
        let _ = write!(
            out,
            "\" tabindex=\"0\" role=\"slider\" aria-valuenow=\"{up_value}\" \
             aria-valuetext=\"{right_name} {right_value} {unit}, {up_name} {up_value} {unit}\""
        );
    } else {
        out.push_str("\" role=\"img\"");
    }
    svg::text_attribute(out, "aria-label", &point.label);
    out.push('>');
    svg::circle(out, "hit", spot, HOLD);
    mark(out, point.role, spot);
    out.push_str("</g>");
    let rect = Rect::around(spot, MARK + 1.0);
    sheet.layout.mark(rect);
    if focus {
        let mut lines =
            vec![format!("{right_name} {right_value} {unit}"), format!("{up_name} {up_value} {unit}")];
        // On a telephone the finger covers a good part of the drawing; the values alone must do.
        if sheet.options.width_px >= ROOMY {
            lines.insert(0, crate::labels::elide(&point.label, 18.0, true).into_owned());
        }
        sheet.label(Label {
            lines,
            short: Some(format!("{right_name} {right_value}, {up_name} {up_value} {unit}")),
            class: "value lit",
            anchors: vec![spot],
            reach: MARK + 3.0,
            rank: 0,
        });
    }
}

/// A square on the body, a circle on the upright, a diamond on another part, a triangle on the rack.
fn mark(out: &mut String, role: Role, (x, y): Spot) {
    if role == Role::Upright {
        return svg::circle(out, "mark upright", (x, y), MARK);
    }
    let mut path = String::with_capacity(48);
    let corners: &[Spot] = match role {
        Role::Part => &[(0.0, -5.0), (5.0, 0.0), (0.0, 5.0), (-5.0, 0.0)],
        Role::Rack => &[(0.0, -5.0), (4.7, 3.6), (-4.7, 3.6)],
        Role::Body | Role::Upright => &[(-3.7, -3.7), (3.7, -3.7), (3.7, 3.7), (-3.7, 3.7)],
    };
    for (i, (dx, dy)) in corners.iter().enumerate() {
        path.push(if i == 0 { 'M' } else { 'L' });
        svg::spot(&mut path, (x + dx, y + dy));
    }
    path.push('Z');
    svg::path(out, if role == Role::Body { "mark body" } else { "mark part" }, &path);
}

fn hole_mark(sheet: &mut Sheet<'_>, hole: &Hole) {
    let (x, y) = sheet.spot(&hole.at);
    if !sheet.page.has((x, y)) {
        return;
    }
    let point = sheet.scene.points.get(hole.point);
    let focus = sheet.options.focus == Some(hole.name.as_str());
    let used = if hole.in_use { " used" } else { "" };
    let lit = if focus { " lit" } else { "" };
    let out = &mut sheet.out;
    let _ = write!(out, "<g class=\"hole{used}{lit}\"");
    svg::text_attribute(out, "data-hole", &hole.name);
    svg::text_attribute(out, "data-for", point.map_or("", |p| p.key.as_str()));
    out.push_str(" data-at=\"");
    triple(out, &(hole.at * 1000.0));
    if sheet.options.show.grips {
        let _ = write!(out, "\" tabindex=\"0\" role=\"button\" aria-pressed=\"{}\"", hole.in_use);
    } else {
        out.push_str("\" role=\"img\"");
    }
    svg::text_attribute(
        out,
        "aria-label",
        &format!("hole {} for {}", hole.name, point.map_or("", |p| p.label.as_str())),
    );
    out.push('>');
    svg::circle(out, "hit", (x, y), HOLD);
    svg::circle(out, "mark", (x, y), HOLE);
    let mut cross = String::with_capacity(64);
    svg::segment(&mut cross, (x - 8.0, y), (x + 8.0, y));
    svg::segment(&mut cross, (x, y - 8.0), (x, y + 8.0));
    svg::path(out, "cross", &cross);
    out.push_str("</g>");
    sheet.layout.mark(Rect::around((x, y), HOLE + 1.0));
    let (class, rank) = if hole.in_use || focus { ("value hole-name", 1) } else { ("name hole-name", 2) };
    sheet.word(class, rank, vec![(x, y)], HOLE + 1.0, &hole.name);
}
