//! Edits of a point: its coordinates and its accuracy.

use nalgebra::Vector3;
use toml_edit::{Item, Value};
use units::UnitSystem;

use super::error::{Coordinate, EditError};
use super::place::{Place, not_there, split};
use super::tree::{Home, Splice, Tree};
use super::{At, Context, hole, style, typed};
use crate::model::End;

/// Farthest that a coordinate may be from the car's origin \[m\].
const FARTHEST: f64 = 100.0;

/// How a point is written.
enum Form<'a> {
    /// `[x, y, z]`
    Array,
    /// `{ at = [x, y, z] }`, or a table of its own.
    Table(Home<'a>),
}

/// A point as written.
struct Written<'a> {
    /// The whole value.
    item: &'a Item,
    /// The coordinates, where there are three.
    array: Option<&'a Value>,
    form: Form<'a>,
    /// The hole's own table.
    hole: Option<Home<'a>>,
}

/// Puts a point somewhere else.
pub(crate) fn set(
    tree: &Tree<'_>,
    place: &Place,
    to: &At,
    context: &Context<'_>,
) -> Result<String, EditError> {
    let written = find(tree, place, context)?;
    let array = written.array.ok_or_else(|| wrong_form(place))?;
    let texts = coordinates(tree, place, to, array, context)?;
    let splices = members(array).zip(texts).filter_map(|(old, new)| Some(Splice::new(old.span()?, new)));
    let splices: Vec<Splice> = splices.collect();
    if splices.len() == 3 && members(array).count() == 3 {
        return Ok(tree.spliced(splices));
    }
    // A point with too few or too many coordinates is written anew; only typed coordinates get here.
    let At::Typed(typed) = to else { return Err(wrong_form(place)) };
    let span = array.span().ok_or_else(|| wrong_form(place))?;
    let texts = typed_all(&place.to_string(), typed, &[None; 3], &context.units)?;
    Ok(tree.spliced(vec![Splice::new(span, format!("[{}]", texts.join(", ")))]))
}

/// Sets one coordinate as typed.
pub(crate) fn set_coordinate(
    tree: &Tree<'_>,
    place: &Place,
    coordinate: Coordinate,
    text: &str,
    context: &Context<'_>,
) -> Result<String, EditError> {
    let written = find(tree, place, context)?;
    let old = written.array.and_then(|array| members(array).nth(coordinate.index()));
    let span = old.and_then(Value::span).ok_or_else(|| wrong_form(place))?;
    let new = typed::length(text, Some(tree.slice(&span)), &context.units)
        .map_err(|source| EditError::Typed { name: format!("{coordinate} of {place}"), source })?;
    Ok(tree.spliced(vec![Splice::new(span, new)]))
}

/// Sets or takes out a point's own accuracy.
pub(crate) fn set_accuracy(
    tree: &Tree<'_>,
    place: &Place,
    text: Option<&str>,
    context: &Context<'_>,
) -> Result<String, EditError> {
    if matches!(place, Place::Corner { .. }) {
        return Err(EditError::WrongForm {
            name: place.to_string(),
            wanted: "a point with an accuracy of its own",
        });
    }
    let written = find(tree, place, context)?;
    let nothing = || EditError::NotThere { name: format!("accuracy of {place}"), hint: None };
    let inner = written.item.as_table_like();
    // A hole's accuracy stands in the hole's table, unless its `at` has one already.
    let home = match (written.form, written.hole) {
        (Form::Table(home), None) => Some(home),
        (Form::Table(home), Some(_)) if inner.is_some_and(|table| table.contains_key("accuracy")) => {
            Some(home)
        }
        (_, hole) => hole,
    };
    let Some(home) = home else {
        let (Some(text), Some(span)) = (text, written.item.span()) else { return Err(nothing()) };
        let accuracy = accuracy(place, text, None, &context.units)?;
        let table = format!("{{ at = {}, accuracy = {accuracy} }}", tree.slice(&span));
        return Ok(tree.spliced(vec![Splice::new(span, table)]));
    };
    let old = match &home {
        Home::Lines { table, .. } => table.get("accuracy").and_then(Item::span),
        Home::Braces(table) => table.get("accuracy").and_then(Value::span),
    };
    let splice = match (text, old) {
        (Some(text), Some(span)) => {
            let new = accuracy(place, text, Some(tree.slice(&span)), &context.units)?;
            Some(Splice::new(span, new))
        }
        (Some(text), None) => tree.with_key(&home, "accuracy", &accuracy(place, text, None, &context.units)?),
        (None, None) => return Err(nothing()),
        (None, Some(_)) => match (&home, written.array.and_then(Value::span)) {
            // What is left of `{ at = [x, y, z] }` is the point.
            (Home::Braces(table), Some(at)) if table.len() == 2 && inner.is_some_and(|i| i.len() == 2) => {
                table.span().map(|span| Splice::new(span, tree.slice(&at)))
            }
            _ => tree.without_key(&home, "accuracy"),
        },
    };
    Ok(tree.spliced(vec![splice.ok_or_else(|| wrong_form(place))?]))
}

fn accuracy(place: &Place, text: &str, old: Option<&str>, units: &UnitSystem) -> Result<String, EditError> {
    typed::length(text, old, units)
        .map_err(|source| EditError::Typed { name: format!("accuracy of {place}"), source })
}

fn wrong_form(place: &Place) -> EditError {
    EditError::WrongForm { name: place.to_string(), wanted: "a point of three coordinates" }
}

fn members(array: &Value) -> impl Iterator<Item = &Value> {
    array.as_array().into_iter().flat_map(|array| array.iter())
}

fn find<'a>(tree: &'a Tree<'_>, place: &Place, context: &Context<'_>) -> Result<Written<'a>, EditError> {
    match place {
        Place::Point(name) => {
            split(name)?;
            let item = tree.find(name).ok_or_else(|| not_there(name, context.car))?;
            Ok(written(item, tree.home(name), None))
        }
        Place::Hole { point, name } => {
            let hole = hole::find(tree, point, name, context.car)?;
            let item = hole.table.get("at").ok_or_else(|| wrong_form(place))?;
            let inner = item.as_inline_table().map(Home::Braces);
            Ok(written(item, inner, Some(hole.home)))
        }
        Place::Corner { plate, index } => {
            let missing = || EditError::NotThere { name: place.to_string(), hint: None };
            let corners =
                tree.find(&format!("{plate}.corners")).and_then(Item::as_array).ok_or_else(missing)?;
            let corner = corners.get(*index).ok_or_else(missing)?;
            let (array, form) = match corner {
                Value::InlineTable(table) => (table.get("at"), Form::Table(Home::Braces(table))),
                value => (Some(value), Form::Array),
            };
            Ok(Written { item: &NOTHING, array: array.filter(|at| at.is_array()), form, hole: None })
        }
    }
}

static NOTHING: Item = Item::None;

fn written<'a>(item: &'a Item, home: Option<Home<'a>>, hole: Option<Home<'a>>) -> Written<'a> {
    let (array, form) = match (item.as_table_like(), home) {
        (Some(table), Some(home)) => (table.get("at").and_then(Item::as_value), Form::Table(home)),
        _ => (item.as_value(), Form::Array),
    };
    Written { item, array: array.filter(|array| array.is_array()), form, hole }
}

/// TOML for each coordinate of a point that goes somewhere, in the style of `like`.
pub(crate) fn coordinates(
    tree: &Tree<'_>,
    place: &Place,
    to: &At,
    like: &Value,
    context: &Context<'_>,
) -> Result<[String; 3], EditError> {
    let old: Vec<&Value> = members(like).collect();
    let source = |index: usize| Some(tree.slice(&old.get(index)?.span()?));
    match to {
        At::Typed(texts) => {
            let sources = [source(0), source(1), source(2)];
            typed_all(&place.to_string(), texts, &sources, &context.units)
        }
        At::Car(at) => {
            let written = in_survey(place, Vector3::from(*at), context)?;
            let style = |index: usize, metres: f64| {
                let text = old.get(index).and_then(|value| value.as_str());
                style::rewritten(source(index).unwrap_or("0"), text, metres, &context.units)
            };
            Ok([style(0, written.x), style(1, written.y), style(2, written.z)])
        }
    }
}

/// TOML for three typed coordinates.
pub(crate) fn typed_all(
    name: &str,
    texts: &[String; 3],
    old: &[Option<&str>; 3],
    units: &UnitSystem,
) -> Result<[String; 3], EditError> {
    let one = |coordinate: Coordinate, text: &str, old: Option<&str>| {
        typed::length(text, old, units)
            .map_err(|source| EditError::Typed { name: format!("{coordinate} of {name}"), source })
    };
    let ([x, y, z], [old_x, old_y, old_z]) = (texts, old);
    Ok([one(Coordinate::X, x, *old_x)?, one(Coordinate::Y, y, *old_y)?, one(Coordinate::Z, z, *old_z)?])
}

/// A place in the car's axes as the file's survey has it \[m\].
fn in_survey(place: &Place, mut at: Vector3<f64>, context: &Context<'_>) -> Result<Vector3<f64>, EditError> {
    let name = || place.to_string();
    if at.iter().any(|coordinate| coordinate.is_nan() || coordinate.abs() > FARTHEST) {
        return Err(EditError::NoPlace { name: name() });
    }
    let car = context.car.ok_or_else(|| EditError::NoFrame { name: name() })?;
    let axle = place.axle().and_then(|end: End| car.axle(end));
    if axle.ok_or_else(|| EditError::NoFrame { name: name() })?.mirrored {
        at.y = -at.y;
    }
    Ok(car.frame.to_survey(at))
}
