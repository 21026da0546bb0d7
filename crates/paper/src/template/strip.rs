//! The foot of every template page: the bars by which its scale is proved, and which tile it is.

use draw::Rect;

use super::pattern::Pattern;
use super::tiling::Tiling;
use crate::font::Fonts;
use crate::sheet::{Align, Page, Shade, Spot, Stroke, Type};

/// Height that it takes [mm].
pub(super) const HEIGHT: f64 = 33.0;

/// Lengths of the bars [mm]: 100 mm, and 4 in of 25.4 mm (exact by definition).
const METRIC: f64 = 100.0;
const INCHES: f64 = 4.0 * 25.4;

/// Lines and words of the bars.
const BAR: Stroke = Stroke::solid(0.25);
const NAME: Type = Type::points(8.5).bold();
const CALL: Type = Type::points(9.0).bold();

/// Width that the bars with their names take, and height of the key [mm].
const BARS: f64 = 120.0;
const KEY: f64 = 22.0;

/// Draws it into the page's foot.
pub(super) fn strip(
    fonts: &Fonts,
    out: &mut Page,
    area: Rect,
    pattern: &Pattern,
    tiling: &Tiling,
    nth: usize,
) {
    out.line((area.left, area.top), (area.right, area.top), Stroke::solid(0.2));
    let words = "Print at 100 %, no scaling. Measure both bars before drilling: if either is off, the sheet is waste.";
    let lines = fonts.wrap(words, true, CALL.size, area.width());
    for (i, line) in lines.iter().take(2).enumerate() {
        out.text((area.left, area.top + 4.4 + i as f64 * 4.2), line.clone(), CALL, Align::Left);
    }
    let from = area.left + 0.5;
    bar(out, (from, area.top + 17.5), METRIC, 10, 5, "100 mm");
    bar(out, (from, area.top + 28.0), INCHES, 8, 2, "4 in");
    if tiling.count() > 1 {
        let top = area.top + 9.0;
        let key = Rect { left: area.left + BARS, top, right: area.right, bottom: top + KEY };
        key_map(fonts, out, key, pattern, tiling, nth);
    }
}

/// A bar with ticks at equal steps, every `major`-th longer; its ends are the middles of its first and last tick.
fn bar(out: &mut Page, from: Spot, length: f64, steps: usize, major: usize, name: &str) {
    let (x, y) = from;
    out.line((x, y), (x + length, y), BAR);
    for i in 0..=steps {
        let at = x + length * i as f64 / steps as f64;
        let tall = if i % major == 0 { 5.0 } else { 3.0 };
        out.line((at, y), (at, y - tall), BAR);
    }
    out.text((x + length + 2.0, y), name, NAME, Align::Left);
}

/// Where the tiles lie on the plate; this one has a thick edge and its number in bold.
fn key_map(fonts: &Fonts, out: &mut Page, area: Rect, pattern: &Pattern, tiling: &Tiling, nth: usize) {
    let whole = tiling.content;
    let scale = (area.width() / whole.width()).min(area.height() / whole.height());
    let to = |at: Spot| (area.left + (at.0 - whole.left) * scale, area.top + (whole.bottom - at.1) * scale);
    let edge = Stroke::solid(0.2).shaded(Shade::Faint);
    out.outline(pattern.outline.iter().map(|at| to(*at)).collect(), Some(edge), Some(Shade::Tint));
    let numbered = |bold: bool| Type { size: 2.6, bold, shade: Shade::Ink };
    // This one last: its edge lies over the others'.
    for tile in (0..tiling.count()).filter(|tile| *tile != nth).chain([nth]) {
        let window = tiling.share(tile);
        let rect = Rect {
            left: area.left + window.left * scale,
            top: area.top + window.top * scale,
            right: area.left + window.right * scale,
            bottom: area.top + window.bottom * scale,
        };
        let own = tile == nth;
        let stroke = if own { Stroke::solid(0.7) } else { Stroke::solid(0.15) };
        out.rect(rect, Some(stroke), None);
        let number = (tile + 1).to_string();
        let face = numbered(own);
        if fonts.width(&number, own) * face.size < rect.width() && face.size < rect.height() {
            let middle = ((rect.left + rect.right) / 2.0, (rect.top + rect.bottom) / 2.0 + 0.9);
            out.text(middle, number, face, Align::Middle);
        }
    }
}
