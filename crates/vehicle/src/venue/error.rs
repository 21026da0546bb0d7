//! What is wrong with a course.

use thiserror::Error;

/// A course that cannot be driven, or that says too little.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum VenueError {
    /// Too few places for a path.
    #[error("a path needs at least {least} {what}, and there are {count}")]
    TooFew {
        /// What of.
        what: &'static str,
        /// How many are wanted.
        least: usize,
        /// How many there are.
        count: usize,
    },
    /// A number that is none, or far too large.
    #[error("{what} {index} has a figure that is no length on the ground")]
    Figure {
        /// Piece, point or gate.
        what: &'static str,
        /// Which, the first being 1.
        index: usize,
    },
    /// The ends of a closed course do not meet.
    #[error(
        "the course does not close: its end is {gap:.1} m from its start and points {turn:.1} deg away from it"
    )]
    Open {
        /// Between the ends [m].
        gap: f64,
        /// Between their headings [deg].
        turn: f64,
    },
    /// A point that is far from its neighbours.
    #[error("point {index} is {distance:.1} m from the one before it, where {usual:.1} m is usual")]
    Jump {
        /// Which, the first being 1.
        index: usize,
        /// Its distance [m].
        distance: f64,
        /// Median distance [m].
        usual: f64,
    },
    /// A course that is too long for its step, or a wave that is no longer than the points are apart.
    #[error("{what} is {value:.3} m, and must lie between {least:.3} and {most:.3} m")]
    Length {
        /// What.
        what: &'static str,
        /// Its value [m].
        value: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Gates or a road that the car does not fit through.
    #[error("{what} {index} is {width:.2} m wide, and the car needs {needs:.2} m")]
    Narrow {
        /// Gate or place.
        what: &'static str,
        /// Which, the first being 1.
        index: usize,
        /// Width that there is [m].
        width: f64,
        /// Width that the car needs [m].
        needs: f64,
    },
    /// Places on the globe that no plane takes.
    #[error("the points lie {extent:.0} km apart, or near a pole: no plane is true there")]
    Globe {
        /// Extent [km].
        extent: f64,
    },
}

impl VenueError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "take more of them, closer together",
            Self::Figure { .. } => "bare lengths on a course are metres; look for a slip of the point",
            Self::Open { .. } => {
                "the angles of a closed course add up to 360 deg, left less right; then mend two straights that are not \
                 parallel"
            }
            Self::Jump { .. } => {
                "take the point out, or those between in: a receiver jumps under trees and bridges"
            }
            Self::Length { .. } => "check the unit",
            Self::Narrow { .. } => "check the cones' places and `car-width`",
            Self::Globe { .. } => "latitude comes before longitude, in degrees with decimals",
        }
    }
}
