//! The wheel as the upright carries it.

use linkage::scalar::Real;
use nalgebra::Vector3;

/// The left wheel at ride height, ISO 8855 axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel<T> {
    /// Wheel centre [m].
    pub centre: Vector3<T>,
    /// Toe [rad], toe-in positive.
    pub toe: T,
    /// Camber [rad], top outward positive.
    pub camber: T,
    /// Distance from the wheel centre to the road in the wheel's plane, tyre loaded [m].
    pub loaded_radius: T,
}

impl<T: Real> Wheel<T> {
    /// Unit vector of the spin axis, out of the car: the one whose toe `atan2(s_x, s_y)` and camber
    /// `-asin(s_z)` are those of the wheel.
    pub fn spin_axis(&self) -> Vector3<T> {
        let (sin_toe, cos_toe) = self.toe.sin_cos();
        let (sin_camber, cos_camber) = self.camber.sin_cos();
        Vector3::new(cos_camber * sin_toe, cos_camber * cos_toe, -sin_camber)
    }
}

impl Wheel<f64> {
    /// The same wheel in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Wheel<T> {
        Wheel {
            centre: self.centre.map(T::from),
            toe: T::from(self.toe),
            camber: T::from(self.camber),
            loaded_radius: T::from(self.loaded_radius),
        }
    }
}
