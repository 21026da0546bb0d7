//! How wide words are, without a font at hand: rather too wide than too narrow.

/// Height of a line of text, in font sizes.
pub(crate) const LINE: f64 = 1.22;

/// Advance of ASCII 32..127 in thousandths of the font size, regular and bold: those of DejaVu Sans (read from the
/// font, version 2.37), which runs wider than the other sans-serif faces that browsers fall back on.
const REGULAR: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];
const BOLD: [u16; 95] = [
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696,
    696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372,
    372, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838,
    500, 500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595,
    478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
];

/// Estimated width of one line of text \[font sizes\]. Outside ASCII each range has the width of its widest common
/// letter, so an estimate errs to the wide side.
pub fn text_width(text: &str, bold: bool) -> f64 {
    let table = if bold { &BOLD } else { &REGULAR };
    let ascii = |c: char| table.get((c as usize).wrapping_sub(32)).copied();
    let thousandths: u32 = text.chars().map(|c| u32::from(ascii(c).unwrap_or_else(|| other(c, bold)))).sum();
    f64::from(thousandths) / 1000.0
}

fn other(c: char, bold: bool) -> u16 {
    let width: u16 = match c {
        // Combining marks stand over the letter before them.
        '\u{300}'..='\u{36f}' => 0,
        '\u{b7}' => 318,
        '\u{b0}' | '\u{b2}' | '\u{b3}' | '\u{b9}' => 500,
        '\u{b1}' | '\u{d7}' | '\u{2190}'..='\u{2193}' | '\u{2212}' => 838,
        '\u{2013}' | '\u{2018}'..='\u{201d}' => 520,
        '\u{df}'..='\u{e5}' | '\u{e7}'..='\u{ff}' => 640,
        '\u{c0}'..='\u{c5}' | '\u{c7}'..='\u{d6}' | '\u{d8}'..='\u{de}' => 790,
        '\u{80}'..='\u{1c3}' | '\u{1cd}'..='\u{1f0}' | '\u{250}'..='\u{3ff}' => 1060,
        '\u{1c4}'..='\u{1cc}' | '\u{1f1}'..='\u{24f}' => 1430,
        '\u{400}'..='\u{77f}' => 1220,
        '\u{fdf0}'..='\u{fdff}' => 10_000,
        '\u{2e80}'..='\u{ffff}' => 1100,
        '\u{2026}' => 1000,
        // Symbols, scripts not listed, emoji.
        _ => 1750,
    };
    if bold { width + width / 8 } else { width }
}

/// Shortens text to a width \[font sizes\], with an ellipsis where something was left out.
pub(crate) fn elide(text: &str, widest: f64, bold: bool) -> std::borrow::Cow<'_, str> {
    if text_width(text, bold) <= widest {
        return text.into();
    }
    let room = widest - text_width("…", bold);
    let mut width = 0.0;
    let mut kept = String::new();
    for c in text.chars() {
        width += text_width(c.encode_utf8(&mut [0; 4]), bold);
        if width > room {
            break;
        }
        kept.push(c);
    }
    let end = kept.trim_end().len();
    kept.truncate(end);
    kept.push('…');
    kept.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_add_up_and_elide() {
        assert!((text_width("mm", false) - 1.948).abs() < 1e-12);
        assert!(text_width("62 %", true) > text_width("62 %", false));
        assert_eq!(elide("short", 10.0, false), "short");
        let long = elide("a very long name of a link indeed", 8.0, false);
        assert!(long.ends_with('…') && text_width(&long, false) <= 8.0, "{long}");
        assert_eq!(elide("", 0.0, false), "");
    }
}
