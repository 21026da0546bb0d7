//! Where the front wheels point for a place of the rack, and the other way round.

use super::MotionError;
use super::model::{Runner, side};
use super::table::{Near, Rack};
use crate::root::root;

impl Runner<'_, '_> {
    /// Mean heading of the front wheels against the body with the car at ride height [rad], to the left positive, at a
    /// place of the rack [m]: the road-wheel angle of the standards. Both wheels' toe takes itself out.
    pub fn road_wheel_angle(&self, rack: f64) -> f64 {
        let rack = Rack { at: rack, ..Rack::default() };
        let heading = |i: usize| {
            let axis = self.axles[0].table.at(0.0, &rack, side(i), &mut Near::default()).axis;
            (-axis.x).atan2(axis.y)
        };
        (heading(0) + heading(1)) / 2.0
    }

    /// Place of the rack [m] for a mean heading of the front wheels [rad].
    ///
    /// # Errors
    /// The rack does not turn them so far.
    pub fn rack_for(&self, angle: f64) -> Result<f64, MotionError> {
        if angle == 0.0 {
            return Ok(0.0);
        }
        let most = self.most_rack;
        let off = |rack: f64| self.road_wheel_angle(rack) - angle;
        let ends = [off(-most), off(most)];
        if most > 0.0 && ends[0] * ends[1] < 0.0 {
            return Ok(root(off, -most, most));
        }
        Err(MotionError::NotSteered { angle_deg: angle.to_degrees() })
    }

    /// Travel of the rack per road-wheel angle about straight ahead [m/rad]; zero where nothing is steered.
    pub(super) fn rack_per_angle(&self) -> f64 {
        let step = self.most_rack / 10.0;
        let turned = self.road_wheel_angle(step) - self.road_wheel_angle(-step);
        if turned.abs() > 1e-6 { 2.0 * step / turned } else { 0.0 }
    }
}
