//! What cannot be read: the cause, its place and the hint.

use units::{Dimension, LengthUnit, ParseError, UnitSystem, from_bare, parse};

/// Checks the message, the marked part of the text and the hint (empty for none).
#[track_caller]
fn check_in(text: &str, dimension: Dimension, system: &UnitSystem, message: &str, marked: &str, hint: &str) {
    let found = parse(text, dimension, system)
        .map_err(|error| (error.to_string(), text.get(error.at()), error.hint().unwrap_or_default()));
    assert_eq!(found, Err((message.into(), Some(marked), hint.into())), "`{text}`");
}

#[track_caller]
fn check(text: &str, message: &str, marked: &str, hint: &str) {
    check_in(text, Dimension::Length, &UnitSystem::default(), message, marked, hint);
}

const LENGTHS: &str = "a length is written in `mm`, `cm`, `m`, `in` or `ft`";
const SIGN: &str = "one sign at the front holds for the whole; for an uncertainty write `±` or `+/-`";
const SIGNS: &str = "write one sign; for an uncertainty write `±` or `+/-`";
const SEPARATORS: &str = "write one decimal point and no thousands separators";
const REMOVE: &str = "remove it, or write it as a comment";
const NUMBER: &str = "begin with a number, as in `622 mm`";
const THREAD: &str = "write it as in `M12x1.5`, `1/2-20`, `20 tpi` or `1.5 mm`";

#[test]
fn nothing_to_read() {
    check("", "nothing is written here", "", "write a number, as in `622` or `24 1/2 in`");
    check(" \t", "nothing is written here", " \t", "write a number, as in `622` or `24 1/2 in`");
    check("480 ±", "a number is missing beside `±`", "±", "write value and uncertainty, as in `480 ± 15 mm`");
    check("± 15", "a number is missing beside `±`", "±", "write value and uncertainty, as in `480 ± 15 mm`");
}

#[test]
fn no_number() {
    check(" abc ", "`abc` is not a number", "abc", NUMBER);
    check("mm", "`mm` is not a number", "mm", NUMBER);
    check("nan", "`nan` is not a number", "nan", NUMBER);
    check("-", "`-` is not a number", "-", NUMBER);
    check("480 ± mm", "`mm` is not a number", "mm", NUMBER);
    check("٣ mm", "`٣ mm` is not a number", "٣ mm", NUMBER);
}

#[test]
fn commas() {
    check(
        "1,250 mm",
        "the comma in `1,250` may part thousands or decimals",
        "1,250",
        "write `1250` or `1.250`",
    );
    check("1,250.5 mm", "`1,250.5` has more than one dot or comma", "1,250.5", SEPARATORS);
    check("1.250,5 mm", "`1.250,5` has more than one dot or comma", "1.250,5", SEPARATORS);
    check("1,250,000", "`1,250,000` has more than one dot or comma", "1,250,000", SEPARATORS);
    check("1 250 mm", "`250 mm` follows a complete quantity", "250 mm", REMOVE);
}

#[test]
fn fractions() {
    check("1/0 in", "the fraction `1/0` divides by zero", "1/0", "");
    check(
        "24 5/2 in",
        "the fraction `5/2` after a whole number is not less than one",
        "5/2",
        "write a fraction less than one, as in `24 1/2`",
    );
    check("24.5 1/2 in", "`24.5 1/2` mixes decimals and a fraction", "24.5 1/2", "write `24.5` or `24 1/2`");
    check("1.5/2 in", "`1.5` mixes decimals and a fraction", "1.5", "write `24.5` or `24 1/2`");
    check("1/2.5 in", "`1/2` mixes decimals and a fraction", "1/2", "write `24.5` or `24 1/2`");
}

#[test]
fn signs() {
    check("--5", "`--` is more than one sign", "--", SIGNS);
    check("+-5", "`+-` is more than one sign", "+-", SIGNS);
    check("-\u{2212} 5", "`-\u{2212}` is more than one sign", "-\u{2212}", SIGNS);
    check("5' -2\"", "`-` is a sign inside the quantity", "-", SIGN);
    check("24 -1/2 in", "`-` is a sign inside the quantity", "-", SIGN);
    check("480 - 15 mm", "`-` is a sign inside the quantity", "-", SIGN);
}

#[test]
fn units() {
    check("622 mn", "`mn` is not a known unit", "mn", "did you mean `mm`?");
    check("622 furlongs", "`furlongs` is not a known unit", "furlongs", LENGTHS);
    check("62 kg", "`kg` is a mass, a length is wanted here", "kg", LENGTHS);
    check("62°", "`°` is an angle, a length is wanted here", "°", LENGTHS);
    check("480 mm ± 2 kg", "`kg` is a mass, a length is wanted here", "kg", LENGTHS);
    let metric = UnitSystem::default();
    let other = |text, dimension, message, marked, hint| {
        check_in(text, dimension, &metric, message, marked, hint);
    };
    other(
        "80 kg",
        Dimension::Force,
        "`kg` is a mass, a force is wanted here",
        "kg",
        "for the weight of a mass write `kgf`, `lbf` or `N`",
    );
    other(
        "5 mm",
        Dimension::Angle,
        "`mm` is a length, an angle is wanted here",
        "mm",
        "an angle is written in `deg`, `min` or `rad`",
    );
    other(
        "5 mm",
        Dimension::Ratio,
        "`mm` is a length, a ratio is wanted here",
        "mm",
        "a ratio is a plain number, or one in `%`",
    );
    other("5 N/mn", Dimension::Rate, "`N/mn` is not a known unit", "N/mn", "did you mean `N/mm`?");
    other("5 mPa", Dimension::Pressure, "`mPa` is not a known unit", "mPa", "did you mean `MPa`?");
}

#[test]
fn trailing_text() {
    check("622 mm from datum", "`from datum` follows a complete quantity", "from datum", REMOVE);
    check("5 in 2 ft", "`2 ft` follows a complete quantity", "2 ft", REMOVE);
    check("622, ", "`,` follows a complete quantity", ",", REMOVE);
    check("5 ± 1 ± 2", "`± 2` follows a complete quantity", "± 2", REMOVE);
}

#[test]
fn sizes() {
    check("1e13 m", "the value is absurdly large", "1e13 m", "check the number and its unit");
    check("5 ± 1e13 m", "the value is absurdly large", "1e13 m", "check the number and its unit");
    check("1e999", "the number is not finite", "1e999", "");
    check("5 ± -1", "the uncertainty `-1` is negative", "-1", "write it without the sign");
}

#[test]
fn what_could_mean_two_things() {
    let metric = UnitSystem::default();
    let inch = UnitSystem { length: LengthUnit::Inch, ..metric };
    check_in(
        "0.62 ± 3 %",
        Dimension::Ratio,
        &metric,
        "`%` after `±` leaves open whether `0.62` is per cent too",
        "0.62",
        "write `62 % ± 3 %` or `0.62 ± 0.03`",
    );
    check_in(
        "20",
        Dimension::Pitch,
        &inch,
        "a bare number of 1 or more is unclear as a thread pitch in inches",
        "20",
        "write `20 tpi` for threads per inch, or `0.05 in`",
    );
}

#[test]
fn threads() {
    let thread = |text, message, marked| {
        check_in(text, Dimension::Pitch, &UnitSystem::default(), message, marked, THREAD);
    };
    thread("M13", "`M13` does not say a thread pitch", "M13");
    thread("M12x", "`M12x` does not say a thread pitch", "M12x");
    thread("M12x15", "`M12x15` does not say a thread pitch", "M12x15");
    thread("M12x0", "`M12x0` does not say a thread pitch", "M12x0");
    thread("1/2-0", "`1/2-0` does not say a thread pitch", "1/2-0");
    check_in(
        "M12x1.5 stud",
        Dimension::Pitch,
        &UnitSystem::default(),
        "`stud` follows a complete quantity",
        "stud",
        REMOVE,
    );
}

#[test]
fn bare_numbers() {
    let metric = UnitSystem::default();
    let inch = UnitSystem { length: LengthUnit::Inch, ..metric };
    assert_eq!(from_bare(622.0, Dimension::Length, &metric), Ok(622.0 * 1e-3));
    assert_eq!(from_bare(0.62, Dimension::Ratio, &metric), Ok(0.62));
    assert_eq!(from_bare(f64::NAN, Dimension::Length, &metric), Err(ParseError::NotFinite { at: 0..0 }));
    assert_eq!(from_bare(f64::INFINITY, Dimension::Pitch, &inch), Err(ParseError::NotFinite { at: 0..0 }));
    assert_eq!(from_bare(1e300, Dimension::Length, &metric), Err(ParseError::TooLarge { at: 0..0 }));
    assert_eq!(from_bare(20.0, Dimension::Pitch, &inch), Err(ParseError::UnclearPitch { at: 0..0 }));
}
