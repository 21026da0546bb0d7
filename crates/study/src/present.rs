//! Values in the units that the reader chose.

use units::{Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem};
use vehicle::GRAVITY;

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

/// One foot, one inch [m], one mile an hour [m/s] (exact by definition).
const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;
const MILE_PER_HOUR: f64 = 0.447_04;

fn inch(system: &UnitSystem) -> bool {
    matches!(system.length, LengthUnit::Inch | LengthUnit::Foot)
}

impl Scale {
    /// A value in words, to the whole unit: `190 km/h`, `100 m`.
    pub(crate) fn whole(self, value: f64, units: &UnitSystem) -> String {
        format!("{:.0} {}", value * self.factor(units), self.unit(units))
    }

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
            Self::AnglePerAngle | Self::Ratio | Self::Times | Self::Turns => 1.0,
            Self::Rate => 1.0 / system.factor(Dimension::Rate),
            Self::Mass => 1.0 / system.factor(Dimension::Mass),
            Self::Inertia => match system.mass {
                MassUnit::Pound => 1.0 / (system.factor(Dimension::Mass) * FOOT * FOOT),
                MassUnit::Kilogram => 1.0,
            },
            Self::Force => 1.0 / system.factor(Dimension::Force),
            Self::Torque => 1.0 / system.factor(Dimension::Torque),
            Self::Pressure => 1.0 / system.factor(Dimension::Pressure),
            Self::Stress if system.force == ForceUnit::Newton => 1e-6,
            Self::Stress => 1.0 / system.factor(Dimension::Pressure),
            Self::Speed if inch(system) => 1.0 / MILE_PER_HOUR,
            Self::Speed => 3.6,
            Self::Acceleration => 1.0 / GRAVITY,
            Self::Time | Self::Frequency => 1.0,
            Self::Temperature if inch(system) => 1.8,
            Self::Temperature => 1.0,
            Self::Distance if inch(system) => 1.0 / FOOT,
            Self::Distance => 1.0,
            Self::RollStiffness => 1.0 / (system.factor(Dimension::Torque) * degree),
            Self::AnglePerAcceleration => degree * GRAVITY,
            Self::CorneringStiffness => 1.0 / (system.factor(Dimension::Force) * degree),
            Self::Damping => match system.force {
                ForceUnit::Newton => 1.0,
                ForceUnit::PoundForce => INCH / system.factor(Dimension::Force),
            },
        }
    }

    /// What is added to a shown value after the factor: temperatures do not begin at absolute zero.
    pub fn offset(self, system: &UnitSystem) -> f64 {
        match self {
            Self::Temperature if inch(system) => -459.67,
            Self::Temperature => -273.15,
            _ => 0.0,
        }
    }

    /// The unit shown.
    pub fn unit(self, system: &UnitSystem) -> String {
        let length = system.symbol(Dimension::Length);
        let per = if inch(system) { "in" } else { "25 mm" };
        match self {
            Self::Percent => "%".into(),
            Self::Length => length.into(),
            Self::Angle => "deg".into(),
            Self::LengthPerTravel => format!("{length}/{per}"),
            Self::AnglePerTravel => format!("deg/{per}"),
            Self::AnglePerAngle => "deg/deg".into(),
            Self::Ratio | Self::Times => String::new(),
            Self::Rate => system.symbol(Dimension::Rate).into(),
            Self::Turns => "turns".into(),
            Self::Mass => system.symbol(Dimension::Mass).into(),
            Self::Inertia => match system.mass {
                MassUnit::Pound => "lb ft²".into(),
                MassUnit::Kilogram => "kg m²".into(),
            },
            Self::Force => system.symbol(Dimension::Force).into(),
            Self::Torque => system.symbol(Dimension::Torque).into(),
            Self::Pressure => system.symbol(Dimension::Pressure).into(),
            Self::Stress if system.force == ForceUnit::Newton => "MPa".into(),
            Self::Stress => system.symbol(Dimension::Pressure).into(),
            Self::Speed => if inch(system) { "mph" } else { "km/h" }.into(),
            Self::Acceleration => "g".into(),
            Self::Time => "s".into(),
            Self::Frequency => "Hz".into(),
            Self::Temperature => if inch(system) { "deg F" } else { "deg C" }.into(),
            Self::Distance => if inch(system) { "ft" } else { "m" }.into(),
            Self::RollStiffness => format!("{}/deg", system.symbol(Dimension::Torque)),
            Self::AnglePerAcceleration => "deg/g".into(),
            Self::CorneringStiffness => format!("{}/deg", system.symbol(Dimension::Force)),
            Self::Damping => match system.force {
                ForceUnit::Newton => "N s/m",
                ForceUnit::PoundForce => "lbf s/in",
            }
            .into(),
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
            Self::Inertia
            | Self::Force
            | Self::Torque
            | Self::Pressure
            | Self::Stress
            | Self::Temperature
            | Self::RollStiffness
            | Self::CorneringStiffness => 0,
            Self::Damping => 3 * usize::from(system.force == ForceUnit::PoundForce),
            Self::Times | Self::Turns | Self::Acceleration | Self::Time | Self::Frequency => 2,
            Self::Speed | Self::Distance => 1,
            Self::AnglePerAcceleration => 2,
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
        estimate.value * factor + scale.offset(system),
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
            let (number, uncertainty) = units::show::with_decimals(
                e.value * factor + scale.offset(system),
                (u > 0.0).then_some(u),
                decimals,
            );
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
