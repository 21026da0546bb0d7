//! Reads thread designations: metric (`M12x1.5 LH`, `M12`) and inch (`1/2-20 UNF`).
//!
//! The hand is accepted and not kept: a pitch is a length per turn, whichever way the turn goes.

use std::ops::Range;

use crate::ParseError;
use crate::error::excerpt;
use crate::number;
use crate::phrase::plain_mark;
use crate::quantity::{self, Quantity};
use crate::scanner::{Scanner, is_digit, is_minus, is_slash};
use crate::table::{MILLIMETRES, THREADS_PER_INCH};

/// Nominal diameter and coarse pitch \[mm\], ISO 261:1998 and ISO 262:1998 (7, 9 and 11 mm are in ISO 261 only).
const COARSE: &[(f64, f64)] = &[
    (3.0, 0.5),
    (3.5, 0.6),
    (4.0, 0.7),
    (4.5, 0.75),
    (5.0, 0.8),
    (6.0, 1.0),
    (7.0, 1.0),
    (8.0, 1.25),
    (9.0, 1.25),
    (10.0, 1.5),
    (11.0, 1.5),
    (12.0, 1.75),
    (14.0, 2.0),
    (16.0, 2.0),
    (18.0, 2.5),
    (20.0, 2.5),
    (22.0, 2.5),
    (24.0, 3.0),
    (27.0, 3.0),
    (30.0, 3.5),
    (33.0, 3.5),
    (36.0, 4.0),
];

/// What may follow a designation besides a tolerance class: series, hand, unit.
const TAIL: &[&str] = &[
    "UN", "UNC", "UNF", "UNEF", "UNS", "UNR", "UNRC", "UNRF", "UNJ", "UNJC", "UNJF", "NC", "NF", "NPT",
    "BSW", "BSF", "TPI", "MM", "LH", "RH", "left", "right", "hand",
];

/// Reads a designation that takes all of the scanner's text; `None` (and nothing read) where none begins.
pub(crate) fn designation(scanner: &mut Scanner<'_>) -> Result<Option<Quantity>, ParseError> {
    let start = scanner.position();
    let all = scanner.rest_trimmed();
    scanner.skip_space();
    let quantity = match metric(scanner, &all)? {
        Some(pitch) => Quantity::new(pitch, &MILLIMETRES),
        None => match inch(scanner, &all)? {
            Some(count) => Quantity::new(count, &THREADS_PER_INCH),
            None => {
                scanner.go_to(start);
                return Ok(None);
            }
        },
    };
    eat_tail(scanner);
    quantity::finish(scanner)?;
    Ok(Some(quantity))
}

/// Pitch of a metric thread \[mm\].
fn metric(scanner: &mut Scanner<'_>, all: &Range<usize>) -> Result<Option<f64>, ParseError> {
    if !scanner.peek_second().is_some_and(is_digit) || scanner.eat(|next| matches!(next, 'M' | 'm')).is_none()
    {
        return Ok(None);
    }
    let Some(diameter) = number::decimal(scanner)? else { return Err(unknown(scanner, all)) };
    let pitch = match written_pitch(scanner, all)? {
        Some(pitch) => pitch,
        None => {
            let same = |nominal: f64| (nominal - diameter).abs() < 1e-9;
            let coarse = COARSE.iter().find(|(nominal, _)| same(*nominal));
            coarse.ok_or_else(|| unknown(scanner, all))?.1
        }
    };
    // A pitch as large as the diameter is a lost decimal point: `M12x15`.
    if 0.0 < pitch && pitch < diameter { Ok(Some(pitch)) } else { Err(unknown(scanner, all)) }
}

/// The pitch after the diameter \[mm\]: `x1.5`, or `-1.5` as some drawings have it; `-6g` is a tolerance class.
fn written_pitch(scanner: &mut Scanner<'_>, all: &Range<usize>) -> Result<Option<f64>, ParseError> {
    let before = scanner.position();
    scanner.skip_space();
    if scanner.eat(|next| matches!(next, 'x' | 'X' | '×' | '*')).is_some() {
        scanner.skip_space();
        return match number::decimal(scanner)? {
            Some(pitch) => Ok(Some(pitch)),
            None => Err(unknown(scanner, all)),
        };
    }
    if scanner.eat(is_minus).is_some()
        && let Some(pitch) = number::decimal(scanner)?
        && !scanner.peek().is_some_and(char::is_alphabetic)
    {
        return Ok(Some(pitch));
    }
    scanner.go_to(before);
    Ok(None)
}

/// Threads per inch of an inch thread: size, hyphen, count. The size may be a gauge number (`#10-32`).
fn inch(scanner: &mut Scanner<'_>, all: &Range<usize>) -> Result<Option<f64>, ParseError> {
    scanner.eat(|next| next == '#');
    if number::unsigned(scanner)?.is_none() {
        return Ok(None);
    }
    scanner.eat(|next| plain_mark(next) == Some("\""));
    scanner.skip_space();
    if scanner.eat(is_minus).is_none() {
        return Ok(None);
    }
    scanner.skip_space();
    match number::unsigned(scanner)? {
        None => Ok(None),
        // `5 - 1/2` is no thread: a count below one is a fraction that was meant for something else.
        Some(count) if 1.0 <= count && !scanner.peek().is_some_and(is_slash) => Ok(Some(count)),
        Some(_) => Err(unknown(scanner, all)),
    }
}

fn eat_tail(scanner: &mut Scanner<'_>) {
    loop {
        let before = scanner.position();
        scanner.eat_while(|next| next.is_whitespace() || is_minus(next));
        let word = scanner.eat_while(|next| !next.is_whitespace() && !is_minus(next));
        let word = scanner.slice(word);
        let known = TAIL.iter().any(|tail| tail.eq_ignore_ascii_case(word)) || is_tolerance_class(word);
        if !known {
            scanner.go_to(before);
            return;
        }
    }
}

/// `6g`, `6H`, `5g6g` (ISO 965), `2A`, `3B` (unified).
fn is_tolerance_class(word: &str) -> bool {
    word.len() <= 4
        && word.starts_with(is_digit)
        && word.ends_with(|last: char| last.is_ascii_alphabetic())
        && word.chars().all(|next| is_digit(next) || "efghGHAB".contains(next))
}

fn unknown(scanner: &Scanner<'_>, all: &Range<usize>) -> ParseError {
    ParseError::UnknownThread { found: excerpt(scanner.slice(all.clone())), at: all.clone() }
}
