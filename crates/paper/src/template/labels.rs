//! Names of holes, beside them: off other holes, edges and one another as far as there is room.

use draw::Rect;

use super::drawing::{ARM, Drawing, Mark, WORDS, words_box};
use super::pattern::{Pattern, PatternHole};
use crate::font::Fonts;
use crate::sheet::{Align, Spot};

/// Longest name on the plate [mm]; the list has all of it.
const LONGEST: f64 = 38.0;

/// How far from a hole its name is tried [mm]; from the third on with a line to it.
const REACHES: [f64; 5] = [0.8, 2.6, 5.0, 9.0, 14.0];
const LED: usize = 2;

/// What words over other words count for; as much or more is no place at all.
const OVER_WORDS: usize = 1000;

/// Where it is tried: right, left, above, below, then the corners.
const WAYS: [Spot; 8] =
    [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)];

/// Places the names.
pub(super) fn place(fonts: &Fonts, out: &mut Drawing, pattern: &Pattern) {
    let alike = pattern.holes.windows(2).all(|pair| match pair {
        [a, b] => (a.diameter - b.diameter).abs() < 5e-3,
        _ => true,
    });
    // Names of datums are there already.
    let mut taken: Vec<Rect> = out
        .mark
        .iter()
        .filter_map(|mark| match mark {
            Mark::Text { at, words, align, .. } => Some(words_box(fonts, *at, words, *align).grown(0.4)),
            _ => None,
        })
        .collect();
    for hole in &pattern.holes {
        // Where there is no room for all of a name its first word has to do; the list has the rest.
        let first = hole.label.split_whitespace().next().unwrap_or_default();
        let names = [hole.label.as_str(), first].map(|name| fonts.elide(name, false, WORDS, LONGEST));
        let found = names.into_iter().find_map(|name| {
            let words = if alike { name } else { format!("{name} ⌀{:.2}", hole.diameter) };
            let (clashes, far, room) = best_place(fonts, hole, &words, pattern, &taken)?;
            (clashes < OVER_WORDS).then_some((words, far, room))
        });
        let Some((words, far, room)) = found else { continue };
        if far >= LED {
            let (x, y) = (hole.at.0, hole.at.1);
            let end = (x.clamp(room.left, room.right), y.clamp(room.top, room.bottom));
            let (dx, dy) = (end.0 - x, end.1 - y);
            let share = hole.diameter / 2.0 / dx.hypot(dy).max(1e-9);
            out.mark.push(Mark::Line { from: (x + dx * share, y + dy * share), to: end });
        }
        taken.push(room.grown(0.4));
        out.write(fonts, (room.left, room.top + 0.14 * WORDS), words, Align::Left);
    }
}

/// Where words stand beside their hole with the least in the way: how much that is, how far off, and the box.
fn best_place(
    fonts: &Fonts,
    hole: &PatternHole,
    words: &str,
    pattern: &Pattern,
    taken: &[Rect],
) -> Option<(usize, usize, Rect)> {
    let size = (fonts.width(words, false) * WORDS, WORDS);
    let mut best: Option<(usize, usize, Rect)> = None;
    for (far, reach) in REACHES.iter().enumerate() {
        for way in WAYS {
            let room = beside(hole.at, hole.diameter / 2.0 + reach, way, size);
            let clashes = clashes(&room, pattern, taken);
            if best.as_ref().is_none_or(|(least, _, _)| clashes < *least) {
                best = Some((clashes, far, room));
            }
            if clashes == 0 {
                return best;
            }
        }
    }
    best
}

/// The box of words beside a place.
fn beside(at: Spot, reach: f64, way: Spot, size: (f64, f64)) -> Rect {
    // The arms of the cross run straight out; words stand above them there.
    let lift = if way.1 == 0.0 { size.1 * 0.5 + 0.6 } else { 0.0 };
    let aside = if way.0 == 0.0 { size.0 * 0.5 + 0.6 } else { 0.0 };
    let centre = (
        at.0 + way.0 * reach + way.0.signum() * f64::from(way.0 != 0.0) * size.0 / 2.0 + aside,
        at.1 + way.1 * reach + way.1.signum() * f64::from(way.1 != 0.0) * size.1 / 2.0 + lift,
    );
    Rect::sized(centre.0 - size.0 / 2.0, centre.1 - size.1 / 2.0, size.0, size.1)
}

/// How much is in the way of a box.
fn clashes(room: &Rect, pattern: &Pattern, taken: &[Rect]) -> usize {
    let holes = pattern.holes.iter().filter(|hole| {
        let (x, y) = hole.at;
        let (nx, ny) = (x.clamp(room.left, room.right), y.clamp(room.top, room.bottom));
        (nx - x).hypot(ny - y) < hole.diameter / 2.0 + 0.3
    });
    let arms = pattern.holes.iter().filter(|hole| {
        let (x, y) = hole.at;
        let arm = hole.diameter / 2.0 + ARM;
        room.clip((x - arm, y), (x + arm, y)).is_some() || room.clip((x, y - arm), (x, y + arm)).is_some()
    });
    let edges = pattern.edges().filter(|(a, b)| room.grown(0.4).clip(*a, *b).is_some());
    let words = taken.iter().filter(|other| other.meets(room));
    // Words over words are worst: neither can be read.
    let others = (holes.count() + arms.count() + edges.count()).min(OVER_WORDS - 1);
    others + OVER_WORDS * words.count()
}
