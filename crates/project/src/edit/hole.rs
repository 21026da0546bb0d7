//! Candidate holes: added, renamed, taken out.

use std::ops::Range;

use toml_edit::{Item, TableLike, Value};

use super::error::EditError;
use super::place::{Place, not_there, split};
use super::tree::{Home, Splice, Tree, deep_end, table_end};
use super::{At, Context, point, spell, table, typed};
use crate::entry::shorten;
use crate::model::Car;
use crate::suggest;

/// A hole as written.
pub(crate) struct Hole<'a> {
    pub(crate) table: &'a dyn TableLike,
    pub(crate) home: Home<'a>,
    /// From its header to its last value, or its braces.
    place: Range<usize>,
    end: &'a str,
    name: &'a str,
}

impl<'a> Hole<'a> {
    fn of(table: &'a dyn TableLike, home: Home<'a>, place: Range<usize>) -> Self {
        let text = |key: &str| table.get(key).and_then(Item::as_str).unwrap_or_default().trim();
        Self { table, home, place, end: text("end"), name: text("name") }
    }
}

/// The holes of an axle, in the order of the file; those that cannot be read have no name.
fn all<'a>(tree: &'a Tree<'_>, axle: &str) -> Vec<Hole<'a>> {
    match tree.find(&format!("{axle}.holes")) {
        Some(Item::ArrayOfTables(tables)) => tables
            .iter()
            .filter_map(|table| {
                let home = Home::Lines { table, prefix: String::new() };
                Some(Hole::of(table, home, table.span()?.start..table_end(table)?))
            })
            .collect(),
        Some(Item::Value(Value::Array(array))) => array
            .iter()
            .filter_map(|value| {
                let table = value.as_inline_table()?;
                Some(Hole::of(table, Home::Braces(table), table.span()?))
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// End and name of every hole of an axle, in the order of the file.
pub(crate) fn names(tree: &Tree<'_>, axle: &str) -> Vec<(String, String)> {
    all(tree, axle).into_iter().map(|hole| (hole.end.to_string(), hole.name.to_string())).collect()
}

/// The hole of a point that has this name.
pub(crate) fn find<'a>(
    tree: &'a Tree<'_>,
    point: &str,
    name: &str,
    car: Option<&Car>,
) -> Result<Hole<'a>, EditError> {
    let (axle, end) = split(point)?;
    let mut of_end: Vec<Hole<'_>> =
        all(tree, axle.name()).into_iter().filter(|hole| hole.end == end).collect();
    if of_end.is_empty() && tree.find(point).is_none() {
        return Err(not_there(point, car));
    }
    match of_end.iter().position(|hole| hole.name == name.trim()) {
        Some(index) => Ok(of_end.swap_remove(index)),
        None => Err(EditError::NotThere {
            name: format!("hole {name} of {point}"),
            hint: suggest::hint(name, of_end.iter().map(|hole| hole.name)),
        }),
    }
}

/// A name without spaces around it.
fn good(name: &str) -> Result<&str, EditError> {
    let name = name.trim();
    if name.is_empty() || name.contains(char::is_control) { Err(EditError::BadName) } else { Ok(name) }
}

/// Adds a hole after the others of its point.
pub(crate) fn add(
    tree: &Tree<'_>,
    point: &str,
    name: &str,
    at: &At,
    accuracy: Option<&str>,
    context: &Context<'_>,
) -> Result<String, EditError> {
    let (axle, end) = split(point)?;
    let name = good(name)?;
    let known = context.car.and_then(|car| car.axle(axle));
    let item = tree.find(point);
    if item.is_none() || known.is_some_and(|axle| axle.scheme.point(end).is_none()) {
        return Err(not_there(point, context.car));
    }
    let holes = all(tree, axle.name());
    if holes.iter().any(|hole| hole.end == end && hole.name == name) {
        return Err(EditError::HoleExists { point: point.to_string(), name: shorten(name) });
    }
    let place = Place::Hole { point: point.to_string(), name: name.to_string() };
    let sibling = holes.iter().rev().find(|hole| hole.end == end);
    // The style is that of the hole before it, or of the point that it may replace.
    let like = sibling.and_then(|hole| array(hole.table.get("at"))).or_else(|| array(item));
    let nothing = Value::Array(toml_edit::Array::new());
    let texts = point::coordinates(tree, &place, at, like.unwrap_or(&nothing), context)?;
    let mut pairs = vec![
        ("end", spell::text(end, None)),
        ("name", spell::text(name, None)),
        ("at", format!("[{}]", texts.join(", "))),
    ];
    if let Some(accuracy) = accuracy {
        let text = typed::length(accuracy, None, &context.units)
            .map_err(|source| EditError::Typed { name: format!("accuracy of {place}"), source })?;
        pairs.push(("accuracy", text));
    }
    let splice = match (sibling.or(holes.last()), tree.find(&format!("{}.holes", axle.name()))) {
        (Some(Hole { home: Home::Braces(_), place, .. }), _) => {
            Splice::new(place.end..place.end, format!(", {}", braces(&pairs)))
        }
        (None, Some(item)) => {
            let span = item.span().ok_or_else(|| not_there(point, context.car))?;
            Splice::new(span, format!("[{}]", braces(&pairs)))
        }
        (Some(before), _) => {
            let width = match &before.home {
                Home::Lines { table, .. } => tree.key_width(table),
                Home::Braces(_) => 0,
            };
            table::lines(tree, before.place.end, &block(tree, axle.name(), &pairs, width))
        }
        (None, None) => {
            let after = tree.find(axle.name()).and_then(deep_end).unwrap_or(tree.text.len());
            table::lines(tree, after, &block(tree, axle.name(), &pairs, 0))
        }
    };
    Ok(tree.spliced(vec![splice]))
}

fn array(item: Option<&Item>) -> Option<&Value> {
    let item = item?;
    let item = item.as_table_like().and_then(|table| table.get("at")).unwrap_or(item);
    item.as_value().filter(|value| value.is_array())
}

fn braces(pairs: &[(&str, String)]) -> String {
    let pairs: Vec<String> = pairs.iter().map(|(key, value)| format!("{key} = {value}")).collect();
    format!("{{ {} }}", pairs.join(", "))
}

fn block(tree: &Tree<'_>, axle: &str, pairs: &[(&str, String)], width: usize) -> String {
    let (line_end, width) = (tree.line_end(), width.max("name".len()));
    let mut text = format!("[[{axle}.holes]]{line_end}");
    for (key, value) in pairs {
        text.push_str(&format!("{key:<width$} = {value}{line_end}"));
    }
    text
}

/// The setups' mentions of a hole: the setup and the place of the hole's name.
fn mentions<'a>(tree: &'a Tree<'_>, point: &str, name: &str) -> Vec<(&'a str, Range<usize>)> {
    let setups = tree.find("setup").and_then(Item::as_table_like);
    setups
        .into_iter()
        .flat_map(|setups| setups.iter())
        .filter_map(|(setup, item)| {
            let hole = item.as_table_like()?.get("holes")?.as_table_like()?.get(point)?;
            (hole.as_str()?.trim() == name).then_some(())?;
            Some((setup, hole.span()?))
        })
        .collect()
}

/// Gives a hole another name, in the setups too.
pub(crate) fn rename(tree: &Tree<'_>, point: &str, name: &str, to: &str) -> Result<String, EditError> {
    let hole = find(tree, point, name, None)?;
    let to = good(to)?;
    if to == hole.name {
        return Ok(tree.text.to_string());
    }
    if find(tree, point, to, None).is_ok() {
        return Err(EditError::HoleExists { point: point.to_string(), name: shorten(to) });
    }
    let own = hole.table.get("name").and_then(Item::span);
    let places = own.into_iter().chain(mentions(tree, point, hole.name).into_iter().map(|(_, span)| span));
    let spelt = |span: Range<usize>| {
        let text = spell::text(to, Some(tree.slice(&span)));
        Splice::new(span, text)
    };
    Ok(tree.spliced(places.map(spelt).collect()))
}

/// Takes a hole out.
pub(crate) fn remove(tree: &Tree<'_>, point: &str, name: &str) -> Result<String, EditError> {
    let (axle, _) = split(point)?;
    let hole = find(tree, point, name, None)?;
    if let Some((setup, _)) = mentions(tree, point, hole.name).first() {
        let (point, name, setup) = (point.to_string(), hole.name.to_string(), setup.to_string());
        return Err(EditError::HoleInUse { point, name, setup });
    }
    if let Home::Lines { .. } = hole.home {
        return Ok(tree.spliced(vec![table::without_block(tree, hole.place)]));
    }
    let holes = all(tree, axle.name());
    let index = holes.iter().position(|other| other.place == hole.place).unwrap_or_default();
    let before = index.checked_sub(1).and_then(|before| holes.get(before));
    let range = match (before, holes.get(index + 1)) {
        (Some(before), _) => before.place.end..hole.place.end,
        (None, Some(after)) => hole.place.start..after.place.start,
        (None, None) => hole.place,
    };
    Ok(tree.spliced(vec![Splice::new(range, "")]))
}
