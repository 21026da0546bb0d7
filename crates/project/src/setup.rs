//! `[setup.NAME]`: a named combination of holes.

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
        let what = "the hole for each end, such as { \"rear.link.NAME.body\" = \"A\" }";
        let table = section.need_section("holes", what);
        section.finish(None);
        let Some(table) = table else { continue };
        let mut holes: Vec<(End, usize)> = Vec::new();
        for key in table.keys() {
            let Some(entry) = table.entry(key) else { continue };
            if let Some(hole) = hole(root, key, &entry, front, rear) {
                holes.push(hole);
            }
        }
        setups.push(Setup { name, holes, span });
    }
    setups
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
