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

/// Largest toe and camber of a wheel at ride height [rad]: beyond it the wheel lies rather than stands, and its
/// lowest point means nothing.
pub const LARGEST_ANGLE: f64 = 1.0;

impl<T: Real> Wheel<T> {
    /// Whether angles and radius are finite and those of a wheel that stands.
    pub fn is_usable(&self) -> bool {
        let radius = self.loaded_radius.re();
        [self.toe, self.camber].iter().all(|a| a.re().abs() <= LARGEST_ANGLE)
            && (linkage::LEAST_LENGTH..=linkage::LARGEST_COORDINATE).contains(&radius)
    }

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
