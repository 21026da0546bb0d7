//! A path through gates of cones: the shape of a spring under tension that is threaded through them.

use super::centreline::{Row, from_centreline};
use super::line::{Bends, shifted};
use super::{Course, VenueError};

/// Room on either side of the path between gates [m]: there is nothing but the ground.
const BETWEEN: f64 = 12.0;

/// Distance of the points of the first guess [m].
const APART: f64 = 1.0;

/// Passes of the least bent path about the last one: a cone's push is found within a dozen.
const PASSES: usize = 60;

/// Push of a cone per metre of want of room, and hold of every place where it is, per pass [1/m^4].
const PUSH: f64 = 0.3;
const HOLD: f64 = 2e-3;

/// Farthest that a place goes aside in a pass [m].
const FARTHEST: f64 = 1.0;

/// How much longer than the straight way the path from gate to gate may be, for a hairpin between them.
const AROUND: f64 = 1.8;

/// Radius beyond which a bend between gates costs more way than it saves turning [m] (own: without such a cost the least
/// bent path would swing out without end).
const WIDEST: f64 = 18.0;

/// Way before the first gate [m]; the run ends in the last one.
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
    // Force of each cone on the path: an augmented Lagrangian (M. Hestenes (1969), M. Powell (1969), remembered).
    let mut forces = vec![[0.0f64; 2]; gates.len()];
    for _ in 0..PASSES {
        let mut bends = Bends::new(&course, 1.0 / (WIDEST * WIDEST));
        bends.hold(HOLD);
        for (passed, force) in passes(&course, gates).into_iter().zip(&mut forces) {
            for (side, sign) in [(0usize, -1.0), (1, 1.0)] {
                let (Some(room), Some(force)) = (passed.room.get(side), force.get_mut(side)) else {
                    continue;
                };
                *force = (*force + PUSH * (half_width - room)).max(0.0);
                if *force > 0.0 {
                    bends.spring(passed.place, PUSH, sign * *force / PUSH);
                }
            }
        }
        let aside: Vec<f64> = bends
            .solve()
            .into_iter()
            .zip(&course.spots)
            .map(|(n, spot)| {
                let trust = FARTHEST.min(0.25 / spot.curvature.abs().max(1e-9));
                n.clamp(-trust, trust)
            })
            .collect();
        course = shifted(&course, &aside, step)?;
    }
    let passed = passes(&course, gates);
    for spot in &mut course.spots {
        spot.room = [BETWEEN; 2];
    }
    for pass in passed {
        if let Some(spot) = course.spots.get_mut(pass.place) {
            spot.room = pass.room;
        }
    }
    Ok(course)
}

fn dist(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// A smooth curve through the gates' middles: cubics with the mean of both chords' directions at each (any text on splines).
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
            // The run begins with the first gate's section.
            let name = names.first_mut().and_then(Option::take);
            names.insert(0, name);
        }
    }
    let n = middles.len();
    let get = |i: isize| {
        let k = if closed { i.rem_euclid(n as isize) } else { i.clamp(0, n as isize - 1) };
        middles.get(k as usize).copied().unwrap_or_default()
    };
    let legs = if closed { n } else { n - 1 };
    // Direction at a gate, per metre: of the two chords there the shorter one counts more.
    let slope = |i: isize| {
        let (a, b, c) = (get(i - 1), get(i), get(i + 1));
        let (before, after) = (dist(a, b).max(1e-6), dist(b, c).max(1e-6));
        [0, 1].map(|k: usize| {
            let pick = |p: [f64; 2]| if k == 0 { p[0] } else { p[1] };
            let (back, on) = ((pick(b) - pick(a)) / before, (pick(c) - pick(b)) / after);
            (on * before + back * after) / (before + after)
        })
    };
    let mut rows = Vec::new();
    for i in 0..legs {
        let i = i as isize;
        let (b, c) = (get(i), get(i + 1));
        let long = dist(b, c);
        let (u, v) = (slope(i), slope(i + 1));
        let parts = (long / APART).ceil().clamp(1.0, 1e4) as usize;
        for k in 0..parts {
            let t = k as f64 / parts as f64;
            let (t2, t3) = (t * t, t * t * t);
            let one = |b: f64, u: f64, c: f64, v: f64| {
                b * (2.0 * t3 - 3.0 * t2 + 1.0)
                    + c * (3.0 * t2 - 2.0 * t3)
                    + long * (u * (t3 - 2.0 * t2 + t) + v * (t3 - t2))
            };
            let place = [one(b[0], u[0], c[0], v[0]), one(b[1], u[1], c[1], v[1])];
            let section = if k == 0 { names.get(i as usize).cloned().flatten() } else { None };
            rows.push(Row { section, ..Row::at(place) });
        }
    }
    if !closed {
        rows.push(Row::at(get(n as isize - 1)));
    }
    rows
}

/// Where the path passes a gate, and the room to its left and right cone there.
struct Pass {
    place: usize,
    room: [f64; 2],
}

fn passes(course: &Course, gates: &[Gate]) -> Vec<Pass> {
    let mut list = Vec::with_capacity(gates.len());
    let mut from = 0;
    let mut before: Option<[f64; 2]> = None;
    for gate in gates {
        let middle = gate.middle();
        // The nearest place of the way that may lie between this gate and the one before: a path may pass near a gate twice.
        let reach = before.map_or(0.2 * course.length(), |b| AROUND * dist(b, middle)) + 2.0 * RUN;
        let within = (reach / course.step) as usize;
        let mut best = (from, f64::INFINITY);
        for (i, spot) in course.spots.iter().enumerate().skip(from).take(within.max(2)) {
            let d = dist(spot.place, middle);
            if d < best.1 {
                best = (i, d);
            }
        }
        before = Some(middle);
        from = best.0;
        let Some(spot) = course.spots.get(best.0) else { continue };
        let (sin, cos) = spot.heading.sin_cos();
        let aside = |cone: [f64; 2]| cos * (cone[1] - spot.place[1]) - sin * (cone[0] - spot.place[0]);
        list.push(Pass { place: best.0, room: [aside(gate.left), -aside(gate.right)] });
    }
    list
}
