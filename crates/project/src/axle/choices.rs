//! `[[rear.holes]]` and `[rear.plate.NAME]`: where a pickup may go.

use suspension::scheme::Scheme;
use units::Dimension;

use super::outline;
use crate::entry::{Entry, shorten};
use crate::model::{Hole, Plate};
use crate::point::{self, Placing};
use crate::reader::Section;
use crate::slips;
use crate::suggest;

/// Least distance between hole centres, in bolt diameters: common practice in plate work.
const SPACING: f64 = 2.5;

/// Least distance from a hole's centre to the edge, in bolt diameters: common practice in plate work.
const EDGE: f64 = 1.5;

/// Standard uncertainty of a hole drilled to a template \[m\].
const DRILLED: f64 = 0.5e-3;

/// Reads the candidate holes of an axle.
pub(crate) fn holes(axle: &Section<'_>, scheme: &Scheme, placing: &Placing<'_>) -> Vec<Hole> {
    let mut holes: Vec<Hole> = Vec::new();
    for section in axle.array_of_sections("holes") {
        let end = end(&section, scheme, "the end that it is for, such as \"link.NAME.body\"");
        let name = section.need("name", "a short name, such as \"A\"");
        let at = point::read_at(&section, "its middle, as [x, y, z]");
        let text = name.as_ref().and_then(|name| name.text("a name")).map(str::trim);
        if let (Some(entry), Some("")) = (&name, text) {
            entry.error("a hole needs a name of at least one letter".to_string(), None);
        }
        let (sink, text) = (section.sink, text.filter(|text| !text.is_empty()));
        section.finish(None);
        let (Some(point), Some(entry), Some(text), Some(at)) = (end, name, text, at) else { continue };
        if let Some(first) = holes.iter().find(|hole| hole.point == point && hole.name == text) {
            let end = scheme.points.get(point).map_or("", String::as_str);
            entry.error(
                format!("`{end}` has two holes called `{}`", shorten(text)),
                format!("the first one is on line {}", sink.line(&first.at.span)),
            );
            continue;
        }
        holes.push(Hole { name: text.to_string(), point, at: placing.place(at) });
    }
    holes
}

/// Reads the plates of an axle.
pub(crate) fn plates(axle: &Section<'_>, scheme: &Scheme, placing: &Placing<'_>) -> Vec<Plate> {
    let sections = axle.named_sections("plate");
    sections.into_iter().filter_map(|(name, section)| plate(name, section, scheme, placing)).collect()
}

fn plate(name: String, section: Section<'_>, scheme: &Scheme, placing: &Placing<'_>) -> Option<Plate> {
    let point = end(&section, scheme, "the end whose holes it carries, such as \"link.NAME.body\"");
    let outline = section.need("corners", "three corners or more, each [x, y, z], in order around the plate");
    let outline = outline.and_then(|entry| {
        let corners = corners(&entry, placing)?;
        outline::check(&entry, corners)
    });
    let bolt = section
        .need("bolt", "the diameter of its bolt, such as \"M12\" or 12")
        .and_then(|entry| bolt(&entry));
    let spacing = section.positive("spacing", Dimension::Ratio).map_or(SPACING, |value| value.value);
    let edge = section.positive("edge", Dimension::Ratio).map_or(EDGE, |value| value.value);
    let link_length = section.entry("link-length").and_then(|entry| link_length(&entry));
    let uncertainty = point::accuracy(&section).unwrap_or(DRILLED);
    let span = section.span.clone();
    section.finish(None);
    let (point, outline, bolt) = (point?, outline?, bolt?);
    Some(Plate { name, point, outline, bolt, spacing, edge, link_length, uncertainty, span })
}

/// The point of the axle that a hole or a plate is for.
fn end(section: &Section<'_>, scheme: &Scheme, what: &str) -> Option<usize> {
    let entry = section.need("end", what)?;
    let text = entry.text("the name of a point")?.trim();
    let found = scheme.point(text);
    if found.is_none() {
        let hint = suggest::hint(text, scheme.points.iter().map(String::as_str));
        entry.error(format!("there is no point `{}` on this axle", shorten(text)), hint);
    }
    found
}

fn corners(entry: &Entry<'_>, placing: &Placing<'_>) -> Option<Vec<outline::Corner>> {
    let Some(items) = entry.items() else {
        entry.error(
            format!("`{}` is {}, where a list of points is wanted", entry.path, entry.found()),
            "write it as [[x, y, z], [x, y, z], [x, y, z]]".to_string(),
        );
        return None;
    };
    let read: Vec<_> = items.iter().map(point::read).collect();
    let placed = |written| {
        let point = placing.place(written);
        outline::Corner { at: point.at, span: point.span }
    };
    read.into_iter().map(|written| written.map(placed)).collect()
}

/// A bolt's diameter: a length, or a thread such as "M12" \[m\].
fn bolt(entry: &Entry<'_>) -> Option<f64> {
    let metric = entry.text_if_any().and_then(|text| {
        let size = text.trim().strip_prefix(['M', 'm'])?;
        let size = size.split(['x', 'X', '×', ' ']).next()?;
        size.parse::<f64>().ok().filter(|size| (1.0..=100.0).contains(size))
    });
    let diameter = match metric {
        Some(millimetres) => millimetres * 1e-3,
        None => entry.positive(Dimension::Length)?.value,
    };
    slips::bolt(entry, diameter);
    Some(diameter)
}

fn link_length(entry: &Entry<'_>) -> Option<(f64, f64)> {
    let items = entry.items().unwrap_or_default();
    let [least, greatest] = items.as_slice() else {
        entry.error(
            format!("`{}` must be a list of the least and the greatest length", entry.path),
            "for example [400, 440]".to_string(),
        );
        return None;
    };
    let (least, greatest) = (least.positive(Dimension::Length), greatest.positive(Dimension::Length));
    let (least, greatest) = (least?.value, greatest?.value);
    if least > greatest {
        entry.error(format!("`{}` has the greater length first", entry.path), "swap them".to_string());
        return None;
    }
    Some((least, greatest))
}
