//! What a view is asked to show.

use project::frame::SurveyFrame;
use units::UnitSystem;

use super::fit::Fit;
use crate::scene::Scene;

/// Other states of the same axle, drawn with it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Overlays<'a> {
    /// Where things were before the present drag.
    pub ghost: Option<&'a Scene>,
    /// Pinned variants, each with its name.
    pub variants: &'a [(String, &'a Scene)],
}

/// How a view is drawn.
#[derive(Clone, Copy, Debug)]
pub struct ViewOptions<'a> {
    /// Width of the page \[px\].
    pub width_px: f64,
    /// Height of the page \[px\].
    pub height_px: f64,
    /// Units of all values.
    pub units: UnitSystem,
    /// The frame in which coordinates are shown.
    pub frame: &'a SurveyFrame,
    /// What is drawn.
    pub show: Show,
    /// Which part of the car.
    pub region: Fit,
    /// The point or hole that is being dragged or asked for: it is lit up, and its coordinates stand beside it.
    pub focus: Option<&'a str>,
}

impl<'a> ViewOptions<'a> {
    /// Everything shown, the corner filling the page.
    pub fn new(width_px: f64, height_px: f64, units: UnitSystem, frame: &'a SurveyFrame) -> Self {
        Self { width_px, height_px, units, frame, show: Show::default(), region: Fit::Corner, focus: None }
    }

    /// Size of the words \[px\]: to be read at arm's length, also on a telephone.
    pub fn font(&self) -> f64 {
        if self.width_px < 560.0 { 14.0 } else { 16.0 }
    }
}

/// What is drawn of a scene; all on by default.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Show {
    /// Construction lines with their values.
    pub construction: bool,
    /// Extended lines of the links in side view (needs `construction`).
    pub link_lines: bool,
    /// Words beside things.
    pub labels: bool,
    /// Springs, dampers and bar links.
    pub elements: bool,
    /// Candidate holes and plates.
    pub holes: bool,
    /// The right corner, in the views that see it.
    pub right: bool,
    /// Marks of the points, which can be dragged.
    pub handles: bool,
    /// Marks can be taken hold of: they are stops of the Tab key, and say so to a screen reader.
    pub grips: bool,
    /// Scale bar and directions.
    pub scale: bool,
}

impl Default for Show {
    fn default() -> Self {
        Self {
            construction: true,
            link_lines: true,
            labels: true,
            elements: true,
            holes: true,
            right: true,
            handles: true,
            grips: true,
            scale: true,
        }
    }
}
