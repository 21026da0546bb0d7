//! From a text, or a bare number, to SI.

use std::ops::Range;

use crate::error::excerpt;
use crate::quantity::{self, Quantity};
use crate::scanner::{Scanner, is_minus, is_slash, trimmed};
use crate::table::Scale;
use crate::{Dimension, ParseError, Reading, UnitSystem, thread};

/// Largest SI value that is taken seriously, in the unit of its dimension. Nothing on a car, not even the modulus of
/// steel in pascal, comes near; it catches a leaned-on zero key before it reaches a solver.
const LARGEST: f64 = 1e12;

/// Reads a quantity as a workshop writes it, with its standard uncertainty after `±` if there is one.
///
/// Numbers may be decimals (`62.5`, `62,5`), fractions (`1/2`, `½`) or both (`24 1/2`); feet take inches and degrees
/// take minutes and seconds (`5' 2 1/2"`, `1° 12'`); a sign holds for the whole. Without a unit, `system` says what
/// the number means. The uncertainty has its own unit, or else that of the value; a unit after the uncertainty alone
/// holds for both. An uncertainty in `%` of anything but a ratio is a part of the value. A thread pitch may be given by
/// a designation (`M12x1.5`, `1/2-20`) or in threads per inch.
///
/// # Errors
/// [`ParseError`], with the place of the fault in the text.
pub fn parse(text: &str, dimension: Dimension, system: &UnitSystem) -> Result<Reading, ParseError> {
    let all = 0..text.len();
    if text.trim().is_empty() {
        return Err(ParseError::Empty { at: all });
    }
    let Some(sign) = plus_minus(text) else {
        let value = read(text, all.clone(), dimension)?;
        let bare = system.bare(dimension);
        let value = settled_value(&value, bare, dimension, system, trimmed(text, all))?;
        return Ok(Reading { value, uncertainty: None });
    };
    let before = trimmed(text, 0..sign.start);
    let after = trimmed(text, sign.end..text.len());
    let slice = |range: Range<usize>| text.get(range).unwrap_or_default();
    if before.is_empty() && slice(sign.clone()).chars().all(|part| part == '+' || is_minus(part)) {
        return Err(ParseError::MoreThanOneSign { found: slice(sign.clone()).into(), at: sign });
    }
    if before.is_empty() || after.is_empty() {
        return Err(ParseError::MissingNumber { at: sign });
    }

    let written = read(text, before.clone(), dimension)?;
    let is_part_of_value = dimension != Dimension::Ratio && slice(after.clone()).ends_with('%');
    let doubt = read(text, after.clone(), if is_part_of_value { Dimension::Ratio } else { dimension })?;
    let shared = if is_part_of_value { written.unit() } else { written.unit().or(doubt.unit()) };
    let bare = shared.map_or(system.bare(dimension), |unit| unit.scale);

    let is_fraction = |number: f64| 0.0 < number.abs() && number.abs() <= 1.0;
    if dimension == Dimension::Ratio
        && doubt.unit().is_some()
        && written.bare_number().is_some_and(is_fraction)
    {
        return Err(ParseError::UnclearPercent { found: excerpt(slice(before.clone())), at: before });
    }
    let value = if shared.is_some() {
        sized(written.value(bare), before)?
    } else {
        settled_value(&written, bare, dimension, system, before)?
    };
    let uncertainty = if is_part_of_value {
        doubt.value(Scale::Times(1.0)) * value.abs()
    } else {
        doubt.uncertainty(bare, value)
    };
    let uncertainty = sized(uncertainty, after.clone())?;
    if uncertainty < 0.0 {
        return Err(ParseError::NegativeUncertainty { found: excerpt(slice(after.clone())), at: after });
    }
    // `abs` turns the -0 of `± -0` into 0.
    Ok(Reading { value, uncertainty: Some(uncertainty.abs()) })
}

/// SI value of a number that has no unit, as in `centre = [0, 760, 300]`.
///
/// # Errors
/// [`ParseError::NotFinite`], [`ParseError::TooLarge`], and [`ParseError::UnclearPitch`] for a thread pitch of 1 or more
/// where lengths are in inches or feet: it is most likely a count of threads. There is no text, so all are at `0..0`.
pub fn from_bare(number: f64, dimension: Dimension, system: &UnitSystem) -> Result<f64, ParseError> {
    checked_bare(number, dimension, system, 0..0)
}

fn checked_bare(
    number: f64,
    dimension: Dimension,
    system: &UnitSystem,
    at: Range<usize>,
) -> Result<f64, ParseError> {
    if dimension == Dimension::Pitch && system.is_inch() && number.is_finite() && 1.0 <= number.abs() {
        return Err(ParseError::UnclearPitch { at });
    }
    sized(system.bare(dimension).value(number), at)
}

/// SI value of what is written, where no unit but its own can apply.
fn settled_value(
    written: &Quantity,
    bare: Scale,
    dimension: Dimension,
    system: &UnitSystem,
    at: Range<usize>,
) -> Result<f64, ParseError> {
    match written.bare_number() {
        Some(number) => checked_bare(number, dimension, system, at),
        None => sized(written.value(bare), at),
    }
}

fn sized(si: f64, at: Range<usize>) -> Result<f64, ParseError> {
    if !si.is_finite() {
        return Err(ParseError::NotFinite { at });
    }
    if si.abs() > LARGEST {
        return Err(ParseError::TooLarge { at });
    }
    Ok(si)
}

fn read(text: &str, part: Range<usize>, dimension: Dimension) -> Result<Quantity, ParseError> {
    let mut scanner = Scanner::new(text, part);
    if dimension == Dimension::Pitch
        && let Some(quantity) = thread::designation(&mut scanner)?
    {
        return Ok(quantity);
    }
    quantity::read(&mut scanner, dimension)
}

/// Place of the first `±`, `+/-` or `+-`.
fn plus_minus(text: &str) -> Option<Range<usize>> {
    text.char_indices().find_map(|(start, first)| {
        let mut rest = text.get(start..).unwrap_or_default().chars();
        rest.next();
        let mut length = first.len_utf8();
        match first {
            '±' => return Some(start..start + length),
            '+' => {}
            _ => return None,
        }
        let mut next = rest.next()?;
        if is_slash(next) {
            length += next.len_utf8();
            next = rest.next()?;
        }
        is_minus(next).then(|| start..start + length + next.len_utf8())
    })
}
