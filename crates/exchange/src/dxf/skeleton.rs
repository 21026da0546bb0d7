//! What a DXF file has around its entities: head, tables, blocks, objects.

use super::Tags;
use crate::drawing::Drawing;

/// Handles of the tables and what is in them, all below the first of an entity.
const TABLES: u32 = 0x10;
/// Handle of the block record that owns every entity.
pub(super) const MODEL_SPACE: u32 = 0x20;
const PAPER_SPACE: u32 = 0x21;
const BLOCKS: u32 = 0x22;
const LINE_TYPES: u32 = 0x30;
const LAYER_ZERO: u32 = 0x38;
const STYLE: u32 = 0x39;
const APPLICATION: u32 = 0x3A;
const DIMENSIONS: u32 = 0x3B;
const VIEWPORT: u32 = 0x3C;
const ROOT: u32 = 0x3E;
const GROUPS: u32 = 0x3F;

/// The whole file. Layers get handles above those of the entities, so that their number has no bound.
pub(super) fn file(drawing: &Drawing, entities: Tags) -> String {
    let first_layer = entities.next_handle();
    let layers = drawing.layers();
    let seed = first_layer + u32::try_from(layers.len()).unwrap_or(0) + 1;
    let mut out = Tags::default();
    head(&mut out, drawing, seed);
    section(&mut out, "CLASSES", |_| {});
    section(&mut out, "TABLES", |out| {
        viewport(out, drawing);
        table(out, "LTYPE", 1, 3, |out, owner| {
            for (index, name) in ["ByBlock", "ByLayer", "Continuous"].into_iter().enumerate() {
                let handle = LINE_TYPES + u32::try_from(index).unwrap_or(0);
                record(out, "LTYPE", handle, owner, "AcDbLinetypeTableRecord", name);
                out.tag(3, "");
                out.tag(72, "65");
                out.tag(73, "0");
                out.number(40, 0.0);
            }
        });
        table(out, "LAYER", 2, layers.len() + 1, |out, owner| {
            layer(out, LAYER_ZERO, owner, "0", 7);
            for (handle, of) in (first_layer..).zip(&layers) {
                layer(out, handle, owner, of.name(), of.colour());
            }
        });
        table(out, "STYLE", 3, 1, |out, owner| {
            record(out, "STYLE", STYLE, owner, "AcDbTextStyleTableRecord", "Standard");
            out.number(40, 0.0);
            out.number(41, 1.0);
            out.number(50, 0.0);
            out.tag(71, "0");
            out.number(42, 2.5);
            out.tag(3, "txt");
            out.tag(4, "");
        });
        table(out, "VIEW", 4, 0, |_, _| {});
        table(out, "UCS", 5, 0, |_, _| {});
        table(out, "APPID", 6, 1, |out, owner| {
            record(out, "APPID", APPLICATION, owner, "AcDbRegAppTableRecord", "ACAD");
        });
        dimension_styles(out);
        table(out, "BLOCK_RECORD", 8, 2, |out, owner| {
            record(out, "BLOCK_RECORD", MODEL_SPACE, owner, "AcDbBlockTableRecord", "*Model_Space");
            record(out, "BLOCK_RECORD", PAPER_SPACE, owner, "AcDbBlockTableRecord", "*Paper_Space");
        });
    });
    section(&mut out, "BLOCKS", |out| {
        block(out, BLOCKS, MODEL_SPACE, "*Model_Space");
        block(out, BLOCKS + 2, PAPER_SPACE, "*Paper_Space");
    });
    section(&mut out, "ENTITIES", |out| out.text.push_str(&entities.text));
    section(&mut out, "OBJECTS", objects);
    out.tag(0, "EOF");
    out.text
}

fn section(out: &mut Tags, name: &str, inside: impl FnOnce(&mut Tags)) {
    out.tag(0, "SECTION");
    out.tag(2, name);
    inside(out);
    out.tag(0, "ENDSEC");
}

fn head(out: &mut Tags, drawing: &Drawing, seed: u32) {
    let (low, high) = drawing.bounds().unwrap_or_default();
    section(out, "HEADER", |out| {
        let mut variable = |name: &str, code: u16, value: &str| {
            out.tag(9, name);
            out.tag(code, value);
        };
        variable("$ACADVER", 1, "AC1021");
        variable("$DWGCODEPAGE", 3, "ANSI_1252");
        variable("$HANDSEED", 5, &format!("{seed:X}"));
        // Millimetres, metric, decimal, degrees counter-clockwise from x.
        variable("$INSUNITS", 70, "4");
        variable("$MEASUREMENT", 70, "1");
        variable("$LUNITS", 70, "2");
        variable("$AUNITS", 70, "0");
        // Points as crosses, 3 mm across: a bare dot cannot be seen.
        variable("$PDMODE", 70, "2");
        variable("$PDSIZE", 40, "3.0");
        out.tag(9, "$EXTMIN");
        out.point(10, low);
        out.tag(9, "$EXTMAX");
        out.point(10, high);
    });
}

fn table(out: &mut Tags, name: &str, index: u32, count: usize, inside: impl FnOnce(&mut Tags, u32)) {
    let handle = TABLES + index;
    out.tag(0, "TABLE");
    out.tag(2, name);
    out.tag(5, &format!("{handle:X}"));
    out.tag(330, "0");
    out.tag(100, "AcDbSymbolTable");
    out.tag(70, &count.to_string());
    inside(out, handle);
    out.tag(0, "ENDTAB");
}

fn record(out: &mut Tags, kind: &str, handle: u32, owner: u32, class: &str, name: &str) {
    out.tag(0, kind);
    out.tag(5, &format!("{handle:X}"));
    out.tag(330, &format!("{owner:X}"));
    out.tag(100, "AcDbSymbolTableRecord");
    out.tag(100, class);
    out.tag(2, name);
    if kind != "BLOCK_RECORD" {
        out.tag(70, "0");
    }
}

fn layer(out: &mut Tags, handle: u32, owner: u32, name: &str, colour: u8) {
    record(out, "LAYER", handle, owner, "AcDbLayerTableRecord", name);
    out.tag(62, &colour.to_string());
    out.tag(6, "Continuous");
}

/// The view that a program opens with: all of the drawing.
fn viewport(out: &mut Tags, drawing: &Drawing) {
    let ([x0, y0, _], [x1, y1, _]) = drawing.bounds().unwrap_or_default();
    table(out, "VPORT", 0, 1, |out, owner| {
        record(out, "VPORT", VIEWPORT, owner, "AcDbViewportTableRecord", "*Active");
        let mut pair = |code: u16, x: f64, y: f64| {
            out.number(code, x);
            out.number(code + 10, y);
        };
        pair(10, 0.0, 0.0);
        pair(11, 1.0, 1.0);
        pair(12, (x0 + x1) / 2.0, (y0 + y1) / 2.0);
        out.point(16, [0.0, 0.0, 1.0]);
        out.point(17, [0.0; 3]);
        out.number(40, (y1 - y0).max((x1 - x0) / 1.5).max(10.0) * 1.1);
        out.number(41, 1.5);
    });
}

/// Its records have handles under a code of their own.
fn dimension_styles(out: &mut Tags) {
    table(out, "DIMSTYLE", 7, 1, |out, owner| {
        out.tag(100, "AcDbDimStyleTable");
        out.tag(0, "DIMSTYLE");
        out.tag(105, &format!("{DIMENSIONS:X}"));
        out.tag(330, &format!("{owner:X}"));
        out.tag(100, "AcDbSymbolTableRecord");
        out.tag(100, "AcDbDimStyleTableRecord");
        out.tag(2, "Standard");
        out.tag(70, "0");
    });
}

fn block(out: &mut Tags, handle: u32, owner: u32, name: &str) {
    for (kind, handle, class) in [("BLOCK", handle, "AcDbBlockBegin"), ("ENDBLK", handle + 1, "AcDbBlockEnd")]
    {
        out.tag(0, kind);
        out.tag(5, &format!("{handle:X}"));
        out.tag(330, &format!("{owner:X}"));
        out.tag(100, "AcDbEntity");
        out.tag(8, "0");
        out.tag(100, class);
        if kind == "BLOCK" {
            out.tag(2, name);
            out.tag(70, "0");
            out.point(10, [0.0; 3]);
            out.tag(3, name);
            out.tag(1, "");
        }
    }
}

fn objects(out: &mut Tags) {
    let mut dictionary = |handle: u32, owner: u32, entry: Option<(&str, u32)>| {
        out.tag(0, "DICTIONARY");
        out.tag(5, &format!("{handle:X}"));
        out.tag(330, &format!("{owner:X}"));
        out.tag(100, "AcDbDictionary");
        out.tag(281, "1");
        if let Some((name, of)) = entry {
            out.tag(3, name);
            out.tag(350, &format!("{of:X}"));
        }
    };
    dictionary(ROOT, 0, Some(("ACAD_GROUP", GROUPS)));
    dictionary(GROUPS, ROOT, None);
}
