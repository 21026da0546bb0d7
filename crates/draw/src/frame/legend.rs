//! The classes of use, below the frame.

use super::places::Shape;
use super::usage::Class;
use super::words::{EDGE, MOST};
use super::{Sheet, scale, tubes};
use crate::plane::{Rect, Spot};
use crate::svg;
use crate::text_width;

/// Length of a sample of the legend, and the gap to its words \[px\].
const SAMPLE: f64 = 32.0;
const GAP: f64 = 6.0;

/// Between entries of the legend \[px\].
const APART: f64 = 14.0;

/// A line of the legend.
#[derive(Clone, Copy)]
enum Entry {
    Words(&'static str),
    Rest,
    Class(Class),
}

impl Entry {
    fn words(self) -> &'static str {
        match self {
            Self::Words(words) => words,
            Self::Rest => "without load",
            Self::Class(class) => class.words(),
        }
    }

    fn sample(self) -> f64 {
        if matches!(self, Self::Words(_)) { 0.0 } else { SAMPLE + GAP }
    }
}

/// Draws them, and keeps the room above them that the scale wants.
pub(crate) fn draw(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>]) {
    let font = sheet.font;
    let high = (font * 1.35).max(17.0);
    let mut entries = vec![Entry::Words("of what a tube can take, in use:")];
    entries.extend(Class::KNOWN.map(Entry::Class));
    if shapes.iter().any(|s| s.class == Class::Unknown) {
        entries.push(Entry::Class(Class::Unknown));
    }
    entries.push(Entry::Rest);
    let (left, right) = (EDGE, sheet.page.right - EDGE);
    let mut places: Vec<(Entry, Spot)> = Vec::new();
    let (mut x, mut row) = (left, 0.0);
    for entry in entries {
        let wide = entry.sample() + text_width(entry.words(), false) * font;
        if x > left && x + wide > right {
            (x, row) = (left, row + 1.0);
        }
        places.push((entry, (x, row)));
        x += wide + APART;
        if left + wide > right {
            // No part of a legend is better than a wrong one.
            places.clear();
            break;
        }
    }
    let rows = if places.is_empty() { 0.0 } else { row + 1.0 };
    let tall = rows * high + EDGE;
    if shapes.is_empty() || tall > sheet.page.height() * MOST {
        places.clear();
    }
    let top = if places.is_empty() { sheet.page.bottom } else { sheet.page.bottom - tall };
    sheet.layout.mark(Rect { top, ..sheet.page });
    sheet.out.push_str("<g class=\"legend\">");
    for (entry, (x, row)) in places {
        let middle = top + (row + 0.5) * high;
        // The ends of the widest line are round.
        let inset = if matches!(entry, Entry::Class(Class::Over)) { 3.5 } else { 0.0 };
        let ends = [(x + inset, middle), (x + SAMPLE - inset, middle)];
        match entry {
            Entry::Words(_) => {}
            Entry::Rest => {
                let mut path = String::new();
                svg::segment(&mut path, (x, middle), (x + SAMPLE, middle));
                svg::path(&mut sheet.out, "rest", &path);
            }
            Entry::Class(class) => tubes::stroke(&mut sheet.out, class, &ends),
        }
        svg::text(&mut sheet.out, "scale", (x + entry.sample(), middle + font * 0.36), entry.words());
    }
    sheet.out.push_str("</g>");
    sheet.plot.bottom = top - scale::room(sheet);
}
