//! What is marked from, and how far a built pickup may move a result.

use super::SurveyPoint;

/// `[jig]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JigReading {
    /// Marks to measure from, where the file names its own.
    pub datums: Vec<JigDatum>,
    /// How far a pickup that is off may move each result.
    pub allowed: Allowed,
}

/// A mark that can be measured from: a stud, a punch mark, a cross on the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct JigDatum {
    /// Its name.
    pub name: String,
    /// Where it is, on the side on which it is: a datum is never mirrored.
    pub at: SurveyPoint,
}

/// Changes of results that are small enough, each by one coordinate of one pickup. The defaults are this program's own
/// choice: what a careful workshop can measure afterwards (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// Of the toe change between ride height and each end of the travel \[rad\].
    pub toe_change: f64,
    /// Of the camber change between ride height and each end of the travel \[rad\].
    pub camber_change: f64,
    /// Of the roll centre's height \[m\].
    pub roll_centre: f64,
    /// Of anti-dive, anti-lift, anti-squat \[-\].
    pub anti: f64,
    /// Of a motion ratio \[-\].
    pub motion_ratio: f64,
    /// Of the toe at ride height \[rad\], where no adjuster can reset it.
    pub toe: f64,
    /// Of the camber at ride height \[rad\], where no adjuster can reset it.
    pub camber: f64,
}

impl Default for Allowed {
    fn default() -> Self {
        Self {
            toe_change: 0.02_f64.to_radians(),
            camber_change: 0.05_f64.to_radians(),
            roll_centre: 0.005,
            anti: 0.02,
            motion_ratio: 0.01,
            toe: 0.05_f64.to_radians(),
            camber: 0.1_f64.to_radians(),
        }
    }
}
