//! Reads the unit after a number.

use std::ops::Range;

use crate::error::excerpt;
use crate::scanner::{Scanner, is_minus, is_slash};
use crate::table::{self, Found, Unit};
use crate::{Dimension, ParseError};

/// Longest unit, in words; what comes after is not part of it.
const MOST_WORDS: usize = 4;

/// A beginning of a unit's text that may itself be a unit.
struct Candidate {
    /// Words parted by one space, `/` tight, powers plain.
    name: String,
    end: usize,
}

/// Reads a unit of the wanted dimension; `None` where no unit stands.
pub(crate) fn unit(
    scanner: &mut Scanner<'_>,
    wanted: Dimension,
) -> Result<Option<&'static Unit>, ParseError> {
    let before = scanner.position();
    scanner.skip_space();
    let start = scanner.position();
    let candidates = match mark(scanner) {
        // `20 °C`: the mark stands for the word before the scale's letter.
        Some("°") if wanted == Dimension::Temperature => {
            scanner.skip_space();
            let letter = eat_word(scanner);
            let name = format!("deg {}", scanner.slice(letter));
            vec![Candidate { name, end: scanner.position() }]
        }
        Some(name) => vec![Candidate { name: name.into(), end: scanner.position() }],
        None => words(scanner, matches!(wanted, Dimension::Area | Dimension::Inertia)),
    };
    let Some(whole) = candidates.last() else {
        scanner.go_to(before);
        return Ok(None);
    };
    let wrong = |is, end: usize| ParseError::WrongDimension {
        found: excerpt(scanner.slice(start..end)),
        is,
        wanted,
        at: start..end,
    };
    match table::find(&whole.name, wanted) {
        Found::Unit(unit) => return Ok(Some(unit)),
        Found::OtherDimension(is) => return Err(wrong(is, whole.end)),
        Found::Nothing => {}
    }
    // `622 mm from the datum`: the unit is good, the rest is for the caller to complain about.
    let shorter = || candidates.iter().rev().skip(1);
    for candidate in shorter() {
        if let Found::Unit(unit) = table::find(&candidate.name, wanted) {
            scanner.go_to(candidate.end);
            return Ok(Some(unit));
        }
    }
    let nearest = table::nearest_name(&whole.name, wanted);
    if nearest.is_none() {
        for candidate in shorter() {
            if let Found::OtherDimension(is) = table::find(&candidate.name, wanted) {
                return Err(wrong(is, candidate.end));
            }
        }
    }
    let at = start..whole.end;
    Err(ParseError::UnknownUnit { found: excerpt(scanner.slice(at.clone())), nearest, wanted, at })
}

/// A unit that is a mark, in its plain spelling: typewriter, typographic and mathematical forms are the same.
fn mark(scanner: &mut Scanner<'_>) -> Option<&'static str> {
    let mark = plain_mark(scanner.peek()?)?;
    scanner.eat(|_| true);
    // Two feet marks in a row are how some keyboards write the inch mark.
    if mark == "'" && scanner.eat(|next| plain_mark(next) == Some("'")).is_some() {
        return Some("\"");
    }
    Some(mark)
}

pub(crate) fn plain_mark(character: char) -> Option<&'static str> {
    match character {
        '\'' | '’' | '‘' | '′' | 'ʹ' | '´' | '`' => Some("'"),
        '"' | '”' | '“' | '″' | 'ʺ' => Some("\""),
        // The ordinal sign and the ring above are what keyboards offer next to the degree sign.
        '°' | 'º' | '˚' => Some("°"),
        '%' => Some("%"),
        _ => None,
    }
}

/// The words of a unit such as `lbf·ft` or `N/mm²`, as candidates of growing length, with `powers` of words above a
/// slash too. A candidate ends before a space,
/// never before a slash: `lb` in `lb/furlong` is not what was meant.
fn words(scanner: &mut Scanner<'_>, powers: bool) -> Vec<Candidate> {
    let mut candidates = Vec::new();
    let mut name = String::new();
    for _ in 0..MOST_WORDS {
        let word = eat_word(scanner);
        if word.is_empty() {
            break;
        }
        name.push_str(scanner.slice(word));
        if powers {
            name.push_str(power(scanner));
        }
        let mut end = end_of_word(scanner);
        while eat_slash(scanner) {
            name.push('/');
            let word = eat_word(scanner);
            name.push_str(scanner.slice(word));
            name.push_str(power(scanner));
            end = end_of_word(scanner);
        }
        candidates.push(Candidate { name: name.clone(), end });
        if !eat_joint(scanner) {
            break;
        }
        name.push(' ');
    }
    if let Some(last) = candidates.last() {
        scanner.go_to(last.end);
    }
    candidates
}

fn is_letter(character: char) -> bool {
    character.is_alphabetic() && plain_mark(character).is_none()
}

fn eat_word(scanner: &mut Scanner<'_>) -> Range<usize> {
    scanner.eat_while(is_letter)
}

/// Steps over the full stop of an abbreviation, as in `24 in.`, and returns where the word ends.
fn end_of_word(scanner: &mut Scanner<'_>) -> usize {
    if scanner.peek() == Some('.') && !scanner.peek_second().is_some_and(char::is_alphanumeric) {
        scanner.eat(|_| true);
    }
    scanner.position()
}

/// Steps over a slash that a letter follows, with or without spaces.
fn eat_slash(scanner: &mut Scanner<'_>) -> bool {
    eat_before_letter(scanner, |scanner| {
        scanner.skip_space();
        scanner.eat(is_slash).is_some()
    })
}

/// Steps over what joins the factors of a product: a space, a dot, a hyphen; a letter must follow.
fn eat_joint(scanner: &mut Scanner<'_>) -> bool {
    eat_before_letter(scanner, |scanner| {
        let space = scanner.skip_space();
        let joint = |next: char| matches!(next, '·' | '⋅' | '•' | '∙' | '*' | '.' | '×') || is_minus(next);
        scanner.eat(joint).is_some() || space
    })
}

fn eat_before_letter(scanner: &mut Scanner<'_>, eat: impl Fn(&mut Scanner<'_>) -> bool) -> bool {
    let start = scanner.position();
    let eaten = eat(scanner);
    scanner.skip_space();
    let good = eaten && scanner.peek().is_some_and(is_letter);
    if !good {
        scanner.go_to(start);
    }
    good
}

/// The square or cube in `N/mm²`, `N/mm^2`, `kg/m3`; other powers occur in no unit here. Above a slash only where an
/// area is in the unit: elsewhere a digit after letters starts the next number, as in `5ft2in`.
fn power(scanner: &mut Scanner<'_>) -> &'static str {
    let start = scanner.position();
    for (mark, plain) in [('²', "2"), ('³', "3")] {
        if scanner.eat(|next| next == mark).is_some() {
            return plain;
        }
    }
    scanner.eat(|next| next == '^');
    for (mark, plain) in [('2', "2"), ('3', "3")] {
        if scanner.eat(|next| next == mark).is_some() {
            return plain;
        }
    }
    scanner.go_to(start);
    ""
}
