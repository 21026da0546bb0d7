//! Counting freedoms: which motions the joints leave, which equations say the same thing twice.

use std::ops::Range;

use nalgebra::{DMatrix, Vector3};

use crate::frame::Frame;
use crate::model::{Joint, Linkage};
use crate::pose::Twist;
use crate::row::Row;
use crate::singular::Singular;
use crate::state::{End, Position};

/// Length [m] by which rotations are scaled against displacements, so that a singular value is a length: the
/// size of an upright. Ranks do not depend on it unless a linkage is within [`RANK_TOLERANCE`] of degenerate.
const SCALE: f64 = 0.2;

/// A singular value of the scaled gradient below this is a freedom. Rows have unit size, so it is roughly
/// the offset over 0.2 m by which a degenerate linkage may miss its degenerate shape: 0.2 um.
pub const RANK_TOLERANCE: f64 = 1e-6;

/// Below this singular value a linkage still counts as sound, but is reported as close to degenerate:
/// its links have next to no leverage over one motion.
pub const NEAR_TOLERANCE: f64 = 5e-3;

/// A motion that the joints leave free: screws of all bodies, the largest displacement being of unit size.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeMotion {
    /// One screw a body.
    pub twists: Vec<Twist<f64>>,
}

/// The freedoms of a linkage in its design place with the inputs held and the drives taken off.
#[derive(Clone, Debug, PartialEq)]
pub struct Freedoms {
    /// Motions of interest: those that move a watched point or body. One is what a corner wants.
    pub motions: Vec<FreeMotion>,
    /// Motions that move nothing watched, such as the spin of a rod about its own length. Harmless.
    pub idle: usize,
    /// Equations that repeat what others say. Harmless in exact geometry, a fight in welded steel.
    pub redundant: usize,
    /// Joints that take part in the redundancy, most concerned first.
    pub repeated: Vec<String>,
    /// Smallest singular value that counts as held [-]; small means little leverage.
    pub leverage: f64,
    /// The motion that is held with that leverage, where there is any.
    pub weakest: Option<FreeMotion>,
    /// Joints that hold it, most concerned first.
    pub weak: Vec<String>,
}

/// Counts the freedoms of a linkage in its design place. `watched_body` is watched as a whole, and so is
/// every point in `watched_points`. `None` if the linkage has no body or its gradient is not finite.
pub fn freedoms(
    linkage: &Linkage<f64>,
    watched_body: usize,
    watched_points: &[End<f64>],
) -> Option<Freedoms> {
    let columns = 6 * linkage.bodies();
    if columns == 0 || watched_body >= linkage.bodies() {
        return None;
    }
    let q = Position::design(linkage.bodies(), linkage.inputs());
    let rows = linkage.joint_rows();
    let mut matrix = DMatrix::zeros(rows.len().max(1), columns);
    let mut gradient = vec![0.0; columns];
    for (i, row) in rows.iter().enumerate() {
        gradient.fill(0.0);
        row.linearise(linkage.frames(), &q, &mut gradient);
        for (j, g) in gradient.iter().enumerate() {
            matrix[(i, j)] = if j % 6 < 3 { *g } else { g / SCALE };
        }
    }
    let transposed = matrix.transpose();
    let singular = Singular::new(matrix)?;
    let rank = singular.rank(RANK_TOLERANCE);
    let leverage = singular.values[..rank].last().copied().unwrap_or(f64::INFINITY);
    let motion = |k: usize| -> Vec<Twist<f64>> {
        let x = singular.right.column(k);
        let at = |b: usize, i: usize| Vector3::new(x[6 * b + i], x[6 * b + i + 1], x[6 * b + i + 2]);
        (0..linkage.bodies()).map(|b| Twist { v: at(b, 0), w: at(b, 3) / SCALE }).collect()
    };
    let loose: Vec<Vec<Twist<f64>>> = (rank..columns).map(&motion).collect();
    let weakest = rank.checked_sub(1).map(|k| FreeMotion { twists: motion(k) });
    let (motions, idle) = split_idle(linkage, &q, &loose, watched_body, watched_points)?;

    // A left singular vector of a zero singular value is a set of reactions in balance with nothing; that of the
    // least value above zero is the set that resists the weakest motion.
    let left = Singular::new(transposed)?.right;
    let weight = |joint: &Joint, vectors: Range<usize>| -> f64 {
        vectors.map(|k| joint.rows.clone().map(|i| left[(i, k)].powi(2)).sum::<f64>()).sum()
    };
    let by_weight = |vectors: Range<usize>, least: f64| -> Vec<String> {
        let mut named: Vec<(f64, &str)> = linkage
            .joints()
            .iter()
            .filter(|j| j.rows.end <= rows.len())
            .map(|j| (weight(j, vectors.clone()), j.name.as_str()))
            .filter(|(w, _)| *w > least)
            .collect();
        named.sort_by(|a, b| b.0.total_cmp(&a.0));
        named.into_iter().map(|(_, name)| name.to_string()).collect()
    };
    let redundant = rows.len() - rank;
    let repeated = by_weight(rank..rows.len(), 1e-6);
    let weak = by_weight(rank.saturating_sub(1)..rank, 0.1);
    Some(Freedoms { motions, idle, redundant, repeated, leverage, weakest, weak })
}

/// Splits loose motions into those that move something watched and the number of those that do not.
fn split_idle(
    linkage: &Linkage<f64>,
    q: &Position<f64>,
    loose: &[Vec<Twist<f64>>],
    body: usize,
    points: &[End<f64>],
) -> Option<(Vec<FreeMotion>, usize)> {
    if loose.is_empty() {
        return Some((Vec::new(), 0));
    }
    let frames = linkage.frames();
    let watched = |twists: &[Twist<f64>]| -> Vec<f64> {
        let mut out = Vec::with_capacity(6 + 3 * points.len());
        out.extend(twists[body].v.iter().copied());
        out.extend(twists[body].w.iter().map(|w| w * SCALE));
        for end in points {
            if let Frame::Body(b) = end.frame {
                out.extend(twists[b].at(&frames.lever(q, end)).iter().copied());
            }
        }
        out
    };
    let columns: Vec<Vec<f64>> = loose.iter().map(|t| watched(t)).collect();
    let matrix = DMatrix::from_fn(columns[0].len(), loose.len(), |i, j| columns[j][i]);
    let singular = Singular::new(matrix)?;
    let mut motions = Vec::new();
    for (k, s) in singular.values.iter().enumerate() {
        if *s > 1e3 * RANK_TOLERANCE {
            let mut twists = vec![Twist::zero(); linkage.bodies()];
            for (j, part) in loose.iter().enumerate() {
                for (sum, t) in twists.iter_mut().zip(part) {
                    sum.v += t.v * (singular.right[(j, k)] / s);
                    sum.w += t.w * (singular.right[(j, k)] / s);
                }
            }
            motions.push(FreeMotion { twists });
        }
    }
    let idle = loose.len() - motions.len();
    Some((motions, idle))
}

/// Pairs of rods that lie on one line, and pairs that join the same two points: the usual reasons for a
/// freedom too many. Found among the joints of a linkage in its design place.
pub fn rods_on_one_line(linkage: &Linkage<f64>) -> Vec<(String, String)> {
    let rods: Vec<(&str, &End<f64>, &End<f64>)> = linkage
        .joints()
        .iter()
        .filter_map(|j| match linkage.rows().get(j.rows.start)? {
            Row::Distance { a, b, .. } => Some((j.name.as_str(), a, b)),
            _ => None,
        })
        .collect();
    let mut pairs = Vec::new();
    for (i, (name, a, b)) in rods.iter().enumerate() {
        for (other, c, d) in &rods[i + 1..] {
            let bodies = |x: &End<f64>, y: &End<f64>| (x.frame, y.frame);
            if bodies(a, b) != bodies(c, d) && bodies(a, b) != bodies(d, c) {
                continue;
            }
            let e = (b.at - a.at).normalize();
            let off = |p: &End<f64>| (p.at - a.at).cross(&e).norm();
            if off(c) < 1e-5 && off(d) < 1e-5 {
                pairs.push(((*name).to_string(), (*other).to_string()));
            }
        }
    }
    pairs
}
