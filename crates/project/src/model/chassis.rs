//! Springs, dampers, stops and bars of an axle, and the air over the car.

use std::ops::Range;

use super::{AirPart, Value};

/// A spring beyond its rate at ride height.
#[derive(Clone, Debug, PartialEq)]
pub struct SpringReading {
    /// Index of its element in the scheme.
    pub element: usize,
    /// Rate along its length at ride height \[N/m\].
    pub rate: Value,
    /// Change of the rate per compression \[N/m^2\]: zero for a plain coil.
    pub rise: f64,
}

/// A damper: force over speed along its length.
#[derive(Clone, Debug, PartialEq)]
pub struct DamperReading {
    /// Index of its element in the scheme.
    pub element: usize,
    /// In bump \[N s/m\].
    pub bump: Value,
    /// In rebound \[N s/m\].
    pub rebound: Value,
}

/// A rubber that is met on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct BumpStop {
    /// Index of the element that meets it.
    pub element: usize,
    /// Shortening from ride height at which it is met \[m\]; negative for one that ends rebound.
    pub gap: f64,
    /// Rate once it is met \[N/m\].
    pub rate: f64,
    /// Change of that rate per further way \[N/m^2\].
    pub rise: f64,
}

/// How the arms of a bar give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BarArms {
    /// Rigid: plates, or blades on edge.
    Rigid,
    /// The bar itself bent round.
    Bent,
    /// Flat blades of a width (along the bar's axis) and a thickness \[m\], bent about the thickness.
    Blades {
        /// Width \[m\].
        width: f64,
        /// Thickness \[m\].
        thickness: f64,
    },
}

/// An anti-roll bar.
#[derive(Clone, Debug, PartialEq)]
pub enum BarReading {
    /// Its rate at one end along the link, the other end held \[N/m\].
    Rate {
        /// Rate.
        rate: Value,
        /// Place in the file.
        span: Range<usize>,
    },
    /// Its sizes.
    Made {
        /// Outer diameter \[m\].
        diameter: Value,
        /// Bore \[m\], zero for a solid bar.
        bore: Value,
        /// Length in torsion between the arms \[m\].
        length: Value,
        /// Arm from the bar's axis to the link's joint \[m\].
        arm: Value,
        /// Angle between arm and link \[rad\].
        link_angle: Value,
        /// Arms.
        arms: BarArms,
        /// Place in the file.
        span: Range<usize>,
    },
}

/// What the air does at one pair of ride heights.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirRow {
    /// Rise of the body over ride height at the front axle \[m\], up positive.
    pub front_rise: f64,
    /// The same at the rear axle \[m\].
    pub rear_rise: f64,
    /// Downforce area at the front axle \[m^2\].
    pub front: f64,
    /// Downforce area at the rear axle \[m^2\].
    pub rear: f64,
    /// Drag area \[m^2\].
    pub drag: f64,
}

/// The air over the car.
#[derive(Clone, Debug, PartialEq)]
pub struct AirReading {
    /// Density \[kg/m^3\].
    pub density: f64,
    /// Drag area \[m^2\].
    pub drag: Value,
    /// Height at which the drag acts \[m\].
    pub drag_height: Value,
    /// Downforce area at the front axle \[m^2\]; negative for lift.
    pub front: Value,
    /// Downforce area at the rear axle \[m^2\].
    pub rear: Value,
    /// The same at other ride heights.
    pub heights: Vec<AirRow>,
    /// What of it is made by parts that can be taken off.
    pub parts: Vec<AirPart>,
    /// Place in the file.
    pub span: Range<usize>,
}
