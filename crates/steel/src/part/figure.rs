//! Refuses figures that no part has.

use nalgebra::Vector3;

use crate::error::SteelError;

/// Greatest magnitude of a figure [SI]: beyond it a unit was mistaken, and powers could overflow.
const LARGEST: f64 = 1e13;

/// Least value of what must be positive [SI]: second moments of thin wires lie above it.
const SMALLEST: f64 = 1e-18;

/// A number of usable size.
pub(crate) fn finite(what: &'static str, value: f64) -> Result<f64, SteelError> {
    if value.is_finite() && value.abs() <= LARGEST {
        Ok(value)
    } else {
        Err(SteelError::Figure { what, value })
    }
}

/// A number above zero.
pub(crate) fn positive(what: &'static str, value: f64) -> Result<f64, SteelError> {
    if finite(what, value)? >= SMALLEST { Ok(value) } else { Err(SteelError::Figure { what, value }) }
}

/// A number not below zero.
pub(crate) fn not_negative(what: &'static str, value: f64) -> Result<f64, SteelError> {
    if finite(what, value)? >= 0.0 { Ok(value) } else { Err(SteelError::Negative { what, value }) }
}

/// A vector of usable numbers.
pub(crate) fn vector(what: &'static str, value: Vector3<f64>) -> Result<Vector3<f64>, SteelError> {
    for part in value.iter() {
        finite(what, *part)?;
    }
    Ok(value)
}

/// A direction of length one.
pub(crate) fn direction(what: &'static str, value: Vector3<f64>) -> Result<Vector3<f64>, SteelError> {
    vector(what, value)?.try_normalize(1e-9).ok_or(SteelError::Direction { what })
}

/// Strengths that go together.
pub(crate) fn strengths(what: &'static str, yields: f64, breaks: f64) -> Result<(), SteelError> {
    positive("the yield strength", yields)?;
    positive("the tensile strength", breaks)?;
    if yields <= breaks { Ok(()) } else { Err(SteelError::Strengths { what, yields, breaks }) }
}
