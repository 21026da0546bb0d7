//! The table of units a value may carry.

use crate::Dimension;
use crate::Dimension::{
    Acceleration, Angle, Area, CorneringStiffness, Damping, Density, Force, Inertia, Length, Mass, Pitch,
    Pressure, Rate, Ratio, Speed, Temperature, Time, Torque,
};
use crate::exact::{
    CELSIUS_ZERO, DEGREE, FAHRENHEIT_ZERO, FOOT, INCH, MILE, POUND, POUND_FORCE, STANDARD_GRAVITY as G,
};
use crate::nearest;

/// One unit with all its spellings.
#[derive(Debug, PartialEq)]
pub(crate) struct Unit {
    /// Spellings in the normal form of `phrase`: words parted by one space, `/` tight. The first is the symbol.
    pub(crate) names: &'static [&'static str],
    pub(crate) dimension: Dimension,
    pub(crate) scale: Scale,
    /// Whether a hint that lists the units of a dimension names this one.
    usual: bool,
}

/// How a number in the unit becomes SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Scale {
    /// SI value of one unit.
    Times(f64),
    /// Threads per inch: the pitch is an inch divided by the number.
    PerInch,
    /// SI value of zero and of one unit of difference, as of degrees on a thermometer.
    From {
        /// SI value of zero units.
        zero: f64,
        /// SI value of one unit of difference.
        factor: f64,
    },
}

impl Scale {
    /// SI value of `number` of these units.
    pub(crate) fn value(self, number: f64) -> f64 {
        match self {
            Self::Times(factor) => number * factor,
            Self::PerInch => INCH / number,
            Self::From { zero, factor } => zero + number * factor,
        }
    }

    /// SI uncertainty of a quantity of SI value `value` whose number in these units is uncertain by `number`.
    /// For a count n = inch/p of threads, to first order: u(p) = p^2/inch u(n).
    pub(crate) fn uncertainty(self, number: f64, value: f64) -> f64 {
        match self {
            Self::Times(factor) | Self::From { factor, .. } => number * factor,
            Self::PerInch => number * value * value / INCH,
        }
    }
}

impl Unit {
    pub(crate) fn symbol(&self) -> &'static str {
        self.names.first().copied().unwrap_or_default()
    }

    /// True where this unit may follow the other in one quantity, as inches follow feet in `5' 2"`.
    pub(crate) fn may_follow(&self, larger: &Unit) -> bool {
        self.dimension == larger.dimension
            && matches!(
                (larger.symbol(), self.symbol()),
                ("ft", "in") | ("deg", "min" | "sec") | ("min", "sec") | ("lb", "oz")
            )
    }

    fn serves(&self, wanted: Dimension) -> bool {
        // A pitch is a length per turn, and nobody writes the turn.
        self.dimension == wanted || (wanted == Pitch && self.dimension == Length)
    }

    fn has_name(&self, name: &str) -> bool {
        self.names.contains(&name)
    }

    /// As `has_name`, but `KG` and `Mm` pass. Not so `mpa`: milli and mega lie a factor of 10^9 apart.
    fn has_name_in_any_case(&self, name: &str) -> bool {
        self.names.iter().any(|own| own.eq_ignore_ascii_case(name) && !own.starts_with('M'))
    }
}

/// What the table knows about a name.
pub(crate) enum Found {
    Unit(&'static Unit),
    OtherDimension(Dimension),
    Nothing,
}

/// Looks a name up, first as written, then without regard to case.
pub(crate) fn find(name: &str, wanted: Dimension) -> Found {
    let serving = || UNITS.iter().filter(|unit| unit.serves(wanted));
    if let Some(unit) = serving()
        .find(|unit| unit.has_name(name))
        .or_else(|| serving().find(|unit| unit.has_name_in_any_case(name)))
    {
        return Found::Unit(unit);
    }
    UNITS
        .iter()
        .find(|unit| unit.has_name(name))
        .or_else(|| UNITS.iter().find(|unit| unit.has_name_in_any_case(name)))
        .map_or(Found::Nothing, |unit| Found::OtherDimension(unit.dimension))
}

/// The unit of a metric thread's pitch.
pub(crate) static MILLIMETRES: Unit =
    usual_unit(Length, 1e-3, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]);

/// The unit of a bare number after feet.
pub(crate) static INCHES: Unit = usual_unit(Length, INCH, &["in", "\"", "inch", "inches"]);

/// The unit of an inch thread's pitch.
pub(crate) static THREADS_PER_INCH: Unit = Unit {
    names: &["tpi", "threads/in", "threads/inch"],
    dimension: Pitch,
    scale: Scale::PerInch,
    usual: true,
};

/// The spelling nearest to a mistyped unit, among those of the wanted dimension.
pub(crate) fn nearest_name(name: &str, wanted: Dimension) -> Option<&'static str> {
    nearest::nearest(
        name,
        UNITS.iter().filter(|unit| unit.serves(wanted)).flat_map(|unit| unit.names).copied(),
    )
}

/// Symbols to offer for a dimension.
pub(crate) fn usual(dimension: Dimension) -> Vec<&'static str> {
    if dimension == Pitch {
        return vec![MILLIMETRES.symbol(), INCHES.symbol(), THREADS_PER_INCH.symbol()];
    }
    UNITS.iter().filter(|unit| unit.usual && unit.dimension == dimension).map(|unit| unit.symbol()).collect()
}

const fn usual_unit(dimension: Dimension, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit { names, dimension, scale: Scale::Times(factor), usual: true }
}

const fn degrees(zero: f64, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit { names, dimension: Temperature, scale: Scale::From { zero, factor }, usual: true }
}

const fn unit(dimension: Dimension, factor: f64, names: &'static [&'static str]) -> Unit {
    Unit { names, dimension, scale: Scale::Times(factor), usual: false }
}

/// All units. Order matters twice: a name of two units (`lb`, `'`) names the first where neither is wanted, and the
/// first of equally near spellings is the one suggested.
///
/// The trade writes pounds and kilograms also for their weights; that is accepted where the dimension leaves no
/// doubt (`lb/in`, `ft lb`, `kg/mm`). A force in bare `kg` is not: it is far more often a mass in the wrong place.
static UNITS: &[&Unit] = &[
    &MILLIMETRES,
    &usual_unit(Length, 1e-2, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
    &usual_unit(Length, 1.0, &["m", "metre", "metres", "meter", "meters"]),
    &INCHES,
    &usual_unit(Length, FOOT, &["ft", "'", "foot", "feet"]),
    &unit(Length, 1e-6, &["um", "µm", "μm", "micron", "microns"]),
    &unit(Length, INCH / 1e3, &["thou", "mil"]),
    &usual_unit(Mass, 1.0, &["kg", "kilogram", "kilograms", "kilo", "kilos"]),
    &usual_unit(Mass, 1e-3, &["g", "gram", "grams"]),
    &usual_unit(Mass, POUND, &["lb", "lbs", "lbm", "pound", "pounds"]),
    &unit(Mass, POUND / 16.0, &["oz", "ounce", "ounces"]),
    &unit(Mass, 1e3, &["t", "tonne", "tonnes"]),
    &usual_unit(Force, 1.0, &["N", "newton", "newtons"]),
    &usual_unit(Force, 1e3, &["kN", "kilonewton", "kilonewtons"]),
    &unit(Force, 10.0, &["daN"]),
    &usual_unit(Force, POUND_FORCE, &["lbf", "lb", "lbs", "pound", "pounds"]),
    &usual_unit(Force, G, &["kgf", "kp"]),
    &usual_unit(Angle, DEGREE, &["deg", "°", "degree", "degrees"]),
    &usual_unit(Angle, DEGREE / 60.0, &["min", "'", "minute", "minutes", "arcmin"]),
    &unit(Angle, DEGREE / 3600.0, &["sec", "\"", "second", "seconds", "arcsec"]),
    &usual_unit(Angle, 1.0, &["rad", "radian", "radians"]),
    &unit(Angle, 1e-3, &["mrad"]),
    &usual_unit(Rate, 1e3, &["N/mm", "kN/m"]),
    &usual_unit(Rate, 1.0, &["N/m"]),
    &unit(Rate, 1e2, &["N/cm"]),
    &unit(Rate, 1e6, &["kN/mm"]),
    &usual_unit(Rate, POUND_FORCE / INCH, &["lbf/in", "lb/in", "lbs/in", "lbf/inch", "lb/inch", "lbs/inch"]),
    &unit(Rate, POUND_FORCE / FOOT, &["lbf/ft", "lb/ft", "lbs/ft"]),
    &usual_unit(Rate, G * 1e3, &["kgf/mm", "kg/mm"]),
    &unit(Rate, G * 1e2, &["kgf/cm", "kg/cm"]),
    &usual_unit(
        Torque,
        1.0,
        &["N m", "Nm", "newton metre", "newton metres", "newton meter", "newton meters"],
    ),
    &unit(Torque, 1e-3, &["N mm", "Nmm"]),
    &unit(Torque, 1e3, &["kN m", "kNm"]),
    &usual_unit(
        Torque,
        POUND_FORCE * FOOT,
        &[
            "lbf ft",
            "ft lbf",
            "lb ft",
            "ft lb",
            "ft lbs",
            "lbs ft",
            "ftlb",
            "ftlbs",
            "lbft",
            "foot pound",
            "foot pounds",
        ],
    ),
    &usual_unit(
        Torque,
        POUND_FORCE * INCH,
        &[
            "lbf in",
            "in lbf",
            "lb in",
            "in lb",
            "in lbs",
            "lbs in",
            "inlb",
            "inlbs",
            "lbin",
            "inch pound",
            "inch pounds",
        ],
    ),
    &unit(Torque, G, &["kgf m", "kg m", "mkg"]),
    &usual_unit(Pressure, 1e3, &["kPa"]),
    &usual_unit(Pressure, 1e5, &["bar"]),
    &usual_unit(Pressure, POUND_FORCE / (INCH * INCH), &["psi", "lbf/in2", "lb/in2"]),
    &usual_unit(Pressure, 1e6, &["MPa", "N/mm2"]),
    &unit(Pressure, 1.0, &["Pa", "N/m2"]),
    &unit(Pressure, 1e9, &["GPa"]),
    &unit(Pressure, 1e2, &["mbar", "hPa"]),
    &unit(Pressure, 1e3 * POUND_FORCE / (INCH * INCH), &["ksi"]),
    &unit(Pressure, G * 1e4, &["kgf/cm2", "kg/cm2"]),
    &unit(Pitch, 1e-3, &["mm/turn", "mm/rev"]),
    &unit(Pitch, INCH, &["in/turn", "in/rev"]),
    &THREADS_PER_INCH,
    &usual_unit(Speed, 1.0 / 3.6, &["km/h", "kph", "kmh"]),
    &usual_unit(Speed, 1.0, &["m/s"]),
    &usual_unit(Speed, MILE / 3600.0, &["mph", "mi/h", "miles/h"]),
    &unit(Speed, FOOT, &["ft/s"]),
    &usual_unit(Acceleration, G, &["g", "gee"]),
    &usual_unit(Acceleration, 1.0, &["m/s2"]),
    &unit(Acceleration, FOOT, &["ft/s2"]),
    &usual_unit(Time, 1.0, &["s", "sec", "second", "seconds"]),
    &usual_unit(Time, 1e-3, &["ms", "millisecond", "milliseconds"]),
    &unit(Time, 60.0, &["min", "minute", "minutes"]),
    &usual_unit(Damping, 1.0, &["N s/m", "Ns/m", "N/m s"]),
    &unit(Damping, 1e3, &["N s/mm", "Ns/mm", "kN s/m", "kNs/m"]),
    &usual_unit(Damping, POUND_FORCE / INCH, &["lbf s/in", "lb s/in", "lbs s/in"]),
    &unit(Damping, G, &["kgf s/m", "kg s/m"]),
    &usual_unit(CorneringStiffness, 1.0 / DEGREE, &["N/deg", "N/°", "N/degree"]),
    &unit(CorneringStiffness, 1e3 / DEGREE, &["kN/deg"]),
    &usual_unit(CorneringStiffness, 1.0, &["N/rad"]),
    &unit(CorneringStiffness, 1e3, &["kN/rad"]),
    &usual_unit(CorneringStiffness, POUND_FORCE / DEGREE, &["lbf/deg", "lb/deg", "lbs/deg"]),
    &usual_unit(Area, 1.0, &["m2"]),
    &usual_unit(Area, 1e-4, &["cm2"]),
    &unit(Area, 1e-6, &["mm2"]),
    &usual_unit(Area, FOOT * FOOT, &["ft2"]),
    &unit(Area, INCH * INCH, &["in2"]),
    &usual_unit(Inertia, 1.0, &["kg m2", "kgm2"]),
    &usual_unit(Inertia, POUND * FOOT * FOOT, &["lb ft2", "lbft2"]),
    &unit(Inertia, POUND * INCH * INCH, &["lb in2"]),
    &usual_unit(Density, 1.0, &["kg/m3"]),
    &unit(Density, POUND / (FOOT * FOOT * FOOT), &["lb/ft3"]),
    &degrees(CELSIUS_ZERO, 1.0, &["deg C", "C", "celsius", "degC"]),
    &degrees(FAHRENHEIT_ZERO, 1.0 / 1.8, &["deg F", "F", "fahrenheit", "degF"]),
    &unit(Temperature, 1.0, &["K", "kelvin"]),
    &usual_unit(Ratio, 1e-2, &["%", "percent", "per cent"]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(name: &str, wanted: Dimension, symbol: &str) {
        let Found::Unit(unit) = find(name, wanted) else { panic!("`{name}` was not found") };
        assert_eq!(unit.symbol(), symbol);
    }

    #[test]
    fn a_name_may_belong_to_two_dimensions() {
        check("lb", Mass, "lb");
        check("lb", Force, "lbf");
        check("'", Length, "ft");
        check("'", Angle, "min");
        check("mm", Pitch, "mm");
        check("KG", Mass, "kg");
        check("nm", Torque, "N m");
    }

    #[test]
    fn milli_is_not_mega() {
        assert!(matches!(find("mpa", Pressure), Found::Nothing));
        assert!(matches!(find("mPa", Pressure), Found::Nothing));
        check("MPa", Pressure, "MPa");
    }

    #[test]
    fn suggests_within_the_dimension() {
        assert_eq!(nearest_name("mn", Length), Some("mm"));
        assert_eq!(nearest_name("mpa", Pressure), Some("MPa"));
        assert_eq!(nearest_name("lb/im", Rate), Some("lb/in"));
        assert_eq!(nearest_name("furlong", Length), None);
    }

    #[test]
    fn no_dimension_has_a_name_twice() {
        for (index, unit) in UNITS.iter().enumerate() {
            for other in UNITS.iter().skip(index + 1).filter(|other| other.dimension == unit.dimension) {
                assert!(unit.names.iter().all(|name| !other.has_name(name)), "{unit:?} and {other:?}");
            }
        }
    }
}
