//! Reads numbers without a sign: decimals, fractions and whole numbers with a fraction.

use std::ops::Range;

use crate::ParseError;
use crate::error::excerpt;
use crate::scanner::{Scanner, is_digit, is_minus, is_sign, is_slash};

/// A decimal number as written.
struct Decimal {
    value: f64,
    /// No decimal point, no exponent.
    is_whole: bool,
    at: Range<usize>,
}

/// A fraction as written.
struct Fraction {
    value: f64,
    at: Range<usize>,
}

/// Reads `622`, `62.2`, `62,2`, `1/2`, `½`, `24 1/2`, `24-1/2` or `24½`; `None` where no number begins. The result
/// is finite.
pub(crate) fn unsigned(scanner: &mut Scanner<'_>) -> Result<Option<f64>, ParseError> {
    if let Some(fraction) = fraction(scanner)? {
        return Ok(Some(fraction.value));
    }
    let Some(whole) = decimal_number(scanner)? else { return Ok(None) };
    if !whole.is_whole && is_over(scanner) {
        return Err(decimals_in_fraction(scanner, whole.at));
    }
    let end = scanner.position();
    if !scanner.skip_space() {
        scanner.eat(is_minus);
    }
    let Some(fraction) = fraction(scanner)? else {
        scanner.go_to(end);
        return Ok(Some(whole.value));
    };
    if !whole.is_whole {
        return Err(decimals_in_fraction(scanner, whole.at.start..fraction.at.end));
    }
    if fraction.value >= 1.0 {
        let found = excerpt(scanner.slice(fraction.at.clone()));
        return Err(ParseError::ImproperFraction { found, at: fraction.at });
    }
    Ok(Some(whole.value + fraction.value))
}

/// Reads a decimal number, never a fraction; `None` where none begins.
pub(crate) fn decimal(scanner: &mut Scanner<'_>) -> Result<Option<f64>, ParseError> {
    Ok(decimal_number(scanner)?.map(|decimal| decimal.value))
}

fn decimal_number(scanner: &mut Scanner<'_>) -> Result<Option<Decimal>, ParseError> {
    let start = scanner.position();
    let mut seen_digit = false;
    loop {
        let next_is_digit = scanner.peek_second().is_some_and(is_digit);
        let eaten = scanner.eat(|next| match next {
            '.' => seen_digit || next_is_digit,
            ',' => next_is_digit,
            _ => is_digit(next),
        });
        match eaten {
            Some(next) => seen_digit |= is_digit(next),
            None => break,
        }
    }
    if !seen_digit {
        scanner.go_to(start);
        return Ok(None);
    }
    let mantissa = start..scanner.position();
    eat_exponent(scanner);
    let at = start..scanner.position();
    check_separators(scanner, mantissa.clone())?;
    let text = scanner.slice(at.clone()).replace(',', ".");
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => {
            let is_whole = at == mantissa && !text.contains('.');
            Ok(Some(Decimal { value, is_whole, at }))
        }
        Ok(_) => Err(ParseError::NotFinite { at }),
        Err(_) => Err(ParseError::NotANumber { found: excerpt(scanner.slice(at.clone())), at }),
    }
}

/// Steps over `e3`, `E-3`; an `e` without digits is left for the unit.
fn eat_exponent(scanner: &mut Scanner<'_>) {
    let start = scanner.position();
    if scanner.eat(|next| matches!(next, 'e' | 'E')).is_none() {
        return;
    }
    scanner.eat(|next| is_sign(next) && next.is_ascii());
    if scanner.eat_while(is_digit).is_empty() {
        scanner.go_to(start);
    }
}

/// A number may have one dot or one comma. Three digits after one comma may also be a group of thousands, unless what
/// stands before the comma cannot be: nothing, a zero in front, or more than three digits.
fn check_separators(scanner: &Scanner<'_>, at: Range<usize>) -> Result<(), ParseError> {
    let text = scanner.slice(at.clone());
    if text.matches(['.', ',']).count() > 1 {
        return Err(ParseError::Separators { found: excerpt(text), at });
    }
    let Some((before, after)) = text.split_once(',') else { return Ok(()) };
    let may_be_thousands = (1..=3).contains(&before.len()) && !before.starts_with('0') && after.len() == 3;
    if may_be_thousands {
        return Err(ParseError::AmbiguousComma { found: excerpt(text), at });
    }
    Ok(())
}

/// Reads `1/2`, `1 / 2`, `½`; `None` (and nothing read) where no fraction begins.
fn fraction(scanner: &mut Scanner<'_>) -> Result<Option<Fraction>, ParseError> {
    let start = scanner.position();
    if let Some(value) = scanner.peek().and_then(vulgar) {
        scanner.eat(|_| true);
        return Ok(Some(Fraction { value, at: start..scanner.position() }));
    }
    let numerator = scanner.eat_while(is_digit);
    if numerator.is_empty() || !eat_over(scanner) {
        scanner.go_to(start);
        return Ok(None);
    }
    let denominator = scanner.eat_while(is_digit);
    let at = start..scanner.position();
    let has_decimals = scanner.peek().is_some_and(|next| matches!(next, '.' | ','))
        && scanner.peek_second().is_some_and(is_digit);
    if has_decimals {
        return Err(decimals_in_fraction(scanner, at));
    }
    let found = || excerpt(scanner.slice(at.clone()));
    // Digits alone always parse; the fallback keeps a change of that from becoming a panic.
    let parsed = |digits: Range<usize>| scanner.slice(digits).parse::<f64>().unwrap_or(f64::NAN);
    let (above, below) = (parsed(numerator), parsed(denominator));
    if below == 0.0 {
        return Err(ParseError::ZeroDenominator { found: found(), at });
    }
    let value = above / below;
    if !value.is_finite() || !below.is_finite() {
        return Err(ParseError::NotFinite { at });
    }
    Ok(Some(Fraction { value, at }))
}

/// Steps over the stroke of a fraction if a digit follows it.
fn eat_over(scanner: &mut Scanner<'_>) -> bool {
    let start = scanner.position();
    scanner.skip_space();
    let stroke = scanner.eat(is_slash).is_some();
    scanner.skip_space();
    let good = stroke && scanner.peek().is_some_and(is_digit);
    if !good {
        scanner.go_to(start);
    }
    good
}

fn is_over(scanner: &Scanner<'_>) -> bool {
    eat_over(&mut scanner.clone())
}

fn decimals_in_fraction(scanner: &Scanner<'_>, at: Range<usize>) -> ParseError {
    ParseError::DecimalsInFraction { found: excerpt(scanner.slice(at.clone())), at }
}

/// The fractions that Unicode has as one character.
fn vulgar(character: char) -> Option<f64> {
    let (above, below) = match character {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅕' => (1.0, 5.0),
        '⅖' => (2.0, 5.0),
        '⅗' => (3.0, 5.0),
        '⅘' => (4.0, 5.0),
        '⅙' => (1.0, 6.0),
        '⅚' => (5.0, 6.0),
        '⅐' => (1.0, 7.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        '⅑' => (1.0, 9.0),
        '⅒' => (1.0, 10.0),
        _ => return None,
    };
    Some(above / below)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reads the beginning of a text; also says what is left.
    fn read(text: &str) -> (Result<Option<f64>, ParseError>, &str) {
        let mut scanner = Scanner::new(text, 0..text.len());
        let number = unsigned(&mut scanner);
        (number, scanner.rest())
    }

    #[track_caller]
    fn check(text: &str, expect: f64, left: &str) {
        assert_eq!(read(text), (Ok(Some(expect)), left));
    }

    #[test]
    fn reads_numbers_and_leaves_the_rest() {
        check("622 mm", 622.0, " mm");
        check(".5", 0.5, "");
        check("5.", 5.0, "");
        check(",5", 0.5, "");
        check("62,5", 62.5, "");
        check("0,250", 0.25, "");
        check("1250,125", 1250.125, "");
        check("2.1e5 N/m", 2.1e5, " N/m");
        check("5e", 5.0, "e");
        check("24 1/2 in", 24.5, " in");
        check("24-1/2\"", 24.5, "\"");
        check("24½", 24.5, "");
        check("24 ½", 24.5, "");
        check("24-½", 24.5, "");
        check("1⁄2", 0.5, "");
        check("5/2", 2.5, "");
        check("24 - 1/2", 24.0, " - 1/2");
        check("24 -1/2", 24.0, " -1/2");
        check("50 N/mm", 50.0, " N/mm");
        check("1/2-20", 0.5, "-20");
    }

    #[test]
    fn nothing_is_read_where_no_number_begins() {
        for text in ["", "mm", "-5", ".", ",", "/2"] {
            assert_eq!(read(text), (Ok(None), text));
        }
    }
}
