//! The frame in which a survey was taken, and the way from it to the car's axes and back.
//!
//! Car axes are ISO 8855: x forward, y left, z up, origin on the ground under the middle of the front axle. A
//! survey frame has its axes along the same lines, each possibly reversed, and its zero where a tape could be
//! hooked: an axle, the ground, a rail.

use nalgebra::Vector3;

/// Survey frame S in the car's axes C: `p_CP = origin + diag(sign) p_SP`.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyFrame {
    sign: Vector3<f64>,
    origin: Vector3<f64>,
    description: String,
}

impl SurveyFrame {
    /// A frame whose axes run along (`true`) or against (`false`) the car's x, y and z, with its zero at
    /// `origin` in the car's axes \[m\]. The description is printed beside coordinates.
    pub fn new(along: [bool; 3], origin: Vector3<f64>, description: impl Into<String>) -> Self {
        let sign = Vector3::from(along.map(|along| if along { 1.0 } else { -1.0 }));
        Self { sign, origin, description: description.into() }
    }

    /// A surveyed point in the car's axes \[m\].
    pub fn to_car(&self, surveyed: Vector3<f64>) -> Vector3<f64> {
        self.origin + self.sign.component_mul(&surveyed)
    }

    /// A point of the car as the survey writes it \[m\].
    pub fn to_survey(&self, in_car: Vector3<f64>) -> Vector3<f64> {
        self.sign.component_mul(&(in_car - self.origin))
    }

    /// A direction of the survey in the car's axes.
    pub fn direction_to_car(&self, surveyed: Vector3<f64>) -> Vector3<f64> {
        self.sign.component_mul(&surveyed)
    }

    /// A direction in the car's axes as the survey writes it.
    pub fn direction_to_survey(&self, in_car: Vector3<f64>) -> Vector3<f64> {
        self.sign.component_mul(&in_car)
    }

    /// The frame in words, such as `x rearward from front axle, y left from centreline, z up from ground`.
    pub fn description(&self) -> &str {
        &self.description
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Coordinates are metres of a few units: this is a few rounding steps.
    const ROUNDING: f64 = 1e-14;

    #[test]
    fn goes_both_ways_in_every_orientation() {
        for bits in 0..8_u8 {
            let along = [bits & 1 != 0, bits & 2 != 0, bits & 4 != 0];
            let frame = SurveyFrame::new(along, Vector3::new(-0.412, 0.0, 0.187), "");
            for point in [Vector3::zeros(), Vector3::new(2.1, 0.42, 0.28), Vector3::new(-0.3, -0.7, 1.1)] {
                let back = frame.to_survey(frame.to_car(point));
                assert!((back - point).amax() < ROUNDING, "{along:?} {point} {back}");
                let forth = frame.to_car(frame.to_survey(point));
                assert!((forth - point).amax() < ROUNDING, "{along:?} {point} {forth}");
                let step = frame.direction_to_car(Vector3::new(0.1, 0.2, 0.3));
                assert!(
                    (frame.to_car(point) + step - frame.to_car(point + frame.direction_to_survey(step)))
                        .amax()
                        < ROUNDING
                );
            }
        }
    }

    #[test]
    fn rearward_left_up_turns_x_about() {
        let frame = SurveyFrame::new([false, true, true], Vector3::zeros(), "");
        assert_eq!(frame.to_car(Vector3::new(2.1, 0.42, 0.28)), Vector3::new(-2.1, 0.42, 0.28));
    }
}
