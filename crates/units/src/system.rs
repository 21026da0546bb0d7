//! The choice of units for one car.

use crate::exact::{FOOT, INCH, POUND_FORCE};
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
    /// SI value of one shown unit of this dimension.
    pub fn factor(&self, dimension: Dimension) -> f64 {
        self.shown(dimension).1
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
        use Dimension::{Angle, Force, Length, Mass, Pitch, Pressure, Rate, Ratio, Torque};
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
            (Ratio, _) => ("", 1.0),
        }
    }
}
