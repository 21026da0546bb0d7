//! `[setup.NAME]`: a named state of the car, by its holes and by what else is changed in the paddock.

pub(crate) mod overlay;

use suspension::scheme::Scheme;

use crate::entry::{Entry, shorten};
use crate::model::{Axle, End, Hole, Setup};
use crate::reader::Section;
use crate::suggest;

/// Reads the setups of a car.
pub(crate) fn read(root: &Section<'_>, front: Option<&Axle>, rear: Option<&Axle>) -> Vec<Setup> {
    let mut setups = Vec::new();
    for (name, section) in root.named_sections("setup") {
        let span = section.span.clone();
        let changes = may_change(&section, false);
        let table = if changes {
            section.section("holes")
        } else {
            let what = "the hole for each end, such as { \"rear.link.NAME.body\" = \"A\" }";
            section.need_section("holes", what)
        };
        section.finish(None);
        let mut holes: Vec<(End, usize)> = Vec::new();
        if let Some(table) = &table {
            for key in table.keys() {
                let Some(entry) = table.entry(key) else { continue };
                if let Some(hole) = hole(root, key, &entry, front, rear) {
                    holes.push(hole);
                }
            }
        } else if !changes {
            continue;
        }
        setups.push(Setup { name, holes, changes: Vec::new(), car: None, span });
    }
    setups
}

/// Whether a setup, or its table of an axle, changes something of the car; says what may not be changed. What the values
/// are is read with the car that they make.
fn may_change(section: &Section<'_>, axle: bool) -> bool {
    let mut found = false;
    if !axle {
        for end in ["front", "rear"] {
            if let Some(own) = section.section(end) {
                found |= may_change(&own, true);
                own.finish(None);
            }
        }
    }
    for (name, keys) in overlay::tables(axle) {
        let Some(table) = section.section(name) else { continue };
        found |= table.keys().next().is_some();
        for key in table.keys().filter(|key| !keys.allow(key)) {
            section.sink.error(
                &table.span_of(key),
                format!("`{key}` of `[{}]` cannot be part of a setup", table.path),
                "a setup changes what can be changed in the paddock, not what is welded or bored".to_string(),
            );
        }
        table.leave();
    }
    found
}

fn hole(
    root: &Section<'_>,
    key: &str,
    entry: &Entry<'_>,
    front: Option<&Axle>,
    rear: Option<&Axle>,
) -> Option<(End, usize)> {
    let fail = |message: String, hint: Option<String>| {
        entry.sink.error(&entry.key_span, message, hint);
        None
    };
    let (axle, point) = match key.split_once('.') {
        Some(("front", point)) => (End::Front, point),
        Some(("rear", point)) => (End::Rear, point),
        _ => {
            return fail(
                format!("`{}` does not say which axle it is about", shorten(key)),
                Some("write it in quotes as \"rear.link.NAME.body\" or \"front.link.NAME.body\"".to_string()),
            );
        }
    };
    let end = axle;
    let Some(axle) = (if end == End::Front { front } else { rear }) else {
        // An axle that is there and could not be read has its own errors.
        return if root.has(end.name()) {
            None
        } else {
            fail(format!("the file has no `[{}]`", end.name()), None)
        };
    };
    let with_holes = || distinct(axle.holes.iter().filter_map(|hole| name_of(&axle.scheme, hole)));
    let Some(index) = axle.scheme.point(point) else {
        let known = with_holes();
        return fail(
            format!("there is no point `{}` on the {} axle", shorten(point), end.name()),
            suggest::hint(point, known.iter().copied()),
        );
    };
    let of_end: Vec<&Hole> = axle.holes.iter().filter(|hole| hole.point == index).collect();
    if of_end.is_empty() {
        let known = with_holes();
        let hint = if known.is_empty() {
            format!("list its holes as `[[{}.holes]]`", end.name())
        } else {
            format!("ends with holes: {}", suggest::list(known))
        };
        return fail(format!("`{}` has no holes to choose from", shorten(key)), Some(hint));
    }
    let name = entry.text("the name of a hole")?.trim();
    let found = axle.holes.iter().position(|hole| hole.point == index && hole.name == name);
    if found.is_none() {
        entry.error(
            format!("`{}` has no hole `{}`", shorten(key), shorten(name)),
            suggest::hint(name, of_end.iter().map(|hole| hole.name.as_str())),
        );
    }
    found.map(|hole| (end, hole))
}

fn name_of<'a>(scheme: &'a Scheme, hole: &Hole) -> Option<&'a str> {
    scheme.points.get(hole.point).map(String::as_str)
}

fn distinct<'a>(names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut all = Vec::new();
    for name in names {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}
