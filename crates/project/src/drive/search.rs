//! `[search]`: what may be varied when the best setting is looked for.

use units::Dimension;

use crate::entry::{Entry, shorten};
use crate::model::{AirPart, SearchReading, VenueReading};
use crate::reader::Section;
use crate::suggest::hint;

/// Names that may be welded, beside those of air parts.
const NAMES: [&str; 6] = ["holes", "brake-front", "front-bar", "rear-bar", "front-ride", "rear-ride"];

/// Rates of a bar over that of the file which are taken for some.
const BARS: (f64, f64) = (0.05, 20.0);

/// Greatest change of a ride height \[m\].
const HIGHEST: f64 = 0.05;

/// Reads it; the names of venues and parts are those of the file.
pub(super) fn read(section: Section<'_>, venues: &[VenueReading], parts: &[AirPart]) -> SearchReading {
    let names = |key: &str, known: &[&str], what: &str| names(&section, key, known, what);
    let of_venues: Vec<&str> = venues.iter().map(|v| v.name.as_str()).collect();
    let of_parts: Vec<&str> = parts.iter().map(|p| p.name.as_str()).collect();
    let all: Vec<&str> = NAMES.into_iter().chain(of_parts.iter().copied()).collect();
    let bar = |key: &str| {
        let range = pair(&section, key, "how many times the file's rate, such as [0.7, 1.4]", |e| {
            Some(e.positive(Dimension::Ratio)?.value)
        })?;
        within(&section, key, range, BARS, "0.7 is softer by three tenths, 1.4 stiffer by four")
    };
    let ride = |key: &str| {
        let range =
            pair(&section, key, "how much the body is lowered and raised there, such as [-10, 10]", |e| {
                Some(e.quantity(Dimension::Length)?.value)
            })?;
        within(&section, key, range, (-HIGHEST, HIGHEST), "further than 50 mm is another car")
    };
    let found = SearchReading {
        venues: names("venues", &of_venues, "a venue of the file"),
        welded: names("welded", &all, "what may be varied"),
        holes: section.entry("holes").and_then(|e| e.truth()).unwrap_or(true),
        brake_front: pair(
            &section,
            "brake-front",
            "shares of the braking at the front, such as [\"56 %\", \"72 %\"]",
            |e| Some(e.share("0 is all at the rear, 1 all at the front")?.value),
        ),
        front_bar: bar("front-bar"),
        rear_bar: bar("rear-bar"),
        front_ride: ride("front-ride"),
        rear_ride: ride("rear-ride"),
        without: names("without", &of_parts, "a part of `[aero.part.NAME]`"),
        span: section.span.clone(),
    };
    section.finish(None);
    found
}

/// A list of known names.
fn names(section: &Section<'_>, key: &str, known: &[&str], what: &str) -> Vec<String> {
    let Some(entry) = section.entry(key) else { return Vec::new() };
    let Some(items) = entry.items() else {
        entry.error(
            format!("`{}` must be a list of names", entry.path),
            format!("write it like [\"{}\"]", known.first().unwrap_or(&"name")),
        );
        return Vec::new();
    };
    let mut out: Vec<String> = Vec::new();
    for item in items {
        let Some(name) = item.text(what) else { continue };
        let name = name.trim();
        if known.contains(&name) {
            if !out.iter().any(|n| n == name) {
                out.push(name.to_string());
            }
        } else {
            item.error(format!("`{}` is not {what}", shorten(name)), hint(name, known.iter().copied()));
        }
    }
    out
}

/// Two values, the less first.
fn pair(
    section: &Section<'_>,
    key: &str,
    what: &str,
    read: impl Fn(&Entry<'_>) -> Option<f64>,
) -> Option<(f64, f64)> {
    let entry = section.entry(key)?;
    let items = entry.items().unwrap_or_default();
    let [from, to] = items.as_slice() else {
        entry.error(format!("`{}` must be the least and the greatest", entry.path), format!("write {what}"));
        return None;
    };
    let (from, to) = (read(from)?, read(to)?);
    if from < to {
        return Some((from, to));
    }
    entry.error(
        format!("`{}` must rise from the first to the second", entry.path),
        format!("write {what}; what stays as it is is left out"),
    );
    None
}

fn within(
    section: &Section<'_>,
    key: &str,
    range: (f64, f64),
    (least, most): (f64, f64),
    say: &str,
) -> Option<(f64, f64)> {
    if least <= range.0 && range.1 <= most {
        return Some(range);
    }
    section.sink.error(
        &section.span_of(key),
        format!("`search.{key}` goes further than is looked at"),
        say.to_string(),
    );
    None
}
