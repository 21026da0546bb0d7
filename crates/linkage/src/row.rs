//! The four scalar equations that every joint and every drive is made of, with their first and second
//! derivatives along a motion and, for plain numbers, their gradient by the bodies' twists.

use nalgebra::Vector3;

use crate::frame::Frame;
use crate::pose::Acceleration;
use crate::scalar::Real;
use crate::state::{End, Frames, Motion, Position};

/// One scalar equation `residual = 0`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Row<T> {
    /// Two points keep their distance: `(|d|^2 - L^2) / 2L`, `d` from b to a [m]. Polynomial in the
    /// positions, so that Newton's method has no square root in its way, and its gradient by point a is the
    /// unit vector of the rod.
    Distance {
        /// First point.
        a: End<T>,
        /// Second point.
        b: End<T>,
        /// Length of the rod [m].
        length: T,
    },
    /// A point keeps its offset from another along a direction that turns with a frame:
    /// `n . (to - from) - rest - u` [m], `u` an input where there is one.
    Offset {
        /// What the direction turns with.
        frame: Frame,
        /// The direction in the design place (unit vector).
        normal: Vector3<T>,
        /// The point measured from; it must be carried by `frame` for the offset to be a joint's.
        from: End<T>,
        /// The point measured to.
        to: End<T>,
        /// The offset when the input is zero [m].
        rest: T,
        /// The input added to the offset.
        input: Option<usize>,
    },
    /// Two directions keep their angle: `a . b - rest` [rad near a right angle].
    Angle {
        /// What the first direction turns with.
        a: Frame,
        /// First direction in the design place (unit vector).
        along_a: Vector3<T>,
        /// What the second direction turns with.
        b: Frame,
        /// Second direction in the design place (unit vector).
        along_b: Vector3<T>,
        /// Their scalar product in the design place.
        rest: T,
    },
    /// A body turns about a fixed axis by an input: `b . (cos(u) second - sin(u) first)` [rad], where
    /// `first`, `second` and the axis are right-handed and `b` is along `first` when `u` is zero.
    Turn {
        /// Where the direction points when the input is zero (unit vector).
        first: Vector3<T>,
        /// A quarter turn further (unit vector).
        second: Vector3<T>,
        /// The body that turns.
        body: Frame,
        /// The input, an angle [rad].
        input: usize,
    },
}

impl<T: Real> Row<T> {
    /// The residual at a position.
    #[inline]
    pub fn residual(&self, frames: &Frames<T>, q: &Position<T>) -> T {
        match self {
            Self::Distance { a, b, length } => {
                let d = frames.point(q, a) - frames.point(q, b);
                (d.dot(&d) - *length * *length) / (*length * 2.0)
            }
            Self::Offset { frame, normal, from, to, rest, input } => {
                let d = frames.point(q, to) - frames.point(q, from);
                let offset = frames.direction(q, *frame, normal).dot(&d) - *rest;
                input.map_or(offset, |k| offset - q.inputs[k])
            }
            Self::Angle { a, along_a, b, along_b, rest } => {
                frames.direction(q, *a, along_a).dot(&frames.direction(q, *b, along_b)) - *rest
            }
            Self::Turn { first, second, body, input } => {
                let (sin, cos) = q.inputs[*input].sin_cos();
                frames.direction(q, *body, first).dot(&(second * cos - first * sin))
            }
        }
    }

    /// The residual's derivative along a motion.
    #[inline]
    pub fn rate(&self, frames: &Frames<T>, q: &Position<T>, m: &Motion<T>) -> T {
        match self {
            Self::Distance { a, b, length } => {
                let d = frames.point(q, a) - frames.point(q, b);
                let v = frames.velocity(q, m, a) - frames.velocity(q, m, b);
                d.dot(&v) / *length
            }
            Self::Offset { frame, normal, from, to, input, .. } => {
                let d = frames.point(q, to) - frames.point(q, from);
                let v = frames.velocity(q, m, to) - frames.velocity(q, m, from);
                let n = frames.direction(q, *frame, normal);
                let rate = n.dot(&v) + frames.spin(m, *frame).cross(&n).dot(&d);
                input.map_or(rate, |k| rate - m.rates[k])
            }
            Self::Angle { a, along_a, b, along_b, .. } => {
                let (e, f) = (frames.direction(q, *a, along_a), frames.direction(q, *b, along_b));
                (frames.spin(m, *a) - frames.spin(m, *b)).dot(&e.cross(&f))
            }
            Self::Turn { first, second, body, input } => {
                let (sin, cos) = q.inputs[*input].sin_cos();
                let e = frames.direction(q, *body, first);
                let m_u = second * cos - first * sin;
                let dm_u = (first * cos + second * sin) * (-m.rates[*input]);
                frames.spin(m, *body).cross(&e).dot(&m_u) + e.dot(&dm_u)
            }
        }
    }

    /// The residual's second derivative along a motion whose inputs change at constant rates.
    #[inline]
    pub fn second_rate(
        &self,
        frames: &Frames<T>,
        q: &Position<T>,
        m: &Motion<T>,
        c: &[Acceleration<T>],
    ) -> T {
        match self {
            Self::Distance { a, b, length } => {
                let (a, b) = (frames.track(q, m, c, a), frames.track(q, m, c, b));
                let (d, v, s) = (a.p - b.p, a.v - b.v, a.a - b.a);
                (v.dot(&v) + d.dot(&s)) / *length
            }
            Self::Offset { frame, normal, from, to, .. } => {
                let (to, from) = (frames.track(q, m, c, to), frames.track(q, m, c, from));
                let (d, v, s) = (to.p - from.p, to.v - from.v, to.a - from.a);
                let n = frames.direction(q, *frame, normal);
                let (n1, n2) = turning(&n, &frames.spin(m, *frame), &frames.spin_rate(c, *frame));
                n2.dot(&d) + n1.dot(&v) * 2.0 + n.dot(&s)
            }
            Self::Angle { a, along_a, b, along_b, .. } => {
                let (e, f) = (frames.direction(q, *a, along_a), frames.direction(q, *b, along_b));
                let (e1, e2) = turning(&e, &frames.spin(m, *a), &frames.spin_rate(c, *a));
                let (f1, f2) = turning(&f, &frames.spin(m, *b), &frames.spin_rate(c, *b));
                e2.dot(&f) + e1.dot(&f1) * 2.0 + e.dot(&f2)
            }
            Self::Turn { first, second, body, input } => {
                let (sin, cos) = q.inputs[*input].sin_cos();
                let rate = m.rates[*input];
                let e = frames.direction(q, *body, first);
                let (e1, e2) = turning(&e, &frames.spin(m, *body), &frames.spin_rate(c, *body));
                let m_u = second * cos - first * sin;
                let m1 = (first * cos + second * sin) * (-rate);
                let m2 = m_u * (-(rate * rate));
                e2.dot(&m_u) + e1.dot(&m1) * 2.0 + e.dot(&m2)
            }
        }
    }
}

/// First and second derivative of a direction that turns with angular velocity `w` and acceleration `alpha`.
#[inline]
fn turning<T: Real>(n: &Vector3<T>, w: &Vector3<T>, alpha: &Vector3<T>) -> (Vector3<T>, Vector3<T>) {
    let first = w.cross(n);
    (first, alpha.cross(n) + w.cross(&first))
}

impl Row<f64> {
    /// The residual and its gradient by the twists of the bodies: `gradient[6 b ..]` receives (by the
    /// velocity of the origin, by the angular velocity) of body b. `gradient` must be zero on entry.
    #[inline]
    pub fn linearise(&self, frames: &Frames<f64>, q: &Position<f64>, gradient: &mut [f64]) -> f64 {
        match self {
            Self::Distance { a, b, length } => {
                let ((p_a, lever_a), (p_b, lever_b)) = (frames.locate(q, a), frames.locate(q, b));
                let d = p_a - p_b;
                let n = d / *length;
                add_force(a.frame, &lever_a, &n, gradient);
                add_force(b.frame, &lever_b, &-n, gradient);
                (d.norm_squared() - length * length) / (2.0 * length)
            }
            Self::Offset { frame, normal, from, to, rest, input } => {
                let ((p_to, lever_to), (p_from, lever_from)) = (frames.locate(q, to), frames.locate(q, from));
                let d = p_to - p_from;
                let n = frames.direction(q, *frame, normal);
                add_force(to.frame, &lever_to, &n, gradient);
                add_force(from.frame, &lever_from, &-n, gradient);
                add_moment(*frame, &n.cross(&d), gradient);
                n.dot(&d) - rest - input.map_or(0.0, |k| q.inputs[k])
            }
            Self::Angle { a, along_a, b, along_b, rest } => {
                let (e, f) = (frames.direction(q, *a, along_a), frames.direction(q, *b, along_b));
                let moment = e.cross(&f);
                add_moment(*a, &moment, gradient);
                add_moment(*b, &-moment, gradient);
                e.dot(&f) - rest
            }
            Self::Turn { first, second, body, input } => {
                let (sin, cos) = q.inputs[*input].sin_cos();
                let e = frames.direction(q, *body, first);
                let m_u = second * cos - first * sin;
                add_moment(*body, &e.cross(&m_u), gradient);
                e.dot(&m_u)
            }
        }
    }
}

/// Adds the wrench of a force at a point to its body's six places: the gradient of a row is the wrench that a
/// unit of its reaction puts on the bodies.
#[inline]
fn add_force(frame: Frame, lever: &Vector3<f64>, force: &Vector3<f64>, out: &mut [f64]) {
    if let Frame::Body(b) = frame {
        let moment = lever.cross(force);
        let out = &mut out[6 * b..6 * b + 6];
        for k in 0..3 {
            out[k] += force[k];
            out[3 + k] += moment[k];
        }
    }
}

#[inline]
fn add_moment(frame: Frame, moment: &Vector3<f64>, out: &mut [f64]) {
    if let Frame::Body(b) = frame {
        let out = &mut out[6 * b + 3..6 * b + 6];
        for k in 0..3 {
            out[k] += moment[k];
        }
    }
}
