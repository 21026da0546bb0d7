//! Reads one signed quantity, of one part (`622 mm`) or of several (`5' 2 1/2"`).

use std::ops::Range;

use crate::error::excerpt;
use crate::scanner::{Scanner, is_digit, is_minus, is_sign};
use crate::table::{INCHES, Scale, Unit};
use crate::{Dimension, ParseError, number, phrase};

/// A quantity as written; what its bare numbers mean is not decided yet.
#[derive(Debug)]
pub(crate) struct Quantity {
    is_negative: bool,
    parts: Vec<Part>,
}

/// A number with the unit that was written after it.
#[derive(Debug)]
struct Part {
    number: f64,
    unit: Option<&'static Unit>,
}

impl Quantity {
    /// A quantity of one part.
    pub(crate) fn new(number: f64, unit: &'static Unit) -> Self {
        Self { is_negative: false, parts: vec![Part { number, unit: Some(unit) }] }
    }

    /// The unit that was written last.
    pub(crate) fn unit(&self) -> Option<&'static Unit> {
        self.parts.last().and_then(|part| part.unit)
    }

    /// The number without its unit; none where there are several parts.
    pub(crate) fn bare_number(&self) -> Option<f64> {
        match self.parts.as_slice() {
            [Part { number, unit: None }] => Some(if self.is_negative { -number } else { *number }),
            _ => None,
        }
    }

    /// SI value; `bare` is what numbers without a unit are in.
    pub(crate) fn value(&self, bare: Scale) -> f64 {
        self.sum(|number, unit| unit.map_or(bare, |unit| unit.scale).value(number))
    }

    /// SI uncertainty, this being what is written after the `±` of a quantity of SI value `value`.
    pub(crate) fn uncertainty(&self, bare: Scale, value: f64) -> f64 {
        self.sum(|number, unit| unit.map_or(bare, |unit| unit.scale).uncertainty(number, value))
    }

    fn sum(&self, si: impl Fn(f64, Option<&'static Unit>) -> f64) -> f64 {
        // The sign is the numbers': a unit may begin elsewhere than at zero.
        let sign = if self.is_negative { -1.0 } else { 1.0 };
        self.parts.iter().map(|part| si(sign * part.number, part.unit)).sum()
    }
}

/// Reads a quantity of the wanted dimension that takes all of the scanner's text.
pub(crate) fn read(scanner: &mut Scanner<'_>, wanted: Dimension) -> Result<Quantity, ParseError> {
    let all = scanner.rest_trimmed();
    scanner.skip_space();
    let is_negative = sign(scanner)?;
    let mut parts: Vec<Part> = Vec::new();
    loop {
        let start = scanner.position();
        let larger = parts.last().and_then(|part| part.unit);
        eat_feet_hyphen(scanner, larger);
        scanner.skip_space();
        let from = scanner.position();
        let Some(number) = number::unsigned(scanner)? else {
            if parts.is_empty() {
                return Err(ParseError::NotANumber { found: excerpt(scanner.slice(all.clone())), at: all });
            }
            scanner.go_to(start);
            break;
        };
        let unit = phrase::unit(scanner, wanted)?;
        let unit = match (larger, unit) {
            (None, unit) => unit,
            (Some(larger), Some(unit)) if unit.may_follow(larger) => Some(unit),
            (Some(larger), None) if INCHES.may_follow(larger) => Some(&INCHES),
            _ => {
                scanner.go_to(from);
                break;
            }
        };
        parts.push(Part { number, unit });
        if unit.is_none() {
            break;
        }
    }
    finish(scanner)?;
    Ok(Quantity { is_negative, parts })
}

/// Complains about whatever is left.
pub(crate) fn finish(scanner: &mut Scanner<'_>) -> Result<(), ParseError> {
    scanner.skip_space();
    if scanner.is_at_end() {
        return Ok(());
    }
    let start = scanner.position();
    if scanner.eat(is_sign).is_some() {
        let at = start..scanner.position();
        return Err(ParseError::MisplacedSign { found: excerpt(scanner.slice(at.clone())), at });
    }
    let at = scanner.rest_trimmed();
    Err(ParseError::TrailingText { found: excerpt(scanner.slice(at.clone())), at })
}

/// Steps over the sign in front; true if it is a minus.
fn sign(scanner: &mut Scanner<'_>) -> Result<bool, ParseError> {
    let start = scanner.position();
    let Some(first) = scanner.eat(is_sign) else { return Ok(false) };
    scanner.skip_space();
    let mut at: Option<Range<usize>> = None;
    while scanner.eat(is_sign).is_some() {
        at = Some(start..scanner.position());
        scanner.skip_space();
    }
    match at {
        Some(at) => Err(ParseError::MoreThanOneSign { found: excerpt(scanner.slice(at.clone())), at }),
        None => Ok(is_minus(first)),
    }
}

/// Steps over the hyphen that drawings put between feet and inches: `5'-2 1/2"`, `5' - 2"`. With a space on its left
/// only, it looks like a sign and is left to be complained about.
fn eat_feet_hyphen(scanner: &mut Scanner<'_>, larger: Option<&Unit>) {
    if !larger.is_some_and(|larger| INCHES.may_follow(larger)) {
        return;
    }
    let start = scanner.position();
    let space_before = scanner.skip_space();
    let hyphen = scanner.eat(is_minus).is_some();
    let space_after = scanner.skip_space();
    let good = hyphen && space_before == space_after && scanner.peek().is_some_and(is_digit);
    if !good {
        scanner.go_to(start);
    }
}
