//! Where a whole linkage is and how it moves.

use nalgebra::Vector3;

use crate::frame::Frame;
use crate::pose::{Acceleration, PointMotion, Pose, Twist};
use crate::scalar::{Real, constant, constant_vector};

/// Positions of all bodies and the values of all inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Position<T> {
    /// One per body.
    pub poses: Vec<Pose<T>>,
    /// One per input.
    pub inputs: Vec<T>,
}

/// First derivatives along a path of the inputs: screws of all bodies and the rates of the inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion<T> {
    /// One per body.
    pub twists: Vec<Twist<T>>,
    /// One per input.
    pub rates: Vec<T>,
}

/// Second derivatives along a path on which the inputs change at constant rates; one per body.
pub type Curvature<T> = Vec<Acceleration<T>>;

/// A point given in the design place together with what carries it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End<T> {
    /// What it moves with.
    pub frame: Frame,
    /// Where it is in the design place [m].
    pub at: Vector3<T>,
}

/// What turns inputs into the motion of frames: origins of bodies and directions of carriages.
#[derive(Clone, Debug, PartialEq)]
pub struct Frames<T> {
    /// Reference point of each body in the design place [m]. A choice of numerics only: results do not depend
    /// on it.
    pub origins: Vec<Vector3<f64>>,
    /// Direction of each carriage and the input that moves it.
    pub carriages: Vec<(Vector3<T>, usize)>,
}

impl<T: Real> Position<T> {
    /// The design place with all inputs zero.
    pub fn design(bodies: usize, inputs: usize) -> Self {
        Self { poses: vec![Pose::identity(); bodies], inputs: vec![constant(0.0); inputs] }
    }
}

impl Position<f64> {
    /// The same position in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Position<T> {
        Position {
            poses: self.poses.iter().map(Pose::lift).collect(),
            inputs: self.inputs.iter().map(|&u| T::from(u)).collect(),
        }
    }

    /// Copies without allocating (both must belong to the same linkage).
    pub fn copy_from(&mut self, other: &Self) {
        self.poses.copy_from_slice(&other.poses);
        self.inputs.copy_from_slice(&other.inputs);
    }
}

impl<T: Real> Motion<T> {
    /// Standstill.
    pub fn zero(bodies: usize, inputs: usize) -> Self {
        Self { twists: vec![Twist::zero(); bodies], rates: vec![constant(0.0); inputs] }
    }
}

impl Motion<f64> {
    /// The same motion in another number type, with no derivative.
    pub fn lift<T: Real>(&self) -> Motion<T> {
        Motion {
            twists: self.twists.iter().map(Twist::lift).collect(),
            rates: self.rates.iter().map(|&u| T::from(u)).collect(),
        }
    }
}

impl<T: Real> Frames<T> {
    /// Vector from the body's moved origin to a point of it (zero for other frames).
    #[inline]
    pub fn lever(&self, position: &Position<T>, end: &End<T>) -> Vector3<T> {
        match end.frame {
            Frame::Body(b) => position.poses[b].rot * (end.at - constant_vector::<T>(&self.origins[b])),
            Frame::Ground | Frame::Carriage(_) => Twist::zero().v,
        }
    }

    /// Where a point is.
    #[inline]
    pub fn point(&self, position: &Position<T>, end: &End<T>) -> Vector3<T> {
        match end.frame {
            Frame::Ground => end.at,
            Frame::Body(b) => {
                self.lever(position, end) + position.poses[b].shift + constant_vector::<T>(&self.origins[b])
            }
            Frame::Carriage(c) => {
                let (direction, input) = &self.carriages[c];
                end.at + direction * position.inputs[*input]
            }
        }
    }

    /// Where a point is, and its lever.
    #[inline]
    pub fn locate(&self, position: &Position<T>, end: &End<T>) -> (Vector3<T>, Vector3<T>) {
        match end.frame {
            Frame::Body(b) => {
                let lever = self.lever(position, end);
                (lever + position.poses[b].shift + constant_vector::<T>(&self.origins[b]), lever)
            }
            Frame::Ground | Frame::Carriage(_) => (self.point(position, end), Twist::zero().v),
        }
    }

    /// Velocity of a point.
    #[inline]
    pub fn velocity(&self, position: &Position<T>, motion: &Motion<T>, end: &End<T>) -> Vector3<T> {
        match end.frame {
            Frame::Ground => Twist::zero().v,
            Frame::Body(b) => motion.twists[b].at(&self.lever(position, end)),
            Frame::Carriage(c) => {
                let (direction, input) = &self.carriages[c];
                direction * motion.rates[*input]
            }
        }
    }

    /// Second derivative of a point.
    #[inline]
    pub fn acceleration(
        &self,
        position: &Position<T>,
        motion: &Motion<T>,
        curvature: &[Acceleration<T>],
        end: &End<T>,
    ) -> Vector3<T> {
        match end.frame {
            Frame::Body(b) => curvature[b].at(&motion.twists[b], &self.lever(position, end)),
            Frame::Ground | Frame::Carriage(_) => Twist::zero().v,
        }
    }

    /// Position, velocity and second derivative of a point.
    #[inline]
    pub fn track(
        &self,
        position: &Position<T>,
        motion: &Motion<T>,
        curvature: &[Acceleration<T>],
        end: &End<T>,
    ) -> PointMotion<T> {
        match end.frame {
            Frame::Body(b) => {
                let ((p, lever), twist) = (self.locate(position, end), &motion.twists[b]);
                let turning = twist.w.cross(&lever);
                let a = curvature[b].a + curvature[b].alpha.cross(&lever) + twist.w.cross(&turning);
                PointMotion { p, v: twist.v + turning, a }
            }
            Frame::Ground | Frame::Carriage(_) => PointMotion {
                p: self.point(position, end),
                v: self.velocity(position, motion, end),
                a: Twist::zero().v,
            },
        }
    }

    /// A direction of a frame in its present attitude.
    #[inline]
    pub fn direction(&self, position: &Position<T>, frame: Frame, design: &Vector3<T>) -> Vector3<T> {
        match frame {
            Frame::Body(b) => position.poses[b].rot * design,
            Frame::Ground | Frame::Carriage(_) => *design,
        }
    }

    /// Angular velocity of a frame.
    #[inline]
    pub fn spin(&self, motion: &Motion<T>, frame: Frame) -> Vector3<T> {
        match frame {
            Frame::Body(b) => motion.twists[b].w,
            Frame::Ground | Frame::Carriage(_) => Twist::zero().v,
        }
    }

    /// Angular acceleration of a frame.
    #[inline]
    pub fn spin_rate(&self, curvature: &[Acceleration<T>], frame: Frame) -> Vector3<T> {
        match frame {
            Frame::Body(b) => curvature[b].alpha,
            Frame::Ground | Frame::Carriage(_) => Twist::zero().v,
        }
    }
}
