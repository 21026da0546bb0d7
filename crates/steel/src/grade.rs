//! What steel a part is made of: grades of tube and plate, classes of bolts.

use std::sync::OnceLock;

use crate::error::SteelError;
use crate::stock::rows;

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

/// Strengths of a bolt, or of the shank of a rod end.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// Its name: `10.9`.
    pub name: String,
    /// Yield strength, or 0.2 % proof stress [Pa].
    pub yields: f64,
    /// Tensile strength [Pa].
    pub breaks: f64,
    /// Where the strengths come from.
    pub source: String,
}

/// Grades of tube and plate. Cold-drawn `+C` is left out: its standard gives no least yield strength.
pub fn grades() -> &'static [Grade] {
    static TABLE: OnceLock<Vec<Grade>> = OnceLock::new();
    TABLE.get_or_init(|| {
        strengths(include_str!("../data/grades.csv"))
            .map(|(name, yields, breaks, source)| Grade {
                name,
                yields,
                breaks,
                young: YOUNG,
                shear: SHEAR,
                density: DENSITY,
                source,
            })
            .collect()
    })
}

/// Classes of bolts.
pub fn classes() -> &'static [Class] {
    static TABLE: OnceLock<Vec<Class>> = OnceLock::new();
    TABLE.get_or_init(|| {
        strengths(include_str!("../data/classes.csv"))
            .map(|(name, yields, breaks, source)| Class { name, yields, breaks, source })
            .collect()
    })
}

impl Grade {
    /// The grade of that name; capitals and spaces do not matter.
    ///
    /// # Errors
    /// No such grade in the table.
    pub fn named(name: &str) -> Result<&'static Self, SteelError> {
        grades()
            .iter()
            .find(|grade| same(&grade.name, name))
            .ok_or_else(|| SteelError::Unknown { name: name.to_owned(), kind: "grades" })
    }
}

impl Class {
    /// The class of that name: `8.8`, `grade 8`.
    ///
    /// # Errors
    /// No such class in the table.
    pub fn named(name: &str) -> Result<&'static Self, SteelError> {
        classes()
            .iter()
            .find(|class| same(&class.name, name))
            .ok_or_else(|| SteelError::Unknown { name: name.to_owned(), kind: "classes of bolts" })
    }
}

/// Name, yield and tensile strength [Pa], source of every row.
fn strengths(table: &'static str) -> impl Iterator<Item = (String, f64, f64, String)> {
    rows(table).filter_map(|cells| {
        let [name, yields, breaks, source] = *cells.as_slice() else { return None };
        let pascals = |cell: &str| cell.parse::<f64>().ok().map(|megapascals| megapascals * 1e6);
        Some((name.to_owned(), pascals(yields)?, pascals(breaks)?, source.to_owned()))
    })
}

/// Whether two names differ in capitals and spaces only.
pub(crate) fn same(a: &str, b: &str) -> bool {
    let plain = |text: &str| {
        text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect::<String>()
    };
    plain(a) == plain(b)
}
