//! Points as the file writes them, and their way into the car's axes.

use std::collections::BTreeMap;
use std::ops::Range;

use nalgebra::Vector3;
use units::Dimension;

use crate::entry::Entry;
use crate::frame::SurveyFrame;
use crate::model::SurveyPoint;
use crate::reader::Section;
use crate::slips;

/// A point in the survey's frame \[m\].
pub(crate) struct Written {
    pub(crate) at: Vector3<f64>,
    /// Standard uncertainty that the point states for itself, by coordinate \[m\].
    own: [Option<f64>; 3],
    pub(crate) span: Range<usize>,
}

/// Reads `[x, y, z]` or `{ at = [x, y, z], accuracy = … }`.
pub(crate) fn read(entry: &Entry<'_>) -> Option<Written> {
    let Some(section) = table_form(entry) else { return coordinates(entry) };
    let at = section.need("at", "the point, as [x, y, z]").and_then(|at| coordinates(&at));
    let accuracy = accuracy(&section);
    section.finish(None);
    let mut written = at?;
    for own in &mut written.own {
        *own = own.or(accuracy);
    }
    Some(written)
}

/// The `accuracy` of a table, if it is there.
pub(crate) fn accuracy(section: &Section<'_>) -> Option<f64> {
    let entry = section.entry("accuracy")?;
    let value = entry.quantity(Dimension::Length)?.value;
    if value < 0.0 {
        entry.error(format!("`{}` is a spread and cannot be negative", entry.path), None);
        return None;
    }
    slips::accuracy(section, &entry.span, value);
    Some(value)
}

/// Reads the `at` of a table that has its own `accuracy`, such as a hole.
pub(crate) fn read_at(section: &Section<'_>, what: &str) -> Option<Written> {
    let at = section.need("at", what).and_then(|at| read(&at));
    let accuracy = accuracy(section);
    let mut written = at?;
    for own in &mut written.own {
        *own = own.or(accuracy);
    }
    Some(written)
}

fn table_form<'d>(entry: &Entry<'d>) -> Option<Section<'d>> {
    matches!(entry.node, crate::entry::Node::Table(_)).then(|| entry.table()).flatten()
}

fn coordinates(entry: &Entry<'_>) -> Option<Written> {
    let Some(items) = entry.items() else {
        let hint = match entry.text_if_any() {
            Some(text) if text.contains(',') => format!("square brackets in place of the quotes: [{text}]"),
            _ => "write it as [x, y, z]".to_string(),
        };
        entry.error(format!("`{}` is {}, where a point is wanted", entry.path, entry.found()), hint);
        return None;
    };
    let [x, y, z] = items.as_slice() else {
        let hint = match items.len() {
            0..=2 => "a point is [x, y, z]: is a coordinate or a comma missing?",
            6 => "a comma parts the coordinates: write decimals with a point, 12.5",
            _ => "a point is [x, y, z]: write decimals with a point, 12.5, not with a comma",
        };
        entry.error(
            format!("`{}` has {}, where three are wanted", entry.path, count(items.len(), "coordinate")),
            hint.to_string(),
        );
        return None;
    };
    // All three are read before giving up, so that every slip in a point is reported at once.
    let read = [x, y, z].map(|item| item.quantity(Dimension::Length));
    let [Some(x), Some(y), Some(z)] = read else { return None };
    let own = [x, y, z].map(|value| (value.uncertainty > 0.0).then_some(value.uncertainty));
    Some(Written { at: Vector3::new(x.value, y.value, z.value), own, span: entry.span.clone() })
}

/// Reads a direction, `[dx, dy, dz]` of any length but zero, in the survey's axes; returns a unit vector.
pub(crate) fn direction(entry: &Entry<'_>) -> Option<Vector3<f64>> {
    let items = entry.items().unwrap_or_default();
    let [x, y, z] = items.as_slice() else {
        entry.error(
            format!("`{}` must be a direction of three numbers", entry.path),
            "write it as [dx, dy, dz], such as [0, 1, 0] for straight across".to_string(),
        );
        return None;
    };
    let read = [x, y, z].map(|item| item.quantity(Dimension::Ratio));
    let [Some(x), Some(y), Some(z)] = read else { return None };
    let unit = Vector3::new(x.value, y.value, z.value).try_normalize(1e-9);
    if unit.is_none() {
        entry.error(format!("`{}` has no length, so it points nowhere", entry.path), None);
    }
    unit
}

/// "1 coordinate", "5 links".
pub(crate) fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

/// How the points of one axle get into the car's axes.
pub(crate) struct Placing<'f> {
    pub(crate) frame: &'f SurveyFrame,
    /// Standard uncertainty of a coordinate that states none \[m\].
    pub(crate) accuracy: f64,
    /// The axle was measured on the right: its points are mirrored.
    pub(crate) mirrored: bool,
}

impl Placing<'_> {
    /// The point on the left side of the car.
    pub(crate) fn place(&self, written: Written) -> SurveyPoint {
        SurveyPoint {
            at: self.mirror(self.frame.to_car(written.at)),
            uncertainty: Vector3::from(written.own.map(|own| own.unwrap_or(self.accuracy))),
            span: written.span,
        }
    }

    /// A direction on the left side of the car.
    pub(crate) fn turn(&self, surveyed: Vector3<f64>) -> Vector3<f64> {
        self.mirror(self.frame.direction_to_car(surveyed))
    }

    fn mirror(&self, mut vector: Vector3<f64>) -> Vector3<f64> {
        if self.mirrored {
            vector.y = -vector.y;
        }
        vector
    }
}

/// The points of one axle by name, as they are found in its tables.
pub(crate) struct PointBook<'f> {
    pub(crate) placing: &'f Placing<'f>,
    found: BTreeMap<String, SurveyPoint>,
}

impl<'f> PointBook<'f> {
    pub(crate) fn new(placing: &'f Placing<'f>) -> Self {
        Self { placing, found: BTreeMap::new() }
    }

    /// Reads the point that a table must have under `key`; `name` is the point's name within the axle.
    pub(crate) fn need(&mut self, section: &Section<'_>, key: &str, name: &str, what: &str) -> Option<()> {
        let entry = section.need(key, &format!("{what}, as [x, y, z]"))?;
        let point = self.placing.place(read(&entry)?);
        self.found.insert(name.to_string(), point);
        Some(())
    }

    /// The points in the order of a scheme, if none is missing.
    pub(crate) fn ordered(&self, names: &[String]) -> Option<Vec<SurveyPoint>> {
        names.iter().map(|name| self.found.get(name).cloned()).collect()
    }
}
