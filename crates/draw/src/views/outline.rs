//! Outlines of solid things in projection.

use nalgebra::Vector3;

use super::map::ViewMap;
use crate::plane::{Spot, distance};
use crate::scene::Wheel;
use crate::svg;

/// Appends the outline of a disc with thickness: two half ellipses and the lines that join them.
///
/// A circle of radius R about the axis s, seen along n, is an ellipse: half axes R square to the projected s, and
/// R |s.n| along it.
pub(crate) fn cylinder(
    out: &mut String,
    map: &ViewMap,
    centre: &Vector3<f64>,
    spin: &Vector3<f64>,
    radius: f64,
    width: f64,
) {
    let px = 1000.0 / map.mm_per_px;
    let (right, up) = map.direction.flat(spin);
    let seen = right.hypot(up);
    let squash = map.direction.near(spin).abs();
    // Direction of the projected axis on the page (y down), and square to it.
    let (ax, ay) = if seen > 1e-9 { (right / seen, -up / seen) } else { (1.0, 0.0) };
    let (long, short) = (radius * px, radius * px * squash);
    let (ex, ey) = (-ay * long, ax * long);
    let turn = ey.atan2(ex).to_degrees();
    let middle = map.to_page(centre);
    let half = width / 2.0 * px * seen;
    let outer = (middle.0 + ax * half, middle.1 + ay * half);
    let inner = (middle.0 - ax * half, middle.1 - ay * half);
    let arc = |out: &mut String, to: Spot| {
        out.push('A');
        svg::spot(out, (long, short.max(0.01)));
        out.push(' ');
        svg::number(out, turn);
        // From -e past the axis to +e: counter to the page's sense of turning for e = a turned by a quarter.
        out.push_str(" 0 0 ");
        svg::spot(out, to);
    };
    out.push('M');
    svg::spot(out, (outer.0 + ex, outer.1 + ey));
    arc(out, (outer.0 - ex, outer.1 - ey));
    out.push('L');
    svg::spot(out, (inner.0 - ex, inner.1 - ey));
    arc(out, (inner.0 + ex, inner.1 + ey));
    out.push('Z');
}

/// Appends the tyre's outline.
pub(crate) fn tyre(out: &mut String, map: &ViewMap, wheel: &Wheel) {
    cylinder(out, map, &wheel.centre, &wheel.spin, wheel.radius, wheel.width);
}

/// The tyre's outline as a few straight lines, near enough to keep words off it.
pub(crate) fn chords(map: &ViewMap, wheel: &Wheel) -> impl Iterator<Item = (Spot, Spot)> {
    const CORNERS: usize = 12;
    let across = wheel.spin.cross(&Vector3::z()).try_normalize(1e-9).unwrap_or_else(Vector3::x);
    let up = across.cross(&wheel.spin);
    let half = wheel.spin * (wheel.width / 2.0);
    let (map, wheel) = (*map, *wheel);
    let round = map.direction.near(&wheel.spin).abs() > 0.5;
    let at = move |i: usize| {
        if round {
            let (sin, cos) = (i as f64 * std::f64::consts::TAU / CORNERS as f64).sin_cos();
            return map.to_page(&(wheel.centre + (across * cos + up * sin) * wheel.radius));
        }
        let long = if map.direction.near(&across).abs() > 0.5 { up } else { across } * wheel.radius;
        let corners = [half + long, half - long, -half - long, long - half];
        map.to_page(&(wheel.centre + corners.get(i % 4).copied().unwrap_or_default()))
    };
    (0..if round { CORNERS } else { 4 }).map(move |i| (at(i), at(i + 1)))
}

/// Appends the rim's outer face, where its diameter is known.
pub(crate) fn rim(out: &mut String, map: &ViewMap, wheel: &Wheel) {
    if let Some(radius) = wheel.rim {
        let face = wheel.centre + wheel.spin * (wheel.width / 2.0);
        cylinder(out, map, &face, &wheel.spin, radius, 0.0);
    }
}

/// Appends a spring as a zigzag.
pub(crate) fn spring(out: &mut String, a: Spot, b: Spot) {
    const COILS: usize = 7;
    let length = distance(a, b);
    let (dx, dy) = ((b.0 - a.0) / length.max(1e-9), (b.1 - a.1) / length.max(1e-9));
    let wide = (length * 0.09).clamp(2.0, 9.0);
    let steps = 2 * COILS;
    out.push('M');
    svg::spot(out, a);
    for i in 0..steps {
        let along = length * (0.08 + 0.84 * (i as f64 + 0.5) / steps as f64);
        let aside = if i % 2 == 0 { wide } else { -wide };
        out.push('L');
        svg::spot(out, (a.0 + dx * along - dy * aside, a.1 + dy * along + dx * aside));
    }
    out.push('L');
    svg::spot(out, b);
}

/// Appends a damper: a rod from the body that goes into a tube.
pub(crate) fn damper(out: &mut String, a: Spot, b: Spot) {
    let length = distance(a, b);
    let (dx, dy) = ((b.0 - a.0) / length.max(1e-9), (b.1 - a.1) / length.max(1e-9));
    let wide = (length * 0.05).clamp(1.5, 5.0);
    let at = |along: f64, aside: f64| (a.0 + dx * along - dy * aside, a.1 + dy * along + dx * aside);
    svg::segment(out, a, at(length * 0.42, 0.0));
    svg::segment(out, at(length * 0.42, wide), at(length * 0.92, wide));
    out.push('L');
    svg::spot(out, at(length * 0.92, -wide));
    out.push('L');
    svg::spot(out, at(length * 0.42, -wide));
    out.push('Z');
    svg::segment(out, at(length * 0.92, 0.0), b);
}

/// Appends a closed outline.
pub(crate) fn polygon(out: &mut String, map: &ViewMap, corners: &[Vector3<f64>]) {
    for (i, corner) in corners.iter().enumerate() {
        out.push(if i == 0 { 'M' } else { 'L' });
        svg::spot(out, map.to_page(corner));
    }
    if !corners.is_empty() {
        out.push('Z');
    }
}
