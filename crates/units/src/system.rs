//! The choice of units for one car.

use crate::exact::{
    CELSIUS_ZERO, DEGREE, FAHRENHEIT_ZERO, FOOT, INCH, MILE, POUND, POUND_FORCE, STANDARD_GRAVITY,
};
use crate::table::Scale;
use crate::{AngleUnit, Dimension, ForceUnit, LengthUnit, MassUnit};

/// What bare numbers mean and how results are shown. Default mm, kg, N, deg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitSystem {
    /// Unit of lengths; thread pitches follow it.
    pub length: LengthUnit,
    /// Unit of masses.
    pub mass: MassUnit,
    /// Unit of forces; rates, torques and pressures follow it.
    pub force: ForceUnit,
    /// Unit of angles.
    pub angle: AngleUnit,
}

impl Default for UnitSystem {
    fn default() -> Self {
        Self {
            length: LengthUnit::Millimetre,
            mass: MassUnit::Kilogram,
            force: ForceUnit::Newton,
            angle: AngleUnit::Degree,
        }
    }
}

impl UnitSystem {
    /// SI value of one shown unit of this dimension; of a temperature, of one degree of difference.
    pub fn factor(&self, dimension: Dimension) -> f64 {
        self.shown(dimension).1
    }

    /// SI value of zero shown units: that of 0 deg C or 0 deg F, and zero for all else.
    pub fn zero(&self, dimension: Dimension) -> f64 {
        match dimension {
            Dimension::Temperature if self.is_inch() => FAHRENHEIT_ZERO,
            Dimension::Temperature => CELSIUS_ZERO,
            _ => 0.0,
        }
    }

    /// What a bare number of this dimension means.
    pub(crate) fn bare(&self, dimension: Dimension) -> Scale {
        match dimension {
            Dimension::Temperature => {
                Scale::From { zero: self.zero(dimension), factor: self.factor(dimension) }
            }
            _ => Scale::Times(self.factor(dimension)),
        }
    }

    /// Symbol of the shown unit; empty for a ratio, which is shown as the plain number.
    pub fn symbol(&self, dimension: Dimension) -> &'static str {
        self.shown(dimension).0
    }

    /// True where lengths are inches or feet.
    pub(crate) fn is_inch(&self) -> bool {
        matches!(self.length, LengthUnit::Inch | LengthUnit::Foot)
    }

    fn shown(&self, dimension: Dimension) -> (&'static str, f64) {
        use Dimension::{
            Acceleration, Angle, Area, CorneringStiffness, Damping, Density, Force, Inertia, Length, Mass,
            Pitch, Pressure, Rate, Ratio, Speed, Temperature, Time, Torque,
        };
        match (dimension, self.force) {
            (Length, _) => (self.length.symbol(), self.length.to_si()),
            (Mass, _) => (self.mass.symbol(), self.mass.to_si()),
            (Force, _) => (self.force.symbol(), self.force.to_si()),
            (Angle, _) => (self.angle.symbol(), self.angle.to_si()),
            // A car measured in inches may well have metric springs, and the reverse, so the force alone decides.
            (Rate, ForceUnit::Newton) => ("N/mm", 1e3),
            (Rate, ForceUnit::PoundForce) => ("lbf/in", POUND_FORCE / INCH),
            (Torque, ForceUnit::Newton) => ("N m", 1.0),
            (Torque, ForceUnit::PoundForce) => ("lbf ft", POUND_FORCE * FOOT),
            (Pressure, ForceUnit::Newton) => ("kPa", 1e3),
            (Pressure, ForceUnit::PoundForce) => ("psi", POUND_FORCE / (INCH * INCH)),
            // Nobody gives a pitch in metres or feet, whatever the car is measured in.
            (Pitch, _) if self.is_inch() => ("in", INCH),
            (Pitch, _) => ("mm", 1e-3),
            (Speed, _) if self.is_inch() => ("mph", MILE / 3600.0),
            (Speed, _) => ("km/h", 1.0 / 3.6),
            (Acceleration, _) => ("g", STANDARD_GRAVITY),
            (Time, _) => ("s", 1.0),
            (Damping, ForceUnit::Newton) => ("N s/m", 1.0),
            (Damping, ForceUnit::PoundForce) => ("lbf s/in", POUND_FORCE / INCH),
            (CorneringStiffness, ForceUnit::Newton) => ("N/deg", 1.0 / DEGREE),
            (CorneringStiffness, ForceUnit::PoundForce) => ("lbf/deg", POUND_FORCE / DEGREE),
            (Area, _) if self.is_inch() => ("ft2", FOOT * FOOT),
            (Area, _) => ("m2", 1.0),
            (Inertia, _) => match self.mass {
                MassUnit::Kilogram => ("kg m2", 1.0),
                MassUnit::Pound => ("lb ft2", POUND * FOOT * FOOT),
            },
            (Density, _) => ("kg/m3", 1.0),
            (Temperature, _) if self.is_inch() => ("deg F", 1.0 / 1.8),
            (Temperature, _) => ("deg C", 1.0),
            (Ratio, _) => ("", 1.0),
        }
    }
}
