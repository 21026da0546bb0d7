//! The path of least curvature within the room there is.
//!
//! A path beside another one by `n` to its left has the curvature `k + k^2 n + n''` to first order. The integral of its
//! square is least for the path that a bent spring would take between the edges: near the one that loses least speed, and
//! found without knowing the car (F. Braghin et al., Computers & Structures 86 (2008) 1503, remembered). Each pass is a quadratic programme with bounds on `n`, solved by its active set (M. Hintermueller,
//! K. Ito & K. Kunisch, SIAM J. Optim. 13 (2002) 865, remembered), the bends taken about the last path.

use super::band::Band;
use super::centreline::{Row, from_centreline};
use super::{Course, Spot, VenueError};

/// Passes about the last path.
const PASSES: usize = 8;

/// Steps of the active set.
const STEPS: usize = 80;

/// Way that is laid on before and after a closed course [m].
const MARGIN: f64 = 250.0;

/// Pull to the path itself [1/m^4]: where nothing bends, the path stays.
const PULL: f64 = 1e-11;

/// Farthest that the path goes aside in one pass [m], and as a part of its radius: beyond it the bends are not those of the
/// first order.
const FARTHEST: f64 = 2.5;
const PART: f64 = 0.25;

/// Resolution of the path that is found, in steps.
const RESOLUTION: f64 = 5.0;

/// The path within a course's room, less half the car's width [m].
///
/// # Errors
/// A place that is narrower than the car; a room that is not known.
pub fn line_within(course: &Course, half_width: f64) -> Result<Course, VenueError> {
    let mut now = course.clone();
    for _ in 0..PASSES {
        let room: Vec<[f64; 2]> = now.spots.iter().map(|s| s.room).collect();
        for (i, [left, right]) in room.iter().enumerate() {
            if left + right < 2.0 * half_width {
                let (index, width) = (i + 1, left + right);
                return Err(VenueError::Narrow { what: "place", index, width, needs: 2.0 * half_width });
            }
        }
        let aside = aside(&now, &room, half_width);
        now = shifted(&now, &aside, course.step)?;
    }
    Ok(now)
}

/// The course moved aside at every place.
pub(super) fn shifted(course: &Course, aside: &[f64], step: f64) -> Result<Course, VenueError> {
    let mut names = course.sections.iter().peekable();
    let rows: Vec<Row> = course
        .spots
        .iter()
        .zip(aside)
        .enumerate()
        .map(|(i, (spot, n))| {
            let way = course.step * i as f64;
            let section = names.next_if(|s| s.from <= way + 0.5 * course.step).map(|s| s.name.clone());
            let normal = normal(spot);
            Row {
                place: [spot.place[0] + n * normal[0], spot.place[1] + n * normal[1]],
                height: Some(spot.height),
                room: Some([spot.room[0] - n, spot.room[1] + n]),
                bank: Some(spot.bank),
                grip: Some(spot.grip),
                section,
            }
        })
        .collect();
    Ok(from_centreline(&rows, course.closed, RESOLUTION * course.step, step)?.course)
}

fn normal(spot: &Spot) -> [f64; 2] {
    let (sin, cos) = spot.heading.sin_cos();
    [-sin, cos]
}

/// The bends of a path that runs aside of a course, as a sum of squares: `x H x/2 - b x`. A closed course is laid on before
/// its start and after its end. `pull` [1/m^2] is what a metre of way costs: the least of `integral k^2 + pull` is a spring
/// under tension, whose bends are no wider than `1/sqrt(pull)`.
pub(super) struct Bends<'c> {
    course: &'c Course,
    margin: usize,
    pub band: Band<3>,
    pub right: Vec<f64>,
}

impl<'c> Bends<'c> {
    pub fn new(course: &'c Course, pull: f64) -> Self {
        let n = course.spots.len();
        let margin = if course.closed { ((MARGIN / course.step) as usize).min(n) } else { 0 };
        let count = n + 2 * margin;
        let mut bends = Self { course, margin, band: Band::zeros(count), right: vec![0.0; count] };
        let per = 1.0 / (course.step * course.step);
        for i in 1..count.saturating_sub(1) {
            let k = bends.spot(i).map_or(0.0, |s| s.curvature);
            let row = [per, k * k - 2.0 * per, per];
            bends.band.add(i - 1, &row, 1.0);
            for (j, part) in row.into_iter().enumerate() {
                bends.push(i - 1 + j, -part * k);
            }
        }
        // The way's length changes by `-k n + n'^2/2` a metre.
        for i in 0..count {
            bends.band.add(i, &[1.0], PULL);
            if pull > 0.0 {
                if i + 1 < count {
                    bends.band.add(i, &[-1.0 / course.step, 1.0 / course.step], pull);
                }
                bends.push(i, pull * bends.spot(i).map_or(0.0, |s| s.curvature));
            }
        }
        bends
    }

    fn push(&mut self, i: usize, by: f64) {
        if let Some(slot) = self.right.get_mut(i) {
            *slot += by;
        }
    }

    /// The place of the course that a row stands for.
    fn index(&self, row: usize) -> usize {
        let n = self.course.spots.len().max(1);
        (row + n - self.margin % n) % n
    }

    fn spot(&self, row: usize) -> Option<&'c Spot> {
        self.course.spots.get(self.index(row))
    }

    /// A spring of rate `rate` that pulls a place towards `target` [m] aside.
    pub fn spring(&mut self, place: usize, rate: f64, target: f64) {
        for row in 0..self.right.len() {
            if self.index(row) == place {
                self.band.add(row, &[1.0], rate);
                self.push(row, rate * target);
            }
        }
    }

    /// Every place is held back where it is.
    pub fn hold(&mut self, rate: f64) {
        for row in 0..self.right.len() {
            self.band.add(row, &[1.0], rate);
        }
    }

    fn inside(&self, x: Vec<f64>) -> Vec<f64> {
        x.into_iter().skip(self.margin).take(self.course.spots.len()).collect()
    }

    /// The least of it.
    pub fn solve(self) -> Vec<f64> {
        let (course, margin) = (self.course, self.margin);
        let mut x = self.right;
        self.band.solve(&mut [&mut x]);
        x.into_iter().skip(margin).take(course.spots.len()).collect()
    }
}

/// How far aside the least bent path within a room runs at every place, left positive.
fn aside(course: &Course, room: &[[f64; 2]], half_width: f64) -> Vec<f64> {
    let bends = Bends::new(course, 0.0);
    let bounds: Vec<[f64; 2]> = (0..bends.right.len())
        .map(|row| {
            let [left, right] = room.get(bends.index(row)).copied().unwrap_or([0.0; 2]);
            let (lo, hi) = (-(right - half_width), left - half_width);
            let both = if lo <= hi { [lo, hi] } else { [0.5 * (lo + hi); 2] };
            // No farther than the bends hold to first order.
            let bend = bends.spot(row).map_or(0.0, |s| s.curvature.abs());
            let trust = FARTHEST.min(PART / bend.max(1e-9));
            both.map(|b| b.clamp(-trust, trust))
        })
        .collect();
    let x = bounded(&bends.band, &bends.right, &bounds);
    bends.inside(x)
}

/// Least of `x H x/2 - b x` within bounds.
fn bounded(band: &Band<3>, right: &[f64], bounds: &[[f64; 2]]) -> Vec<f64> {
    let count = right.len();
    // 0 free, 1 at its lower, 2 at its upper bound.
    let mut state = vec![0u8; count];
    let mut x = vec![0.0; count];
    for _ in 0..STEPS {
        let fixed = |i: usize| {
            let b = bounds.get(i)?;
            match state.get(i)? {
                1 => Some(b[0]),
                2 => Some(b[1]),
                _ => None,
            }
        };
        let mut free = Band::<3>::zeros(count);
        let mut r = right.to_vec();
        for i in 0..count {
            if let Some(value) = fixed(i) {
                free.add(i, &[1.0], 1.0);
                if let Some(slot) = r.get_mut(i) {
                    *slot = value;
                }
                continue;
            }
            free.add(i, &[1.0], band.at(i, 0));
            for k in 1..3 {
                for (j, entry) in [(i.wrapping_sub(k), band.at(i, k)), (i + k, band.at(i + k, k))] {
                    if j >= count {
                        continue;
                    }
                    match fixed(j) {
                        Some(value) => {
                            if let Some(slot) = r.get_mut(i) {
                                *slot -= entry * value;
                            }
                        }
                        None if j < i => free.couple(i, k, entry),
                        None => {}
                    }
                }
            }
        }
        free.solve(&mut [&mut r]);
        x = r;
        let gradient: Vec<f64> = band.times(&x).into_iter().zip(right).map(|(h, b)| h - b).collect();
        let mut changed = false;
        for (i, slot) in state.iter_mut().enumerate() {
            let (Some(value), Some(g), Some([lo, hi])) = (x.get(i), gradient.get(i), bounds.get(i)) else {
                continue;
            };
            let next = match *slot {
                0 if *value < *lo => 1,
                0 if *value > *hi => 2,
                // A bound that holds the path back pushes it: else it lets go.
                1 if *g < 0.0 && lo < hi => 0,
                2 if *g > 0.0 && lo < hi => 0,
                same => same,
            };
            changed |= next != *slot;
            *slot = next;
        }
        if !changed {
            break;
        }
    }
    x.iter().zip(bounds).map(|(v, [lo, hi])| v.clamp(*lo, *hi)).collect()
}
