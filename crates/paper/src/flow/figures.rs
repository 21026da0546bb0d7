//! Figures with their captions.

use draw::Rect;

use super::row::{self, LINE, Piece, Slot};
use super::{Figure, SMALL};
use crate::font::Fonts;
use crate::sheet::{Align, Size};

/// Between figures side by side, between a figure and its caption, above a figure [mm].
const GAP: f64 = 6.0;
const CAPTION: f64 = 0.8;
const ABOVE: f64 = 4.0;

/// Most of the frame's height that captions in a piece may take; what is longer goes on below.
const WORDS: f64 = 0.3;

/// Rows of figures, a piece each.
pub(super) fn pieces(fonts: &Fonts, figures: &[Figure], columns: usize, frame: Size) -> Vec<Piece> {
    let columns = columns.clamp(1, 4).min(figures.len().max(1));
    let width = (frame.width - GAP * (columns - 1) as f64) / columns as f64;
    figures.chunks(columns).flat_map(|row| one(fonts, row, width, frame)).collect()
}

fn one(fonts: &Fonts, figures: &[Figure], width: f64, frame: Size) -> Vec<Piece> {
    let captions: Vec<_> = figures
        .iter()
        .enumerate()
        .map(|(i, figure)| {
            let left = i as f64 * (width + GAP);
            (Slot { left, width, face: SMALL, align: Align::Left }, figure.caption.as_str())
        })
        .collect();
    let words = row::pieces(&row::broken(fonts, captions), frame.height * WORDS, 0.0);
    let first = words.first().map_or(0.0, |piece| piece.height);
    let most = frame.height - first - CAPTION - SMALL.size * LINE;
    let height = figures.iter().map(|f| f.drawing.height_at(width)).fold(0.0, f64::max).min(most);
    let mut piece = Piece { height: height + CAPTION, space: ABOVE, keep: true, ..Piece::default() };
    for (i, figure) in figures.iter().enumerate() {
        let area = Rect::sized(i as f64 * (width + GAP), 0.0, width, height);
        piece.page.drawing(area, figure.drawing.clone());
    }
    let mut out = vec![piece];
    out.extend(words);
    out
}
