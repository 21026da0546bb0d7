//! Writes a length in the style of the one that it replaces: a bare number stays bare, a fraction stays a
//! fraction where it can, unit and ± stay.

use std::ops::Range;

use units::{Dimension, UnitSystem};

use super::spell;

/// Lengths nearer than this are the same: what is left of arithmetic, far below any tape \[m\].
const SAME: f64 = 1e-6;

/// Coarsest last decimal place of a length \[m\].
const FINE: f64 = 1.0e-4;

/// Greatest error of a length that is written as a fraction \[m\].
const FRACTION_ERROR: f64 = 0.2e-3;

/// Most decimals that are written.
const MOST_DECIMALS: usize = 6;

/// The source of a length (TOML, with quotes where it has them) for another value \[m\].
pub(crate) fn rewritten(source: &str, decoded: Option<&str>, metres: f64, units: &UnitSystem) -> String {
    let Some(text) = decoded else { return bare(source, metres, units) };
    let old = units::parse(text, Dimension::Length, units);
    if old.as_ref().is_ok_and(|old| (old.value - metres).abs() < SAME) {
        return source.to_string();
    }
    let doubt = text.get(doubt(text)..).unwrap_or_default();
    let new = candidates(text, metres, units).into_iter().find(|(new, error)| {
        let back = units::parse(new, Dimension::Length, units);
        let kept = |back: Option<f64>, old: Option<f64>| match (back, old) {
            (Some(back), Some(old)) => (back - old).abs() <= 0.01 * old.max(FINE) || doubt.contains('%'),
            (back, old) => back.is_none() && old.is_none(),
        };
        back.is_ok_and(|back| {
            (back.value - metres).abs() <= error + SAME
                && old.as_ref().map_or(true, |old| kept(back.uncertainty, old.uncertainty))
        })
    });
    let new = new.map_or_else(|| format!("{} mm", decimal(metres * 1e3, 1)), |(new, _)| new);
    spell::text(&new, Some(source))
}

/// A number without a unit.
fn bare(source: &str, metres: f64, units: &UnitSystem) -> String {
    let factor = units.factor(Dimension::Length);
    let old = source.replace('_', "").parse::<f64>();
    if old.is_ok_and(|old| (old * factor - metres).abs() < SAME) {
        return source.to_string();
    }
    decimal(metres / factor, decimals(factor).max(decimals_of(source)))
}

/// The texts that come nearest to the style of `text`, best first, each with the error that it may have \[m\].
fn candidates(text: &str, metres: f64, units: &UnitSystem) -> Vec<(String, f64)> {
    let Some(parts) = Parts::of(text) else { return Vec::new() };
    let (before, after) = (parts.before(text), parts.after(text));
    let mut found = Vec::new();
    if let Some((mark, inches, last)) = parts.feet_and_inches(text) {
        let total = metres.abs() / units::exact::INCH;
        let sign = if metres < 0.0 { "-" } else { "" };
        let split = |inches: f64| ((inches / 12.0).floor(), inches % 12.0);
        let mut push = |feet: f64, inches: String, error| {
            found.push((format!("{before}{sign}{feet:.0}{mark}{inches}{last}"), error));
        };
        for denominator in denominators(inches, units::exact::INCH) {
            let (feet, rest) = split((total * denominator).round() / denominator);
            push(feet, fraction(rest, denominator), FRACTION_ERROR);
        }
        let places = decimals(units::exact::INCH);
        let scale = 10_f64.powi(places as i32);
        let (feet, rest) = split((total * scale).round() / scale);
        push(feet, decimal(rest, places), FINE);
        return found;
    }
    // What one of the text's units is, found by putting a 1 in place of its number.
    let one = units::parse(&format!("{before}1{after}"), Dimension::Length, units);
    let Ok(factor) = one.map(|one| one.value).map_err(drop) else { return found };
    if factor <= 0.0 {
        return found;
    }
    let number = parts.number(text);
    for denominator in denominators(number, factor) {
        found.push((format!("{before}{}{after}", fraction(metres / factor, denominator)), FRACTION_ERROR));
    }
    let places = decimals(factor).max(if is_fraction(number) { 0 } else { decimals_of(number) });
    found.push((format!("{before}{}{after}", decimal(metres / factor, places)), FINE));
    found
}

/// A written length, taken apart.
struct Parts {
    /// With its sign.
    number: Range<usize>,
    /// End of the value's unit: where the ± begins.
    end: usize,
}

impl Parts {
    fn of(text: &str) -> Option<Self> {
        let end = doubt(text);
        let value = text.get(..end)?;
        let start = value.len() - value.trim_start().len();
        let mut last = start;
        for (at, letter) in value.char_indices().skip_while(|(at, _)| *at < start) {
            if letter.is_ascii_digit() || is_vulgar(letter) {
                last = at + letter.len_utf8();
            } else if !(letter.is_whitespace() || is_minus(letter) || ".,/+\u{2044}\u{2215}".contains(letter))
            {
                break;
            }
        }
        (last > start).then_some(Self { number: start..last, end })
    }

    fn before<'t>(&self, text: &'t str) -> &'t str {
        text.get(..self.number.start).unwrap_or_default()
    }

    fn number<'t>(&self, text: &'t str) -> &'t str {
        text.get(self.number.clone()).unwrap_or_default()
    }

    fn after<'t>(&self, text: &'t str) -> &'t str {
        text.get(self.number.end..).unwrap_or_default()
    }

    /// For `5' 2 1/2" ± 1/4"`: `' `, `2 1/2` and `" ± 1/4"`.
    fn feet_and_inches<'t>(&self, text: &'t str) -> Option<(&'t str, &'t str, &'t str)> {
        let rest = text.get(self.number.end..self.end)?;
        let digit = |c: char| c.is_ascii_digit() || is_vulgar(c);
        let first = rest.find(digit)?;
        let last = rest.rfind(digit)?;
        let last = last + rest.get(last..)?.chars().next()?.len_utf8();
        Some((rest.get(..first)?, rest.get(first..last)?, text.get(self.number.end + last..)?))
    }
}

/// Where the ± of a text begins; its end where it has none.
fn doubt(text: &str) -> usize {
    let plus = text.char_indices().find(|(at, letter)| {
        let after = text.get(at + letter.len_utf8()..).unwrap_or_default();
        let after = after.strip_prefix(['/', '\u{2044}', '\u{2215}']).unwrap_or(after);
        *letter == '±' || (*letter == '+' && after.starts_with(is_minus))
    });
    plus.map_or(text.len(), |(at, _)| at)
}

fn is_minus(letter: char) -> bool {
    matches!(letter, '-' | '\u{2010}' | '\u{2011}' | '\u{2012}' | '\u{2013}' | '\u{2212}')
}

fn is_vulgar(letter: char) -> bool {
    matches!(letter, '¼'..='¾' | '⅐'..='⅞')
}

fn is_fraction(number: &str) -> bool {
    number.contains(|c: char| matches!(c, '/' | '\u{2044}' | '\u{2215}') || is_vulgar(c))
}

/// Parts of a whole in which a number may be written: those of a tape, finer ones where they were used before. A
/// whole number of inches counts as a fraction that happens to be whole.
fn denominators(number: &str, factor: f64) -> impl Iterator<Item = f64> {
    let fine =
        number.rsplit(['/', '\u{2044}', '\u{2215}']).next().and_then(|below| below.trim().parse().ok());
    let whole_inches = factor == units::exact::INCH && !number.contains(['.', ',']);
    let finest = match (is_fraction(number), whole_inches) {
        (true, _) => f64::max(32.0, fine.unwrap_or(0.0)),
        (false, true) => 32.0,
        (false, false) => 0.0,
    };
    [16.0, 32.0, 64.0].into_iter().filter(move |denominator| *denominator <= finest)
}

/// `24 1/2`, to the nearest part.
fn fraction(number: f64, denominator: f64) -> String {
    let parts = (number.abs() * denominator).round();
    let (whole, mut above, mut below) = ((parts / denominator).floor(), parts % denominator, denominator);
    while above > 0.0 && above % 2.0 == 0.0 {
        (above, below) = (above / 2.0, below / 2.0);
    }
    let sign = if number < 0.0 && parts > 0.0 { "-" } else { "" };
    match (whole > 0.0, above > 0.0) {
        (_, false) => format!("{sign}{whole:.0}"),
        (false, true) => format!("{sign}{above:.0}/{below:.0}"),
        (true, true) => format!("{sign}{whole:.0} {above:.0}/{below:.0}"),
    }
}

/// A number with at most so many decimals.
pub(crate) fn decimal(number: f64, decimals: usize) -> String {
    let text = format!("{number:.*}", decimals.min(MOST_DECIMALS));
    let short =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text.as_str() };
    if short == "-0" { "0".into() } else { short.to_string() }
}

/// Decimals at which a unit of `factor` \[m\] is as fine as a length needs.
pub(crate) fn decimals(factor: f64) -> usize {
    (0..MOST_DECIMALS)
        .find(|places| factor * 0.1_f64.powi(*places as i32) <= FINE * 1.001)
        .unwrap_or(MOST_DECIMALS)
}

/// Decimals of a number as written.
fn decimals_of(number: &str) -> usize {
    let after = number.split_once(['.', ',']).map_or("", |(_, after)| after);
    after
        .bytes()
        .take_while(|byte| byte.is_ascii_digit() || *byte == b'_')
        .filter(|byte| *byte != b'_')
        .count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::LengthUnit;

    const INCH: f64 = units::exact::INCH;

    #[track_caller]
    fn check(unit: LengthUnit, source: &str, metres: f64, expect: &str) {
        let units = UnitSystem { length: unit, ..UnitSystem::default() };
        let item: toml_edit::Value = source.parse().expect("TOML");
        assert_eq!(rewritten(source, item.as_str(), metres, &units), expect);
    }

    #[test]
    fn bare_numbers_stay_bare() {
        let mm = LengthUnit::Millimetre;
        check(mm, "2100", 2.115, "2115");
        check(mm, "2100", 2.11534, "2115.3");
        check(mm, "2100.25", 2.11534, "2115.34");
        check(mm, "2100", 2.100_000_1, "2100");
        check(mm, "12.50", 0.0125, "12.50");
        check(mm, "1_200", 1.2, "1_200");
        check(mm, "5", -0.000_01, "0");
        check(LengthUnit::Inch, "64", 64.312_5 * INCH, "64.312");
        check(LengthUnit::Metre, "2.1", 2.115_34, "2.1153");
        check(LengthUnit::Foot, "2", 2.5 * 12.0 * INCH, "2.5");
    }

    #[test]
    fn texts_keep_unit_fraction_and_doubt() {
        let mm = LengthUnit::Millimetre;
        let inch = LengthUnit::Inch;
        check(mm, r#""24 1/2 in""#, 24.75 * INCH, r#""24 3/4 in""#);
        check(mm, r#""24 1/2 in""#, 24.031_25 * INCH, r#""24 1/32 in""#);
        check(mm, r#""24 1/2 in""#, 24.515 * INCH, r#""24.515 in""#);
        check(inch, r#""24 1/64""#, 24.515 * INCH, r#""24 33/64""#);
        check(inch, r#""-14 1/2""#, 0.25 * INCH, r#""1/4""#);
        check(inch, r#""-14 1/2""#, -0.25 * INCH, r#""-1/4""#);
        check(inch, r#""14½""#, 15.0 * INCH, r#""15""#);
        check(inch, r#""14.5 ± 1/16""#, 15.0 * INCH, r#""15 ± 1/16""#);
        check(inch, r#""14.5 ± 20 mm""#, 0.2, r#""200 ± 20 mm""#);
        check(mm, r#""480 ± 20 mm""#, 0.4955, r#""495.5 ± 20 mm""#);
        check(mm, r#""480 mm +/- 2""#, 0.4955, r#""495.5 mm +/- 2""#);
        check(mm, "'62 cm'", 0.4955, "'49.55 cm'");
        check(mm, r#""62,5""#, 0.0655, r#""65.5""#);
        check(mm, r#""480 ± 2 %""#, 0.240, r#""240 ± 2 %""#);
    }

    #[test]
    fn feet_and_inches_stay_so() {
        let mm = LengthUnit::Millimetre;
        check(mm, r#""5' 2 1/2\"""#, 63.25 * INCH, r#""5' 3 1/4\"""#);
        check(mm, r#""5' 2 1/2\"""#, 71.999 * INCH, r#""6' 0\"""#);
        check(mm, r#""5 ft 2 in""#, -47.5 * INCH, r#""-3 ft 11 1/2 in""#);
        check(mm, r#""5' 2\" ± 1/4\"""#, 59.0 * INCH, r#""4' 11\" ± 1/4\"""#);
    }

    #[test]
    fn what_is_not_understood_becomes_millimetres() {
        check(LengthUnit::Inch, r#""so long""#, 0.1234, r#""123.4 mm""#);
        check(LengthUnit::Inch, r#""""#, 0.1234, r#""123.4 mm""#);
    }
}
