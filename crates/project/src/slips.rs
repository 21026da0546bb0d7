//! Slips: readings that can be understood but are hardly true, such as inches in a millimetre file. Each is a
//! warning with the place and the remedy; the car is read as written.

mod axle;

use std::ops::Range;

use units::{Dimension, LengthUnit, UnitSystem};

use crate::entry::Entry;
use crate::reader::Section;

pub(crate) use axle::{Spans, axle};

/// Least and greatest wheelbase of a car \[m\].
pub(crate) const WHEELBASE: (f64, f64) = (1.5, 4.2);

/// Least and greatest height of a car's centre of gravity \[m\].
const CG_HEIGHT: (f64, f64) = (0.2, 1.2);

/// Least and greatest loaded radius of a car's tyre \[m\].
const LOADED_RADIUS: (f64, f64) = (0.150, 0.450);

/// Greatest standard uncertainty of a coordinate \[m\]: beyond it a survey says nothing about a pickup.
const ACCURACY: f64 = 0.025;

/// Least and greatest diameter of a suspension bolt \[m\].
const BOLT: (f64, f64) = (0.005, 0.030);

/// Greatest wheel travel that is looked at \[m\].
const TRAVEL: f64 = 0.300;

/// Greatest toe of one wheel \[deg\].
const TOE_DEG: f64 = 3.0;

/// Greatest camber \[deg\].
const CAMBER_DEG: f64 = 8.0;

/// Greatest toe or camber that is read at all \[deg\]: a wheel past this is not on a car.
const ANGLE_DEG: f64 = 45.0;

/// Difference between the stated wheelbase and the wheel centres that is worth a word \[m\].
const WHEELBASE_DIFFERENCE: f64 = 0.010;

/// A length in the file's unit, as short as it can be.
pub(crate) fn length(units: &UnitSystem, metres: f64) -> String {
    let decimals = match units.length {
        LengthUnit::Millimetre => 1,
        LengthUnit::Inch => 2,
        LengthUnit::Metre | LengthUnit::Foot => 3,
    };
    let number = units::show::number(metres, Dimension::Length, units, decimals);
    let number =
        if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { &number };
    format!("{number} {}", units.length.symbol())
}

/// "between 150 mm and 450 mm".
fn between(units: &UnitSystem, (least, greatest): (f64, f64)) -> String {
    format!("between {} and {}", length(units, least), length(units, greatest))
}

/// The units that get mixed up with the file's own, as what a number would have to be multiplied by, and words.
pub(crate) fn units_mixed_up(units: &UnitSystem) -> Vec<(f64, &'static str)> {
    const INCH: f64 = 25.4;
    match units.length {
        LengthUnit::Millimetre => vec![
            (INCH, "looks like inches in a millimetre file: add `in` and quotes"),
            (1e3, "looks like metres in a millimetre file: add `m` and quotes"),
            (10.0, "looks like centimetres in a millimetre file, or a digit is missing"),
        ],
        LengthUnit::Inch => vec![
            (1.0 / INCH, "looks like millimetres in an inch file: add `mm` and quotes"),
            (12.0, "looks like feet in an inch file: add `ft` and quotes"),
        ],
        LengthUnit::Metre => vec![
            (1e-3, "looks like millimetres in a metre file: add `mm` and quotes"),
            (INCH * 1e-3, "looks like inches in a metre file: add `in` and quotes"),
        ],
        LengthUnit::Foot => vec![
            (1.0 / 12.0, "looks like inches in a foot file: add `in` and quotes"),
            (1.0 / (12.0 * INCH), "looks like millimetres in a foot file: add `mm` and quotes"),
        ],
    }
}

/// What the writer may have meant when a length is out of its range: the slip of unit or of a digit that would
/// make it plausible.
pub(crate) fn meant(units: &UnitSystem, metres: f64, (least, greatest): (f64, f64)) -> Option<String> {
    let fits = |factor: f64| (least..=greatest).contains(&(metres.abs() * factor));
    let digits = [
        (0.1, "looks like a digit too many"),
        (10.0, "looks like a digit missing"),
        (1.0 / 25.4, "divided by 25.4 it would do: was it converted to millimetres twice?"),
        (25.4, "multiplied by 25.4 it would do: was it converted to inches twice?"),
        (1e-3, "looks like a decimal point three places off"),
        (1e3, "looks like a decimal point three places off"),
    ];
    let all = units_mixed_up(units).into_iter().chain(digits);
    all.into_iter().find(|(factor, _)| fits(*factor)).map(|(_, words)| words.to_string())
}

/// A warning when a length is out of its range.
fn range(
    section: &Section<'_>,
    span: &Range<usize>,
    what: &str,
    metres: f64,
    limits: (f64, f64),
    otherwise: &str,
) {
    if (limits.0..=limits.1).contains(&metres) {
        return;
    }
    let units = &section.units;
    let hint = meant(units, metres, limits).unwrap_or_else(|| otherwise.to_string());
    let message = format!("{what} of {} is not {}", length(units, metres), between(units, limits));
    section.sink.warning(span, message, hint);
}

pub(crate) fn wheelbase(section: &Section<'_>, span: &Range<usize>, metres: f64) {
    range(section, span, "a wheelbase", metres, WHEELBASE, "measure from wheel centre to wheel centre");
}

pub(crate) fn wheelbases_differ(section: &Section<'_>, span: &Range<usize>, stated: f64, measured: f64) {
    if (stated - measured).abs() <= WHEELBASE_DIFFERENCE {
        return;
    }
    let units = &section.units;
    section.sink.warning(
        span,
        format!(
            "`car.wheelbase` is {}, and by the wheels' centres it is {}",
            length(units, stated),
            length(units, measured)
        ),
        "measure both again; with both axles in the file `wheelbase` is not needed".to_string(),
    );
}

pub(crate) fn cg_height(section: &Section<'_>, span: &Range<usize>, metres: f64) {
    range(
        section,
        span,
        "a centre of gravity at a height",
        metres,
        CG_HEIGHT,
        "it is measured from the ground",
    );
}

pub(crate) fn loaded_radius(section: &Section<'_>, span: &Range<usize>, metres: f64) {
    let otherwise = "it is the height of the wheel's middle above the ground, not a diameter";
    range(section, span, "a loaded radius", metres, LOADED_RADIUS, otherwise);
}

pub(crate) fn bolt(entry: &Entry<'_>, metres: f64) {
    if (BOLT.0..=BOLT.1).contains(&metres) {
        return;
    }
    let units = &entry.units;
    entry.sink.warning(
        &entry.span,
        format!("a bolt of {} is not {}", length(units, metres), between(units, BOLT)),
        meant(units, metres, BOLT),
    );
}

pub(crate) fn accuracy(section: &Section<'_>, span: &Range<usize>, metres: f64) {
    let units = &section.units;
    if metres == 0.0 {
        section.sink.warning(
            span,
            "an accuracy of 0 claims a perfect survey, and every ± that follows from it will be too small"
                .to_string(),
            format!("a careful tape and plumb-bob give about {}", length(units, 0.002)),
        );
    } else if metres > ACCURACY {
        section.sink.warning(
            span,
            format!("an accuracy of {} is too coarse to place a pickup", length(units, metres)),
            meant(units, metres, (0.0002, 0.005))
                .or_else(|| Some("it is the ± of one coordinate, not of the car".to_string())),
        );
    }
}

pub(crate) fn travels(items: &[Entry<'_>], travels: &[f64]) {
    for (entry, travel) in items.iter().zip(travels) {
        if travel.abs() > TRAVEL {
            let units = &entry.units;
            entry.sink.warning(
                &entry.span,
                format!("a wheel travel of {} is more than a car has", length(units, *travel)),
                meant(units, *travel, (0.005, TRAVEL)),
            );
        }
    }
}

/// Warns of a toe or camber that is hardly true. False, with an error, for one that cannot be.
pub(crate) fn wheel_angle(entry: &Entry<'_>, key: &str, radians: f64) -> bool {
    let degrees = radians.to_degrees();
    let limit = if key == "toe" { TOE_DEG } else { CAMBER_DEG };
    let shown = units::show::number(radians, Dimension::Angle, &entry.units, 1);
    let shown = shown.trim_end_matches('0').trim_end_matches('.');
    if degrees.abs() > ANGLE_DEG {
        entry.error(
            format!("`{}` is {shown} deg: no wheel stands like that", entry.path),
            "angles are in degrees".to_string(),
        );
        return false;
    }
    if degrees.abs() > limit {
        let hint = if key == "toe" {
            "toe is the angle of one wheel in degrees, not millimetres across the rim".to_string()
        } else {
            "camber is in degrees, negative with the top leaning in".to_string()
        };
        entry.sink.warning(&entry.span, format!("a {key} of {shown} deg is more than {limit} deg"), hint);
    }
    true
}
