//! What stands in the file as a person typed it, key by key, with its place: for a page that shows the survey the way
//! it was written, and each mistake where it is.

use std::ops::Range;

use toml_edit::{Item, TableLike, Value};

use super::hole;
use super::place::Place;
use super::tree::Tree;
use crate::model::End;

/// Keys that hold a point.
const POINT_KEYS: [&str; 15] = [
    "centre",
    "body",
    "upright",
    "body-fore",
    "body-aft",
    "ball",
    "top",
    "lower",
    "bush",
    "pivot-inner",
    "pivot-outer",
    "mount",
    "from",
    "to",
    "through",
];

/// One value as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// What a person types to get it: without the quotes around a text; members of a list parted by `, `.
    pub text: String,
    /// Its bytes in the file, quotes and all.
    pub span: Range<usize>,
}

/// A point as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedPoint {
    /// x, y and z; fewer or more where the file has them so.
    pub coordinates: Vec<Typed>,
    /// The point's own accuracy, where it states one.
    pub accuracy: Option<Typed>,
    /// Bytes of the file from its key to its end.
    pub span: Range<usize>,
}

impl TypedPoint {
    /// The text of a coordinate, 0 to 2; empty where it is not there.
    pub fn coordinate(&self, index: usize) -> &str {
        self.coordinates.get(index).map_or("", |typed| typed.text.as_str())
    }
}

/// A file's text, to be asked for what stands where.
pub struct AsTyped<'t> {
    tree: Tree<'t>,
}

impl<'t> AsTyped<'t> {
    /// `None` where the text is not TOML.
    pub fn of(text: &'t str) -> Option<Self> {
        Tree::parse(text).ok().map(|tree| Self { tree })
    }

    /// Whether anything stands at a path, such as `front` or `survey.datum.sill`.
    pub fn has(&self, path: &str) -> bool {
        self.tree.find(path).is_some_and(|item| !item.is_none())
    }

    /// The value at a path; `None` where none is there, or more than a value.
    pub fn value(&self, path: &str) -> Option<Typed> {
        let value = self.tree.find(path)?.as_value()?;
        if value.is_inline_table() { None } else { self.typed(value) }
    }

    /// Bytes of a table's header; of its key where it has none.
    pub fn header(&self, path: &str) -> Option<Range<usize>> {
        self.tree.find(path)?.span()
    }

    /// Names of the tables inside a table, in the order of the file.
    pub fn tables(&self, path: &str) -> Vec<String> {
        let table = self.tree.find(path).and_then(Item::as_table_like);
        let named = table.into_iter().flat_map(|table| table.iter());
        named.filter(|(_, item)| item.is_table_like()).map(|(name, _)| name.to_string()).collect()
    }

    /// Names of everything in a table, in the order of the file.
    pub fn keys(&self, path: &str) -> Vec<String> {
        let table = self.tree.find(path).and_then(Item::as_table_like);
        table.into_iter().flat_map(|table| table.iter()).map(|(name, _)| name.to_string()).collect()
    }

    /// How many tables of a name there are, such as `build.frame.tube`.
    pub fn count(&self, path: &str) -> usize {
        self.tree.find(path).and_then(Item::as_array_of_tables).map_or(0, |several| several.len())
    }

    /// The points of an axle, the wheel's centre first, else in the order of the file: `rear.link.toe.body`. Also those
    /// that cannot be read.
    pub fn points(&self, end: End) -> Vec<String> {
        let mut found = Vec::new();
        if let Some(table) = self.tree.find(end.name()).and_then(Item::as_table_like) {
            collect(table, end.name(), &mut found);
        }
        // A stable sort: false comes first.
        found.sort_by_key(|name| !name.ends_with(".wheel.centre"));
        found
    }

    /// The candidate holes of an axle, in the order of the file.
    pub fn holes(&self, end: End) -> Vec<Place> {
        hole::names(&self.tree, end.name())
            .into_iter()
            .map(|(point, name)| Place::Hole { point: format!("{}.{point}", end.name()), name })
            .collect()
    }

    /// The corners of a plate, such as `rear.plate.lower-fore`.
    pub fn corners(&self, plate: &str) -> Vec<Place> {
        let list = self.tree.find(&format!("{plate}.corners")).and_then(Item::as_array);
        let count = list.map_or(0, |list| list.len());
        (0..count).map(|index| Place::Corner { plate: plate.to_string(), index }).collect()
    }

    /// A point, a hole or a corner; `None` where it is not there or is no list of coordinates.
    pub fn point(&self, place: &Place) -> Option<TypedPoint> {
        match place {
            Place::Point(name) => {
                let (key, item) = self.key_and_item(name)?;
                self.point_of(item, key)
            }
            Place::Hole { point, name } => {
                let hole = hole::find(&self.tree, point, name, None).ok()?;
                let (key, at) = hole.table.get_key_value("at")?;
                let mut typed = self.point_of(at, key.span())?;
                let own = hole.table.get("accuracy").and_then(Item::as_value);
                typed.accuracy = typed.accuracy.or_else(|| own.and_then(|value| self.typed(value)));
                Some(typed)
            }
            Place::Corner { plate, index } => {
                let corners = self.tree.find(&format!("{plate}.corners"))?.as_array()?;
                let corner = corners.get(*index)?;
                let at = corner.as_inline_table().and_then(|table| table.get("at")).unwrap_or(corner);
                Some(TypedPoint { coordinates: self.members(at)?, accuracy: None, span: corner.span()? })
            }
        }
    }

    fn key_and_item(&self, path: &str) -> Option<(Option<Range<usize>>, &Item)> {
        let (parent, key) = path.rsplit_once('.')?;
        let table = self.tree.find(parent)?.as_table_like()?;
        let (key, item) = table.get_key_value(key)?;
        Some((key.span(), item))
    }

    fn point_of(&self, item: &Item, key: Option<Range<usize>>) -> Option<TypedPoint> {
        let (at, accuracy) = match item.as_table_like() {
            Some(table) => (table.get("at")?.as_value()?, table.get("accuracy").and_then(Item::as_value)),
            None => (item.as_value()?, None),
        };
        let accuracy = accuracy.and_then(|value| self.typed(value));
        let span = item.span()?;
        let start = key.map_or(span.start, |key| key.start.min(span.start));
        Some(TypedPoint { coordinates: self.members(at)?, accuracy, span: start..span.end })
    }

    fn members(&self, value: &Value) -> Option<Vec<Typed>> {
        Some(value.as_array()?.iter().filter_map(|member| self.typed(member)).collect())
    }

    fn typed(&self, value: &Value) -> Option<Typed> {
        let span = value.span()?;
        let text = match value {
            Value::String(text) => text.value().clone(),
            Value::Array(_) => {
                self.members(value)?.into_iter().map(|member| member.text).collect::<Vec<_>>().join(", ")
            }
            _ => self.tree.slice(&span).to_string(),
        };
        Some(Typed { text, span })
    }
}

/// Finds the points in a table and in those within it.
fn collect(table: &dyn TableLike, path: &str, found: &mut Vec<String>) {
    for (key, item) in table.iter() {
        let own = format!("{path}.{key}");
        let at = key == "at" && path.contains(".joint.");
        let point = (POINT_KEYS.contains(&key) || at) && path.contains('.');
        match item.as_table_like() {
            _ if key == "plate" || key == "holes" => {}
            // `joint.NAME` may be called like a key of a point.
            Some(inner) if !point || !inner.contains_key("at") || path.ends_with(".joint") => {
                collect(inner, &own, found);
            }
            Some(_) => found.push(own),
            None if point && item.as_array().is_some() => found.push(own),
            None => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "[units]\nlength = \"in\"\n\n[rear]\nkind = \"five-link\"\n[rear.link.toe]\n\
        body = [\"24 1/2 in\", 12, '3 ft']  # a note\nupright = { at = [1, 2, 3], accuracy = \"1/16\" }\n\
        [rear.wheel]\ncentre = [100, 30, 12]\ntoe = \"0.1 deg\"\n\
        [rear.plate.p]\ncorners = [[1, 2, 3], [4, 5, 6]]\n\
        [[rear.holes]]\nend = \"link.toe.body\"\nname = \"A\"\nat = [7, 8, 9]\naccuracy = 0.5\n\
        [choose]\ntravels = [-50, \"2 in\"]\n";

    #[test]
    fn values_are_shown_as_typed() {
        let typed = AsTyped::of(TEXT).unwrap();
        let text = |path: &str| typed.value(path).map(|typed| typed.text);
        assert_eq!(text("rear.wheel.toe").as_deref(), Some("0.1 deg"));
        assert_eq!(text("choose.travels").as_deref(), Some("-50, 2 in"));
        assert_eq!(text("rear.wheel"), None);
        assert_eq!(text("rear.wheel.camber"), None);
        let span = typed.value("units.length").unwrap().span;
        assert_eq!(&TEXT[span], "\"in\"");
        assert!(typed.has("rear.wheel") && !typed.has("front"));
        assert_eq!(typed.tables("rear.link"), ["toe"]);
        assert!(AsTyped::of("a = ").is_none());
    }

    #[test]
    fn points_are_found_with_their_places() {
        let typed = AsTyped::of(TEXT).unwrap();
        assert_eq!(
            typed.points(End::Rear),
            ["rear.wheel.centre", "rear.link.toe.body", "rear.link.toe.upright"]
        );
        assert!(typed.points(End::Front).is_empty());
        let body = typed.point(&Place::Point("rear.link.toe.body".into())).unwrap();
        assert_eq!([body.coordinate(0), body.coordinate(1), body.coordinate(2)], ["24 1/2 in", "12", "3 ft"]);
        assert_eq!(body.coordinate(3), "");
        assert_eq!(&TEXT[body.span], "body = [\"24 1/2 in\", 12, '3 ft']");
        let upright = typed.point(&Place::Point("rear.link.toe.upright".into())).unwrap();
        assert_eq!(upright.accuracy.unwrap().text, "1/16");
        let [hole] = typed.holes(End::Rear).try_into().unwrap();
        let hole = typed.point(&hole).unwrap();
        assert_eq!(hole.coordinate(2), "9");
        assert_eq!(hole.accuracy.unwrap().text, "0.5");
        let corners = typed.corners("rear.plate.p");
        assert_eq!(corners.len(), 2);
        assert_eq!(typed.point(&corners[1]).unwrap().coordinate(0), "4");
    }

    #[test]
    fn every_starter_shows_the_points_of_its_kind() {
        for kind in crate::KINDS {
            let text = crate::starter(kind, &units::UnitSystem::default()).unwrap();
            let typed = AsTyped::of(&text).unwrap();
            let car = crate::read(&text).car.unwrap();
            let axle = car.rear.as_ref().or(car.front.as_ref()).unwrap();
            let mut shown = typed.points(axle.end);
            let mut known: Vec<String> =
                super::super::place::names(axle).map(|name| format!("{}.{name}", axle.end.name())).collect();
            assert_eq!(shown.first().map(String::as_str), known.last().map(String::as_str));
            shown.sort();
            known.sort();
            assert_eq!(shown, known, "{kind}");
            assert_eq!(typed.holes(axle.end).len(), axle.holes.len());
        }
    }
}
