//! A plate with its holes as plain data.

use draw::Rect;
use thiserror::Error;

use crate::sheet::Spot;

/// Why there is no template.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum TemplateError {
    /// The outline has fewer than three corners, no area, or a corner that is no number.
    #[error("the outline of `{plate}` encloses no area: give at least three corners that are not in line")]
    NoArea {
        /// The plate.
        plate: String,
    },
    /// The pattern would need more pages than anyone would tape together.
    #[error(
        "`{plate}` would take {tiles} pages at true scale, more than {most}: check the units of its corners"
    )]
    TooLarge {
        /// The plate.
        plate: String,
        /// Pages it would take.
        tiles: usize,
        /// Most that are made.
        most: usize,
    },
}

/// A drilling pattern. Places are in the plate's plane [mm]: x to the right, y up, as seen by the one who drills.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pattern {
    /// Which plate it is, with axle and side.
    pub title: String,
    /// From where it is seen: `seen from the left of the car`.
    pub seen: String,
    /// Diameter of the bolt [mm].
    pub bolt: f64,
    /// What was added to the bolt for the hole, and where that comes from; empty for nothing to say.
    pub clearance: String,
    /// Corners of the plate in order; the last is joined to the first.
    pub outline: Vec<Spot>,
    /// The holes.
    pub holes: Vec<PatternHole>,
    /// Which way is up, front, outboard.
    pub directions: Vec<Direction>,
    /// What is measured from.
    pub datums: Vec<Datum>,
    /// Least distance between hole centres, and from one to the plate's edge [mm], where it is stated.
    pub least: Option<(f64, f64)>,
    /// What is special about this one.
    pub notes: Vec<String>,
}

/// A hole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PatternHole {
    /// Its name.
    pub label: String,
    /// Its centre [mm].
    pub at: Spot,
    /// Diameter to drill [mm].
    pub diameter: f64,
    /// What to know about it.
    pub note: String,
}

/// A direction in the plate's plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Direction {
    /// Its name: `up`, `front`, `outboard`.
    pub name: String,
    /// Where to, of length 1.
    pub towards: Spot,
}

/// What is measured from.
#[derive(Clone, Debug, PartialEq)]
pub enum Datum {
    /// A straight edge; distances are square to it.
    Edge {
        /// Its name.
        name: String,
        /// One end [mm].
        from: Spot,
        /// The other end [mm].
        to: Spot,
    },
    /// A point; distances are straight to it.
    Point {
        /// Its name.
        name: String,
        /// Where [mm].
        at: Spot,
    },
}

/// A distance between two holes [mm], centre to centre.
#[derive(Clone, Debug, PartialEq)]
pub struct Distance {
    /// Indices of the holes.
    pub holes: (usize, usize),
    /// How far apart their centres are [mm].
    pub length: f64,
}

/// Up to so many holes, every pair is listed; of more, each hole's distance to the next and to the first.
const ALL_PAIRS: usize = 6;

/// What is less than stated by no more is only rounded [mm].
pub(super) const ROUNDED: f64 = 0.01;

/// An edge is taken as the second datum where it is turned from the first by at least this (sine of 30 deg): a more
/// acute corner does not locate a hole well along one of them.
const TURNED: f64 = 0.5;

impl Datum {
    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Self::Edge { name, .. } | Self::Point { name, .. } => name,
        }
    }

    /// How far a place is from it [mm]: square to the (lengthened) edge, or straight to the point.
    pub fn distance(&self, at: Spot) -> f64 {
        match self {
            Self::Edge { from, to, .. } => {
                let (dx, dy) = (to.0 - from.0, to.1 - from.1);
                let length = dx.hypot(dy).max(1e-9);
                ((at.0 - from.0) * dy - (at.1 - from.1) * dx).abs() / length
            }
            Self::Point { at: own, .. } => (at.0 - own.0).hypot(at.1 - own.1),
        }
    }
}

impl Pattern {
    /// The same on the other side of the car: left and right changed.
    #[must_use]
    pub fn mirrored(&self, title: impl Into<String>, seen: impl Into<String>) -> Self {
        // About the middle of its box, so that numbers stay of the same size.
        let bounds = self.bounds();
        let sum = bounds.left + bounds.right;
        let flip = |at: Spot| (sum - at.0, at.1);
        let mut other = self.clone();
        other.title = title.into();
        other.seen = seen.into();
        other.outline.iter_mut().for_each(|at| *at = flip(*at));
        other.holes.iter_mut().for_each(|hole| hole.at = flip(hole.at));
        other.directions.iter_mut().for_each(|d| d.towards.0 = -d.towards.0);
        for datum in &mut other.datums {
            match datum {
                Datum::Edge { from, to, .. } => (*from, *to) = (flip(*from), flip(*to)),
                Datum::Point { at, .. } => *at = flip(*at),
            }
        }
        other
    }

    /// The box of outline and holes [mm]; `top` is the lesser y, here the lower edge.
    pub fn bounds(&self) -> Rect {
        let holes = self.holes.iter().flat_map(|hole| {
            let r = hole.diameter / 2.0;
            [(hole.at.0 - r, hole.at.1 - r), (hole.at.0 + r, hole.at.1 + r)]
        });
        let places = self.outline.iter().copied().chain(holes);
        let start = Rect {
            left: f64::INFINITY,
            top: f64::INFINITY,
            right: f64::NEG_INFINITY,
            bottom: f64::NEG_INFINITY,
        };
        places.fold(start, |r, (x, y)| Rect {
            left: r.left.min(x),
            top: r.top.min(y),
            right: r.right.max(x),
            bottom: r.bottom.max(y),
        })
    }

    /// Distances between holes that are worth checking, and those that are less than stated.
    pub fn distances(&self) -> Vec<Distance> {
        let count = self.holes.len();
        let listed = |i: usize, j: usize| count <= ALL_PAIRS || j == i + 1 || (i == 0 && j > 1);
        let close = |length: f64| self.least.is_some_and(|(least, _)| length < least - ROUNDED);
        let mut list = Vec::new();
        for (i, a) in self.holes.iter().enumerate() {
            for (j, b) in self.holes.iter().enumerate().skip(i + 1) {
                let length = (a.at.0 - b.at.0).hypot(a.at.1 - b.at.1);
                if listed(i, j) || close(length) {
                    list.push(Distance { holes: (i, j), length });
                }
            }
        }
        list
    }

    /// Distance from a place to the nearest edge [mm]; negative outside the plate.
    pub fn margin(&self, at: Spot) -> f64 {
        let mut nearest = f64::INFINITY;
        let mut inside = false;
        for (a, b) in self.edges() {
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let along = ((at.0 - a.0) * dx + (at.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-18);
            let along = along.clamp(0.0, 1.0);
            nearest = nearest.min((at.0 - a.0 - along * dx).hypot(at.1 - a.1 - along * dy));
            if (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / dy * dx {
                inside = !inside;
            }
        }
        if inside { nearest } else { -nearest }
    }

    /// The edges, corner to corner.
    pub fn edges(&self) -> impl Iterator<Item = (Spot, Spot)> + '_ {
        let next = self.outline.iter().cycle().skip(1);
        self.outline.iter().copied().zip(next.copied())
    }

    /// The lowest edge as datum A, and the leftmost one that is turned well from it as datum B.
    pub(super) fn take_datums(&mut self) {
        let length = |(a, b): &(Spot, Spot)| (b.0 - a.0).hypot(b.1 - a.1);
        let whole = {
            let bounds = self.bounds();
            bounds.width().hypot(bounds.height())
        };
        // Short edges locate badly: a tenth of the plate is the least.
        let edges: Vec<(Spot, Spot)> = self.edges().filter(|edge| length(edge) > 0.1 * whole).collect();
        let middle = |(a, b): &(Spot, Spot)| ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
        let Some(first) = edges.iter().min_by(|a, b| middle(a).1.total_cmp(&middle(b).1)).copied() else {
            return;
        };
        let turn = |edge: &(Spot, Spot)| {
            let (ax, ay) = (first.1.0 - first.0.0, first.1.1 - first.0.1);
            let (bx, by) = (edge.1.0 - edge.0.0, edge.1.1 - edge.0.1);
            (ax * by - ay * bx).abs() / (length(&first) * length(edge)).max(1e-9)
        };
        let second = edges
            .iter()
            .filter(|edge| turn(edge) >= TURNED)
            .min_by(|a, b| middle(a).0.total_cmp(&middle(b).0))
            .copied();
        let edge = |name: &str, (from, to): (Spot, Spot)| Datum::Edge { name: name.into(), from, to };
        self.datums = std::iter::once(edge("A", first)).chain(second.map(|s| edge("B", s))).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate() -> Pattern {
        let hole = |label: &str, x, y| PatternHole {
            label: label.into(),
            at: (x, y),
            diameter: 12.0,
            note: String::new(),
        };
        let mut plate = Pattern {
            outline: vec![(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (20.0, 80.0)],
            holes: vec![hole("a", 30.0, 20.0), hole("b", 60.0, 60.0)],
            ..Pattern::default()
        };
        plate.take_datums();
        plate
    }

    /// Worked by hand: a 30-40-50 triangle, and the lower edge.
    #[test]
    fn measures_what_a_calliper_would() {
        let plate = plate();
        assert_eq!(plate.distances(), [Distance { holes: (0, 1), length: 50.0 }]);
        assert_eq!(plate.datums[0].name(), "A");
        assert!((plate.datums[0].distance((30.0, 20.0)) - 20.0).abs() < 1e-12);
        assert!((plate.margin((30.0, 20.0)) - 20.0).abs() < 1e-12);
        assert!(plate.margin((30.0, -5.0)) + 5.0 < 1e-12);
        assert!(matches!(&plate.datums[1], Datum::Edge { name, from: (20.0, 80.0), .. } if name == "B"));
    }

    #[test]
    fn the_mirror_of_the_mirror_is_the_same_and_distances_stay() {
        let plate = plate();
        let other = plate.mirrored("o", "r");
        assert_ne!(other.holes[0].at, plate.holes[0].at);
        assert_eq!(other.distances(), plate.distances());
        for (own, mirror) in plate.holes.iter().zip(&other.holes) {
            for (a, b) in plate.datums.iter().zip(&other.datums) {
                assert!((a.distance(own.at) - b.distance(mirror.at)).abs() < 1e-9);
            }
            assert!((plate.margin(own.at) - other.margin(mirror.at)).abs() < 1e-9);
        }
        let back = other.mirrored(plate.title.clone(), plate.seen.clone());
        assert_eq!(back, plate);
    }
}
