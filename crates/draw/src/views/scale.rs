//! Scale bar and directions.

use std::fmt::Write;

use super::map::Direction;
use super::sheet::Sheet;
use super::words;
use crate::plane::Rect;
use crate::svg;

/// Scale bar and directions, which claim their corners before any word is placed.
pub(crate) fn draw(sheet: &mut Sheet<'_>) {
    if !sheet.options.show.scale {
        return;
    }
    let font = sheet.options.font();
    let (length, text) =
        words::round_length(sheet.page.width() * 0.24 * sheet.map.mm_per_px / 1000.0, &sheet.options.units);
    let wide = length * 1000.0 / sheet.map.mm_per_px;
    let y = sheet.page.bottom - 8.0;
    let text = vec![text];
    let (text_wide, text_high) = sheet.layout.size(&text, "scale");
    let bar = Rect::sized(8.0, y - text_high - 4.0, wide.max(text_wide), text_high + 9.0);
    sheet.layout.claim(bar);
    let mut path = String::new();
    let _ = write!(path, "M8 {}V{y}H{}V{}", y - 5.0, 8.0 + wide, y - 5.0);
    svg::path(&mut sheet.out, "scale-bar", &path);
    if let [text] = text.as_slice() {
        svg::text(&mut sheet.out, "scale", (10.0, y - 6.0), text);
    }
    let (left, right) = match sheet.map.direction {
        Direction::FromBehind => ("← left", "right →"),
        Direction::FromLeft | Direction::FromAbove => ("← front", "rear →"),
    };
    let baseline = 8.0 + font;
    for (word, at_right) in [(left, false), (right, true)] {
        let (wide, high) = sheet.layout.size(&[word.to_string()], "scale");
        let x = if at_right { sheet.page.right - wide - 8.0 } else { 8.0 };
        sheet.layout.claim(Rect::sized(x, 8.0, wide, high));
        svg::text(&mut sheet.out, "scale", (x + 2.0, baseline), word);
    }
}
