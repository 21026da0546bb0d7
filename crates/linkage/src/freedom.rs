//! Counting freedoms: which motions the joints leave, which equations say the same thing twice.

use nalgebra::{DMatrix, Vector3};

use crate::factor::singular_values;
use crate::frame::Frame;
use crate::model::Linkage;
use crate::pose::Twist;
use crate::row::Row;
use crate::state::{End, Position};

/// Length [m] by which rotations are scaled against displacements, so that a singular value is a length: the
/// size of an upright. Ranks do not depend on it unless a linkage is within [`RANK_TOLERANCE`] of degenerate.
const SCALE: f64 = 0.2;

/// A singular value of the scaled gradient below this is a freedom. Rows have unit size, so it is roughly
/// the offset [m], over [`SCALE`], by which a degenerate linkage may miss its degenerate shape: 0.2 um.
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
    /// Joints that take part in the redundancy.
    pub repeated: Vec<String>,
    /// Smallest singular value that counts as held [-]; small means little leverage.
    pub leverage: f64,
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
    // At least as many rows as columns, so that the decomposition spans the whole space of motions.
    let mut matrix = DMatrix::zeros(rows.len().max(columns), columns);
    let mut gradient = vec![0.0; columns];
    for (i, row) in rows.iter().enumerate() {
        gradient.fill(0.0);
        row.linearise(linkage.frames(), &q, &mut gradient);
        for (j, g) in gradient.iter().enumerate() {
            matrix[(i, j)] = if j % 6 < 3 { *g } else { g / SCALE };
        }
    }
    let svd = singular_values(matrix)?;
    let (u, v_t) = (svd.u.as_ref()?, svd.v_t.as_ref()?);
    let held: Vec<bool> = svd.singular_values.iter().map(|s| *s > RANK_TOLERANCE).collect();
    let rank = held.iter().filter(|h| **h).count();
    let leverage =
        svd.singular_values.iter().copied().filter(|s| *s > RANK_TOLERANCE).fold(f64::INFINITY, f64::min);

    let loose: Vec<Vec<Twist<f64>>> = (0..columns)
        .filter(|k| !held[*k])
        .map(|k| {
            (0..linkage.bodies())
                .map(|b| Twist {
                    v: Vector3::new(v_t[(k, 6 * b)], v_t[(k, 6 * b + 1)], v_t[(k, 6 * b + 2)]),
                    w: Vector3::new(v_t[(k, 6 * b + 3)], v_t[(k, 6 * b + 4)], v_t[(k, 6 * b + 5)]) / SCALE,
                })
                .collect()
        })
        .collect();
    let (motions, idle) = split_idle(linkage, &q, &loose, watched_body, watched_points)?;

    let mut repeated = Vec::new();
    let redundant = rows.len() - rank;
    if redundant > 0 {
        // A left singular vector of a zero singular value is a set of reactions in balance with nothing.
        // Those with a row beyond the joints' own come from the padding.
        for joint in linkage.joints().iter().filter(|j| j.rows.end <= rows.len()) {
            let weight: f64 = (0..columns)
                .filter(|k| !held[*k])
                .map(|k| joint.rows.clone().map(|i| u[(i, k)].powi(2)).sum::<f64>())
                .sum();
            if weight > 1e-6 {
                repeated.push(joint.name.clone());
            }
        }
    }
    Some(Freedoms { motions, idle, redundant, repeated, leverage })
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
    let height = columns[0].len().max(loose.len());
    let matrix =
        DMatrix::from_fn(height, loose.len(), |i, j| columns[j].get(i).copied().unwrap_or(0.0));
    let svd = singular_values(matrix)?;
    let v_t = svd.v_t.as_ref()?;
    let mut motions = Vec::new();
    for (k, s) in svd.singular_values.iter().enumerate() {
        if *s > 1e3 * RANK_TOLERANCE {
            let mut twists = vec![Twist::zero(); linkage.bodies()];
            for (j, part) in loose.iter().enumerate() {
                for (sum, t) in twists.iter_mut().zip(part) {
                    sum.v += t.v * (v_t[(k, j)] / s);
                    sum.w += t.w * (v_t[(k, j)] / s);
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
