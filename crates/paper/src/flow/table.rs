//! Tables: widths of columns, heading, rows.

use std::sync::Arc;

use super::row::{self, Piece, Slot};
use super::{SMALL, Table};
use crate::flow::Column;
use crate::font::Fonts;
use crate::sheet::{Align, Shade, Size, Stroke, Type};

/// Words and headings of a table.
const CELL: Type = Type::points(8.5);
const HEADING: Type = Type::points(8.5).bold();

/// Room at both sides of a cell's text, and above and below [mm].
const SIDE: f64 = 1.4;
const PAD: f64 = 0.7;

/// A heading up to this width is not broken [mm].
const SHORT: f64 = 22.0;

/// Most rows of a table that is not parted where a page has room for it; of a longer one so many stay with the
/// heading, and as many at its end.
const WHOLE: usize = 6;
const TOGETHER: usize = 2;

/// Most of the table's width that the longest word of a column may claim; longer words are broken.
const LONG_WORD: f64 = 0.42;

/// The same for the first column of a table in parts.
const FIRST: f64 = 0.32;

/// Most of a page's height that a heading may take and still be repeated.
const REPEATED: f64 = 0.3;

/// What a column wants [mm], sides included.
#[derive(Clone, Copy, Debug, Default)]
struct Want {
    /// Without any break in a cell.
    natural: f64,
    /// With no word broken.
    least: f64,
}

/// The table as pieces: a heading that stays with the first row, then the rows.
pub(super) fn pieces(fonts: &Fonts, table: &Table, frame: Size) -> Vec<Piece> {
    let wants: Vec<Want> = (0..table.columns.len()).map(|i| want(fonts, table, i, frame.width)).collect();
    let parts = parts(&wants, frame.width);
    let count = parts.len();
    let mut out = Vec::new();
    for (nth, part) in parts.into_iter().enumerate() {
        if count > 1 {
            let words = format!("columns, part {} of {count}", nth + 1);
            let slot = Slot {
                left: SIDE,
                width: frame.width - SIDE,
                face: SMALL.shaded(Shade::Faint),
                align: Align::Left,
            };
            let mut note = row::pieces(&row::broken(fonts, [(slot, words.as_str())]), frame.height, 0.4);
            note.iter_mut().for_each(|piece| {
                piece.keep = true;
                piece.space = 3.0;
            });
            out.append(&mut note);
        }
        out.append(&mut self::part(fonts, table, &part, &wants, frame));
    }
    out
}

fn want(fonts: &Fonts, table: &Table, column: usize, room: f64) -> Want {
    let heading = table.columns.get(column).map_or("", |c| c.heading.as_str());
    let figures = table.columns.get(column).is_some_and(|c| c.align == Align::Right);
    let cells = || table.rows.iter().filter_map(|row| row.get(column));
    let whole = |text: &str, face: Type| fonts.width(text, face.bold) * face.size;
    let widest = cells().map(|text| whole(text, CELL)).fold(0.0, f64::max);
    // Half a micrometre keeps a text that just fits from being broken.
    let sides = 2.0 * SIDE + 5e-4;
    let word = if figures {
        // A figure and its ± stay on a line.
        widest
    } else {
        cells().map(|text| fonts.longest_word(text, CELL.bold, CELL.size)).fold(0.0, f64::max)
    };
    let heading_word = fonts.longest_word(heading, HEADING.bold, HEADING.size);
    let least = (word.max(heading_word) + sides).min(room * LONG_WORD);
    // A long heading takes two lines sooner than make its column wide.
    let heading_whole = whole(heading, HEADING);
    let heading_wish = if heading_whole <= SHORT { heading_whole } else { (heading_whole * 0.6).max(SHORT) };
    let natural = (widest.max(heading_word).max(heading_wish) + sides).max(least);
    Want { natural, least }
}

/// Which columns go side by side: all of them, or the first with as many of the others as there is room for.
fn parts(wants: &[Want], room: f64) -> Vec<Vec<usize>> {
    let all: f64 = wants.iter().map(|want| want.least).sum();
    if all <= room || wants.len() < 3 {
        return vec![(0..wants.len()).collect()];
    }
    let first = wants.first().map_or(0.0, |want| want.least.min(room * FIRST));
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut used = f64::INFINITY;
    for (column, want) in wants.iter().enumerate().skip(1) {
        if used + want.least > room {
            parts.push(vec![0]);
            used = first;
        }
        used += want.least;
        if let Some(part) = parts.last_mut() {
            part.push(column);
        }
    }
    parts
}

/// Widths of a part's columns [mm]: natural where there is room for that, shared out by what each lacks otherwise.
fn widths(wants: &[Want], room: f64) -> Vec<f64> {
    let natural: f64 = wants.iter().map(|want| want.natural).sum();
    if natural <= room {
        return wants.iter().map(|want| want.natural).collect();
    }
    let least: f64 = wants.iter().map(|want| want.least).sum();
    let share = ((room - least) / (natural - least).max(1e-9)).clamp(0.0, 1.0);
    // Least widths that do not fit together either are all cut alike: words break.
    let cut = (room / least.max(1e-9)).min(1.0);
    wants.iter().map(|want| want.least * cut + (want.natural - want.least) * share).collect()
}

fn part(fonts: &Fonts, table: &Table, part: &[usize], wants: &[Want], frame: Size) -> Vec<Piece> {
    let columns: Vec<Column> = part.iter().filter_map(|i| table.columns.get(*i)).cloned().collect();
    let mut own: Vec<Want> = part.iter().filter_map(|i| wants.get(*i)).copied().collect();
    if columns.len() < wants.len()
        && let Some(first) = own.first_mut()
    {
        first.least = first.least.min(frame.width * FIRST);
    }
    let widths = widths(&own, frame.width);
    let total: f64 = widths.iter().sum();
    let mut left = 0.0;
    let slots: Vec<Slot> = columns
        .iter()
        .zip(&widths)
        .map(|(column, width)| {
            let slot = Slot { left: left + SIDE, width: width - 2.0 * SIDE, face: CELL, align: column.align };
            left += width;
            slot
        })
        .collect();
    let mut out = Vec::new();
    let mut head = None;
    if columns.iter().any(|column| !column.heading.is_empty()) {
        let bold = slots.iter().map(|slot| Slot { face: HEADING, ..*slot });
        let row = row::broken(fonts, bold.zip(columns.iter().map(|column| column.heading.as_str())));
        let mut heading = row::pieces(&row, frame.height, PAD);
        let repeated = heading.len() == 1;
        for piece in &mut heading {
            piece.keep = true;
            under(piece, total, Stroke::solid(0.3));
            if repeated && piece.height <= frame.height * REPEATED {
                head = Some(Arc::new(piece.clone()));
            }
        }
        out.append(&mut heading);
    }
    let limit = frame.height - head.as_ref().map_or(0.0, |head| head.height);
    let count = table.rows.len();
    for (nth, cells) in table.rows.iter().enumerate() {
        let texts = part.iter().map(|i| cells.get(*i).map_or("", String::as_str));
        let row = row::broken(fonts, slots.iter().copied().zip(texts));
        let last = nth + 1 == count;
        let stays = !last && (count <= WHOLE || nth + 1 < TOGETHER || nth + TOGETHER >= count);
        for mut piece in row::pieces(&row, limit, PAD) {
            piece.keep = stays;
            under(&mut piece, total, Stroke::solid(0.12).shaded(Shade::Pale));
            piece.head.clone_from(&head);
            out.push(piece);
        }
    }
    out
}

/// A rule at the foot of a piece.
fn under(piece: &mut Piece, width: f64, stroke: Stroke) {
    piece.page.line((0.0, piece.height), (width, piece.height), stroke);
}
