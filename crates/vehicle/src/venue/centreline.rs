//! A path from points of it: surveyed, or driven with a receiver.
//!
//! The curvature of a path is the second derivative of its places: noise of a centimetre from metre to metre would be a
//! corner. The places are therefore smoothed along the way: `x` and `y` are the curves that minimise
//!
//! ```text
//! integral (x - data)^2 dt + l integral (x''')^2 dt
//! ```
//!
//! (a smoothing spline with the third derivative: C. Reinsch, Numer. Math. 10 (1967) 177, for the second one; remembered).
//! Of a wave with wavenumber `k` the part `1/(1 + l k^6)` is left, as the Euler-Lagrange equation says of every wave; the
//! weight `l = (W/2 pi)^6` halves waves of the length `W`, the stated resolution, keeps 98.5 % of those twice as long, and
//! lets 1.5 % of those half as long through. So a corner shorter than about half of `W` is drawn rounder than it is.

use super::band::Band;
use super::{Course, Section, Spot, VenueError};

/// Nodes per resolution: their straight lines are then within 0.1 % of the curve.
const NODES: f64 = 16.0;

/// Least and most nodes.
const LEAST: usize = 8;
const MOST: f64 = 3e5;

/// Far from its neighbours is so many times the median distance.
const JUMP: f64 = 8.0;

/// What of the course is laid once more before and after a closed one, in resolutions: what is farther has no say.
const MARGIN: f64 = 4.0;

/// A point of a path.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Place [m].
    pub place: [f64; 2],
    /// Height [m].
    pub height: Option<f64>,
    /// Free width to the left and right [m].
    pub room: Option<[f64; 2]>,
    /// Bank [rad], left side low positive.
    pub bank: Option<f64>,
    /// Share of friction [-].
    pub grip: Option<f64>,
    /// Name of the section that begins here.
    pub section: Option<String>,
}

impl Row {
    /// A bare place.
    pub fn at(place: [f64; 2]) -> Self {
        Self { place, height: None, room: None, bank: None, grip: None, section: None }
    }
}

/// A course from points, and how far it runs from them.
#[derive(Clone, Debug, PartialEq)]
pub struct Smoothed {
    /// The course.
    pub course: Course,
    /// Greatest and root-mean-square distance of the points from it [m].
    pub greatest: f64,
    /// Root mean square.
    pub rms: f64,
    /// Wavelength that was halved [m]: at least twice the distance of the points.
    pub resolution: f64,
}

/// A course along points, in steps of at most `step` [m], smoothed to a resolution [m].
///
/// # Errors
/// Too few points, a point far from its neighbours, figures that are none.
pub fn from_centreline(
    rows: &[Row],
    closed: bool,
    resolution: f64,
    step: f64,
) -> Result<Smoothed, VenueError> {
    let rows = distinct(rows)?;
    if rows.len() < LEAST {
        return Err(VenueError::TooFew { what: "points that differ", least: LEAST, count: rows.len() });
    }
    let chords = chords(&rows, closed);
    let mut sorted = chords.clone();
    sorted.sort_by(f64::total_cmp);
    let usual = sorted.get(sorted.len() / 2).copied().unwrap_or(1.0);
    for (what, value, least, most) in
        [("the resolution", resolution, 0.1, 1e4), ("the step", step, 0.01, 1e3)]
    {
        if !(least <= value && value <= most) {
            return Err(VenueError::Length { what, value, least, most });
        }
    }
    let resolution = resolution.max(2.0 * usual);
    if let Some((i, far)) =
        chords.iter().enumerate().find(|(_, c)| **c > (JUMP * usual).max(2.0 * resolution))
    {
        let index = if i + 1 == rows.len() { 1 } else { i + 2 };
        return Err(VenueError::Jump { index, distance: *far, usual });
    }
    let total: f64 = chords.iter().sum();
    let gap = (resolution / NODES).min(total / 64.0);
    if total / gap > MOST {
        return Err(VenueError::Length { what: "the course", value: total, least: 1.0, most: MOST * gap });
    }
    let mut ways = vec![0.0];
    for chord in &chords {
        ways.push(ways.last().copied().unwrap_or(0.0) + chord);
    }
    let grid = Grid::new(&rows, &ways, total, closed, resolution, gap);
    let get = |of: &dyn Fn(&Row) -> f64| grid.smooth(&rows.iter().map(of).collect::<Vec<_>>());
    let (x, y) = (get(&|r| r.place[0]), get(&|r| r.place[1]));
    let heights = rows.iter().all(|r| r.height.is_some());
    let z = if heights { get(&|r| r.height.unwrap_or(0.0)) } else { vec![0.0; x.len()] };
    let shape = Shape::of(&grid, &x, &y, &z);
    let course = shape.course(&rows, &grid, &ways, total, closed, step);
    let misfit =
        |(row, way): (&Row, &f64)| (row.place[0] - grid.at(&x, *way)).hypot(row.place[1] - grid.at(&y, *way));
    let misfits: Vec<f64> = rows.iter().zip(&ways).map(misfit).collect();
    let square: f64 = misfits.iter().map(|m| m * m).sum();
    Ok(Smoothed {
        course,
        greatest: misfits.iter().copied().fold(0.0, f64::max),
        rms: (square / misfits.len() as f64).sqrt(),
        resolution,
    })
}

/// Without points that stand on the one before.
fn distinct(rows: &[Row]) -> Result<Vec<Row>, VenueError> {
    let mut out: Vec<Row> = Vec::with_capacity(rows.len());
    for (i, row) in rows.iter().enumerate() {
        let figures = row.place.into_iter().chain(row.height).chain(row.bank).chain(row.grip);
        // Room may be without end.
        let room = row.room.is_some_and(|r| r.iter().any(|v| v.is_nan()));
        if room || !figures.into_iter().all(|v| v.abs() < 1e6) {
            return Err(VenueError::Figure { what: "point", index: i + 1 });
        }
        let near = out.last().is_some_and(|last| apart(last, row) < 1e-3);
        match out.last_mut().filter(|_| near) {
            Some(last) => last.section = last.section.take().or_else(|| row.section.clone()),
            None => out.push(row.clone()),
        }
    }
    Ok(out)
}

fn apart(a: &Row, b: &Row) -> f64 {
    (a.place[0] - b.place[0]).hypot(a.place[1] - b.place[1])
}

/// Distances from point to point; of a closed course the last one back to the first.
fn chords(rows: &[Row], closed: bool) -> Vec<f64> {
    let mut list: Vec<f64> =
        rows.windows(2).map(|w| if let [a, b] = w { apart(a, b) } else { 0.0 }).collect();
    if let (true, Some(first), Some(last)) = (closed, rows.first(), rows.last()) {
        // Where the end stands on the start, there is no way between.
        list.push(apart(last, first).max(1e-6));
    }
    list
}

/// Even nodes along the chords; a closed course is laid on beyond both ends.
struct Grid {
    gap: f64,
    /// Nodes before the start.
    before: usize,
    /// Nodes of the course itself.
    inside: usize,
    count: usize,
    /// For each data point, laid on ones among them: row, way in nodes, weight.
    data: Vec<(usize, f64, f64)>,
    penalty: f64,
}

impl Grid {
    fn new(rows: &[Row], ways: &[f64], total: f64, closed: bool, resolution: f64, gap: f64) -> Self {
        let legs = (total / gap).ceil().max(4.0);
        let gap = total / legs;
        let inside = legs as usize + usize::from(!closed);
        let margin =
            if closed { ((MARGIN * resolution / gap).ceil() as usize).min(legs as usize) } else { 0 };
        let count = inside + 2 * margin;
        let mut data = Vec::new();
        for (i, _) in rows.iter().enumerate() {
            let way = ways.get(i).copied().unwrap_or(0.0);
            let after = ways.get(i + 1).copied().unwrap_or(way);
            let ahead = after - way;
            let behind = match i.checked_sub(1).and_then(|k| ways.get(k)) {
                Some(before) => way - before,
                None if closed => total - ways.get(rows.len() - 1).copied().unwrap_or(total),
                None => 0.0,
            };
            let weight = 0.5 * (ahead + behind);
            let own = way / gap + margin as f64;
            let mut at = own - legs * (own / legs).floor();
            if !closed {
                at = own;
            }
            while at <= (count - 1) as f64 + 1e-9 {
                data.push((i, at.min((count - 1) as f64), weight));
                if !closed {
                    break;
                }
                at += legs;
            }
        }
        let wave = resolution / std::f64::consts::TAU;
        Self { gap, before: margin, inside, count, data, penalty: wave.powi(6) / gap.powi(5) }
    }

    fn smooth(&self, values: &[f64]) -> Vec<f64> {
        let mut band = Band::<4>::zeros(self.count);
        let mut right = vec![0.0; self.count];
        for (row, at, weight) in &self.data {
            let i = (*at as usize).min(self.count - 2);
            let t = at - i as f64;
            let parts = [1.0 - t, t];
            band.add(i, &parts, *weight);
            for (k, part) in parts.into_iter().enumerate() {
                if let Some(slot) = right.get_mut(i + k) {
                    *slot += weight * part * values.get(*row).copied().unwrap_or(0.0);
                }
            }
        }
        for i in 0..self.count.saturating_sub(3) {
            band.add(i, &[-1.0, 3.0, -3.0, 1.0], self.penalty);
        }
        band.solve(&mut [&mut right]);
        right
    }

    /// A smoothed figure at a way along the chords.
    fn at(&self, values: &[f64], way: f64) -> f64 {
        lerp(values, way / self.gap + self.before as f64)
    }
}

fn lerp(values: &[f64], at: f64) -> f64 {
    let at = at.clamp(0.0, values.len().saturating_sub(1) as f64);
    let i = (at as usize).min(values.len().saturating_sub(2));
    let get = |k: usize| values.get(k).copied().unwrap_or(0.0);
    get(i) + (get(i + 1) - get(i)) * (at - i as f64)
}

/// The path's figures at the nodes.
struct Shape {
    places: [Vec<f64>; 2],
    heading: Vec<f64>,
    curvature: Vec<f64>,
    height: Vec<f64>,
    grade: Vec<f64>,
    hollow: Vec<f64>,
    /// Way along the path from the first node of the course.
    way: Vec<f64>,
}

impl Shape {
    fn of(grid: &Grid, x: &[f64], y: &[f64], z: &[f64]) -> Self {
        let n = grid.count;
        // Of fourth order inside, the nearest such node's at the very ends.
        let node = |i: usize| i.clamp(2, n - 3);
        let get = |v: &[f64], i: usize| v.get(i).copied().unwrap_or(0.0);
        let first = |v: &[f64], i: usize| {
            let i = node(i);
            (get(v, i - 2) - 8.0 * get(v, i - 1) + 8.0 * get(v, i + 1) - get(v, i + 2)) / (12.0 * grid.gap)
        };
        let second = |v: &[f64], i: usize| {
            let i = node(i);
            (-get(v, i - 2) + 16.0 * get(v, i - 1) - 30.0 * get(v, i) + 16.0 * get(v, i + 1) - get(v, i + 2))
                / (12.0 * grid.gap * grid.gap)
        };
        let mut shape = Self {
            places: [x.to_vec(), y.to_vec()],
            heading: Vec::with_capacity(n),
            curvature: Vec::with_capacity(n),
            height: z.to_vec(),
            grade: Vec::with_capacity(n),
            hollow: Vec::with_capacity(n),
            way: Vec::with_capacity(n),
        };
        let mut speeds = Vec::with_capacity(n);
        for i in 0..n {
            let (dx, dy) = (first(x, i), first(y, i));
            let speed = dx.hypot(dy).max(1e-9);
            let angle = dy.atan2(dx);
            let before = shape.heading.last().copied().unwrap_or(angle);
            let turns = ((angle - before) / std::f64::consts::TAU).round();
            shape.heading.push(angle - turns * std::f64::consts::TAU);
            shape.curvature.push((dx * second(y, i) - dy * second(x, i)) / speed.powi(3));
            shape.grade.push(first(z, i) / speed);
            shape.hollow.push(second(z, i) / (speed * speed));
            speeds.push(speed);
        }
        let mut way = 0.0;
        for i in 0..n {
            shape.way.push(way);
            way += 0.5 * grid.gap * (get(&speeds, i) + get(&speeds, (i + 1).min(n - 1)));
        }
        let origin = get(&shape.way, grid.before);
        shape.way.iter_mut().for_each(|w| *w -= origin);
        shape
    }

    fn course(&self, rows: &[Row], grid: &Grid, ways: &[f64], total: f64, closed: bool, step: f64) -> Course {
        let end = grid.before + grid.inside - usize::from(!closed);
        let length = self.way.get(end).copied().unwrap_or(total);
        let legs = (length / step - 1e-9).ceil().max(2.0);
        let step = length / legs;
        let count = legs as usize + usize::from(!closed);
        let mut node = grid.before;
        let mut spots = Vec::with_capacity(count);
        let figure = |of: &dyn Fn(&Row) -> Option<f64>, usual: f64, t: f64| {
            along(rows, ways, closed, t, of).unwrap_or(usual)
        };
        for i in 0..count {
            let way = step * i as f64;
            while self.way.get(node + 1).is_some_and(|w| *w <= way) && node + 2 < self.way.len() {
                node += 1;
            }
            let here = self.way.get(node).copied().unwrap_or(0.0);
            let there = self.way.get(node + 1).copied().unwrap_or(here + 1.0);
            let at = node as f64 + ((way - here) / (there - here)).clamp(0.0, 1.0);
            let t = (at - grid.before as f64) * grid.gap;
            let side = |k: usize| figure(&|r: &Row| Some(*r.room?.get(k)?), f64::INFINITY, t);
            spots.push(Spot {
                place: [0, 1].map(|k: usize| self.places.get(k).map_or(0.0, |p| lerp(p, at))),
                heading: lerp(&self.heading, at),
                curvature: lerp(&self.curvature, at),
                height: lerp(&self.height, at),
                grade: lerp(&self.grade, at),
                hollow: lerp(&self.hollow, at),
                bank: figure(&|r| r.bank, 0.0, t),
                grip: figure(&|r| r.grip, 1.0, t),
                room: [side(0), side(1)],
            });
        }
        let mut sections: Vec<Section> = rows
            .iter()
            .zip(ways)
            .filter_map(|(row, t)| {
                let name = row.section.clone()?;
                Some(Section { name, from: lerp(&self.way, t / grid.gap + grid.before as f64).max(0.0) })
            })
            .collect();
        if let Some(first) = sections.first_mut().filter(|s| s.from < step) {
            first.from = 0.0;
        } else {
            sections.insert(0, Section { name: "start".into(), from: 0.0 });
        }
        Course { step, closed, spots, sections }
    }
}

/// A figure of the rows at a way along the chords, straight between those that have it.
fn along(rows: &[Row], ways: &[f64], closed: bool, t: f64, of: &dyn Fn(&Row) -> Option<f64>) -> Option<f64> {
    let above = ways.partition_point(|w| *w <= t);
    let below = above.saturating_sub(1).min(rows.len() - 1);
    let next = if above < rows.len() {
        above
    } else if closed {
        0
    } else {
        rows.len() - 1
    };
    let (a, b) = (rows.get(below).and_then(of), rows.get(next).and_then(of));
    let (from, to) = (ways.get(below)?, ways.get(below + 1).or(ways.last())?);
    match (a, b) {
        (Some(a), Some(b)) if a.is_finite() && b.is_finite() && to > from => {
            Some(a + (b - a) * ((t - from) / (to - from)).clamp(0.0, 1.0))
        }
        (Some(value), _) | (None, Some(value)) => Some(value),
        (None, None) => None,
    }
}
