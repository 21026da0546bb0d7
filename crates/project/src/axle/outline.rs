//! The outline of a plate: flat, and not crossing itself.

use std::ops::Range;

use nalgebra::Vector3;

use crate::entry::Entry;
use crate::point::count;
use crate::slips;

/// Greatest distance of a corner from the plane of the others \[m\]: what a tape survey of flat plate gives.
const FLAT: f64 = 2e-3;

/// Corners nearer than this are one corner \[m\].
const SAME: f64 = 0.1e-3;

/// Most corners of an outline; the check for crossings is quadratic.
const MOST: usize = 100;

/// A corner of the plate.
pub(crate) struct Corner {
    pub(crate) at: Vector3<f64>,
    pub(crate) span: Range<usize>,
}

/// The outline, if it is one; else an error.
pub(crate) fn check(entry: &Entry<'_>, mut corners: Vec<Corner>) -> Option<Vec<Vector3<f64>>> {
    // An outline closed by hand repeats its first corner.
    if let (Some(first), Some(last)) = (corners.first(), corners.last())
        && corners.len() > 3
        && (first.at - last.at).norm() < SAME
    {
        corners.pop();
    }
    if !(3..=MOST).contains(&corners.len()) {
        entry.error(
            format!("`{}` has {}, where 3 to {MOST} are wanted", entry.path, count(corners.len(), "corner")),
            None,
        );
        return None;
    }
    let points: Vec<Vector3<f64>> = corners.iter().map(|corner| corner.at).collect();
    let Some(normal) = normal(&points) else {
        entry.error(
            format!("the corners of `{}` lie on one line", entry.path),
            "give them in order around the plate".to_string(),
        );
        return None;
    };
    if let Some((index, distance)) = farthest(&points)
        && distance > FLAT
    {
        let off = slips::length(&entry.units, distance);
        let span = corners.get(index).map_or(entry.span.clone(), |corner| corner.span.clone());
        entry.sink.error(
            &span,
            format!("corner {} of `{}` is {off} out of the plane of the others", index + 1, entry.path),
            "a plate is flat: measure that corner again".to_string(),
        );
        return None;
    }
    if let Some((first, second)) = crossing(&points, &normal) {
        let side = |index: usize| format!("{} to {}", index + 1, (index + 1) % points.len() + 1);
        entry.error(
            format!(
                "the outline of `{}` crosses itself: side {} and side {}",
                entry.path,
                side(first),
                side(second)
            ),
            "give the corners in order around the plate".to_string(),
        );
        return None;
    }
    Some(points)
}

/// Unit normal of a closed outline, from its vector area `1/2 sum p_i x p_i+1`. `None` where the area is nil.
fn normal(points: &[Vector3<f64>]) -> Option<Vector3<f64>> {
    let origin = *points.first()?;
    let next = points.iter().cycle().skip(1);
    let area: Vector3<f64> = points.iter().zip(next).map(|(p, q)| (p - origin).cross(&(q - origin))).sum();
    // A crossed outline may have no area though its corners span one: any two sides then give the plane.
    area.try_normalize(1e-9).or_else(|| {
        let sides = points.iter().map(|p| p - origin);
        let longest = sides.clone().max_by(|p, q| p.norm().total_cmp(&q.norm()))?;
        let widest = sides.map(|p| longest.cross(&p)).max_by(|p, q| p.norm().total_cmp(&q.norm()))?;
        widest.try_normalize(1e-9)
    })
}

/// The corner that spoils the flatness, and its distance from the plane of the others: the one without which
/// they are flattest, the farther one where that does not decide (four corners).
fn farthest(points: &[Vector3<f64>]) -> Option<(usize, f64)> {
    let candidates = (0..points.len()).filter_map(|index| {
        let mut others = points.to_vec();
        let corner = others.remove(index);
        let normal = normal(&others)?;
        let middle = others.iter().sum::<Vector3<f64>>() / others.len() as f64;
        let distance = |p: &Vector3<f64>| normal.dot(&(p - middle)).abs();
        let rest = others.iter().map(distance).fold(0.0, f64::max);
        Some((index, distance(&corner), (rest / SAME).round()))
    });
    let spoiler = candidates.min_by(|p, q| p.2.total_cmp(&q.2).then(q.1.total_cmp(&p.1)))?;
    (points.len() > 3).then_some((spoiler.0, spoiler.1))
}

/// Two sides (by their first corner) that cross or touch though they are not neighbours.
fn crossing(points: &[Vector3<f64>], normal: &Vector3<f64>) -> Option<(usize, usize)> {
    let total = points.len();
    let turn = |a: &Vector3<f64>, b: &Vector3<f64>, c: &Vector3<f64>| normal.dot(&(b - a).cross(&(c - a)));
    let side = |index: usize| Some((points.get(index)?, points.get((index + 1) % total)?));
    for first in 0..total {
        for second in first + 2..total {
            if (second + 1) % total == first {
                continue;
            }
            let ((a, b), (c, d)) = (side(first)?, side(second)?);
            if turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0 {
                return Some((first, second));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(corners: &[[f64; 3]]) -> Vec<Vector3<f64>> {
        corners.iter().map(|corner| Vector3::from(*corner)).collect()
    }

    #[test]
    fn finds_the_corner_that_is_out_of_plane() {
        let flat = [[0.0, 0.0, 0.0], [0.1, 0.0, 0.0], [0.15, 0.05, 0.0], [0.1, 0.1, 0.0], [0.0, 0.1, 0.0]];
        assert!(farthest(&points(&flat)).is_some_and(|(_, distance)| distance < 1e-12));
        let mut bent = flat;
        bent[2][2] = 0.005;
        let (index, distance) = farthest(&points(&bent)).expect("five corners");
        assert_eq!(index, 2);
        assert!((distance - 0.005).abs() < 1e-9);
    }

    #[test]
    fn finds_sides_that_cross() {
        let bow = points(&[[0.0, 0.0, 0.0], [0.1, 0.1, 0.0], [0.1, 0.0, 0.0], [0.0, 0.1, 0.0]]);
        let normal = normal(&bow).expect("corners span a plane");
        assert_eq!(crossing(&bow, &normal), Some((0, 2)));
        let square = points(&[[0.0, 0.0, 0.0], [0.1, 0.0, 0.0], [0.1, 0.1, 0.0], [0.0, 0.1, 0.0]]);
        assert_eq!(crossing(&square, &Vector3::z()), None);
    }
}
