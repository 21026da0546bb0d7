//! How the page relates to the car.

use std::fmt::Write;

use nalgebra::Vector3;
use project::frame::SurveyFrame;
use units::{Dimension, UnitSystem};

use crate::svg;

/// Where the viewer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// At the left of the car.
    FromLeft,
    /// Behind it.
    FromBehind,
    /// Above it.
    FromAbove,
}

/// A direction of the page in the car's axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CarAxis {
    /// 0 x (forward), 1 y (left), 2 z (up).
    pub axis: usize,
    /// Whether the page runs along it, not against it.
    pub along: bool,
}

/// The way from the car to the page and back. Parallel projection, the same scale both ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ViewMap {
    /// Where the viewer stands.
    pub direction: Direction,
    /// Millimetres of the car for one pixel of the page.
    pub mm_per_px: f64,
    /// Where the car's origin lies on the page \[px\].
    pub origin: (f64, f64),
}

impl Direction {
    /// Name in `data-view`.
    pub fn name(self) -> &'static str {
        match self {
            Self::FromLeft => "side",
            Self::FromBehind => "rear",
            Self::FromAbove => "top",
        }
    }

    /// The car's axis that runs to the right on the page.
    pub fn right(self) -> CarAxis {
        match self {
            Self::FromLeft | Self::FromAbove => CarAxis { axis: 0, along: false },
            Self::FromBehind => CarAxis { axis: 1, along: false },
        }
    }

    /// The car's axis that runs up the page.
    pub fn up(self) -> CarAxis {
        match self {
            Self::FromLeft | Self::FromBehind => CarAxis { axis: 2, along: true },
            Self::FromAbove => CarAxis { axis: 1, along: false },
        }
    }

    /// Coordinates to the right and up \[m\].
    pub fn flat(self, v: &Vector3<f64>) -> (f64, f64) {
        match self {
            Self::FromLeft => (-v.x, v.z),
            Self::FromBehind => (-v.y, v.z),
            Self::FromAbove => (-v.x, -v.y),
        }
    }

    /// Coordinate toward the viewer \[m\].
    pub fn near(self, v: &Vector3<f64>) -> f64 {
        match self {
            Self::FromLeft => v.y,
            Self::FromBehind => -v.x,
            Self::FromAbove => v.z,
        }
    }
}

impl CarAxis {
    fn text(self) -> &'static str {
        match (self.axis, self.along) {
            (0, true) => "+x",
            (0, false) => "-x",
            (1, true) => "+y",
            (1, false) => "-y",
            (_, true) => "+z",
            (_, false) => "-z",
        }
    }
}

impl ViewMap {
    /// A place of the car \[m\] on the page \[px\].
    pub fn to_page(&self, at: &Vector3<f64>) -> (f64, f64) {
        let (right, up) = self.direction.flat(at);
        let px = 1000.0 / self.mm_per_px;
        (self.origin.0 + right * px, self.origin.1 - up * px)
    }

    /// A place on the page \[px\] in the car \[m\], with the coordinate that the view does not show taken from
    /// `depth`.
    pub fn to_car(&self, page: (f64, f64), depth: &Vector3<f64>) -> Vector3<f64> {
        let m = self.mm_per_px / 1000.0;
        let (right, up) = ((page.0 - self.origin.0) * m, (self.origin.1 - page.1) * m);
        match self.direction {
            Direction::FromLeft => Vector3::new(-right, depth.y, up),
            Direction::FromBehind => Vector3::new(depth.x, -right, up),
            Direction::FromAbove => Vector3::new(-right, -up, depth.z),
        }
    }

    /// Writes itself as attributes: `data-view`, `data-mm-per-px`, `data-origin` (px), `data-right` and `data-up`
    /// (a car's axis with its sign); then the survey frame, so that a script can show coordinates as the file has
    /// them: `shown = sign * (car - origin) / mm-per-unit`, all in mm.
    pub(crate) fn attributes(&self, out: &mut String, frame: &SurveyFrame, units: &UnitSystem) {
        let (right, up) = (self.direction.right().text(), self.direction.up().text());
        let sign = frame.direction_to_survey(Vector3::repeat(1.0));
        let zero = frame.to_car(Vector3::zeros()) * 1000.0;
        // Full precision: a map read back from the attributes must give the same place.
        let _ = write!(
            out,
            " data-view=\"{}\" data-mm-per-px=\"{}\" data-origin=\"{} {}\" data-right=\"{right}\" data-up=\"{up}\"",
            self.direction.name(),
            self.mm_per_px,
            self.origin.0,
            self.origin.1,
        );
        let _ = write!(out, " data-frame-sign=\"{} {} {}\" data-frame-origin=\"", sign.x, sign.y, sign.z);
        triple(out, &zero);
        let length = Dimension::Length;
        let _ = write!(
            out,
            "\" data-unit=\"{}\" data-mm-per-unit=\"{}\"",
            units.symbol(length),
            units.factor(length) * 1000.0
        );
    }
}

/// Appends `x y z`.
pub(crate) fn triple(out: &mut String, v: &Vector3<f64>) {
    svg::spot(out, (v.x, v.y));
    out.push(' ');
    svg::number(out, v.z);
}
