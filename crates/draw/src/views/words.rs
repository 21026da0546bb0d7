//! Values in words, with their units.

use units::{Dimension, LengthUnit, UnitSystem, show};

use crate::scene::Anti;

/// A length for a drawing: whole millimetres, hundredths of an inch.
pub(crate) fn length(si: f64, units: &UnitSystem) -> String {
    show::with_unit(si, Dimension::Length, units, decimals(units))
}

/// A coordinate: a digit more in millimetres.
pub(crate) fn coordinate(si: f64, units: &UnitSystem) -> String {
    show::number(si, Dimension::Length, units, decimals(units).max(1))
}

fn decimals(units: &UnitSystem) -> usize {
    match units.length {
        LengthUnit::Millimetre => 0,
        LengthUnit::Inch => 2,
        LengthUnit::Foot | LengthUnit::Metre => 3,
    }
}

/// An angle.
pub(crate) fn angle(si: f64, units: &UnitSystem) -> String {
    show::with_unit(si, Dimension::Angle, units, 2)
}

/// `anti-lift 62 %`.
pub(crate) fn anti(anti: &Anti) -> String {
    match &anti.text {
        Some(text) => format!("{} {text}", anti.name),
        None => format!(
            "{} {} %",
            anti.name,
            show::number(anti.value * 100.0, Dimension::Ratio, &UnitSystem::default(), 0)
        ),
    }
}

/// `rises 214 mm to the front axle`.
pub(crate) fn rise(si: f64, other: &str, units: &UnitSystem) -> String {
    let verb = if si < 0.0 { "falls" } else { "rises" };
    format!("{verb} {} to the {other} axle", length(si.abs(), units))
}

/// `62 mm above ground`.
pub(crate) fn above_ground(si: f64, units: &UnitSystem) -> String {
    let side = if si < 0.0 { "below" } else { "above" };
    format!("{} {side} ground", length(si.abs(), units))
}

/// A round length for the scale bar, no longer than `most` \[m\]: its SI value and its words.
pub(crate) fn round_length(most: f64, units: &UnitSystem) -> (f64, String) {
    let unit = units.factor(Dimension::Length);
    let most = (most / unit).max(1e-6);
    let power = 10f64.powf(most.log10().floor());
    let inches = units.length == LengthUnit::Inch;
    let steps: &[f64] = if inches && most >= 1.0 { &[1.0, 2.0, 4.0, 6.0, 12.0, 24.0, 48.0] } else { &[] };
    let round = steps.iter().copied().rfind(|s| *s <= most).unwrap_or_else(|| {
        [5.0, 2.0, 1.0].into_iter().map(|s| s * power).find(|s| *s <= most).unwrap_or(power)
    });
    let places = if round >= 1.0 { 0 } else { (-round.log10().floor()) as usize };
    (round * unit, show::with_unit(round * unit, Dimension::Length, units, places))
}
