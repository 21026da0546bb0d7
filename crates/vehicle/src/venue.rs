//! Where a car is driven: a path on the ground in places at equal steps.

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
}
