//! The number type of a linkage: `f64` for values, a dual number for values with an exact derivative.

use nalgebra::{Matrix3, Vector3};
use num_dual::DualNum;

/// A real number, possibly carrying a derivative: `f64` or [`num_dual::Dual64`].
///
/// Everything that computes a result is written once over this trait, so that the derivative of a result (the
/// source of every ±) goes through the same formula as the result.
pub trait Real: DualNum<Primitive = f64> + Copy + nalgebra::Scalar {}

impl<T: DualNum<Primitive = f64> + Copy + nalgebra::Scalar> Real for T {}

/// A constant of the number type.
#[inline]
pub fn constant<T: Real>(value: f64) -> T {
    T::from(value)
}

/// A constant vector of the number type.
#[inline]
pub fn constant_vector<T: Real>(v: &Vector3<f64>) -> Vector3<T> {
    Vector3::new(T::from(v.x), T::from(v.y), T::from(v.z))
}

/// Length of a vector. Its derivative is undefined (not finite) at zero length: callers exclude that.
#[inline]
pub fn norm<T: Real>(v: &Vector3<T>) -> T {
    v.dot(v).sqrt()
}

/// The matrix of `w x`.
#[inline]
pub fn skew<T: Real>(w: &Vector3<T>) -> Matrix3<T> {
    let zero = T::from(0.0);
    Matrix3::new(zero, -w.z, w.y, w.z, zero, -w.x, -w.y, w.x, zero)
}

/// Two unit vectors square to `axis` and to each other, so that (first, second, axis) is right-handed.
/// `axis` need not be a unit vector; it must not be zero.
pub fn perpendiculars<T: Real>(axis: &Vector3<T>) -> (Vector3<T>, Vector3<T>) {
    let re = axis.map(|c| c.re());
    // Start from the coordinate axis least along `axis`: the cross product is then never near zero.
    let helper = if re.x.abs() <= re.y.abs() && re.x.abs() <= re.z.abs() {
        Vector3::x()
    } else if re.y.abs() <= re.z.abs() {
        Vector3::y()
    } else {
        Vector3::z()
    };
    let first = constant_vector::<T>(&helper).cross(axis);
    let first = first / norm(&first);
    let second = axis.cross(&first);
    (first, second / norm(&second))
}
