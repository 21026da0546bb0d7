//! A drawing as DXF.
//!
//! The version is that of the year 2007 (AC1021): the oldest whose letters are UTF-8, so that every reader agrees on
//! `Ø` and `±`; one that takes no letters beyond ASCII still gets every line. Group codes, tables and the rule for
//! planes in space: the published DXF reference (remembered); what is written is read back and audited by an
//! independent reader in `reference/exchange_check.py`.
//!
//! Written here because the writer found (`dxf` 0.6) brings an image codec and a calendar for six kinds of shapes.

mod skeleton;
mod words;

use crate::drawing::{Drawing, Item, Shape, decimal, dot, plane, unit};
use crate::error::ExchangeError;
use words::text_words;

/// Decimals of a coordinate \[mm\].
const DECIMALS: usize = 9;

/// Decimals of the parts of a direction: the place of a circle is worked out from it over metres.
const DIRECTION_DECIMALS: usize = 16;

/// The drawing as a DXF file in UTF-8 and millimetres (`$INSUNITS` 4, `$MEASUREMENT` 1).
///
/// # Errors
/// As [`Drawing::check`].
pub fn dxf(drawing: &Drawing) -> Result<String, ExchangeError> {
    drawing.check()?;
    let mut entities = Tags::default();
    for item in &drawing.items {
        entity(&mut entities, item);
    }
    Ok(skeleton::file(drawing, entities))
}

/// Pairs of a group code and a value, and the next free handle.
#[derive(Debug, Default)]
struct Tags {
    text: String,
    handles: u32,
}

/// First handle of an entity: those below are of the tables.
const FIRST_HANDLE: u32 = 0x100;

impl Tags {
    fn tag(&mut self, code: u16, value: &str) {
        self.text.push_str(&format!("{code:>3}\n{value}\n"));
    }

    fn number(&mut self, code: u16, value: f64) {
        self.tag(code, &decimal(value, DECIMALS));
    }

    /// A point under the codes `code`, `code + 10` and `code + 20`.
    fn point(&mut self, code: u16, [x, y, z]: [f64; 3]) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, z);
    }

    /// The handle that the next entity gets.
    fn next_handle(&self) -> u32 {
        FIRST_HANDLE + self.handles
    }

    /// Begins an entity; gives its handle.
    fn begin(&mut self, kind: &str, owner: u32, layer: &str, class: &str) -> u32 {
        let handle = self.next_handle();
        self.handles += 1;
        self.tag(0, kind);
        self.tag(5, &format!("{handle:X}"));
        self.tag(330, &format!("{owner:X}"));
        self.tag(100, "AcDbEntity");
        self.tag(8, layer);
        self.tag(100, class);
        handle
    }
}

fn entity(tags: &mut Tags, item: &Item) {
    let layer = item.layer.name();
    let model = skeleton::MODEL_SPACE;
    match &item.shape {
        Shape::Point { at } => {
            tags.begin("POINT", model, layer, "AcDbPoint");
            tags.point(10, *at);
        }
        Shape::Line { from, to } => {
            tags.begin("LINE", model, layer, "AcDbLine");
            tags.point(10, *from);
            tags.point(11, *to);
        }
        Shape::Polyline { points, closed } => polyline(tags, layer, points, *closed),
        Shape::Circle { centre, normal, radius } => {
            tags.begin("CIRCLE", model, layer, "AcDbCircle");
            // A circle lies in its own plane's axes: the centre is written in them.
            let normal = unit(*normal).unwrap_or([0.0, 0.0, 1.0]);
            let [x, y] = plane(normal);
            tags.point(10, [dot(*centre, x), dot(*centre, y), dot(*centre, normal)]);
            tags.number(40, *radius);
            for (code, part) in [210, 220, 230].into_iter().zip(normal) {
                tags.tag(code, &decimal(part, DIRECTION_DECIMALS));
            }
        }
        Shape::Arc { centre, radius, from_deg, to_deg } => {
            tags.begin("ARC", model, layer, "AcDbCircle");
            tags.point(10, *centre);
            tags.number(40, *radius);
            tags.tag(100, "AcDbArc");
            tags.number(50, from_deg.rem_euclid(360.0));
            tags.number(51, to_deg.rem_euclid(360.0));
        }
        Shape::Text { at, height, rotation_deg, text } => {
            tags.begin("TEXT", model, layer, "AcDbText");
            tags.point(10, *at);
            tags.number(40, *height);
            tags.tag(1, &text_words(text));
            tags.number(50, rotation_deg.rem_euclid(360.0));
            tags.tag(100, "AcDbText");
        }
    }
}

/// A flat one at one height, which cutting programs follow best; one in space where the heights differ.
fn polyline(tags: &mut Tags, layer: &str, points: &[[f64; 3]], closed: bool) {
    let height = points.first().map_or(0.0, |p| p[2]);
    let flag = u8::from(closed);
    if points.iter().all(|[_, _, z]| *z == height) {
        tags.begin("LWPOLYLINE", skeleton::MODEL_SPACE, layer, "AcDbPolyline");
        tags.tag(90, &points.len().to_string());
        tags.tag(70, &flag.to_string());
        tags.number(38, height);
        for [x, y, _] in points {
            tags.number(10, *x);
            tags.number(20, *y);
        }
        return;
    }
    const IN_SPACE: u8 = 8;
    const VERTEX_IN_SPACE: &str = "32";
    let owner = tags.begin("POLYLINE", skeleton::MODEL_SPACE, layer, "AcDb3dPolyline");
    tags.tag(66, "1");
    tags.point(10, [0.0; 3]);
    tags.tag(70, &(flag | IN_SPACE).to_string());
    for point in points {
        tags.begin("VERTEX", owner, layer, "AcDbVertex");
        tags.tag(100, "AcDb3dPolylineVertex");
        tags.point(10, *point);
        tags.tag(70, VERTEX_IN_SPACE);
    }
    tags.tag(0, "SEQEND");
    tags.tag(5, &format!("{:X}", tags.next_handle()));
    tags.handles += 1;
    tags.tag(330, &format!("{owner:X}"));
    tags.tag(100, "AcDbEntity");
    tags.tag(8, layer);
}

#[cfg(test)]
mod tests;
