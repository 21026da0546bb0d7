//! Holes that are already in the file and stand too near to each other for their plate.

use nalgebra::{Vector2, Vector3};
use project::model::{Axle, Plate};

use super::pick::{Choice, pick};
use crate::plate::PlateFrame;
use crate::subject::Subject;

/// Grid cells along the longer side of the plate in which other places are looked for.
const CELLS: usize = 100;

/// Places looked at for each hole, the nearest ones.
const NEAREST: usize = 800;

/// Distance within which a spacing or margin counts as kept [m]: far below what a drill can do.
const KEPT: f64 = 1e-6;

/// Two holes for one point that are nearer to each other than their plate allows, and where to put them.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlap {
    /// The two holes (indices into the axle's holes).
    pub holes: (usize, usize),
    /// Their distance [m].
    pub distance: f64,
    /// Least distance allowed [m].
    pub least: f64,
    /// Where to put the holes of this point instead: (hole, place [m]), on the plate and within its rules, each
    /// moved little. Empty where the plate has no room for them all.
    pub instead: Vec<(usize, Vector3<f64>)>,
}

/// Overlapping holes of an axle, by the rules of the plate for their point.
pub fn overlaps(subject: &Subject<'_>) -> Vec<Overlap> {
    let axle = subject.axle();
    let mut list = Vec::new();
    for plate in &axle.plates {
        let own: Vec<usize> = (0..axle.holes.len()).filter(|i| axle.holes[*i].point == plate.point).collect();
        let least = plate.spacing * plate.bolt;
        let mut instead = None;
        for (n, a) in own.iter().enumerate() {
            for b in &own[n + 1..] {
                let distance = (axle.holes[*a].at.at - axle.holes[*b].at.at).norm();
                if distance < least - KEPT {
                    let instead =
                        instead.get_or_insert_with(|| nearest_set(axle, plate, &own, least)).clone();
                    list.push(Overlap { holes: (*a, *b), distance, least, instead });
                }
            }
        }
    }
    list
}

/// Places for all holes of a plate that keep its rules and move the holes least (sum of squares), on a grid;
/// empty if there is no room.
fn nearest_set(axle: &Axle, plate: &Plate, own: &[usize], least: f64) -> Vec<(usize, Vector3<f64>)> {
    let Some(frame) = PlateFrame::new(&plate.outline) else { return Vec::new() };
    let other = axle.scheme.legs_at(plate.point).next().and_then(|(_, o)| axle.points.get(o)).map(|p| p.at);
    let allowed = |at: &Vector2<f64>| {
        let length_holds = match (plate.link_length, other) {
            (Some((shortest, longest)), Some(other)) => {
                (shortest - KEPT..=longest + KEPT).contains(&(frame.place(at) - other).norm())
            }
            _ => true,
        };
        length_holds && frame.margin(at) >= plate.edge * plate.bolt - KEPT
    };
    let (lo, hi) = frame.bounds();
    let step = (hi - lo).max() / CELLS as f64;
    let (columns, rows) = (((hi.x - lo.x) / step) as usize + 1, ((hi.y - lo.y) / step) as usize + 1);
    let mut grid: Vec<Vector2<f64>> = (0..columns * rows)
        .map(|i| lo + Vector2::new((i % columns) as f64, (i / columns) as f64) * step)
        .filter(allowed)
        .collect();
    // A hole that need not move keeps its own place.
    let places: Vec<Vector2<f64>> = own.iter().map(|i| frame.locate(&axle.holes[*i].at.at)).collect();
    grid.extend(places.iter().copied().filter(allowed));
    let choices: Vec<Vec<Choice>> = places
        .iter()
        .map(|place| {
            let mut near: Vec<Choice> =
                grid.iter().map(|at| Choice { at: *at, cost: (at - place).norm_squared() }).collect();
            near.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            near.truncate(NEAREST);
            near
        })
        .collect();
    match pick(&choices, least) {
        Some(chosen) => chosen
            .iter()
            .zip(&choices)
            .zip(own)
            .map(|((c, choices), hole)| (*hole, frame.place(&choices[*c].at)))
            .collect(),
        None => Vec::new(),
    }
}
