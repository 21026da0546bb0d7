//! Sections of tubes and bars, by their gross elastic properties.

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
