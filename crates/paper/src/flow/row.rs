//! Texts side by side, each broken to the width of its slot: the one thing that paragraphs, lists and tables are
//! made of.

use crate::font::Fonts;
use crate::sheet::{Align, Page, Type};

/// Height of a line of text, in font sizes; DejaVu Sans needs 1.17 (ascent and descent read from the font, 2.37).
pub(crate) const LINE: f64 = 1.36;

/// Where in its line the base line is, in font sizes.
const BASE: f64 = 1.02;

/// Something that is not parted any more, with its place in the frame yet to be found.
#[derive(Clone, Debug, Default)]
pub(crate) struct Piece {
    /// What is on it, from its upper left corner.
    pub page: Page,
    /// Its height [mm].
    pub height: f64,
    /// Room above [mm], unless it begins a page.
    pub space: f64,
    /// Whether it stays with the next one.
    pub keep: bool,
    /// What is laid above it where it begins a page: the heading of its table.
    pub head: Option<std::sync::Arc<Piece>>,
    /// The bookmark it is, with its level.
    pub bookmark: Option<(u8, String)>,
    /// Whether it begins a page in any case.
    pub fresh: bool,
}

/// Room for one text.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot {
    /// Left edge in the frame [mm].
    pub left: f64,
    /// Width [mm].
    pub width: f64,
    /// How its words are set.
    pub face: Type,
    /// Which end of them stands at which edge.
    pub align: Align,
}

/// A slot's lines.
pub(super) struct Lines {
    slot: Slot,
    lines: Vec<String>,
}

/// The texts, broken.
pub(super) fn broken<'a>(fonts: &Fonts, texts: impl IntoIterator<Item = (Slot, &'a str)>) -> Vec<Lines> {
    let lines = texts.into_iter().map(|(slot, text)| Lines {
        slot,
        lines: fonts.wrap(text, slot.face.bold, slot.face.size, slot.width),
    });
    lines.collect()
}

/// Height of one line of the tallest face among the slots [mm].
fn pitch(row: &[Lines]) -> f64 {
    row.iter().map(|lines| lines.slot.face.size * LINE).fold(0.0, f64::max)
}

/// The row in pieces of at most `limit` [mm] height, `pad` [mm] above and below the text of each: one piece where
/// it fits.
pub(super) fn pieces(row: &[Lines], limit: f64, pad: f64) -> Vec<Piece> {
    let pitch = pitch(row);
    let room = ((limit - 2.0 * pad) / pitch.max(1e-6)).floor().max(1.0) as usize;
    let count = row.iter().map(|lines| lines.lines.len()).max().unwrap_or_default();
    let starts = (0..count).step_by(room);
    starts
        .map(|start| {
            let end = (start + room).min(count);
            let mut page = Page::default();
            for Lines { slot, lines } in row {
                for (i, line) in lines.iter().enumerate().take(end).skip(start) {
                    let x = match slot.align {
                        Align::Left => slot.left,
                        Align::Middle => slot.left + slot.width / 2.0,
                        Align::Right => slot.left + slot.width,
                    };
                    let y = pad + (i - start) as f64 * pitch + slot.face.size * BASE;
                    if !line.is_empty() {
                        page.text((x, y), line.clone(), slot.face, slot.align);
                    }
                }
            }
            Piece { page, height: 2.0 * pad + (end - start) as f64 * pitch, ..Piece::default() }
        })
        .collect()
}

/// The row line by line, where a page may end after any but the first and the last but one: no line stands alone.
pub(super) fn lines(row: &[Lines]) -> Vec<Piece> {
    let mut pieces = pieces(row, pitch(row), 0.0);
    let count = pieces.len();
    for (i, piece) in pieces.iter_mut().enumerate() {
        piece.keep = i + 1 < count && (i == 0 || i + 2 == count);
    }
    pieces
}
