//! Writing SVG: numbers, text, paths. Text from people is always escaped here.

use crate::plane::Spot;

/// Decimals of coordinates: a thousandth of a pixel, far below what scale needs.
const THOUSANDTHS: f64 = 1000.0;

/// Larger than any page; what lies beyond is drawn at the edge of that.
const FAR: f64 = 1e7;

/// Appends a coordinate, shortest form, at most three decimals. The standard formatter is several times slower,
/// and a view has a thousand of them.
pub fn number(out: &mut String, value: f64) {
    let value = if value.is_finite() { value.clamp(-FAR, FAR) } else { 0.0 };
    let scaled = (value * THOUSANDTHS).round() as i64;
    if scaled < 0 {
        out.push('-');
    }
    let scaled = scaled.unsigned_abs();
    let (whole, mut rest) = (scaled / 1000, scaled % 1000);
    digits(out, whole);
    if rest == 0 {
        return;
    }
    out.push('.');
    let mut place = 100;
    while rest > 0 {
        out.push(char::from(b'0' + (rest / place) as u8));
        rest %= place;
        place /= 10;
    }
}

fn digits(out: &mut String, mut whole: u64) {
    let mut text = [b'0'; 20];
    let mut first = text.len();
    for place in text.iter_mut().rev() {
        *place = b'0' + (whole % 10) as u8;
        whole /= 10;
        first -= 1;
        if whole == 0 {
            break;
        }
    }
    out.extend(text.iter().skip(first).map(|d| char::from(*d)));
}

/// Appends ` name="value"` with a number.
pub fn attribute(out: &mut String, name: &str, value: f64) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    number(out, value);
    out.push('"');
}

/// Appends ` name="text"`, escaped.
pub fn text_attribute(out: &mut String, name: &str, value: &str) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    escape(out, value);
    out.push('"');
}

/// Appends text with everything escaped that XML gives a meaning; what XML forbids becomes a replacement sign.
pub fn escape(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
}

/// Appends `x y`.
pub(crate) fn spot(out: &mut String, at: Spot) {
    number(out, at.0);
    out.push(' ');
    number(out, at.1);
}

/// Appends `Mx yLx y`.
pub(crate) fn segment(out: &mut String, a: Spot, b: Spot) {
    out.push('M');
    spot(out, a);
    out.push('L');
    spot(out, b);
}

/// Appends a path of a class; nothing if the path is empty.
pub(crate) fn path(out: &mut String, class: &str, path: &str) {
    if path.is_empty() {
        return;
    }
    out.push_str("<path class=\"");
    out.push_str(class);
    out.push_str("\" d=\"");
    out.push_str(path);
    out.push_str("\"/>");
}

/// Appends a circle of a class.
pub(crate) fn circle(out: &mut String, class: &str, at: Spot, radius: f64) {
    out.push_str("<circle class=\"");
    out.push_str(class);
    out.push('"');
    attribute(out, "cx", at.0);
    attribute(out, "cy", at.1);
    attribute(out, "r", radius);
    out.push_str("/>");
}

/// Appends one line of text that starts at a place.
pub(crate) fn text(out: &mut String, class: &str, at: Spot, words: &str) {
    text_about(out, class, at, words, None);
}

/// Words that tell a quantity, by its name.
pub(crate) fn text_about(
    out: &mut String,
    class: &str,
    at: Spot,
    words: &str,
    quantity: Option<&'static str>,
) {
    out.push_str("<text class=\"");
    out.push_str(class);
    out.push('"');
    if let Some(name) = quantity {
        text_attribute(out, "data-quantity", name);
    }
    attribute(out, "x", at.0);
    attribute(out, "y", at.1);
    out.push('>');
    escape(out, words);
    out.push_str("</text>");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(value: f64, expect: &str) {
        let mut out = String::new();
        number(&mut out, value);
        assert_eq!(out, expect);
    }

    #[test]
    fn numbers_are_short_and_plain() {
        check(0.0, "0");
        check(-0.0001, "0");
        check(12.5, "12.5");
        check(-3.045, "-3.045");
        check(100.0, "100");
        check(0.1 + 0.2, "0.3");
        check(f64::NAN, "0");
        check(1e300, "10000000");
    }

    #[test]
    fn text_cannot_leave_its_place() {
        let mut out = String::new();
        escape(&mut out, "a<b>&\"'\u{0}\n\u{85}é");
        assert_eq!(out, "a&lt;b&gt;&amp;&quot;&#39;\u{fffd} \u{fffd}é");
    }
}
