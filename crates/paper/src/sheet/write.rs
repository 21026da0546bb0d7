//! A page as SVG in true millimetres.

use draw::style::{Theme, rules_in};
use draw::svg::{attribute, escape, number};

use super::{Align, Dash, Drawing, Item, Page, Shade, Size, Spot, Stroke, Type};
use crate::font::Fonts;
use draw::Rect;

/// A sheet with its things as one SVG: root size in mm, one user unit is 1 mm.
pub(crate) fn svg(fonts: &Fonts, size: Size, page: &Page) -> String {
    let mut out = String::with_capacity(20_000);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
    number(&mut out, size.width);
    out.push_str("mm\" height=\"");
    number(&mut out, size.height);
    out.push_str("mm\" viewBox=\"0 0 ");
    number(&mut out, size.width);
    out.push(' ');
    number(&mut out, size.height);
    out.push_str("\" font-family=\"'DejaVu Sans',sans-serif\">");
    if draws(&page.items) {
        out.push_str("<style>");
        out.push_str(&rules_in(Theme::Print));
        out.push_str("</style>");
    }
    out.push_str("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>");
    page.items.iter().for_each(|item| one(fonts, &mut out, item));
    out.push_str("</svg>\n");
    out
}

/// Whether a drawing is among them, which needs the stylesheet.
fn draws(items: &[Item]) -> bool {
    items.iter().any(|item| match item {
        Item::Drawing { .. } => true,
        Item::Window { items, .. } => draws(items),
        _ => false,
    })
}

fn one(fonts: &Fonts, out: &mut String, item: &Item) {
    match item {
        Item::Text { at, words, face, align } => text(fonts, out, *at, words, *face, *align),
        Item::Path { places, closed, stroke, fill } => path(out, places, *closed, *stroke, *fill),
        Item::Circle { centre, radius, stroke, fill } => {
            out.push_str("<circle");
            attribute(out, "cx", centre.0);
            attribute(out, "cy", centre.1);
            attribute(out, "r", *radius);
            paint(out, *stroke, *fill);
            out.push_str("/>");
        }
        Item::Drawing { area, drawing } => place(out, area, drawing),
        Item::Window { area, shift, items } => window(fonts, out, area, *shift, items),
    }
}

fn text(fonts: &Fonts, out: &mut String, at: Spot, words: &str, face: Type, align: Align) {
    let runs = fonts.runs(words, face.bold);
    if runs.is_empty() {
        return;
    }
    // More than one run: each has its own place, and the first one the place where all of it begins.
    let parted = runs.len() > 1;
    let whole = runs.iter().map(|(_, width)| width * face.size).sum::<f64>();
    let mut x = match (parted, align) {
        (false, _) | (_, Align::Left) => at.0,
        (_, Align::Middle) => at.0 - whole / 2.0,
        (_, Align::Right) => at.0 - whole,
    };
    out.push_str("<text xml:space=\"preserve\"");
    attribute(out, "x", x);
    attribute(out, "y", at.1);
    attribute(out, "font-size", face.size);
    if face.bold {
        out.push_str(" font-weight=\"700\"");
    }
    match align {
        _ if parted => {}
        Align::Left => {}
        Align::Middle => out.push_str(" text-anchor=\"middle\""),
        Align::Right => out.push_str(" text-anchor=\"end\""),
    }
    if face.shade != Shade::Ink {
        out.push_str(" fill=\"");
        out.push_str(face.shade.colour());
        out.push('"');
    }
    out.push('>');
    for (run, width) in runs {
        if parted {
            out.push_str("<tspan");
            attribute(out, "x", x);
            out.push('>');
            x += width * face.size;
        }
        escape(out, &run);
        if parted {
            out.push_str("</tspan>");
        }
    }
    out.push_str("</text>");
}

fn path(out: &mut String, places: &[Spot], closed: bool, stroke: Option<Stroke>, fill: Option<Shade>) {
    if places.is_empty() {
        return;
    }
    out.push_str("<path d=\"");
    for (i, place) in places.iter().enumerate() {
        out.push(if i == 0 { 'M' } else { 'L' });
        number(out, place.0);
        out.push(' ');
        number(out, place.1);
    }
    if closed {
        out.push('Z');
    }
    out.push('"');
    paint(out, stroke, fill);
    out.push_str("/>");
}

/// Line and ground of a shape.
fn paint(out: &mut String, stroke: Option<Stroke>, fill: Option<Shade>) {
    out.push_str(" fill=\"");
    out.push_str(fill.map_or("none", Shade::colour));
    out.push('"');
    let Some(stroke) = stroke else { return };
    out.push_str(" stroke=\"");
    out.push_str(stroke.shade.colour());
    out.push('"');
    attribute(out, "stroke-width", stroke.weight);
    match stroke.dash {
        Dash::Solid => {}
        Dash::Dashed => out.push_str(" stroke-dasharray=\"2 1.2\""),
        Dash::Chain => out.push_str(" stroke-dasharray=\"4 1 0.6 1\""),
    }
}

/// A drawing of its own units, scaled into an area and in its middle.
fn place(out: &mut String, area: &Rect, drawing: &Drawing) {
    let (width, height) = drawing.size();
    let scale = (area.width() / width).min(area.height() / height).max(0.0);
    let left = area.left + (area.width() - width * scale) / 2.0;
    let top = area.top + (area.height() - height * scale) / 2.0;
    out.push_str("<g transform=\"translate(");
    number(out, left);
    out.push(' ');
    number(out, top);
    // More digits than a coordinate has: it multiplies hundreds of units.
    out.push_str(&format!(") scale({scale:.8})\">"));
    out.push_str(drawing.svg());
    out.push_str("</g>");
}

/// Things behind a window, cut off at its edge by a viewport of their own.
fn window(fonts: &Fonts, out: &mut String, area: &Rect, shift: Spot, items: &[Item]) {
    out.push_str("<svg");
    attribute(out, "x", area.left);
    attribute(out, "y", area.top);
    attribute(out, "width", area.width());
    attribute(out, "height", area.height());
    out.push_str(" viewBox=\"");
    for (i, value) in
        [area.left - shift.0, area.top - shift.1, area.width(), area.height()].into_iter().enumerate()
    {
        if i > 0 {
            out.push(' ');
        }
        number(out, value);
    }
    out.push_str("\">");
    items.iter().for_each(|item| one(fonts, out, item));
    out.push_str("</svg>");
}
