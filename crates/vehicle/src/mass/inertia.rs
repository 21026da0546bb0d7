//! Estimates of inertia for a car whose inertia nobody measured.
//!
//! Yaw by the dynamic index `k_z^2/(a b)` (W. Milliken & D. Milliken (1995), ch. 5; J. C. Dixon, Tires, Suspension
//! and Handling (1996); both remembered): 1 means that a blow at one axle does not move the other; passenger cars lie
//! near it. Roll as a uniform block of the car's width and height, pitch by the block's relation between the three
//! (own). The ± says how little this is.

use linkage::scalar::Real;
use nalgebra::{Matrix3, Vector3};

use crate::error::{VehicleError, not_negative, positive};

/// Dynamic index taken where none is given [-] (remembered: 0.9 to 1.0 for cars with engine between the axles).
pub const DYNAMIC_INDEX: f64 = 0.95;

/// Relative standard uncertainty of every estimated moment of inertia [-] (own: the spread of the index and of
/// blocks against cars).
pub const ESTIMATE_UNCERTAINTY: f64 = 0.12;

/// What the estimate asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gyration<T> {
    /// Mass [kg].
    pub mass: T,
    /// Distance of the centre of gravity from the front axle [m].
    pub front: T,
    /// Distance from the rear axle [m].
    pub rear: T,
    /// Width over the body [m].
    pub width: T,
    /// Height of body over its floor [m].
    pub height: T,
    /// Dynamic index; [`DYNAMIC_INDEX`] where unknown.
    pub index: T,
}

/// Inertia tensor about the centre of gravity [kg m^2]: an estimate, to be marked so; each moment is no surer than
/// [`ESTIMATE_UNCERTAINTY`]. Products of inertia are taken as zero.
///
/// `I_z = index m a b`; `I_x = m (w^2 + h^2)/12`; `I_y = I_z + m (h^2 - w^2)/12`.
///
/// # Errors
/// A figure that is not positive, or sizes that no car of that wheelbase has.
pub fn estimate<T: Real>(of: &Gyration<T>) -> Result<Matrix3<T>, VehicleError> {
    positive("mass", of.mass.re())?;
    positive("distance to the front axle", of.front.re())?;
    positive("distance to the rear axle", of.rear.re())?;
    positive("width", of.width.re())?;
    not_negative("height", of.height.re())?;
    positive("dynamic index", of.index.re())?;
    let (w2, h2) = (of.width * of.width, of.height * of.height);
    let yaw = of.index * of.mass * of.front * of.rear;
    let roll = of.mass * (w2 + h2) / 12.0;
    let pitch = yaw + of.mass * (h2 - w2) / 12.0;
    if (roll + pitch - yaw).re() < 0.0 || (yaw + roll - pitch).re() < 0.0 || (yaw + pitch - roll).re() < 0.0 {
        return Err(VehicleError::ImpossibleInertia { part: "car".into() });
    }
    Ok(Matrix3::from_diagonal(&Vector3::new(roll, pitch, yaw)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A uniform block between its own axles at `k_z` is returned exactly (own): index such that
    /// `index a b = (l^2 + w^2)/12`.
    #[test]
    fn a_block_is_a_block() {
        let (l, w, h): (f64, f64, f64) = (4.0, 1.7, 1.2);
        let (a, b) = (1.2, 1.3);
        let of = Gyration {
            mass: 12.0,
            front: a,
            rear: b,
            width: w,
            height: h,
            index: (l * l + w * w) / 12.0 / (a * b),
        };
        let t = estimate(&of).unwrap();
        assert!((t.m11 - (w * w + h * h)).abs() < 1e-12);
        assert!((t.m22 - (l * l + h * h)).abs() < 1e-12);
        assert!((t.m33 - (l * l + w * w)).abs() < 1e-12);
    }

    #[test]
    fn absurd_sizes_are_refused() {
        let of = Gyration { mass: 1000.0, front: 0.1, rear: 0.1, width: 3.0, height: 0.1, index: 1.0 };
        assert!(estimate(&of).is_err());
    }
}
