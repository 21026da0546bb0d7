//! The results that a place which is off moves, and what is allowed of each.

use project::model::{Allowed, Axle};
use suspension::AxleEnd;
use units::{Dimension, UnitSystem, show};

use crate::quantity::Quantity;

/// A result that a place which is off moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Consequence {
    /// Toe between ride height and a travel \[m\].
    ToeChange(f64),
    /// Camber between ride height and a travel \[m\].
    CamberChange(f64),
    /// Height of the roll centre at ride height.
    RollCentre,
    /// Anti-feature under the brakes at ride height.
    AntiBraking,
    /// Anti-feature under power at ride height.
    AntiDriving,
    /// Motion ratio of an element at ride height.
    MotionRatio(usize),
    /// Toe at ride height, as far as no adjuster resets it.
    Toe,
    /// Camber at ride height, as far as no adjuster resets it.
    Camber,
}

impl Consequence {
    /// The change that the file allows \[SI\].
    pub fn allowed(self, allowed: &Allowed) -> f64 {
        match self {
            Self::ToeChange(_) => allowed.toe_change,
            Self::CamberChange(_) => allowed.camber_change,
            Self::RollCentre => allowed.roll_centre,
            Self::AntiBraking | Self::AntiDriving => allowed.anti,
            Self::MotionRatio(_) => allowed.motion_ratio,
            Self::Toe => allowed.toe,
            Self::Camber => allowed.camber,
        }
    }

    /// In words, such as `toe change to -50 mm`.
    pub fn words(self, axle: &Axle, units: &UnitSystem, end: AxleEnd) -> String {
        let decimals = if units.factor(Dimension::Length) > 0.002 { 2 } else { 0 };
        let travel = |t: f64| show::with_unit(t, Dimension::Length, units, decimals);
        match self {
            Self::ToeChange(t) => format!("toe change to {}", travel(t)),
            Self::CamberChange(t) => format!("camber change to {}", travel(t)),
            Self::RollCentre => "height of the roll centre".into(),
            Self::AntiBraking => Quantity::AntiBraking.about(end).title.to_string(),
            Self::AntiDriving => Quantity::AntiDriving.about(end).title.to_string(),
            Self::MotionRatio(e) => {
                let name = axle.scheme.elements.get(e).map_or("?", |element| element.name.as_str());
                format!("motion ratio of the {name}")
            }
            Self::Toe => "toe at ride height, which nothing resets".into(),
            Self::Camber => "camber at ride height, which nothing resets".into(),
        }
    }
}
