//! The level car on four scales.
//!
//! Balance of moments about the front axle and about the centre plane: `W x = sum(w_i x_i)`, `W y = sum(w_i y_i)`
//! (any statics text; for cars W. Milliken & D. Milliken, Race Car Vehicle Dynamics (1995), ch. 18, remembered).
//! Assumes a level floor, level axes of the car, and wheels that do not push sideways against each other.

use linkage::scalar::{Real, constant};
use num_dual::Dual64;

use crate::error::{VehicleError, not_negative, positive};
use crate::wheels::{Corners, Footprint};

/// How far two weighings of one car may differ, as a share of its mass. Workshop scales hold 0.1 to 0.5 %: twice
/// that and some, so that only mistakes are refused (own).
pub const SCALE_MISMATCH: f64 = 0.02;

/// The four scales under the level car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level<T> {
    /// Readings [kg].
    pub scales: Corners<T>,
    /// Where the wheels stand.
    pub footprint: Footprint<T>,
}

/// A reading that a result depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Input {
    /// Scale under the front left wheel.
    FrontLeft,
    /// Scale under the front right wheel.
    FrontRight,
    /// Scale under the rear left wheel.
    RearLeft,
    /// Scale under the rear right wheel.
    RearRight,
    /// Wheelbase.
    Wheelbase,
    /// Front track.
    FrontTrack,
    /// Rear track.
    RearTrack,
    /// Lift or angle.
    Lift,
    /// Reading under the low end.
    LowReading,
    /// Reading under the raised end.
    RaisedReading,
    /// Loaded radius, front.
    FrontRadius,
    /// Loaded radius, rear.
    RearRadius,
    /// Vertical rate of a front tyre.
    FrontTyreRate,
    /// Vertical rate of a rear tyre.
    RearTyreRate,
    /// Wheel rate of the front axle.
    FrontAxleRate,
    /// Wheel rate of the rear axle.
    RearAxleRate,
    /// Unsprung mass, front.
    FrontUnsprung,
    /// Unsprung mass, rear.
    RearUnsprung,
}

/// What the level scales say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelResult<T> {
    /// Mass [kg].
    pub mass: T,
    /// Place of the centre of gravity along the car [m]: negative, behind the front axle.
    pub x: T,
    /// Place across the car [m], left positive.
    pub y: T,
    /// Share on the front axle [-].
    pub front_share: T,
    /// Share on the left side [-].
    pub left_share: T,
    /// Cross weight: share on front right and rear left [-].
    pub cross_share: T,
    /// Left share of the rear axle [-].
    pub rear_left_share: T,
}

impl<T: Real> Level<T> {
    /// Mass, place and shares.
    ///
    /// # Errors
    /// A negative or unusable reading, no load on an axle, or no wheelbase or track.
    pub fn solve(&self) -> Result<LevelResult<T>, VehicleError> {
        let names = ["front left scale", "front right scale", "rear left scale", "rear right scale"];
        for (name, reading) in names.into_iter().zip(self.scales.to_array()) {
            not_negative(name, reading.re())?;
        }
        positive("front axle weight", self.scales.front().re())?;
        positive("rear axle weight", self.scales.rear().re())?;
        positive("wheelbase", self.footprint.wheelbase.re())?;
        positive("front track", self.footprint.front_track.re())?;
        positive("rear track", self.footprint.rear_track.re())?;
        let mass = self.scales.total();
        let (mut x, mut y) = (constant::<T>(0.0), constant::<T>(0.0));
        for (w, (px, py)) in self.scales.to_array().into_iter().zip(self.footprint.contacts().to_array()) {
            x += w * px;
            y += w * py;
        }
        Ok(LevelResult {
            mass,
            x: x / mass,
            y: y / mass,
            front_share: self.scales.front() / mass,
            left_share: self.scales.left() / mass,
            cross_share: self.scales.cross() / mass,
            rear_left_share: self.scales.rear_left / self.scales.rear(),
        })
    }

    /// Compares the scales with a mass known otherwise [kg].
    ///
    /// # Errors
    /// The two differ by more than [`SCALE_MISMATCH`].
    pub fn agrees_with(&self, mass: T) -> Result<(), VehicleError> {
        agree(mass.re(), self.scales.total().re())
    }
}

impl Level<f64> {
    /// The same weighing with a unit derivative on one reading: solve it, and the dual part of each result is its
    /// exact derivative by that reading. Readings that are not of the level car change nothing.
    pub fn seeded(&self, by: Input) -> Level<Dual64> {
        let on = |input, value: f64| Dual64::new(value, f64::from(u8::from(input == by)));
        let (s, f) = (&self.scales, &self.footprint);
        Level {
            scales: Corners {
                front_left: on(Input::FrontLeft, s.front_left),
                front_right: on(Input::FrontRight, s.front_right),
                rear_left: on(Input::RearLeft, s.rear_left),
                rear_right: on(Input::RearRight, s.rear_right),
            },
            footprint: Footprint {
                wheelbase: on(Input::Wheelbase, f.wheelbase),
                front_track: on(Input::FrontTrack, f.front_track),
                rear_track: on(Input::RearTrack, f.rear_track),
            },
        }
    }
}

pub(crate) fn agree(expected: f64, found: f64) -> Result<(), VehicleError> {
    if (found - expected).abs() <= SCALE_MISMATCH * expected {
        Ok(())
    } else {
        Err(VehicleError::ScalesDisagree { expected, found })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn level(readings: [f64; 4], wheelbase: f64, track: f64) -> Level<f64> {
        Level {
            scales: Corners::from_array(readings),
            footprint: Footprint { wheelbase, front_track: track, rear_track: track },
        }
    }

    /// R. N. Jazar, Vehicle Dynamics: Theory and Application, example 40, p. 41 (read): wheelbase 2.34 m, 2000 N a
    /// front wheel, 1800 N a rear wheel: 1.1084 m behind the front axle, 1.2316 m before the rear axle.
    #[test]
    fn longitudinal_place_of_a_published_example() {
        let r = level([2000.0, 2000.0, 1800.0, 1800.0], 2.34, 1.4).solve().unwrap();
        assert!((r.x + 1.1084).abs() < 5e-5, "{}", r.x);
        assert!((2.34 + r.x - 1.2316).abs() < 5e-5);
        assert!(r.y.abs() < 1e-12);
    }

    /// `y = t (left - right)/(2 W)` and shares by hand (own).
    #[test]
    fn lateral_place_and_cross_weight() {
        let r = level([300.0, 260.0, 240.0, 200.0], 2.5, 1.5).solve().unwrap();
        assert!((r.y - 1.5 * 80.0 / 2000.0).abs() < 1e-12);
        assert!((r.cross_share - 0.5).abs() < 1e-12);
        assert!((r.left_share - 0.54).abs() < 1e-12);
        assert!((r.rear_left_share - 240.0 / 440.0).abs() < 1e-12);
    }

    /// The dual part against central differences (own).
    #[test]
    fn derivatives_are_those_of_differences() {
        let base = level([301.0, 262.0, 244.0, 207.0], 2.5, 1.5);
        let exact = base.seeded(Input::RearLeft).solve().unwrap();
        let at = |d: f64| {
            let mut l = base;
            l.scales.rear_left += d;
            l.solve().unwrap()
        };
        let (hi, lo) = (at(1e-3), at(-1e-3));
        assert!((exact.x.eps - (hi.x - lo.x) / 2e-3).abs() < 1e-9);
        assert!((exact.y.eps - (hi.y - lo.y) / 2e-3).abs() < 1e-9);
        assert!((exact.cross_share.eps - (hi.cross_share - lo.cross_share) / 2e-3).abs() < 1e-9);
    }

    #[test]
    fn bad_scales_are_refused() {
        assert!(matches!(
            level([300.0, -1.0, 240.0, 200.0], 2.5, 1.5).solve(),
            Err(VehicleError::Negative { name: "front right scale", .. })
        ));
        assert!(level([0.0; 4], 2.5, 1.5).solve().is_err());
        assert!(level([1.0; 4], 0.0, 1.5).solve().is_err());
        let l = level([300.0, 260.0, 240.0, 200.0], 2.5, 1.5);
        assert!(l.agrees_with(1010.0).is_ok());
        assert!(matches!(l.agrees_with(1100.0), Err(VehicleError::ScalesDisagree { .. })));
    }
}
