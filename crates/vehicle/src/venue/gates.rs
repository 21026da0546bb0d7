//! A path through gates of cones.

use super::centreline::{Row, from_centreline};
use super::line::{aside, shifted};
use super::{Course, VenueError};

/// Room on either side of the path between gates [m]: there is nothing but the ground.
const BETWEEN: f64 = 12.0;

/// Points between two gates of the first guess.
const BETWEEN_POINTS: usize = 12;

/// Passes of the least bent path about the last one.
const PASSES: usize = 12;

/// Way before the first and after the last gate [m].
const RUN: f64 = 6.0;

/// Two cones, or one and where the room ends, as one drives.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// Name of the section that begins with it.
    pub name: Option<String>,
    /// On the left [m].
    pub left: [f64; 2],
    /// On the right [m].
    pub right: [f64; 2],
}

impl Gate {
    fn middle(&self) -> [f64; 2] {
        [0.5 * (self.left[0] + self.right[0]), 0.5 * (self.left[1] + self.right[1])]
    }

    fn width(&self) -> f64 {
        (self.left[0] - self.right[0]).hypot(self.left[1] - self.right[1])
    }
}

/// The least bent path through gates in their order, `half_width` [m] from every cone, in steps of at most `step` [m].
///
/// # Errors
/// Too few gates, gates that the car does not fit through, figures that are none.
pub fn from_gates(gates: &[Gate], closed: bool, half_width: f64, step: f64) -> Result<Course, VenueError> {
    if gates.len() < 3 {
        return Err(VenueError::TooFew { what: "gates", least: 3, count: gates.len() });
    }
    for (i, gate) in gates.iter().enumerate() {
        if !gate.left.iter().chain(&gate.right).all(|v| v.abs() < 1e5) {
            return Err(VenueError::Figure { what: "gate", index: i + 1 });
        }
        if gate.width() < 2.0 * half_width {
            let (index, width) = (i + 1, gate.width());
            return Err(VenueError::Narrow { what: "gate", index, width, needs: 2.0 * half_width });
        }
    }
    let rows = guess(gates, closed);
    let spacing = rows
        .windows(2)
        .map(|w| if let [a, b] = w { dist(a.place, b.place) } else { 0.0 })
        .fold(0.0, f64::max);
    let mut course = from_centreline(&rows, closed, (2.0 * spacing).max(4.0 * step), step)?.course;
    for _ in 0..PASSES {
        let room = room(&course, gates);
        course = shifted(&course, &aside(&course, &room, half_width), step)?;
    }
    let room = room(&course, gates);
    for (spot, room) in course.spots.iter_mut().zip(room) {
        spot.room = room;
    }
    Ok(course)
}

fn dist(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// A smooth curve through the gates' middles (Catmull & Rom's, remembered).
fn guess(gates: &[Gate], closed: bool) -> Vec<Row> {
    let mut middles: Vec<[f64; 2]> = gates.iter().map(Gate::middle).collect();
    let mut names: Vec<Option<String>> = gates.iter().map(|g| g.name.clone()).collect();
    if !closed {
        let ahead = |a: [f64; 2], b: [f64; 2]| {
            let d = dist(a, b).max(1e-6);
            [b[0] + (b[0] - a[0]) / d * RUN, b[1] + (b[1] - a[1]) / d * RUN]
        };
        if let [first, second, ..] = middles.as_slice() {
            let start = ahead(*second, *first);
            middles.insert(0, start);
            names.insert(0, None);
        }
        if let [.., before, last] = middles.as_slice() {
            let end = ahead(*before, *last);
            middles.push(end);
            names.push(None);
        }
    }
    let n = middles.len();
    let get = |i: isize| {
        let k = if closed { i.rem_euclid(n as isize) } else { i.clamp(0, n as isize - 1) };
        middles.get(k as usize).copied().unwrap_or_default()
    };
    let legs = if closed { n } else { n - 1 };
    let mut rows = Vec::new();
    for i in 0..legs {
        let i = i as isize;
        let (a, b, c, d) = (get(i - 1), get(i), get(i + 1), get(i + 2));
        for k in 0..BETWEEN_POINTS {
            let t = k as f64 / BETWEEN_POINTS as f64;
            let one = |a: f64, b: f64, c: f64, d: f64| {
                b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)))
            };
            let place = [one(a[0], b[0], c[0], d[0]), one(a[1], b[1], c[1], d[1])];
            let section = if k == 0 { names.get(i as usize).cloned().flatten() } else { None };
            rows.push(Row { section, ..Row::at(place) });
        }
    }
    if !closed {
        rows.push(Row::at(get(n as isize - 1)));
    }
    rows
}

/// The room at every place: that of a gate where the path passes one.
fn room(course: &Course, gates: &[Gate]) -> Vec<[f64; 2]> {
    let mut room = vec![[BETWEEN; 2]; course.spots.len()];
    let mut from = 0;
    for gate in gates {
        let middle = gate.middle();
        // The next place where the path is nearest to the gate: gates come in order, and a path may pass near one twice.
        let mut best = (from, f64::INFINITY);
        for (i, spot) in course.spots.iter().enumerate().skip(from) {
            let d = dist(spot.place, middle);
            if d < best.1 {
                best = (i, d);
            } else if d > best.1 + 4.0 * gate.width().max(4.0) && best.1 < gate.width() {
                break;
            }
        }
        let Some(spot) = course.spots.get(best.0) else { continue };
        let (sin, cos) = spot.heading.sin_cos();
        let aside = |cone: [f64; 2]| cos * (cone[1] - spot.place[1]) - sin * (cone[0] - spot.place[0]);
        if let Some(slot) = room.get_mut(best.0) {
            *slot = [aside(gate.left), -aside(gate.right)];
        }
        from = best.0;
    }
    room
}
