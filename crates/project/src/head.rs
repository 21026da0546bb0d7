//! `soapstone`, `[units]` and `[car]`: what the rest of the file is read by.

use std::ops::Range;

use units::{AngleUnit, Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem};

use crate::entry::shorten;
use crate::model::{Driven, Value};
use crate::reader::Section;
use crate::slips;
use crate::suggest;

/// The version of the format that this reader reads.
const VERSION: i64 = 1;

/// Checks the version of the format.
pub(crate) fn version(root: &Section<'_>) {
    let Some(entry) = root.entry("soapstone") else {
        root.sink.fatal(
            &(0..0),
            "the file does not say which version of the format it is written in".to_string(),
            format!("put `soapstone = {VERSION}` on its first line"),
        );
        return;
    };
    match entry.integer() {
        Some(VERSION) => {}
        Some(newer) if newer > VERSION => entry.sink.fatal(
            &entry.span,
            format!(
                "the file is written in version {newer} of the format, and this Soapstone reads {VERSION}"
            ),
            "use a newer Soapstone for it".to_string(),
        ),
        _ => entry.sink.fatal(
            &entry.span,
            format!("`soapstone` is the version of the format and must be {VERSION}"),
            format!("write `soapstone = {VERSION}`"),
        ),
    }
}

/// Reads `[units]`.
pub(crate) fn units(root: &Section<'_>) -> UnitSystem {
    let mut system = UnitSystem::default();
    let Some(section) = root.section("units") else { return system };
    if let Some(unit) = unit(&section, "length", LengthUnit::NAMES, LengthUnit::from_name) {
        system.length = unit;
    }
    if let Some(unit) = unit(&section, "mass", MassUnit::NAMES, MassUnit::from_name) {
        system.mass = unit;
    }
    if let Some(unit) = unit(&section, "force", ForceUnit::NAMES, ForceUnit::from_name) {
        system.force = unit;
    }
    if let Some(unit) = unit(&section, "angle", AngleUnit::NAMES, AngleUnit::from_name) {
        system.angle = unit;
    }
    section.finish(None);
    system
}

/// A unit that is not understood leaves every bare number without a meaning, so that there is no car.
fn unit<U>(
    section: &Section<'_>,
    key: &str,
    names: &[&'static str],
    from_name: fn(&str) -> Option<U>,
) -> Option<U> {
    let entry = section.entry(key)?;
    let text = entry.text_if_any();
    let unit = text.and_then(from_name);
    if unit.is_none() {
        let all = names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let near =
            text.and_then(|text| in_full(text).or_else(|| suggest::nearest(text, names.iter().copied())));
        let near = near.filter(|near| names.contains(near));
        let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
        let found = text.map_or(entry.found().to_string(), |text| format!("`{}`", shorten(text)));
        entry.sink.fatal(
            &entry.span,
            format!("`units.{key}` cannot be {found}"),
            format!("{near}it may be {all}"),
        );
    }
    unit
}

/// The short name of a unit that is written in full.
fn in_full(text: &str) -> Option<&'static str> {
    let written = text.trim().to_lowercase();
    let short = match written.trim_end_matches('s') {
        "inch" | "inche" | "\"" => "in",
        "foot" | "feet" | "'" => "ft",
        "millimetre" | "millimeter" | "mil" => "mm",
        "metre" | "meter" => "m",
        "kilogram" | "kilogramme" | "kilo" => "kg",
        "pound" | "lb" => "lb",
        "newton" | "n" => "N",
        "pound-force" | "pound force" => "lbf",
        "degree" | "°" => "deg",
        _ => return None,
    };
    Some(short)
}

/// What `[car]` says.
pub(crate) struct Head {
    pub(crate) name: String,
    pub(crate) driven: Driven,
    pub(crate) wheelbase: Option<Value>,
    pub(crate) wheelbase_span: Range<usize>,
    pub(crate) cg_height: Option<Value>,
    pub(crate) cg_height_span: Range<usize>,
}

/// Reads `[car]`.
pub(crate) fn head(root: &Section<'_>) -> Head {
    let mut head = Head {
        name: "unnamed car".to_string(),
        driven: Driven::Rear,
        wheelbase: None,
        wheelbase_span: 0..0,
        cg_height: None,
        cg_height_span: 0..0,
    };
    let Some(section) = root.need_section("car", "the car's `name`, and which wheels are `driven`") else {
        return head;
    };
    if let Some(name) = section.entry("name").and_then(|name| name.text("the car's name")) {
        head.name = name.to_string();
    }
    let driven = section.need("driven", "which wheels are driven, \"front\", \"rear\" or \"all\"");
    match driven.and_then(|entry| entry.word(&["front", "rear", "all"])) {
        Some("front") => head.driven = Driven::Front,
        Some("all") => head.driven = Driven::All,
        _ => {}
    }
    if let Some(entry) = section.entry("wheelbase") {
        head.wheelbase = entry.positive(Dimension::Length);
        head.wheelbase_span = entry.span.clone();
        if let Some(wheelbase) = head.wheelbase {
            slips::wheelbase(root, &entry.span, wheelbase.value);
        }
    }
    if let Some(entry) = section.entry("cg-height") {
        head.cg_height = entry.positive(Dimension::Length);
        head.cg_height_span = entry.span.clone();
        if let Some(height) = head.cg_height {
            slips::cg_height(root, &entry.span, height.value);
        }
    }
    section.finish(None);
    head
}
