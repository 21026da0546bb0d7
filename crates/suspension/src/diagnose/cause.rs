//! Why a wheel is loose: which of the usual mistakes the rods make.

use linkage::{End, Frame, FreeMotion, Freedoms, Row, Twist, rods_on_one_line};
use nalgebra::Vector3;

use crate::corner::Corner;
use crate::scheme::UPRIGHT;

/// A point this near [m] is the same point, and a rod that passes a line this near aims at it.
const NEAR: f64 = 1e-4;

/// Sine of the angle under which rods count as parallel.
const PARALLEL: f64 = 1e-4;

/// Sine of the steepness from which a rod holds the height of what it carries: 60 degrees.
const STEEP: f64 = 0.866;

pub enum Cause {
    /// Two rods hold the same thing.
    Pair(Pair),
    /// All rods run the same way.
    Parallel(Vec<String>),
    /// All rods cross one line, or run along it.
    OneLine { line: &'static str, names: Vec<String> },
    /// Nothing is said twice: there is not enough. The number of rods where there is nothing but rods.
    TooFew(Option<usize>),
    /// These say the same thing in another way.
    Repeated(Vec<String>),
}

/// Two rods on one line.
pub struct Pair {
    first: String,
    second: String,
    same_ends: bool,
}

impl Pair {
    pub fn words(&self) -> String {
        let how = if self.same_ends { "join the same two points" } else { "lie on one line" };
        format!("`{}` and `{}` {how}", self.first, self.second)
    }

    pub fn hint(&self) -> String {
        if self.same_ends {
            format!("move one end of `{}` to another place", self.second)
        } else {
            format!("move one end of `{}` off that line", self.second)
        }
    }

    pub fn names(&self) -> Vec<String> {
        vec![self.first.clone(), self.second.clone()]
    }
}

impl Cause {
    pub fn find(corner: &Corner<f64>, count: &Freedoms, motions: &[FreeMotion]) -> Self {
        if let Some(pair) = pair(corner) {
            return Self::Pair(pair);
        }
        if let Some(rods) = rods_alone(corner)
            && rods.len() >= 4
        {
            let names = || rods.iter().map(|r| r.name.clone()).collect();
            if rods.iter().all(|r| r.along.cross(&rods[0].along).norm() < PARALLEL) {
                return Self::Parallel(names());
            }
            if rods.len() >= 5
                && let Some(line) = common_line(corner, &rods, motions)
            {
                return Self::OneLine { line, names: names() };
            }
        }
        if count.redundant > 0 && !count.repeated.is_empty() {
            return Self::Repeated(count.repeated.clone());
        }
        Self::TooFew(rods_alone(corner).map(|r| r.len()))
    }
}

/// A rod between the upright and the body or rack.
pub struct Rod {
    pub name: String,
    /// Its end on the upright.
    at: Vector3<f64>,
    /// Unit vector.
    along: Vector3<f64>,
}

fn ends<'a>(corner: &'a Corner<f64>, name: &str) -> Option<(&'a End<f64>, &'a End<f64>)> {
    let linkage = corner.linkage();
    let joint = &linkage.joints()[linkage.joint(name)?];
    match linkage.rows().get(joint.rows.start)? {
        Row::Distance { a, b, .. } => Some((a, b)),
        _ => None,
    }
}

/// All rods of a corner that has one body and nothing but rods.
pub fn rods_alone(corner: &Corner<f64>) -> Option<Vec<Rod>> {
    let linkage = corner.linkage();
    if linkage.bodies() != 1 {
        return None;
    }
    let upright = Frame::Body(UPRIGHT);
    linkage
        .joints()
        .iter()
        .filter(|j| j.rows.end <= linkage.joint_rows().len())
        .map(|j| {
            let (a, b) = ends(corner, &j.name)?;
            let (own, other) = if a.frame == upright { (a, b) } else { (b, a) };
            Some(Rod { name: j.name.clone(), at: own.at, along: (own.at - other.at).normalize() })
        })
        .collect()
}

/// The first two rods that lie on one line.
pub fn pair(corner: &Corner<f64>) -> Option<Pair> {
    let (first, second) = rods_on_one_line(corner.linkage()).into_iter().next()?;
    let ((a, b), (c, d)) = (ends(corner, &first)?, ends(corner, &second)?);
    let near = |x: &End<f64>, y: &End<f64>| (x.at - y.at).norm() < NEAR;
    let same_ends = (near(a, c) && near(b, d)) || (near(a, d) && near(b, c));
    Some(Pair { first, second, same_ends })
}

/// The steepest rod, if it is steep enough to hold a height.
pub fn steepest_rod(corner: &Corner<f64>) -> Option<String> {
    let steep = |name: &str| {
        let (a, b) = ends(corner, name)?;
        Some((b.at - a.at).normalize().z.abs())
    };
    let joints = corner.linkage().joints();
    let all = joints.iter().filter_map(|j| Some((steep(&j.name)?, &j.name))).filter(|(s, _)| *s > STEEP);
    all.max_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, name)| name.clone())
}

/// How the line runs that all rods cross, if there is one: a free motion that is a pure turn, about it.
pub fn common_line(corner: &Corner<f64>, rods: &[Rod], motions: &[FreeMotion]) -> Option<&'static str> {
    let upright = |m: &FreeMotion| m.twists[UPRIGHT];
    let turns = match motions {
        [only] => vec![upright(only)],
        [p, q, ..] => pure_turns(&upright(p), &upright(q)),
        [] => return None,
    };
    for turn in turns {
        let square = turn.w.norm_squared();
        if square < 1e-12 {
            continue;
        }
        let (axis, foot) = (turn.w / square.sqrt(), corner.centre().at + turn.w.cross(&turn.v) / square);
        // A rod that crosses the axis or runs along it has no moment about it.
        if rods.iter().all(|r| (r.at - foot).cross(&r.along).dot(&axis).abs() < NEAR) {
            let size = axis.abs();
            return Some(match size.imax() {
                2 => "stands upright",
                1 => "runs across the car",
                _ => "runs fore and aft",
            });
        }
    }
    None
}

/// The screws without pitch among `cos(t) p + sin(t) q`: v.w = 0 is a quadratic in tan(t).
fn pure_turns(p: &Twist<f64>, q: &Twist<f64>) -> Vec<Twist<f64>> {
    let (a, b, c) = (q.v.dot(&q.w), p.v.dot(&q.w) + q.v.dot(&p.w), p.v.dot(&p.w));
    let mix = |s: f64, t: f64| Twist { v: p.v * s + q.v * t, w: p.w * s + q.w * t };
    let size = a.abs().max(b.abs()).max(c.abs());
    if size < 1e-9 {
        // Every mix is a turn, or a shift: try the two themselves and what lies between.
        return vec![mix(1.0, 0.0), mix(0.0, 1.0), mix(1.0, 1.0), mix(1.0, -1.0)];
    }
    // A double root may have a discriminant just below zero.
    let discriminant = b * b - 4.0 * a * c;
    if discriminant < -1e-9 * size * size {
        return Vec::new();
    }
    let root = discriminant.max(0.0).sqrt();
    // Roots as ratios t : s, in the form that never cancels.
    let k = -0.5 * (b + root.copysign(b));
    vec![mix(a, k), mix(k, c)]
}
