//! Where a car is driven: a path on the ground in places at equal steps.
//!
//! Made of straights and corners ([`from_pieces`]), of a surveyed or driven centreline ([`from_centreline`], with
//! [`plane`] for latitude and longitude), or of gates of cones ([`from_gates`]); within a width the path of least
//! curvature stands for the one that a driver takes ([`line_within`]).

mod band;
mod centreline;
mod error;
mod gates;
mod line;
mod pieces;
mod plane;

pub use centreline::{Row, Smoothed, from_centreline};
pub use error::VenueError;
pub use gates::{Gate, from_gates};
pub use line::line_within;
pub use pieces::{Piece, Shape, from_pieces};
pub use plane::plane;

/// One place of a course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Place in the plane [m].
    pub place: [f64; 2],
    /// Heading [rad], anticlockwise from the first axis.
    pub heading: f64,
    /// Curvature [1/m], turning left positive.
    pub curvature: f64,
    /// Height [m].
    pub height: f64,
    /// Rise per way [-], climbing positive.
    pub grade: f64,
    /// Second derivative of the height by way [1/m]: a hollow positive, a crest negative.
    pub hollow: f64,
    /// Bank [rad], left side low positive: it helps a left turn.
    pub bank: f64,
    /// Share of the tyres' friction that the surface gives [-].
    pub grip: f64,
    /// Free width to the left and to the right of the path [m]; infinite where it is not known.
    pub room: [f64; 2],
}

/// A part of a course with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its name.
    pub name: String,
    /// Way at which it begins [m]; the first at 0.
    pub from: f64,
}

/// A course.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Way from one place to the next [m].
    pub step: f64,
    /// Whether the last place leads to the first.
    pub closed: bool,
    /// Its places.
    pub spots: Vec<Spot>,
    /// Its sections, in order.
    pub sections: Vec<Section>,
}

impl Course {
    /// Length of a lap, or from start to finish [m].
    pub fn length(&self) -> f64 {
        let legs = if self.closed { self.spots.len() } else { self.spots.len().saturating_sub(1) };
        self.step * legs as f64
    }

    /// Grips that occur, each a share of the tyres' friction to a hundredth, rising.
    pub fn grips(&self) -> Vec<f64> {
        let mut hundredths: Vec<i64> = self.spots.iter().map(|s| (s.grip * 100.0).round() as i64).collect();
        hundredths.sort_unstable();
        hundredths.dedup();
        hundredths.into_iter().map(|h| h as f64 / 100.0).collect()
    }

    /// How far it turns in all [rad], left positive.
    pub fn turning(&self) -> f64 {
        let legs = if self.closed { self.spots.len() } else { self.spots.len().saturating_sub(1) };
        self.spots.iter().take(legs).map(|s| s.curvature * self.step).sum()
    }

    /// The section of a way.
    pub fn section_at(&self, way: f64) -> usize {
        self.sections.partition_point(|s| s.from <= way + 1e-9).saturating_sub(1)
    }
}
