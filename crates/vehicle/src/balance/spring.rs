//! Rates of springs from their sizes.

use linkage::scalar::Real;

use crate::error::{VehicleError, positive, within};

/// Rate of a coil spring of round wire [N/m]: `G d^4/(8 D^3 N)`, d wire, D mean coil diameter, N working coils (any
/// machine-design text).
///
/// # Errors
/// Sizes that no spring has.
pub fn coil_rate<T: Real>(shear: T, wire: T, mean_diameter: T, coils: T) -> Result<T, VehicleError> {
    positive("shear modulus", shear.re())?;
    positive("coil diameter", mean_diameter.re())?;
    within("wire diameter", wire.re(), 1e-4, mean_diameter.re() * 0.5)?;
    positive("working coils", coils.re())?;
    Ok(shear * wire.powi(4) / (mean_diameter.powi(3) * coils * 8.0))
}

/// Rate of a leaf held at one end, loaded at the other [N/m]: `3 E I/l^3`, `I = b t^3/12`.
///
/// # Errors
/// Sizes that no leaf has.
pub fn leaf_rate<T: Real>(young: T, width: T, thickness: T, length: T) -> Result<T, VehicleError> {
    positive("Young's modulus", young.re())?;
    positive("leaf width", width.re())?;
    positive("leaf thickness", thickness.re())?;
    positive("leaf length", length.re())?;
    Ok(young * width * thickness.powi(3) / (length.powi(3) * 4.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    const POUND: f64 = 4.448_221_615_260_5;
    const INCH: f64 = 0.0254;
    const PSI: f64 = POUND / (INCH * INCH);

    /// T. Wentzell, Machine Design, example 8.2, p. 163 (read in an open notebook): wire 0.105 in, mean diameter 0.620 in,
    /// G 11.85e6 psi, 10.79 coils: 70.0 lb/in.
    #[test]
    fn a_coil_of_a_published_example() {
        let k = coil_rate(11.85e6 * PSI, 0.105 * INCH, 0.620 * INCH, 10.79).unwrap() * INCH / POUND;
        assert!((k - 70.0).abs() < 0.05, "{k}");
    }

    /// U. Jindal, Machine Design, example 8-1: the open notebook prints 16.0 N/mm, an integer division; its figures (G
    /// 84 000 MPa, d 5, D 30, N 15) give 16.20 N/mm and 18.51 mm under 300 N (worked out independently).
    #[test]
    fn a_coil_of_a_misprinted_example() {
        let k: f64 = coil_rate(84e9, 0.005, 0.030, 15.0).unwrap();
        assert!((k * 1e-3 - 16.20).abs() < 0.005 && (300.0 / k * 1e3 - 18.51).abs() < 0.005);
    }

    /// T. Wentzell, Machine Design, example 8.5 (read in an open notebook): 12 x 1 x 72 in, E 10e6 psi, 4 in: 321.5 lb, 80.4
    /// lb/in.
    #[test]
    fn a_leaf_of_a_published_example() {
        let k = leaf_rate(10e6 * PSI, 12.0 * INCH, INCH, 72.0 * INCH).unwrap() * INCH / POUND;
        assert!((k - 80.4).abs() < 0.05 && (4.0 * k - 321.5).abs() < 0.05);
        assert!(coil_rate(8e10, 0.02, 0.03, 5.0).is_err());
    }
}
