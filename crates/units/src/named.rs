//! The units a person may choose for bare numbers and for results, one enum a dimension.

use crate::exact;

/// Unit in which bare lengths are read and results are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Millimetre, `mm`.
    Millimetre,
    /// Metre, `m`.
    Metre,
    /// Inch, `in`.
    Inch,
    /// Foot, `ft`.
    Foot,
}

/// Unit in which bare masses are read and results are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MassUnit {
    /// Kilogram, `kg`.
    Kilogram,
    /// Avoirdupois pound, `lb`.
    Pound,
}

/// Unit in which bare forces are read and results are shown; rates, torques and pressures follow it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ForceUnit {
    /// Newton, `N`.
    Newton,
    /// Pound-force, `lbf`.
    PoundForce,
}

/// Unit in which bare angles are read and results are shown. Radians are accepted per value, as in `0.02 rad`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AngleUnit {
    /// Degree, `deg`.
    Degree,
}

/// Writes the four members every unit enum has; each enum lists its variants once, below.
macro_rules! named_units {
    ($unit:ident, $si:literal, $($variant:ident => $name:literal, $factor:expr;)+) => {
        impl $unit {
            /// The names a file may use, in the order of the enum.
            pub const NAMES: &'static [&'static str] = &[$($name),+];

            /// Every unit, in the order of [`Self::NAMES`].
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// Symbol for screen, paper and file.
            pub fn symbol(self) -> &'static str {
                match self { $(Self::$variant => $name),+ }
            }

            /// The unit with this name, one of [`Self::NAMES`]; spaces around it do not matter.
            pub fn from_name(name: &str) -> Option<Self> {
                match name.trim() {
                    $($name => Some(Self::$variant),)+
                    _ => None,
                }
            }

            #[doc = concat!("SI value of one unit \\[", $si, "\\].")]
            pub fn to_si(self) -> f64 {
                match self { $(Self::$variant => $factor),+ }
            }
        }
    };
}

named_units! { LengthUnit, "m",
    Millimetre => "mm", 1e-3;
    Metre => "m", 1.0;
    Inch => "in", exact::INCH;
    Foot => "ft", exact::FOOT;
}
named_units! { MassUnit, "kg",
    Kilogram => "kg", 1.0;
    Pound => "lb", exact::POUND;
}
named_units! { ForceUnit, "N",
    Newton => "N", 1.0;
    PoundForce => "lbf", exact::POUND_FORCE;
}
named_units! { AngleUnit, "rad",
    Degree => "deg", exact::DEGREE;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_to_their_unit() {
        for unit in LengthUnit::ALL {
            assert_eq!(LengthUnit::from_name(unit.symbol()), Some(*unit));
        }
        for unit in MassUnit::ALL {
            assert_eq!(MassUnit::from_name(unit.symbol()), Some(*unit));
        }
        for unit in ForceUnit::ALL {
            assert_eq!(ForceUnit::from_name(unit.symbol()), Some(*unit));
        }
        assert_eq!(AngleUnit::from_name("deg"), Some(AngleUnit::Degree));
        assert_eq!(LengthUnit::NAMES, ["mm", "m", "in", "ft"]);
        assert_eq!(LengthUnit::from_name("furlong"), None);
    }
}
