//! `[build.case.NAME]`: what the parts have to bear.

use units::Dimension;

use super::Axles;
use crate::entry::Entry;
use crate::model::{Ask, CaseReading};
use crate::reader::Section;

/// Most cases of a file.
const MOST: usize = 40;

/// Greatest factor and force in loads at rest: beyond it something was written in the wrong unit.
const GREATEST: f64 = 100.0;

pub(super) fn read(build: &Section<'_>, axles: Axles<'_>) -> Vec<CaseReading> {
    let mut cases = Vec::new();
    for (name, section) in build.named_sections("case") {
        if cases.len() == MOST {
            section.sink.error(&section.span, format!("there are more than {MOST} load cases"), None);
            section.leave();
            continue;
        }
        cases.push(case(name, section, axles));
    }
    cases
}

fn case(name: String, section: Section<'_>, axles: Axles<'_>) -> CaseReading {
    let ask = |key: &str| section.entry(key).and_then(|entry| ask(&entry));
    let times = |key: &str| {
        let entry = section.entry(key)?;
        let value = entry.quantity(Dimension::Ratio)?.value;
        if (0.0..=GREATEST).contains(&value) {
            return Some(value);
        }
        entry.error(
            format!("`{}` must lie between 0 and {GREATEST}", entry.path),
            "it counts loads of that wheel at rest, or is a factor".to_string(),
        );
        None
    };
    let jack = section.entry("jack").and_then(|entry| {
        let name = entry.text("the pickup under which the jack stands, such as \"rear.link.NAME.body\",")?;
        axles.point(&entry, name)
    });
    let reading = CaseReading {
        off: section.entry("off").and_then(|entry| entry.truth()).unwrap_or(false),
        braking: ask("braking"),
        cornering: ask("cornering"),
        driving: ask("driving"),
        speed: section.positive("speed", Dimension::Speed).map(|v| v.value),
        up: times("up"),
        inward: times("inward"),
        rearward: times("rearward"),
        height: section.positive("height", Dimension::Length).map(|v| v.value),
        jack,
        lifts: times("lifts"),
        factor: times("factor").filter(|factor| *factor > 0.0),
        why: section
            .entry("why")
            .and_then(|e| Some(e.text("where the case comes from, in your words,")?.to_string())),
        span: section.span.clone(),
        name,
    };
    section.finish(None);
    reading
}

/// `"limit"`, `"0.7 limit"`, `"70 % limit"`, or an acceleration.
fn ask(entry: &Entry<'_>) -> Option<Ask> {
    if let Some(text) = entry.text_if_any()
        && let Some(share) = text.trim().strip_suffix("limit")
    {
        let share = share.trim().trim_end_matches("of the").trim_end_matches("of").trim();
        if share.is_empty() {
            return Some(Ask::Limit(1.0));
        }
        return match units::parse(share, Dimension::Ratio, &entry.units) {
            Ok(reading) if (0.0..=2.0).contains(&reading.value) => Some(Ask::Limit(reading.value)),
            _ => {
                entry.error(
                    format!("`{}` must be a share of the limit", entry.path),
                    "for example \"limit\" or \"70 % limit\"; or an acceleration, such as \"0.9 g\""
                        .to_string(),
                );
                None
            }
        };
    }
    let stated = entry.quantity(Dimension::Acceleration)?.value;
    if stated < 0.0 {
        entry.error(
            format!("`{}` is negative", entry.path),
            "braking, cornering and driving are each written as how much".to_string(),
        );
        return None;
    }
    Some(Ask::Stated(stated))
}
