//! How long things are.

use nalgebra::Vector3;

use super::words::EDGE;
use super::{FrameView, Sheet};
use crate::labels::{LINE, elide};
use crate::plane::Rect;
use crate::svg;
use crate::text_width;

/// Length of the arms of the directions in the view from the corner \[px\], and of the scale bar at most, as a share
/// of the page's width.
const ARM: f64 = 34.0;
const BAR: f64 = 0.22;

/// Below this height or width of the page there is no room for a scale \[px\].
const LOW: f64 = 160.0;
const NARROW: f64 = 140.0;

/// Room below the frame that the scale wants \[px\].
pub(crate) fn room(sheet: &Sheet<'_>) -> f64 {
    if sheet.page.height() < LOW || sheet.page.width() < NARROW {
        0.0
    } else if sheet.spec.from == FrameView::Corner {
        ARM + sheet.font + 12.0
    } else {
        sheet.font * LINE + 12.0
    }
}

/// The scale: a bar, or in the view from the corner three arms of one length along the car's axes, since a length is
/// shortened there by its direction.
pub(crate) fn draw(sheet: &mut Sheet<'_>) {
    let unit = &sheet.spec.length_unit;
    let high = room(sheet);
    if high == 0.0 || !(unit.metres > 0.0 && unit.metres.is_finite()) {
        return;
    }
    let bottom = sheet.plot.bottom + high;
    let corner = sheet.spec.from == FrameView::Corner;
    let most = if corner { ARM } else { sheet.page.width() * BAR };
    let Some((length, words)) = round_length(most / sheet.aim.px / unit.metres) else { return };
    let text = format!("{words} {}", unit.symbol);
    let wide = length * unit.metres * sheet.aim.px;
    if corner {
        arms(sheet, length * unit.metres, &format!("each arm {text}"), bottom);
        return;
    }
    let y = bottom - 6.0;
    let mut path = String::from("M");
    svg::spot(&mut path, (EDGE, y - 5.0));
    for at in [(EDGE, y), (EDGE + wide, y), (EDGE + wide, y - 5.0)] {
        path.push('L');
        svg::spot(&mut path, at);
    }
    svg::path(&mut sheet.out, "scale-bar", &path);
    let text = elide(&text, (sheet.page.width() - 2.0 * EDGE) / sheet.font, false).into_owned();
    svg::text(&mut sheet.out, "scale", (EDGE + 2.0, y - 8.0), &text);
    let words = text_width(&text, false) * sheet.font + 4.0;
    sheet.layout.mark(Rect { left: EDGE, top: sheet.plot.bottom, right: EDGE + wide.max(words), bottom });
}

fn arms(sheet: &mut Sheet<'_>, length: f64, text: &str, bottom: f64) {
    let font = sheet.font;
    let names = [("front", Vector3::x()), ("left", Vector3::y()), ("up", Vector3::z())];
    let widest = text_width("front", false) * font;
    let tips = names.map(|(name, axis)| {
        let (right, down) = sheet.aim.flat(&(axis * length * sheet.aim.px));
        (name, (right, down))
    });
    let origin = (EDGE + widest + ARM, bottom - font - 9.0);
    let mut path = String::new();
    for (name, (right, down)) in tips {
        let tip = (origin.0 + right, origin.1 + down);
        svg::segment(&mut path, origin, tip);
        let wide = text_width(name, false) * font;
        let place = match name {
            "up" => (tip.0 + 5.0, tip.1 + font * 0.4),
            "front" => (tip.0 - wide - 4.0, tip.1),
            _ => (tip.0 - wide - 4.0, tip.1 + font * 0.6),
        };
        svg::text(&mut sheet.out, "scale", place, name);
    }
    svg::path(&mut sheet.out, "scale-bar", &path);
    let left = origin.0 + 10.0;
    let text = elide(text, (sheet.page.right - EDGE - left) / font, false);
    svg::text(&mut sheet.out, "scale", (left, origin.1 + font * 0.75), &text);
    let right = left + text_width(&text, false) * font + 4.0;
    sheet.layout.mark(Rect { left: EDGE, top: sheet.plot.bottom, right, bottom });
}

/// The largest round number (1, 2 or 5 times a power of ten) not above `most`, and in words.
fn round_length(most: f64) -> Option<(f64, String)> {
    let power = 10f64.powf(most.log10().floor());
    let round = [5.0, 2.0, 1.0].into_iter().map(|s| s * power).find(|s| *s <= most * (1.0 + 1e-9))?;
    let places = if round >= 1.0 { 0 } else { (-round.log10().floor()).clamp(0.0, 12.0) as usize };
    Some((round, format!("{round:.places$}")))
}
