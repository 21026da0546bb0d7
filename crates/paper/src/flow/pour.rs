//! Pieces onto pages.

use draw::Rect;

use super::row::Piece;
use crate::sheet::{Page, Size};

/// What came of it.
#[derive(Debug, Default)]
pub(crate) struct Poured {
    /// The pages; places are those of the sheet.
    pub pages: Vec<Page>,
    /// Bookmarks: level, words, page from 0, height on it [mm].
    pub bookmarks: Vec<(u8, String, usize, f64)>,
}

/// Lengths that differ by less are alike [mm]: sums of many lines are not exact.
const ALIKE: f64 = 1e-6;

/// Lays the pieces down in a frame, one below the other, and begins a page where they do not fit. Pieces that stay
/// together do so where a page has room for them.
pub(crate) fn pour(pieces: &[Piece], frame: Rect) -> Poured {
    let room = Size { width: frame.width(), height: frame.height() + ALIKE };
    let mut out = Poured::default();
    let mut page = Page::default();
    let mut used = 0.0;
    let mut rest = pieces;
    while !rest.is_empty() {
        let count = rest.iter().position(|piece| !piece.keep).map_or(rest.len(), |last| last + 1);
        let (chain, after) = rest.split_at(count);
        rest = after;
        let begin = chain.first().is_some_and(|piece| piece.fresh);
        if used > 0.0 && (begin || used + height(chain) > room.height) {
            out.pages.push(std::mem::take(&mut page));
            used = 0.0;
        }
        for piece in chain {
            if used > 0.0 && used + piece.space + piece.height > room.height {
                out.pages.push(std::mem::take(&mut page));
                used = 0.0;
            }
            if used > 0.0 {
                used += piece.space;
            } else if let Some(head) = &piece.head {
                page.lay(&head.page, (frame.left, frame.top));
                used = head.height;
            }
            if let Some((level, words)) = &piece.bookmark {
                out.bookmarks.push((*level, words.clone(), out.pages.len(), frame.top + used));
            }
            page.lay(&piece.page, (frame.left, frame.top + used));
            used += piece.height;
        }
    }
    if used > 0.0 || out.pages.is_empty() {
        out.pages.push(page);
    }
    out
}

fn height(chain: &[Piece]) -> f64 {
    chain.iter().map(|piece| piece.space + piece.height).sum()
}
