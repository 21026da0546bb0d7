//! Blocks to pieces.

use draw::Rect;

use super::row::{self, Piece, Slot};
use super::{BODY, Block, Flow, HEADINGS, SMALL, figures, table};
use crate::font::Fonts;
use crate::sheet::{Align, Shade, Size, Stroke};

/// Room above a paragraph, a list item, a heading of each level [mm].
const PARAGRAPH: f64 = 1.8;
const ITEM: f64 = 0.7;
const ABOVE: [f64; 3] = [8.0, 6.0, 4.5];

/// Indent of a list [mm].
const INDENT: f64 = 4.5;

/// Most of the width that names of pairs may take.
const NAMES: f64 = 0.38;

/// Rules of a caution's frame, and room inside it [mm].
const FRAME: Stroke = Stroke::solid(0.35);
const INSIDE: f64 = 2.2;

/// In a narrower frame the word has no column of its own [mm].
const NARROW: f64 = 90.0;

/// Everything that is said, as pieces for a frame of this size.
pub(crate) fn pieces(fonts: &Fonts, flow: &Flow, frame: Size) -> Vec<Piece> {
    let mut out: Vec<Piece> = Vec::new();
    let mut fresh = false;
    for block in &flow.blocks {
        let from = out.len();
        match block {
            Block::Heading { level, words } => heading(fonts, &mut out, *level, words, frame),
            Block::Paragraph { words, small } => {
                let slot = slot(0.0, frame.width, if *small { SMALL } else { BODY });
                out.extend(row::lines(&row::broken(fonts, [(slot, words.as_str())])));
            }
            Block::Bullets(items) => bullets(fonts, &mut out, items, frame),
            Block::Pairs(pairs) => self::pairs(fonts, &mut out, pairs, frame),
            Block::Table(table) => out.extend(table::pieces(fonts, table, frame)),
            Block::Figures { figures, columns } => {
                out.extend(figures::pieces(fonts, figures, *columns, frame));
            }
            Block::Caution(words) => caution(fonts, &mut out, words, frame),
            Block::NewPage => fresh = true,
        }
        if let Some(first) = out.get_mut(from) {
            first.space = first.space.max(PARAGRAPH);
            first.fresh |= std::mem::take(&mut fresh);
        }
    }
    // Nothing follows that the last one could stay with.
    if let Some(last) = out.last_mut() {
        last.keep = false;
    }
    out
}

fn slot(left: f64, width: f64, face: crate::sheet::Type) -> Slot {
    Slot { left, width, face, align: Align::Left }
}

fn heading(fonts: &Fonts, out: &mut Vec<Piece>, level: u8, words: &str, frame: Size) {
    let nth = usize::from(level.clamp(1, 3)) - 1;
    let face = HEADINGS.get(nth).copied().unwrap_or(BODY);
    let mut pieces = row::lines(&row::broken(fonts, [(slot(0.0, frame.width, face), words)]));
    for piece in &mut pieces {
        piece.keep = true;
    }
    if let Some(first) = pieces.first_mut() {
        first.space = ABOVE.get(nth).copied().unwrap_or(PARAGRAPH);
        first.bookmark = Some((level.clamp(1, 3), words.to_string()));
    }
    out.append(&mut pieces);
}

fn bullets(fonts: &Fonts, out: &mut Vec<Piece>, items: &[String], frame: Size) {
    for item in items {
        let mark = slot(0.8, INDENT - 0.8, BODY);
        let words = slot(INDENT, frame.width - INDENT, BODY);
        let mut pieces = row::lines(&row::broken(fonts, [(mark, "•"), (words, item.as_str())]));
        if let Some(first) = pieces.first_mut() {
            first.space = ITEM;
        }
        out.append(&mut pieces);
    }
}

fn pairs(fonts: &Fonts, out: &mut Vec<Piece>, pairs: &[(String, String)], frame: Size) {
    let face = BODY.bold();
    let longest = pairs.iter().map(|(name, _)| fonts.width(name, true) * face.size).fold(0.0, f64::max);
    let names = (longest + 0.2).min(frame.width * NAMES);
    let gap = 4.0;
    for (name, value) in pairs {
        let key = slot(0.0, names, face);
        let words = slot(names + gap, frame.width - names - gap, BODY);
        let row = row::broken(fonts, [(key, name.as_str()), (words, value.as_str())]);
        let mut pieces = row::pieces(&row, frame.height, 0.0);
        if let Some(first) = pieces.first_mut() {
            first.space = ITEM;
        }
        out.append(&mut pieces);
    }
}

/// Framed, with a heavy bar at its left and the word in bold: it is told from the rest without a colour.
fn caution(fonts: &Fonts, out: &mut Vec<Piece>, words: &str, frame: Size) {
    let bar = 1.2;
    let face = BODY.bold();
    let word = "Caution";
    let named = fonts.width(word, true) * face.size + 3.0;
    let left = bar + INSIDE;
    let key = slot(left, named, face);
    let text = slot(left + named, frame.width - left - named - INSIDE, BODY);
    let row = if frame.width < NARROW {
        let text = slot(left, frame.width - left - INSIDE, BODY);
        row::broken(fonts, [(text, format!("{word}: {words}").as_str())])
    } else {
        row::broken(fonts, [(key, word), (text, words)])
    };
    for mut piece in row::pieces(&row, frame.height, INSIDE) {
        let words = std::mem::take(&mut piece.page);
        let inset = FRAME.weight / 2.0;
        let area = Rect::sized(inset, inset, frame.width - 2.0 * inset, piece.height - 2.0 * inset);
        piece.page.rect(area, Some(FRAME), Some(Shade::Tint));
        piece.page.rect(Rect::sized(0.0, 0.0, bar, piece.height), None, Some(Shade::Ink));
        piece.page.items.extend(words.items);
        piece.space = PARAGRAPH + 1.0;
        out.push(piece);
    }
}
