//! The wall of a tube under a tab that stands along it.

use super::figure::{finite, not_negative, positive, strengths};
use super::member::term;
use super::{GAMMA_M0, GAMMA_M5};
use crate::check::{Check, Failure, Measure};
use crate::error::SteelError;
use crate::grade::Grade;

/// Yield strength above which EN 1993-1-8 7.1.1 takes a tenth off [Pa] (remembered).
const TENTH_OFF: f64 = 355e6;

/// The wall of a tube with a plate welded along it, on the middle of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TubeWall<'a> {
    /// Width of the face on which the plate stands, or the diameter of a round tube [m].
    pub face: f64,
    /// Wall [m].
    pub wall: f64,
    /// Whether the tube is round.
    pub round: bool,
    /// Length of the plate along the tube [m].
    pub plate: f64,
    /// Thickness of the plate [m].
    pub thickness: f64,
    /// Greatest pressure stress in the tube from its own forces, over its yield strength [-]; from 1
    /// on nothing is left for the plate.
    pub used: f64,
    /// Steel of the tube.
    pub grade: &'a Grade,
}

/// What the plate does to the wall.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WallLoad {
    /// Force square to the face, either way [N].
    pub square: f64,
    /// Moment in the plane of the plate: a force along the tube times its height over the face [N m].
    pub moment: f64,
}

impl TubeWall<'_> {
    /// The wall gives way in bending, and the plate punches through it.
    ///
    /// # Errors
    /// A figure that no tube has.
    pub fn checks(&self, load: &WallLoad) -> Result<Vec<Check>, SteelError> {
        self.sane()?;
        let square = finite("the force square to the wall", load.square)?.abs();
        let moment = finite("the moment of the plate", load.moment)?.abs();
        let Self { face, wall, plate, thickness, used, .. } = *self;
        let yields = self.grade.yields * if self.grade.yields > TENTH_OFF { 0.9 } else { 1.0 };
        let (factor, shape) = if self.round {
            (1.0 - 0.3 * used * (1.0 + used), 5.0 * (1.0 + 0.25 * (plate / face).min(4.0)))
        } else {
            (
                (1.3 * (1.0 - used)).min(1.0),
                2.0 * plate / face + 4.0 * (1.0 - thickness / face).max(0.0).sqrt(),
            )
        };
        let factor = f64::max(factor, 0.0);
        let bends = factor * yields * wall * wall * shape / GAMMA_M5;
        let punches = 2.0 * wall * plate * yields / (3_f64.sqrt() * GAMMA_M0);
        let outside = self.outside();
        let terms = |symbol, meaning, value, measure| {
            vec![
                term("f_y0", "yield strength of the tube as reckoned with", yields, Measure::Stress),
                term("t_0", "wall", wall, Measure::Length),
                term("h_1", "length of the plate", plate, Measure::Length),
                term("N", "force square to the wall", square, Measure::Force),
                term("M", "moment in the plane of the plate", moment, Measure::Moment),
                term(symbol, meaning, value, measure),
            ]
        };
        Ok(vec![
            Check {
                failure: Failure::TubeWall,
                // Two half plates as a couple, half their length apart, each with half the resistance.
                demand: square + 4.0 * moment / plate,
                capacity: bends,
                measure: Measure::Force,
                terms: terms("k", "left by the stress in the tube itself", factor, Measure::Number),
                outside,
            },
            Check {
                failure: Failure::Punching,
                demand: square + 6.0 * moment / plate,
                capacity: punches,
                measure: Measure::Force,
                terms: terms("t_1", "thickness of the plate", thickness, Measure::Length),
                outside,
            },
        ])
    }

    /// Why the wall is past the range of the formulas.
    fn outside(&self) -> Option<&'static str> {
        let Self { face, wall, thickness, .. } = *self;
        if wall < 2.499e-3 {
            return Some("the wall is below the 2.5 mm of EN 1993-1-8 7.1.1");
        }
        if !self.round && thickness > 0.2 * face {
            return Some("the plate is thicker than a fifth of the face");
        }
        if face / wall > if self.round { 50.0 } else { 35.0 } {
            return Some("the wall is thinner for its width than EN 1993-1-8 tables 7.1 and 7.8 cover");
        }
        None
    }

    fn sane(&self) -> Result<(), SteelError> {
        let size = positive("the width of the face", self.face)?;
        let wall = positive("the wall", self.wall)?;
        positive("the length of the plate", self.plate)?;
        positive("the thickness of the plate", self.thickness)?;
        not_negative("the stress already in the tube", self.used)?;
        strengths("the steel of the tube", self.grade.yields, self.grade.breaks)?;
        if wall >= size / 2.0 { Err(SteelError::WallTooThick { wall, size }) } else { Ok(()) }
    }
}
