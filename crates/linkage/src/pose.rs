//! Where a body is, how it moves, how that changes.

use nalgebra::{Matrix3, Vector3};

use crate::scalar::{Real, constant, norm, skew};

/// Place of a body relative to its design place: a design point `p0` of the body is now at
/// `o + shift + rot (p0 - o)`, where `o` is the body's origin in the design place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose<T> {
    /// Rotation from the design attitude.
    pub rot: Matrix3<T>,
    /// Displacement of the body's origin [m].
    pub shift: Vector3<T>,
}

/// Velocity of a body per unit of the driving input: of its origin and of its attitude (a screw).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Twist<T> {
    /// Velocity of the origin [m per unit].
    pub v: Vector3<T>,
    /// Angular velocity [rad per unit].
    pub w: Vector3<T>,
}

/// Second derivative of a body's place by the driving input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acceleration<T> {
    /// Of the origin [m per unit squared].
    pub a: Vector3<T>,
    /// Of the attitude [rad per unit squared].
    pub alpha: Vector3<T>,
}

/// A point, its velocity and its second derivative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointMotion<T> {
    /// Position [m].
    pub p: Vector3<T>,
    /// Velocity [m per unit].
    pub v: Vector3<T>,
    /// Second derivative [m per unit squared].
    pub a: Vector3<T>,
}

impl<T: Real> Pose<T> {
    /// The design place.
    pub fn identity() -> Self {
        let (o, i) = (constant(0.0), constant(1.0));
        Self { rot: Matrix3::new(i, o, o, o, i, o, o, o, i), shift: Vector3::new(o, o, o) }
    }

    /// The real parts.
    pub fn re(&self) -> Pose<f64> {
        Pose { rot: self.rot.map(|c| c.re()), shift: self.shift.map(|c| c.re()) }
    }
}

impl Pose<f64> {
    /// Shifts the origin by `shift` [m] and turns the body about it by the rotation vector `turn` [rad].
    #[inline]
    pub fn step(&mut self, shift: &Vector3<f64>, turn: &Vector3<f64>) {
        self.rot = rotation_of(turn) * self.rot;
        self.shift += shift;
    }

    /// Takes out the rounding error that many steps leave in the rotation: one step of the iteration
    /// `R (3 I - R'R) / 2` toward the nearest rotation.
    #[inline]
    pub fn tidy(&mut self) {
        let gram = self.rot.tr_mul(&self.rot);
        self.rot *= (Matrix3::identity() * 3.0 - gram) * 0.5;
    }

    /// The same place in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Pose<T> {
        Pose { rot: self.rot.map(T::from), shift: self.shift.map(T::from) }
    }
}

impl Twist<f64> {
    /// The same screw in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Twist<T> {
        Twist { v: self.v.map(T::from), w: self.w.map(T::from) }
    }
}

impl Acceleration<f64> {
    /// The same in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Acceleration<T> {
        Acceleration { a: self.a.map(T::from), alpha: self.alpha.map(T::from) }
    }
}

impl<T: Real> Twist<T> {
    /// Standstill.
    pub fn zero() -> Self {
        let z = constant(0.0);
        Self { v: Vector3::new(z, z, z), w: Vector3::new(z, z, z) }
    }

    /// Velocity of a point of the body at `lever` from the body's moved origin.
    #[inline]
    pub fn at(&self, lever: &Vector3<T>) -> Vector3<T> {
        self.v + self.w.cross(lever)
    }
}

impl<T: Real> Acceleration<T> {
    /// None.
    pub fn zero() -> Self {
        let z = constant(0.0);
        Self { a: Vector3::new(z, z, z), alpha: Vector3::new(z, z, z) }
    }

    /// Second derivative of a point at `lever` from the moved origin of a body that moves with `twist`:
    /// `a + alpha x r + w x (w x r)`.
    #[inline]
    pub fn at(&self, twist: &Twist<T>, lever: &Vector3<T>) -> Vector3<T> {
        self.a + self.alpha.cross(lever) + twist.w.cross(&twist.w.cross(lever))
    }
}

/// Rotation matrix of a rotation vector (Rodrigues): `I + sin(t)/t S + (1 - cos t)/t^2 S^2`, with the series
/// where the angle `t` is small.
pub fn rotation_of<T: Real>(turn: &Vector3<T>) -> Matrix3<T> {
    let square = turn.dot(turn);
    let (a, b) = if square.re() < 1e-6 {
        // Truncation error below 1e-18 for t < 1e-3.
        (
            constant::<T>(1.0) - square / 6.0 + square * square / 120.0,
            constant::<T>(0.5) - square / 24.0 + square * square / 720.0,
        )
    } else {
        let angle = norm(turn);
        let (sin, cos) = angle.sin_cos();
        (sin / angle, (constant::<T>(1.0) - cos) / square)
    };
    // S^2 = t t' - t.t I
    let mut rot = turn * (turn * b).transpose() + skew(turn) * a;
    for k in 0..3 {
        rot[(k, k)] += constant::<T>(1.0) - square * b;
    }
    rot
}
