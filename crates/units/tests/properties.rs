//! What holds for every text and every number.

use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::RngSeed;
use units::{AngleUnit, Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem, from_bare, parse, show};

/// Texts a workshop might write, to be spoilt.
const TEXTS: &[&str] = &[
    "622 mm",
    "-12.5",
    "62,5 mm",
    "1,250 mm",
    "24 1/2 in",
    "24-1/2\"",
    "24½\"",
    "5' 2 1/2\"",
    "5’ 2½”",
    "5ft2in",
    "480 mm ± 1/2 in",
    "480 +/- 15",
    "480 +- 15 mm",
    "62 ± 3 %",
    "50 N/mm",
    "50 lbf/in",
    "80 N·m",
    "60 ft-lbs",
    "355 N/mm²",
    "26 psi",
    "1°12'30\"",
    "0.02 rad",
    "M12x1.5 LH",
    "M12×1,5-6g",
    "1-1/4-12 UNF-2A",
    "20 tpi",
    "#10-32",
    "1e3 m",
    "1 lb 8 oz",
    "\u{2212}5 mm",
];

/// Pieces that mean something to the parser, and some that do not.
const PIECES: &[&str] = &[
    "0", "1", "5", "12", "250", ".", ",", "/", "⁄", "-", "\u{2212}", "–", "+", "±", "+/-", " ", "\u{a0}",
    "'", "\"", "’", "″", "°", "º", "%", "½", "⅞", "e", "E", "x", "×", "M", "#", "mm", "in", "ft", "kg", "lb",
    "N", "Pa", "deg", "tpi", "·", "*", "²", "^", "UNF", "LH", "6g", "é", "漢", "🔧", "\u{301}", "\0",
];

/// The same cases on every run and machine, and no file of failures in the tree.
fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(622),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn system() -> impl Strategy<Value = UnitSystem> {
    (select(LengthUnit::ALL), select(MassUnit::ALL), select(ForceUnit::ALL), select(AngleUnit::ALL))
        .prop_map(|(length, mass, force, angle)| UnitSystem { length, mass, force, angle })
}

fn dimension() -> impl Strategy<Value = Dimension> {
    select(Dimension::ALL.as_slice())
}

/// A text of the list with some characters taken out, doubled or replaced by pieces.
fn spoilt() -> impl Strategy<Value = String> {
    let edits = prop::collection::vec((any::<Index>(), 0..3_u8, select(PIECES)), 0..4);
    (select(TEXTS), edits).prop_map(|(text, edits)| {
        let mut parts: Vec<String> = text.chars().map(String::from).collect();
        for (index, kind, piece) in edits {
            let index = index.index(parts.len() + 1);
            match kind {
                0 if index < parts.len() => drop(parts.remove(index)),
                1 if index < parts.len() => parts.insert(index, parts[index].clone()),
                _ => parts.insert(index, piece.into()),
            }
        }
        parts.concat()
    })
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        2 => spoilt(),
        2 => prop::collection::vec(select(PIECES), 0..12).prop_map(|pieces| pieces.concat()),
        1 => any::<String>(),
    ]
}

/// A shown number of either sign and of the sizes that occur, and some that hardly do.
fn shown_number() -> impl Strategy<Value = f64> {
    (-1.0..1.0_f64, -3..5_i32).prop_map(|(mantissa, power)| mantissa * 10_f64.powi(power))
}

proptest! {
    #![proptest_config(config(10_000))]

    #[test]
    fn no_text_panics_and_faults_lie_inside_it(text in any_text(), system in system()) {
        for dimension in Dimension::ALL {
            match parse(&text, dimension, &system) {
                Ok(reading) => {
                    prop_assert!(reading.value.is_finite());
                    prop_assert!(reading.uncertainty.is_none_or(|doubt| doubt.is_finite() && doubt >= 0.0));
                }
                Err(error) => {
                    prop_assert!(text.get(error.at()).is_some(), "{:?}: {:?}", text, error);
                    prop_assert!(!error.to_string().ends_with('.'));
                    prop_assert!(error.hint().is_none_or(|hint| !hint.is_empty()));
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(config(1_000))]

    #[test]
    fn printed_values_are_read_back(number in shown_number(), dimension in dimension(), system in system()) {
        let si = system.zero(dimension) + number * system.factor(dimension);
        let text = show::with_unit(si, dimension, &system, 17);
        let read = parse(&text, dimension, &system);
        prop_assert!(read.as_ref().is_ok_and(|read| (read.value - si).abs() <= 1e-9 * si.abs()), "{} {:?}", text, read);
    }

    #[test]
    fn a_bare_number_means_the_shown_unit(number in -0.99..0.99_f64, dimension in dimension(), system in system()) {
        let bare = from_bare(number, dimension, &system);
        prop_assert_eq!(&bare, &Ok(system.zero(dimension) + number * system.factor(dimension)));
        let written = parse(&format!("{number}"), dimension, &system).map(|reading| reading.value);
        prop_assert_eq!(written, bare);
    }

    #[test]
    fn printed_uncertainties_are_read_back(
        number in shown_number(), doubt in 0.0..10.0_f64, dimension in dimension(), system in system(),
    ) {
        let factor = system.factor(dimension);
        let symbol = system.symbol(dimension);
        let read = parse(&format!("{number} {symbol} ± {doubt} {symbol}"), dimension, &system).unwrap();
        let expected = system.zero(dimension) + number * factor;
        prop_assert!((read.value - expected).abs() <= 1e-12 * expected.abs());
        prop_assert!((read.uncertainty.unwrap() - doubt * factor).abs() <= 1e-12 * doubt * factor);
    }

    #[test]
    fn tape_readings_are_read_back(sixty_fourths in -100_000..100_000_i32) {
        let si = f64::from(sixty_fourths) / 64.0 * 0.0254;
        let text = show::inch_fraction(si, 64);
        let read = parse(&text, Dimension::Length, &UnitSystem::default()).unwrap();
        prop_assert!((read.value - si).abs() <= 1e-12 * si.abs(), "{}", text);
    }

    #[test]
    fn the_shown_value_is_within_half_a_place(value in -1e4..1e4_f64, doubt in 0.01..1e3_f64) {
        let (shown, shown_doubt) = show::with_uncertainty(value, Some(doubt), 3);
        let shown_doubt: f64 = shown_doubt.unwrap().parse().unwrap();
        let shown: f64 = shown.parse().unwrap();
        // Rounding must cost little against the uncertainty itself: half a unit of a leading 2, or of whole units.
        prop_assert!((shown - value).abs() <= 0.25 * doubt.max(2.0 * 10_f64.powf(doubt.log10().floor())) + 1e-9);
        prop_assert!((shown_doubt - doubt).abs() <= 0.25 * doubt + 1e-9);
    }
}
