//! A course of straights and corners.
//!
//! Along a piece the curvature is a straight line or none: on the easing of a corner it rises from nothing to `1/R` (a
//! clothoid, as on roads and railways), so a corner that turns by `A` with easings of length `e` has an arc of `A R - e`
//! between them and is `A R + e` long. The heading is exact; places are Gauss sums of it.

use super::{Course, Section, Spot, VenueError};

/// Length over which a change of grade or bank is spread [m] (own: a road has no edge).
const SPREAD: f64 = 40.0;

/// Part of its length by which a closed course may fail to close, and how far its heading [rad]: less is spread evenly.
const GAP: f64 = 0.01;
const TURN: f64 = 0.02;

/// Longest course [m], and most places.
const LONGEST: f64 = 1e5;
const MOST: f64 = 2e5;

/// A straight or a corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Name of the section that begins with it.
    pub name: Option<String>,
    /// Its shape.
    pub shape: Shape,
    /// Rise per way [-].
    pub grade: f64,
    /// Bank [rad], leaning into the corner positive; on a straight to the left.
    pub bank: f64,
    /// Share of friction [-].
    pub grip: f64,
    /// Width of the road [m].
    pub width: Option<f64>,
}

/// A shape on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// A straight of a length [m].
    Straight(f64),
    /// A corner.
    Corner {
        /// Least radius [m].
        radius: f64,
        /// How far it turns [rad], left positive.
        angle: f64,
        /// Length of the easing at either end [m].
        easing: f64,
    },
}

/// A stretch along which the curvature is a straight line.
#[derive(Clone, Copy)]
struct Stretch {
    from: f64,
    length: f64,
    heading: f64,
    curvature: [f64; 2],
    piece: usize,
}

impl Stretch {
    fn slope(&self) -> f64 {
        if self.length > 0.0 { (self.curvature[1] - self.curvature[0]) / self.length } else { 0.0 }
    }

    fn curvature(&self, way: f64) -> f64 {
        self.curvature[0] + self.slope() * (way - self.from)
    }

    fn heading(&self, way: f64) -> f64 {
        let s = way - self.from;
        self.heading + self.curvature[0] * s + 0.5 * self.slope() * s * s
    }
}

/// A course of pieces, in steps of at most `step` [m].
///
/// # Errors
/// Figures that no course has; a closed course that does not close.
pub fn from_pieces(pieces: &[Piece], closed: bool, step: f64) -> Result<Course, VenueError> {
    if pieces.is_empty() {
        return Err(VenueError::TooFew { what: "pieces", least: 1, count: 0 });
    }
    let (stretches, starts) = stretches(pieces)?;
    let total: f64 = stretches.iter().map(|s| s.length).sum();
    let length = |what, value, least, most| VenueError::Length { what, value, least, most };
    if !(step > 0.0 && step.is_finite()) {
        return Err(length("the step", step, 0.01, LONGEST));
    }
    if !(total > 2.0 * step && total <= LONGEST && total / step <= MOST) {
        return Err(length("the course", total, 2.0 * step, LONGEST.min(MOST * step)));
    }
    let legs = (total / step - 1e-9).ceil().max(1.0);
    let step = total / legs;
    let count = legs as usize + usize::from(!closed);
    let heading_end = stretches.last().map_or(0.0, |s| s.heading(total));
    let (mut place, mut at) = ([0.0f64; 2], 0);
    let mut spots = Vec::with_capacity(count);
    let mut end = place;
    for i in 0..=legs as usize {
        let way = (step * i as f64).min(total);
        while stretches.get(at + 1).is_some_and(|next| next.from <= way + 1e-9) {
            at += 1;
        }
        let Some(here) = stretches.get(at) else { break };
        let piece = pieces.get(here.piece);
        let half = piece.and_then(|p| p.width).map_or(f64::INFINITY, |w| 0.5 * w);
        end = place;
        if i < count {
            spots.push(Spot {
                place,
                heading: here.heading(way),
                curvature: here.curvature(way),
                height: 0.0,
                grade: 0.0,
                hollow: 0.0,
                bank: 0.0,
                grip: piece.map_or(1.0, |p| p.grip),
                room: [half; 2],
            });
        }
        for (node, weight) in GAUSS {
            let s = way + step * node;
            let mut k = at;
            while stretches.get(k + 1).is_some_and(|next| next.from <= s) {
                k += 1;
            }
            let heading = stretches.get(k).map_or(0.0, |stretch| stretch.heading(s));
            place[0] += step * weight * heading.cos();
            place[1] += step * weight * heading.sin();
        }
    }
    if closed {
        close(&mut spots, end, heading_end, total)?;
    }
    profile(pieces, &starts, &mut spots, closed, step, total);
    Ok(Course { step, closed, spots, sections: sections(pieces, &starts) })
}

/// Gauss's three points on 0 to 1 (any textbook).
const GAUSS: [(f64, f64); 3] =
    [(0.112_701_665_379_258_3, 5.0 / 18.0), (0.5, 8.0 / 18.0), (0.887_298_334_620_741_7, 5.0 / 18.0)];

fn stretches(pieces: &[Piece]) -> Result<(Vec<Stretch>, Vec<f64>), VenueError> {
    let (mut list, mut starts) = (Vec::new(), Vec::new());
    let (mut way, mut heading) = (0.0, 0.0);
    for (index, piece) in pieces.iter().enumerate() {
        starts.push(way);
        let wrong = VenueError::Figure { what: "piece", index: index + 1 };
        let finite = [piece.grade, piece.bank, piece.grip].iter().all(|v| v.is_finite() && v.abs() < 10.0);
        let parts: Vec<(f64, [f64; 2])> = match piece.shape {
            Shape::Straight(length) => vec![(length, [0.0; 2])],
            Shape::Corner { radius, angle, easing } => {
                let k = angle.signum() / radius;
                let arc = angle.abs() * radius - easing;
                if !(radius > 0.0 && easing >= 0.0 && arc >= -1e-9) {
                    return Err(wrong);
                }
                vec![(easing, [0.0, k]), (arc.max(0.0), [k; 2]), (easing, [k, 0.0])]
            }
        };
        if !finite || !parts.iter().all(|(length, k)| (0.0..LONGEST).contains(length) && k[0].abs() < 10.0) {
            return Err(wrong);
        }
        for (length, curvature) in parts.into_iter().filter(|(length, _)| *length > 0.0) {
            list.push(Stretch { from: way, length, heading, curvature, piece: index });
            way += length;
            heading += 0.5 * (curvature[0] + curvature[1]) * length;
        }
    }
    Ok((list, starts))
}

/// Spreads the gap of a closed course evenly, or tells it where it is none to spread.
fn close(spots: &mut [Spot], end: [f64; 2], heading: f64, total: f64) -> Result<(), VenueError> {
    let round = (heading / std::f64::consts::TAU).round() * std::f64::consts::TAU;
    let turn = heading - round;
    let gap = end[0].hypot(end[1]);
    if gap > GAP * total || turn.abs() > TURN {
        return Err(VenueError::Open { gap, turn: turn.to_degrees() });
    }
    let count = spots.len() as f64;
    for (i, spot) in spots.iter_mut().enumerate() {
        let share = i as f64 / count;
        spot.place = [spot.place[0] - share * end[0], spot.place[1] - share * end[1]];
        spot.heading -= share * turn;
        spot.curvature -= turn / total;
    }
    Ok(())
}

/// Heights, grades and banks, each change spread: the mean of what is written over a window.
fn profile(pieces: &[Piece], starts: &[f64], spots: &mut [Spot], closed: bool, step: f64, total: f64) {
    let value = |of: &dyn Fn(&Piece) -> f64| {
        let mut sums = vec![0.0];
        for (k, piece) in pieces.iter().enumerate() {
            let from = starts.get(k).copied().unwrap_or(0.0);
            let to = starts.get(k + 1).copied().unwrap_or(total);
            sums.push(sums.last().copied().unwrap_or(0.0) + of(piece) * (to - from));
        }
        sums
    };
    let sign = |piece: &Piece| match piece.shape {
        Shape::Corner { angle, .. } => angle.signum(),
        Shape::Straight(_) => 1.0,
    };
    let rise = value(&|p| p.grade);
    // A closed course ends at the height at which it began.
    let mean = if closed { rise.last().copied().unwrap_or(0.0) / total } else { 0.0 };
    let lean = value(&|p| sign(p) * p.bank);
    let window = SPREAD.min(0.25 * total);
    // Sum of a piecewise constant figure up to a way, which may lie outside the course.
    let upto = |sums: &[f64], way: f64| {
        let whole = sums.last().copied().unwrap_or(0.0);
        let rounds = if closed { (way / total).floor() } else { 0.0 };
        let way = if closed { way - rounds * total } else { way.clamp(0.0, total) };
        let k = starts.partition_point(|s| *s <= way).saturating_sub(1);
        let from = starts.get(k).copied().unwrap_or(0.0);
        let to = starts.get(k + 1).copied().unwrap_or(total);
        let (a, b) = (sums.get(k).copied().unwrap_or(0.0), sums.get(k + 1).copied().unwrap_or(0.0));
        let share = if to > from { (way - from) / (to - from) } else { 0.0 };
        rounds * whole + a + (b - a) * share
    };
    let span = |way: f64| {
        let ends = [way - 0.5 * window, way + 0.5 * window];
        if closed { ends } else { ends.map(|e| e.clamp(0.0, total)) }
    };
    let average = |sums: &[f64], way: f64| {
        let [a, b] = span(way);
        (upto(sums, b) - upto(sums, a)) / (b - a)
    };
    let mut height = 0.0;
    for (i, spot) in spots.iter_mut().enumerate() {
        let way = step * i as f64;
        let [a, b] = span(way);
        spot.grade = average(&rise, way) - mean;
        spot.hollow = (average(&rise, b) - average(&rise, a)) / (b - a);
        spot.bank = average(&lean, way);
        spot.height = height;
        height += step * (average(&rise, way + 0.5 * step) - mean);
    }
}

fn sections(pieces: &[Piece], starts: &[f64]) -> Vec<Section> {
    let named = pieces.iter().zip(starts).filter_map(|(piece, from)| {
        piece.name.as_ref().map(|name| Section { name: name.clone(), from: *from })
    });
    let mut list: Vec<Section> = named.collect();
    if list.first().is_none_or(|first| first.from > 0.0) {
        list.insert(0, Section { name: "start".into(), from: 0.0 });
    }
    list
}
