//! What steel a part is made of.

/// Modulus of elasticity of steel [Pa] (EN 1993-1-1 3.2.6; remembered).
pub const YOUNG: f64 = 210e9;

/// Shear modulus of steel [Pa] (EN 1993-1-1 3.2.6, `E/(2(1+0.3))` rounded; remembered).
pub const SHEAR: f64 = 81e9;

/// Density of steel [kg/m^3] (EN 1993-1-1 3.2.6 refers to 7850; remembered).
pub const DENSITY: f64 = 7850.0;

/// A grade of steel, or what stands for one.
#[derive(Clone, Debug, PartialEq)]
pub struct Grade {
    /// Its name: `S355J2H`.
    pub name: String,
    /// Least yield strength, or 0.2 % proof stress [Pa].
    pub yields: f64,
    /// Least tensile strength [Pa].
    pub breaks: f64,
    /// Modulus of elasticity [Pa].
    pub young: f64,
    /// Shear modulus [Pa].
    pub shear: f64,
    /// Density [kg/m^3].
    pub density: f64,
    /// Where the strengths come from.
    pub source: String,
}
