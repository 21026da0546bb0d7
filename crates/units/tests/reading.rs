//! What a workshop writes, and what it comes to in SI.

use units::{Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem, parse};

/// The same product of factors may be rounded in two orders.
const RELATIVE: f64 = 1e-14;

const INCH: f64 = 0.0254;
const DEGREE: f64 = std::f64::consts::PI / 180.0;
const POUND_FORCE: f64 = 4.448_221_615_260_5;

fn metric() -> UnitSystem {
    UnitSystem::default()
}

fn imperial() -> UnitSystem {
    UnitSystem {
        length: LengthUnit::Inch,
        mass: MassUnit::Pound,
        force: ForceUnit::PoundForce,
        ..UnitSystem::default()
    }
}

fn is_close(found: f64, expect: f64) -> bool {
    (found - expect).abs() <= RELATIVE * expect.abs()
}

#[track_caller]
fn check_in(text: &str, dimension: Dimension, system: &UnitSystem, value: f64, uncertainty: Option<f64>) {
    let found = parse(text, dimension, system);
    let is_good = found.as_ref().is_ok_and(|reading| {
        let doubt_is_good = match (reading.uncertainty, uncertainty) {
            (Some(found), Some(expect)) => is_close(found, expect),
            (found, expect) => found.is_none() && expect.is_none(),
        };
        is_close(reading.value, value) && doubt_is_good
    });
    assert!(is_good, "`{text}`: {found:?}, expected {value} ± {uncertainty:?}");
}

#[track_caller]
fn check(text: &str, dimension: Dimension, value: f64) {
    check_in(text, dimension, &metric(), value, None);
}

#[track_caller]
fn check_doubt(text: &str, dimension: Dimension, value: f64, uncertainty: f64) {
    check_in(text, dimension, &metric(), value, Some(uncertainty));
}

#[test]
fn lengths() {
    let length = |text, value| check(text, Dimension::Length, value);
    length("622", 0.622);
    length("-12.5", -0.0125);
    length("+12.5", 0.0125);
    length("\u{2212}12.5 mm", -0.0125);
    length("\u{2013} 12.5 mm", -0.0125);
    length("622 mm", 0.622);
    length("  622\u{a0}mm  ", 0.622);
    length("622 MM", 0.622);
    length("62.2cm", 0.622);
    length("0.622 m", 0.622);
    length("62,5 mm", 0.0625);
    length("0,250 m", 0.25);
    length("1e3 mm", 1.0);
    length("24 in.", 24.0 * INCH);
    length("24 Inches", 24.0 * INCH);
    length("40 thou", 0.04 * INCH);
}

#[test]
fn fractions_feet_and_inches() {
    let length = |text, inches: f64| check(text, Dimension::Length, inches * INCH);
    length("24 1/2 in", 24.5);
    length("24-1/2\"", 24.5);
    length("24½\"", 24.5);
    length("24 ½ in", 24.5);
    length("1/2 in", 0.5);
    length("⅞ in", 0.875);
    length("-3 1/4 in", -3.25);
    length("- 3 1/4 in", -3.25);
    length("5' 2 1/2\"", 62.5);
    length("5’ 2 1/2”", 62.5);
    length("5′ 2½″", 62.5);
    length("5'2''", 62.0);
    length("5 ft 2 1/2 in", 62.5);
    length("5 ft. 2 in.", 62.0);
    length("5ft2in", 62.0);
    length("5ft", 60.0);
    length("5'", 60.0);
    length("5' 2", 62.0);
    length("5'-2 1/2\"", 62.5);
    length("5' - 2\"", 62.0);
    length("-5' 2\"", -62.0);
    length("5' 14\"", 74.0);
    check("24 1/2", Dimension::Length, 0.0245);
    check_in("24 1/2", Dimension::Length, &imperial(), 24.5 * INCH, None);
}

#[test]
fn masses_and_forces() {
    check("12 kg", Dimension::Mass, 12.0);
    check("850 g", Dimension::Mass, 0.85);
    check("10 lb", Dimension::Mass, 4.535_923_7);
    check("1 lb 8 oz", Dimension::Mass, 1.5 * 0.453_592_37);
    check_in("10", Dimension::Mass, &imperial(), 4.535_923_7, None);
    check("10", Dimension::Force, 10.0);
    check("1.2 kN", Dimension::Force, 1200.0);
    check("10 lbf", Dimension::Force, 10.0 * POUND_FORCE);
    check("10 lbs", Dimension::Force, 10.0 * POUND_FORCE);
    check("10 kgf", Dimension::Force, 98.0665);
    check_in("10", Dimension::Force, &imperial(), 10.0 * POUND_FORCE, None);
}

#[test]
fn compound_units() {
    let rate = |text, value| check(text, Dimension::Rate, value);
    rate("50", 5e4);
    rate("50 N/mm", 5e4);
    rate("50 N / mm", 5e4);
    rate("50 N/m", 50.0);
    rate("50 kN/m", 5e4);
    rate("300 lbf/in", 300.0 * POUND_FORCE / INCH);
    rate("300 lb/in", 300.0 * POUND_FORCE / INCH);
    rate("300 lb/in.", 300.0 * POUND_FORCE / INCH);
    rate("300 lbf/ft", 300.0 * POUND_FORCE / 0.3048);
    rate("5 kgf/mm", 49_033.25);
    rate("5 kg/mm", 49_033.25);
    let torque = |text, value| check(text, Dimension::Torque, value);
    torque("80 N m", 80.0);
    torque("80 Nm", 80.0);
    torque("80 N·m", 80.0);
    torque("80 N.m", 80.0);
    torque("60 lbf ft", 60.0 * POUND_FORCE * 0.3048);
    torque("60 ft lb", 60.0 * POUND_FORCE * 0.3048);
    torque("60 ft-lbs", 60.0 * POUND_FORCE * 0.3048);
    torque("60 in lb", 60.0 * POUND_FORCE * INCH);
    let pressure = |text, value| check(text, Dimension::Pressure, value);
    pressure("180", 180e3);
    pressure("180 kPa", 180e3);
    pressure("1.8 bar", 180e3);
    pressure("355 MPa", 355e6);
    pressure("355 N/mm²", 355e6);
    pressure("355 N/mm^2", 355e6);
    pressure("101325 Pa", 101_325.0);
    pressure("26 psi", 26.0 * POUND_FORCE / (INCH * INCH));
}

#[test]
fn angles() {
    let angle = |text, degrees: f64| check(text, Dimension::Angle, degrees * DEGREE);
    angle("1.2", 1.2);
    angle("1.2 deg", 1.2);
    angle("-1.2°", -1.2);
    angle("1° 12'", 1.2);
    angle("1°12'30\"", 1.0 + 12.5 / 60.0);
    angle("1°12'30''", 1.0 + 12.5 / 60.0);
    angle("1 deg 12 min", 1.2);
    angle("-1° 30'", -1.5);
    angle("1 1/2°", 1.5);
    angle("12 min", 0.2);
    angle("12'", 0.2);
    angle("36\"", 0.01);
    check("0.02 rad", Dimension::Angle, 0.02);
    check("20 mrad", Dimension::Angle, 0.02);
}

#[test]
fn thread_pitches() {
    let pitch = |text, mm: f64| check(text, Dimension::Pitch, mm / 1e3);
    pitch("1.5", 1.5);
    pitch("1.5 mm", 1.5);
    pitch("0.05 in", 1.27);
    pitch("M12x1.5", 1.5);
    pitch("m12 X 1.5", 1.5);
    pitch("M12×1,5", 1.5);
    pitch("M12-1.5", 1.5);
    pitch("M12x1.5 LH", 1.5);
    pitch("M12x1.5-6g-LH", 1.5);
    pitch("M12x1.5 left-hand", 1.5);
    pitch("M12", 1.75);
    pitch("M12 LH", 1.75);
    pitch("M12-6g", 1.75);
    pitch("M3.5", 0.6);
    pitch("20 tpi", 25.4 / 20.0);
    pitch("11 1/2 tpi", 25.4 / 11.5);
    pitch("1/2-20", 25.4 / 20.0);
    pitch("1/2\" - 20", 25.4 / 20.0);
    pitch("3/4-16 UNF", 25.4 / 16.0);
    pitch("1-1/4-12 UNF-2A LH", 25.4 / 12.0);
    pitch("#10-32", 25.4 / 32.0);
    check_in("0.05", Dimension::Pitch, &imperial(), 1.27e-3, None);
    check_in("M12x1.5", Dimension::Pitch, &imperial(), 1.5e-3, None);
}

#[test]
fn ratios() {
    check("0.62", Dimension::Ratio, 0.62);
    check("62 %", Dimension::Ratio, 0.62);
    check("62%", Dimension::Ratio, 0.62);
    check("62", Dimension::Ratio, 62.0);
}

#[test]
fn uncertainties() {
    let length = |text, value, doubt| check_doubt(text, Dimension::Length, value, doubt);
    length("480 ± 15", 0.48, 0.015);
    length("480 ± 15 mm", 0.48, 0.015);
    length("480±15mm", 0.48, 0.015);
    length("480 mm ± 15 mm", 0.48, 0.015);
    length("480 mm ± 15", 0.48, 0.015);
    length("48 cm ± 15 mm", 0.48, 0.015);
    length("480 mm ± 1/2 in", 0.48, 0.0127);
    length("480 +/- 15", 0.48, 0.015);
    length("480 +/\u{2212} 15", 0.48, 0.015);
    length("480 +- 15 mm", 0.48, 0.015);
    length("-480 +- 15 mm", -0.48, 0.015);
    length("24 1/2 in ± 1/16", 24.5 * INCH, INCH / 16.0);
    length("24 1/2 ± 1/16 in", 24.5 * INCH, INCH / 16.0);
    length("5' 2 1/2\" ± 1/16", 62.5 * INCH, INCH / 16.0);
    length("480 ± 0", 0.48, 0.0);
    length("480 ± +15", 0.48, 0.015);
    check_in("24 ± 1/16", Dimension::Length, &imperial(), 24.0 * INCH, Some(INCH / 16.0));
    let ratio = |text, value, doubt| check_doubt(text, Dimension::Ratio, value, doubt);
    ratio("62 % ± 3 %", 0.62, 0.03);
    ratio("62 ± 3 %", 0.62, 0.03);
    ratio("62 % ± 3", 0.62, 0.03);
    ratio("0.62 ± 0.03", 0.62, 0.03);
    ratio("0 ± 3 %", 0.0, 0.03);
}

#[test]
fn an_uncertainty_in_per_cent_is_part_of_the_value() {
    check_doubt("50 N/mm ± 4 %", Dimension::Rate, 5e4, 2e3);
    check_doubt("-50 ± 4 %", Dimension::Rate, -5e4, 2e3);
}

#[test]
fn the_uncertainty_of_a_count_of_threads_is_one_of_the_pitch() {
    let pitch = 0.0254 / 20.0;
    check_doubt("20 ± 1 tpi", Dimension::Pitch, pitch, pitch / 20.0);
    check_doubt("20 tpi ± 1", Dimension::Pitch, pitch, pitch / 20.0);
    check_doubt("20 tpi ± 0.01 mm", Dimension::Pitch, pitch, 1e-5);
    check_doubt("1/2-20 ± 0", Dimension::Pitch, pitch, 0.0);
}
