//! Four corners, and where they stand.

use linkage::scalar::{Real, constant};

/// One value a wheel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Corners<T> {
    /// Front left.
    pub front_left: T,
    /// Front right.
    pub front_right: T,
    /// Rear left.
    pub rear_left: T,
    /// Rear right.
    pub rear_right: T,
}

impl<T: Copy> Corners<T> {
    /// The same value at every wheel.
    pub fn all(value: T) -> Self {
        Self::from_array([value; 4])
    }

    /// From front left, front right, rear left, rear right.
    pub fn from_array([front_left, front_right, rear_left, rear_right]: [T; 4]) -> Self {
        Self { front_left, front_right, rear_left, rear_right }
    }

    /// Front left, front right, rear left, rear right.
    pub fn to_array(self) -> [T; 4] {
        [self.front_left, self.front_right, self.rear_left, self.rear_right]
    }

    /// Each value by itself.
    pub fn map<U: Copy>(self, f: impl FnMut(T) -> U) -> Corners<U> {
        Corners::from_array(self.to_array().map(f))
    }
}

impl<T: Real> Corners<T> {
    /// Sum of all four.
    pub fn total(&self) -> T {
        self.front() + self.rear()
    }

    /// Sum of the front axle.
    pub fn front(&self) -> T {
        self.front_left + self.front_right
    }

    /// Sum of the rear axle.
    pub fn rear(&self) -> T {
        self.rear_left + self.rear_right
    }

    /// Sum of the left side.
    pub fn left(&self) -> T {
        self.front_left + self.rear_left
    }

    /// Sum of front right and rear left: the diagonal whose share is the cross weight.
    pub fn cross(&self) -> T {
        self.front_right + self.rear_left
    }
}

/// Where the wheels stand: wheelbase and tracks [m].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Footprint<T> {
    /// Wheelbase [m].
    pub wheelbase: T,
    /// Front track at the contact points [m].
    pub front_track: T,
    /// Rear track at the contact points [m].
    pub rear_track: T,
}

impl<T: Real> Footprint<T> {
    /// Contact points (x, y) [m], the front axle at x = 0.
    pub fn contacts(&self) -> Corners<(T, T)> {
        let (o, front, rear) = (constant::<T>(0.0), self.front_track / 2.0, self.rear_track / 2.0);
        let back = -self.wheelbase;
        Corners {
            front_left: (o, front),
            front_right: (o, -front),
            rear_left: (back, rear),
            rear_right: (back, -rear),
        }
    }
}
