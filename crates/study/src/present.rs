//! Values in the units that the reader chose.

use units::{Dimension, LengthUnit, MassUnit, UnitSystem};

use crate::estimate::Estimate;
use crate::quantity::Scale;

/// A value ready to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The number.
    pub number: String,
    /// Its ± (one standard uncertainty), where there is one.
    pub uncertainty: Option<String>,
    /// The unit.
    pub unit: String,
}

/// One foot [m].
const FOOT: f64 = 0.3048;

impl Scale {
    /// Factor from SI to what is shown.
    pub fn factor(self, system: &UnitSystem) -> f64 {
        let degree = 180.0 / std::f64::consts::PI;
        match self {
            Self::Percent => 100.0,
            Self::Length => 1.0 / system.factor(Dimension::Length),
            Self::Angle => degree,
            // Travel in steps of 25 mm (1 in): the wheel moves about that much in ordinary driving.
            Self::LengthPerTravel => travel_step(system) / system.factor(Dimension::Length),
            Self::AnglePerTravel => degree * travel_step(system),
            Self::AnglePerAngle | Self::Ratio | Self::Turns => 1.0,
            Self::Rate => 1.0 / system.factor(Dimension::Rate),
            Self::Mass => 1.0 / system.factor(Dimension::Mass),
            Self::Inertia => match system.mass {
                MassUnit::Pound => 1.0 / (system.factor(Dimension::Mass) * FOOT * FOOT),
                MassUnit::Kilogram => 1.0,
            },
        }
    }

    /// The unit shown.
    pub fn unit(self, system: &UnitSystem) -> String {
        let inch = matches!(system.length, LengthUnit::Inch | LengthUnit::Foot);
        let length = system.symbol(Dimension::Length);
        let per = if inch { "in" } else { "25 mm" };
        match self {
            Self::Percent => "%".into(),
            Self::Length => length.into(),
            Self::Angle => "deg".into(),
            Self::LengthPerTravel => format!("{length}/{per}"),
            Self::AnglePerTravel => format!("deg/{per}"),
            Self::AnglePerAngle => "deg/deg".into(),
            Self::Ratio => String::new(),
            Self::Rate => system.symbol(Dimension::Rate).into(),
            Self::Turns => "turns".into(),
            Self::Mass => system.symbol(Dimension::Mass).into(),
            Self::Inertia => match system.mass {
                MassUnit::Pound => "lb ft²".into(),
                MassUnit::Kilogram => "kg m²".into(),
            },
        }
    }

    /// Most decimals worth showing.
    pub fn decimals(self, system: &UnitSystem) -> usize {
        let small = !matches!(system.length, LengthUnit::Millimetre);
        match self {
            Self::Percent => 1,
            Self::Length => match system.length {
                LengthUnit::Millimetre => 1,
                LengthUnit::Inch => 2,
                LengthUnit::Foot | LengthUnit::Metre => 3,
            },
            Self::Angle => 2,
            Self::LengthPerTravel => 1 + 2 * usize::from(small),
            Self::AnglePerTravel => 3,
            Self::AnglePerAngle | Self::Ratio => 3,
            Self::Rate | Self::Mass => 1,
            Self::Inertia => 0,
            Self::Turns => 2,
        }
    }
}

/// The travel by which gradients are shown [m]: 25 mm, or 1 in.
fn travel_step(system: &UnitSystem) -> f64 {
    match system.length {
        LengthUnit::Millimetre | LengthUnit::Metre => 0.025,
        LengthUnit::Inch | LengthUnit::Foot => 0.0254,
    }
}

/// An estimate in the reader's units, rounded to what its ± supports.
pub fn shown(estimate: &Estimate, scale: Scale, system: &UnitSystem) -> Shown {
    let factor = scale.factor(system);
    let u = estimate.uncertainty() * factor;
    let (number, uncertainty) = units::show::with_uncertainty(
        estimate.value * factor,
        (u > 0.0).then_some(u),
        scale.decimals(system),
    );
    Shown { number, uncertainty, unit: scale.unit(system) }
}

/// Estimates of one column of a table, all to the same number of decimals.
pub fn shown_alike(column: &[Option<&Estimate>], scale: Scale, system: &UnitSystem) -> Vec<Option<Shown>> {
    let factor = scale.factor(system);
    let doubts = column.iter().flatten().map(|e| e.uncertainty() * factor);
    let decimals = units::show::common_decimals(doubts, scale.decimals(system));
    column
        .iter()
        .map(|e| {
            let e = (*e)?;
            let u = e.uncertainty() * factor;
            let (number, uncertainty) =
                units::show::with_decimals(e.value * factor, (u > 0.0).then_some(u), decimals);
            Some(Shown { number, uncertainty, unit: scale.unit(system) })
        })
        .collect()
}

impl Shown {
    /// Without the unit: `62 ± 7`.
    pub fn figure(&self) -> String {
        match &self.uncertainty {
            Some(u) => format!("{} ± {u}", self.number),
            None => self.number.clone(),
        }
    }

    /// As one text: `62 ± 7 %`.
    pub fn text(&self) -> String {
        let number = self.figure();
        if self.unit.is_empty() { number } else { format!("{number} {}", self.unit) }
    }
}
