//! Classes of exactness, as a workshop speaks of them.

use units::{Dimension, LengthUnit, UnitSystem, show};

/// How exact a place has to be, in words of a workshop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Exactness {
    /// Finer than half a millimetre: shims, slots or an adjuster belong there.
    Finer,
    /// Within half a millimetre.
    Half,
    /// Within one millimetre.
    One,
    /// Within two millimetres.
    Two,
    /// Within five millimetres: tape is enough.
    Five,
}

/// From here on a tape is enough \[m\].
pub const TAPE_IS_ENOUGH: f64 = 0.005;

impl Exactness {
    /// The class of a tolerance \[m\], rounded down.
    pub fn of(tolerance: f64) -> Self {
        // A hair below the bound is rounding.
        let tolerance = tolerance * (1.0 + 1e-9);
        match tolerance {
            t if t >= TAPE_IS_ENOUGH => Self::Five,
            t if t >= 0.002 => Self::Two,
            t if t >= 0.001 => Self::One,
            t if t >= 0.0005 => Self::Half,
            _ => Self::Finer,
        }
    }

    /// The bound that it stands for \[m\]; `None` for what is finer than any.
    pub fn bound(self) -> Option<f64> {
        match self {
            Self::Finer => None,
            Self::Half => Some(0.0005),
            Self::One => Some(0.001),
            Self::Two => Some(0.002),
            Self::Five => Some(TAPE_IS_ENOUGH),
        }
    }

    /// In words: `within 1.0 mm`, `tape is enough (within 5.0 mm)`.
    pub fn words(self, units: &UnitSystem) -> String {
        let decimals = match units.length {
            LengthUnit::Millimetre => 1,
            LengthUnit::Inch => 2,
            _ => 4,
        };
        let length = |of: f64| show::with_unit(of, Dimension::Length, units, decimals);
        match (self, self.bound()) {
            (_, None) => format!("finer than {}", length(0.0005)),
            (Self::Five, Some(bound)) => format!("tape is enough (within {})", length(bound)),
            (_, Some(bound)) => format!("within {}", length(bound)),
        }
    }
}
