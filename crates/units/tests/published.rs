//! Conversion factors against their published values. The figures were remembered, not read there, except where noted.

use units::{Dimension, UnitSystem, parse};

#[track_caller]
fn check(text: &str, dimension: Dimension, expect: f64, relative: f64) {
    let found = parse(text, dimension, &UnitSystem::default()).map(|reading| reading.value);
    assert!(
        found.as_ref().is_ok_and(|value| (value - expect).abs() <= relative * expect),
        "`{text}`: {found:?}, expected {expect}"
    );
}

/// Factors that hold by definition leave only the rounding of one or two products.
const EXACT: f64 = 1e-15;

/// NIST SP 811 (2008), appendix B.8, rounds to seven figures.
const SEVEN_FIGURES: f64 = 5e-7;

/// International yard and pound agreement of 1959; standard gravity of 1901.
#[test]
fn by_definition() {
    check("1 in", Dimension::Length, 0.0254, EXACT);
    check("1 ft", Dimension::Length, 0.3048, EXACT);
    check("1 lb", Dimension::Mass, 0.453_592_37, EXACT);
    check("1 lbf", Dimension::Force, 4.448_221_615_260_5, EXACT);
    check("1 lbf", Dimension::Force, 0.453_592_37 * 9.806_65, EXACT);
    check("1 kgf", Dimension::Force, 9.806_65, EXACT);
}

/// NIST SP 811 (2008), appendix B.8.
#[test]
fn nist_sp_811() {
    check("1 lbf/in", Dimension::Rate, 175.1268, SEVEN_FIGURES);
    check("1 lbf/ft", Dimension::Rate, 14.593_90, SEVEN_FIGURES);
    check("1 ft lb", Dimension::Torque, 1.355_818, SEVEN_FIGURES);
    check("1 in lb", Dimension::Torque, 0.112_984_8, SEVEN_FIGURES);
    check("1 psi", Dimension::Pressure, 6_894.757, SEVEN_FIGURES);
    check("1 ksi", Dimension::Pressure, 6.894_757e6, SEVEN_FIGURES);
    check("1 bar", Dimension::Pressure, 1e5, EXACT);
    check("1 kgf/cm2", Dimension::Pressure, 9.806_65e4, EXACT);
    check("1 oz", Dimension::Mass, 0.028_349_52, SEVEN_FIGURES);
    check("1 deg", Dimension::Angle, 0.017_453_29, SEVEN_FIGURES);
    check("1 min", Dimension::Angle, 2.908_882e-4, SEVEN_FIGURES);
    check("1 sec", Dimension::Angle, 4.848_137e-6, SEVEN_FIGURES);
}

/// Coarse pitches \[mm\] of ISO 261. Up to M22 read in a supplier's table of that standard; the rest remembered.
#[test]
fn iso_261_coarse_pitches() {
    for (size, pitch_mm) in [
        ("M3", 0.5),
        ("M4", 0.7),
        ("M5", 0.8),
        ("M6", 1.0),
        ("M8", 1.25),
        ("M10", 1.5),
        ("M12", 1.75),
        ("M14", 2.0),
        ("M16", 2.0),
        ("M18", 2.5),
        ("M20", 2.5),
        ("M22", 2.5),
        ("M24", 3.0),
        ("M27", 3.0),
        ("M30", 3.5),
        ("M33", 3.5),
        ("M36", 4.0),
    ] {
        check(size, Dimension::Pitch, pitch_mm / 1e3, EXACT);
    }
}

/// NIST SP 811 (2008), appendix B.8 and B.9 (remembered): the units of speed, acceleration, damping and temperature.
#[test]
fn nist_sp_811_motion() {
    check("1 km/h", Dimension::Speed, 0.277_777_8, SEVEN_FIGURES);
    check("1 mph", Dimension::Speed, 0.447_04, EXACT);
    check("1 ft/s", Dimension::Speed, 0.3048, EXACT);
    check("1 g", Dimension::Acceleration, 9.806_65, EXACT);
    check("1 ft/s^2", Dimension::Acceleration, 0.3048, EXACT);
    check("1 lbf s/in", Dimension::Damping, 175.1268, SEVEN_FIGURES);
    check("1 lbf/deg", Dimension::CorneringStiffness, 4.448_222 * 57.295_78, SEVEN_FIGURES);
    check("1 ft²", Dimension::Area, 0.092_903_04, EXACT);
    check("1 in2", Dimension::Area, 6.4516e-4, EXACT);
    check("1 lb ft2", Dimension::Inertia, 0.042_140_11, SEVEN_FIGURES);
    check("1 lb/ft3", Dimension::Density, 16.018_46, SEVEN_FIGURES);
    check("150 ms", Dimension::Time, 0.15, EXACT);
    check("20 °C", Dimension::Temperature, 293.15, EXACT);
    check("-40 deg F", Dimension::Temperature, 233.15, EXACT);
    check("-40 deg C", Dimension::Temperature, 233.15, EXACT);
    check("212 F", Dimension::Temperature, 373.15, EXACT);
}

/// A ± of a temperature is a difference, and degrees are shown from their own zero.
#[test]
fn temperatures_have_their_own_zero() {
    let metric = UnitSystem::default();
    let inch = UnitSystem { length: units::LengthUnit::Inch, ..metric };
    let reading = parse("20 ± 2", Dimension::Temperature, &metric).unwrap();
    assert_eq!((reading.value, reading.uncertainty), (293.15, Some(2.0)));
    let reading = parse("68 ± 1.8", Dimension::Temperature, &inch).unwrap();
    assert!((reading.value - 293.15).abs() < 1e-9 && (reading.uncertainty.unwrap() - 1.0).abs() < 1e-12);
    assert_eq!(units::show::with_unit(293.15, Dimension::Temperature, &metric, 0), "20 deg C");
    assert_eq!(units::show::with_unit(293.15, Dimension::Temperature, &inch, 0), "68 deg F");
}
