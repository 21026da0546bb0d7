//! Sections of tubes and bars, by their gross elastic properties.
//!
//! [`Section::of`] works them out from an outline. A round tube and bars are exact; a box is that of EN 10219-2 annex B,
//! with its rounded corners. Shear areas are Cowper's, for steel.

mod corners;
mod flat;
mod shear;

use std::f64::consts::PI;

use crate::SteelError;

/// Outline of a section [m].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A round tube.
    Round {
        /// Outer diameter.
        diameter: f64,
        /// Wall.
        wall: f64,
    },
    /// A rectangular tube with rounded corners; `height` along the section's z, `width` along its y.
    Box {
        /// Outer size along z.
        height: f64,
        /// Outer size along y.
        width: f64,
        /// Wall.
        wall: f64,
        /// Radius of the outer corners; the inner ones are a wall less, never below zero.
        corner: f64,
    },
    /// A round bar.
    Bar {
        /// Diameter.
        diameter: f64,
    },
    /// A flat bar; `height` along z.
    Flat {
        /// Size along z.
        height: f64,
        /// Size along y.
        width: f64,
    },
}

/// A section with its properties. Local axes: x along the member, y and z the principal axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Outline.
    pub shape: Shape,
    /// Area [m^2].
    pub area: f64,
    /// Second moment about y (bending in the x-z plane) [m^4].
    pub second_y: f64,
    /// Second moment about z [m^4].
    pub second_z: f64,
    /// Torsion constant [m^4].
    pub torsion: f64,
    /// Elastic modulus about y [m^3].
    pub modulus_y: f64,
    /// Elastic modulus about z [m^3].
    pub modulus_z: f64,
    /// Torsion modulus: torque over greatest shear stress [m^3].
    pub torsion_modulus: f64,
    /// Shear area along y [m^2]; infinite where shear is not to give.
    pub shear_y: f64,
    /// Shear area along z [m^2]; infinite where shear is not to give.
    pub shear_z: f64,
}

/// Greatest outer size that is taken for a part of a car [m]; what is larger was given in another unit.
pub const LARGEST: f64 = 10.0;

impl Section {
    /// The properties of an outline.
    ///
    /// # Errors
    /// A size that is not a positive number or above [`LARGEST`], a wall that leaves no hollow, corners that do not fit.
    pub fn of(shape: Shape) -> Result<Self, SteelError> {
        match shape {
            Shape::Round { diameter, wall } => {
                size("the diameter of a tube", diameter)?;
                hollow(wall, diameter)?;
                Ok(Self::round(shape, diameter, diameter - 2.0 * wall))
            }
            Shape::Bar { diameter } => {
                size("the diameter of a bar", diameter)?;
                Ok(Self::round(shape, diameter, 0.0))
            }
            Shape::Box { height, width, wall, corner } => {
                size("the height of a box", height)?;
                size("the width of a box", width)?;
                hollow(wall, height.min(width))?;
                if !(0.0 <= corner && corner <= height.min(width) / 2.0) {
                    return Err(SteelError::Corner { corner, size: height.min(width) });
                }
                Ok(corners::section(height, width, wall, corner))
            }
            Shape::Flat { height, width } => {
                size("the height of a flat bar", height)?;
                size("the width of a flat bar", width)?;
                Ok(flat::section(height, width))
            }
        }
    }

    /// Plastic modulus about y [m^3].
    pub fn plastic_y(&self) -> f64 {
        match self.shape {
            Shape::Round { diameter, wall } => (diameter.powi(3) - (diameter - 2.0 * wall).powi(3)) / 6.0,
            Shape::Bar { diameter } => diameter.powi(3) / 6.0,
            Shape::Box { height, width, wall, corner } => corners::plastic(height, width, wall, corner),
            Shape::Flat { height, width } => width * height * height / 4.0,
        }
    }

    /// Plastic modulus about z [m^3].
    pub fn plastic_z(&self) -> f64 {
        match self.shape {
            Shape::Round { .. } | Shape::Bar { .. } => self.plastic_y(),
            Shape::Box { height, width, wall, corner } => corners::plastic(width, height, wall, corner),
            Shape::Flat { height, width } => height * width * width / 4.0,
        }
    }

    /// Radius of gyration about y [m].
    pub fn gyration_y(&self) -> f64 {
        (self.second_y / self.area).sqrt()
    }

    /// Radius of gyration about z [m].
    pub fn gyration_z(&self) -> f64 {
        (self.second_z / self.area).sqrt()
    }

    /// Mass of a metre [kg/m], by the density [kg/m^3].
    pub fn mass_per_metre(&self, density: f64) -> f64 {
        self.area * density
    }

    /// Outer size along y [m].
    pub fn width(&self) -> f64 {
        match self.shape {
            Shape::Round { diameter, .. } | Shape::Bar { diameter } => diameter,
            Shape::Box { width, .. } | Shape::Flat { width, .. } => width,
        }
    }

    /// Outer size along z [m].
    pub fn height(&self) -> f64 {
        match self.shape {
            Shape::Round { diameter, .. } | Shape::Bar { diameter } => diameter,
            Shape::Box { height, .. } | Shape::Flat { height, .. } => height,
        }
    }

    fn round(shape: Shape, outer: f64, inner: f64) -> Self {
        let area = PI / 4.0 * (outer * outer - inner * inner);
        let second = PI / 64.0 * (outer.powi(4) - inner.powi(4));
        let modulus = 2.0 * second / outer;
        let shear = area * shear::round(inner / outer, shear::POISSON);
        Self {
            shape,
            area,
            second_y: second,
            second_z: second,
            torsion: 2.0 * second,
            modulus_y: modulus,
            modulus_z: modulus,
            torsion_modulus: 2.0 * modulus,
            shear_y: shear,
            shear_z: shear,
        }
    }
}

fn size(what: &'static str, value: f64) -> Result<(), SteelError> {
    if 0.0 < value && value <= LARGEST { Ok(()) } else { Err(SteelError::Figure { what, value }) }
}

fn hollow(wall: f64, size: f64) -> Result<(), SteelError> {
    if !(0.0 < wall && wall <= LARGEST) {
        return Err(SteelError::Figure { what: "the wall of a tube", value: wall });
    }
    if wall < size / 2.0 { Ok(()) } else { Err(SteelError::WallTooThick { wall, size }) }
}
