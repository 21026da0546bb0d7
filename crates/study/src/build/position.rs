//! Every position of an axle with the part that holds least there, and how far toe and camber give.

use project::model::End;

use super::forces::AxleForces;

/// What a position makes of the parts.
#[derive(Clone, Debug, Default)]
pub struct Position {
    /// Its name in the choice table.
    pub name: String,
    /// Indices into the axle's holes.
    pub holes: Vec<usize>,
    /// Setups that are just this choice.
    pub setups: Vec<String>,
    /// The part that holds least.
    pub least: Option<Least>,
    /// The largest force in a link of the axle.
    pub greatest: Option<Greatest>,
    /// Forces of the axle in every case.
    pub forces: Vec<AxleForces>,
    /// What the frame's give does to the wheels, where there is a frame.
    pub flex: Option<Flex>,
    /// Why it could not be worked out.
    pub refused: Option<String>,
}

/// The weakest part.
#[derive(Clone, Debug, PartialEq)]
pub struct Least {
    /// How many times its loads it holds.
    pub holds: f64,
    /// The part.
    pub part: String,
    /// What gives way.
    pub failure: &'static str,
    /// Load case, by its index.
    pub case: usize,
}

/// The largest force in a link.
#[derive(Clone, Debug, PartialEq)]
pub struct Greatest {
    /// The link.
    pub link: String,
    /// Tension [N]; compression negative.
    pub tension: f64,
    /// Load case, by its index.
    pub case: usize,
}

/// Change of toe and camber as the frame gives, the largest of all cases and both wheels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Flex {
    /// Toe [rad], toe-in positive.
    pub toe: f64,
    /// Its case, by its index.
    pub toe_case: usize,
    /// Camber [rad], top out positive.
    pub camber: f64,
    /// Its case, by its index.
    pub camber_case: usize,
}

impl Flex {
    /// Takes a case up where it gives more than those before.
    pub(super) fn take(&mut self, [toe, camber]: [f64; 2], case: usize) {
        if toe.abs() > self.toe.abs() {
            (self.toe, self.toe_case) = (toe, case);
        }
        if camber.abs() > self.camber.abs() {
            (self.camber, self.camber_case) = (camber, case);
        }
    }
}

/// Axles whose parts a position of `end` decides: its own, and the frame's.
pub(super) fn concerns(part_end: Option<End>, end: End) -> bool {
    part_end.is_none_or(|own| own == end)
}
