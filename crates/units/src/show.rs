//! Prints quantities in the units the reader chose.

use crate::exact::INCH;
use crate::{Dimension, UnitSystem};

/// What stands for a number that is not finite.
const NOT_AVAILABLE: &str = "n/a";

/// Most decimals ever printed; a double holds no more, and the standard formatter panics far above.
const MOST_DECIMALS: usize = 20;

/// The number alone, in the shown unit; `n/a` where it is not finite, and never `-0.0`.
pub fn number(si: f64, dimension: Dimension, system: &UnitSystem, decimals: usize) -> String {
    fixed((si - system.zero(dimension)) / system.factor(dimension), decimals)
}

/// The number with its unit, as in `62.5 mm`; a ratio has none.
pub fn with_unit(si: f64, dimension: Dimension, system: &UnitSystem, decimals: usize) -> String {
    let number = number(si, dimension, system, decimals);
    let symbol = system.symbol(dimension);
    if symbol.is_empty() || number == NOT_AVAILABLE { number } else { format!("{number} {symbol}") }
}

/// Value and ± rounded to what the ± supports, both in the shown unit already.
///
/// After JCGM 100:2008 (GUM), 7.2.6: few digits for the ±, and the value to the same place. Here the ± has one
/// significant digit, or two when the first is 1, where one alone could be off by a third. Never more than
/// `most_decimals`, and never less than whole units: `137 ± 34`. Where `most_decimals` is too few to show a ± at all,
/// it is rounded up to the last place, because `± 0.0` would promise too much. A zero ± shows `most_decimals`.
pub fn with_uncertainty(
    value: f64,
    uncertainty: Option<f64>,
    most_decimals: usize,
) -> (String, Option<String>) {
    let decimals = common_decimals(uncertainty, most_decimals);
    with_decimals(value, uncertainty, decimals)
}

/// Decimals at which a column of values with these ± (in the shown unit) is printed: the finest that any ± supports as
/// in [`with_uncertainty`], but at most one place finer than the coarsest supports, so that no ± shows many digits
/// that mean nothing. Values without ± (or with zero) do not count; where none counts, `most_decimals`.
pub fn common_decimals(uncertainties: impl IntoIterator<Item = f64>, most_decimals: usize) -> usize {
    let most_decimals = most_decimals.min(MOST_DECIMALS);
    let supported = uncertainties
        .into_iter()
        .map(f64::abs)
        .filter(|u| *u > 0.0 && u.is_finite())
        .map(|u| supported_decimals(u).min(most_decimals));
    let range = supported.fold(None, |range: Option<(usize, usize)>, d| {
        Some(range.map_or((d, d), |(coarse, fine)| (coarse.min(d), fine.max(d))))
    });
    range.map_or(most_decimals, |(coarse, fine)| fine.min(coarse + 1))
}

/// Value and ± to a number of decimals, both in the shown unit already; a ± too small to show is rounded up to the
/// last place.
pub fn with_decimals(value: f64, uncertainty: Option<f64>, decimals: usize) -> (String, Option<String>) {
    let decimals = decimals.min(MOST_DECIMALS);
    let shown = uncertainty.map(|u| {
        let shown = fixed(u.abs(), decimals);
        if u.is_finite() && u != 0.0 && is_zero(&shown) {
            fixed(0.1_f64.powi(i32::try_from(decimals).unwrap_or_default()), decimals)
        } else {
            shown
        }
    });
    (fixed(value, decimals), shown)
}

/// A length as a tape shows it, to the nearest 1/`denominator` inch: `24 1/2"`, `5/16"`, `-3 1/4"`, `0"`. The fraction
/// is reduced; a denominator of 0 counts as 1.
pub fn inch_fraction(si: f64, denominator: u32) -> String {
    if !si.is_finite() {
        return NOT_AVAILABLE.into();
    }
    let denominator = u64::from(denominator.max(1));
    // Fractions of an inch that a tape can show are exact in a double; beyond 2^53 of them there is no fraction left.
    let parts = (si.abs() / INCH * denominator as f64).round();
    if parts >= 9e15 {
        return format!("{}\"", fixed(si / INCH, 0));
    }
    let parts = parts as u64;
    let sign = if si < 0.0 && parts > 0 { "-" } else { "" };
    let (whole, rest) = (parts / denominator, parts % denominator);
    let divisor = greatest_common_divisor(rest, denominator);
    let fraction = format!("{}/{}", rest / divisor, denominator / divisor);
    match (whole, rest) {
        (_, 0) => format!("{sign}{whole}\""),
        (0, _) => format!("{sign}{fraction}\""),
        _ => format!("{sign}{whole} {fraction}\""),
    }
}

fn fixed(number: f64, decimals: usize) -> String {
    if !number.is_finite() {
        return NOT_AVAILABLE.into();
    }
    let text = format!("{number:.*}", decimals.min(MOST_DECIMALS));
    match text.strip_prefix('-') {
        Some(digits) if is_zero(digits) => digits.into(),
        _ => text,
    }
}

fn is_zero(text: &str) -> bool {
    !text.contains(|digit: char| ('1'..='9').contains(&digit))
}

/// Decimals at which this ± (finite, above zero) keeps its significant digits.
fn supported_decimals(uncertainty: f64) -> usize {
    // The shortest exponent form, such as `3.4e1`, has the first digit and the power of ten without the rounding
    // trouble of a logarithm near whole powers.
    let text = format!("{uncertainty:e}");
    let power = text.split_once('e').and_then(|(_, power)| power.parse::<i32>().ok()).unwrap_or_default();
    let digits = if text.starts_with('1') { 2 } else { 1 };
    usize::try_from(digits - 1 - power).unwrap_or_default()
}

/// Of numbers of which `b` is not zero.
fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    let (mut a, mut b) = (a, b);
    while a != 0 {
        (a, b) = (b % a, a);
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{ForceUnit, LengthUnit};

    fn workshop() -> UnitSystem {
        UnitSystem { length: LengthUnit::Inch, force: ForceUnit::PoundForce, ..UnitSystem::default() }
    }

    #[track_caller]
    fn check(shown: &str, expect: &str) {
        assert_eq!(shown, expect);
    }

    #[test]
    fn numbers_and_units() {
        let metric = UnitSystem::default();
        check(&with_unit(0.0625, Dimension::Length, &metric, 1), "62.5 mm");
        check(&number(0.0625, Dimension::Length, &metric, 1), "62.5");
        check(&number(-1e-9, Dimension::Length, &metric, 1), "0.0");
        check(&number(-0.0, Dimension::Length, &metric, 0), "0");
        check(&number(f64::NAN, Dimension::Length, &metric, 1), "n/a");
        check(&with_unit(f64::INFINITY, Dimension::Length, &metric, 1), "n/a");
        check(&with_unit(0.62, Dimension::Ratio, &metric, 2), "0.62");
        check(&with_unit(52_500.0, Dimension::Rate, &metric, 1), "52.5 N/mm");
        check(&with_unit(1f64.to_radians(), Dimension::Angle, &metric, 2), "1.00 deg");
        check(&with_unit(0.6223, Dimension::Length, &workshop(), 2), "24.50 in");
        check(&with_unit(0.00127, Dimension::Pitch, &workshop(), 3), "0.050 in");
        check(&number(0.5, Dimension::Ratio, &metric, usize::MAX), "0.50000000000000000000");
    }

    #[track_caller]
    fn check_rounding(value: f64, uncertainty: f64, most_decimals: usize, expect: (&str, &str)) {
        let (value, uncertainty) = with_uncertainty(value, Some(uncertainty), most_decimals);
        assert_eq!((value.as_str(), uncertainty.as_deref()), (expect.0, Some(expect.1)));
    }

    #[test]
    fn the_uncertainty_decides_the_digits() {
        check_rounding(62.3456, 0.34, 3, ("62.3", "0.3"));
        check_rounding(62.3456, 0.134, 3, ("62.35", "0.13"));
        check_rounding(62.3456, 1.34, 3, ("62.3", "1.3"));
        check_rounding(62.3456, 3.4, 3, ("62", "3"));
        check_rounding(62.3, 12.0, 1, ("62", "12"));
        check_rounding(137.0, 34.0, 1, ("137", "34"));
        check_rounding(1370.4, 340.2, 1, ("1370", "340"));
        check_rounding(-0.01, 0.3, 3, ("0.0", "0.3"));
        check_rounding(5.0, 0.0, 2, ("5.00", "0.00"));
        check_rounding(5.0, 0.96, 2, ("5.0", "1.0"));
        check_rounding(5.0, 9.6, 2, ("5", "10"));
        check_rounding(5.0, 0.1, 2, ("5.00", "0.10"));
        check_rounding(5.0, f64::NAN, 2, ("5.00", "n/a"));
        check_rounding(f64::NAN, 0.2, 2, ("n/a", "0.2"));
        check_rounding(
            5.0,
            f64::MIN_POSITIVE,
            usize::MAX,
            ("5.00000000000000000000", "0.00000000000000000001"),
        );
    }

    #[test]
    fn a_small_uncertainty_is_never_shown_as_none() {
        check_rounding(5.123, 0.0004, 2, ("5.12", "0.01"));
        check_rounding(5.123, 0.0004, 0, ("5", "1"));
    }

    #[track_caller]
    fn check_column(uncertainties: &[f64], most_decimals: usize, expect: usize) {
        assert_eq!(common_decimals(uncertainties.iter().copied(), most_decimals), expect);
    }

    #[test]
    fn a_column_has_one_number_of_decimals() {
        check_column(&[0.2, 0.3], 3, 1);
        check_column(&[0.2, 0.196], 3, 2);
        check_column(&[12.0, 3.0, 0.004], 3, 1);
        check_column(&[0.0, f64::NAN], 3, 3);
        check_column(&[0.0, 0.3], 3, 1);
        check_column(&[0.000_4], 2, 2);
        check_column(&[], 1, 1);
        assert_eq!(with_decimals(2.345, Some(0.004), 1), ("2.3".into(), Some("0.1".into())));
    }

    #[test]
    fn no_uncertainty_shows_all_decimals() {
        assert_eq!(with_uncertainty(62.345, None, 1), ("62.3".into(), None));
    }

    #[track_caller]
    fn check_tape(inches: f64, denominator: u32, expect: &str) {
        assert_eq!(inch_fraction(inches * INCH, denominator), expect);
    }

    #[test]
    fn tape_readings() {
        check_tape(24.5, 16, "24 1/2\"");
        check_tape(24.49, 16, "24 1/2\"");
        check_tape(0.3125, 16, "5/16\"");
        check_tape(-3.25, 8, "-3 1/4\"");
        check_tape(-0.001, 16, "0\"");
        check_tape(23.99, 16, "24\"");
        check_tape(7.6, 0, "8\"");
        check_tape(1e20, 16, "100000000000000000000\"");
        assert_eq!(inch_fraction(f64::NAN, 16), "n/a");
    }
}
