//! Where the wheel goes when a pickup is off and every part is as drawn: links and arms keep their lengths.
//!
//! With the residuals `C(q, p) = 0` of the linkage, a pickup that is off by `dp` moves the bodies by
//! `dq = -J^-1 (dC/dp) dp`. Only what is on the body goes with the pickup: the other ends, the lengths and the directions
//! in moving bodies stay as drawn, which tells this apart from a car that is drawn anew.

use linkage::{Dual64, End, Frame, Linkage, Row};
use nalgebra::Vector3;
use suspension::{Corner, Mover, angle_rates};

/// Shift of toe and camber at ride height \[rad/m\], by what the parameter of `moved` is off; `None` at a dead point.
pub(super) fn shift(corner: &Corner<f64>, moved: &Corner<Dual64>) -> Option<[f64; 2]> {
    let mut mover = Mover::new(corner);
    let mut shift = [0.0; 2];
    for (row, slope) in slopes(corner.linkage(), moved.linkage()) {
        let [toe, camber] = response(corner, &mut mover, row)?;
        shift[0] -= slope * toe;
        shift[1] -= slope * camber;
    }
    Some(shift)
}

/// What a unit of length of an adjuster does to toe and camber at ride height \[rad/m\].
pub(super) fn adjuster(corner: &Corner<f64>, joint: &str) -> Option<[f64; 2]> {
    let linkage = corner.linkage();
    let joint = linkage.joint(joint)?;
    linkage.rod_length(joint)?;
    let row = linkage.joints().get(joint)?.rows.start;
    response(corner, &mut Mover::new(corner), row)
}

fn response(corner: &Corner<f64>, mover: &mut Mover<'_>, row: usize) -> Option<[f64; 2]> {
    let frames = corner.linkage().frames();
    let spin = frames.direction(mover.solver().position(), corner.centre().frame, corner.spin());
    let twist = *mover.solver().response(row)?.first()?;
    let (toe, camber) = angle_rates(&spin, &twist.w);
    Some([toe, camber])
}

/// Weakest adjuster that counts \[rad/m\]: 0.006 deg for a millimetre sets nothing. Own choice.
const WEAKEST: f64 = 0.1;

/// Least sine of the angle between what two adjusters do to toe and camber at which they set both: own choice.
const INDEPENDENT: f64 = 0.1;

/// What adjusters leave of a shift of toe and camber: one alone is turned for toe (common practice), or for camber where
/// it does nothing to toe; two that work differently take both away.
pub(super) fn left_over([toe, camber]: [f64; 2], adjusters: &[[f64; 2]]) -> [f64; 2] {
    let Some(first) = adjusters.iter().max_by(|a, b| a[0].abs().total_cmp(&b[0].abs())) else {
        return [toe, camber];
    };
    let size = |of: &[f64; 2]| of[0].hypot(of[1]);
    let independent = adjusters.iter().filter(|other| size(other) >= WEAKEST).any(|other| {
        (first[0] * other[1] - first[1] * other[0]).abs() > INDEPENDENT * size(first) * size(other)
    });
    if independent && size(first) >= WEAKEST {
        [0.0, 0.0]
    } else if first[0].abs() >= WEAKEST {
        [0.0, camber - first[1] * toe / first[0]]
    } else if first[1].abs() >= WEAKEST {
        [toe - first[0] * camber / first[1], 0.0]
    } else {
        [toe, camber]
    }
}

/// The equations that a pickup which is off no longer meets, with their residuals' slopes.
fn slopes(drawn: &Linkage<f64>, moved: &Linkage<Dual64>) -> Vec<(usize, f64)> {
    drawn
        .joint_rows()
        .iter()
        .zip(moved.joint_rows())
        .enumerate()
        .filter_map(|(index, (drawn, moved))| Some((index, slope(drawn, moved)?)))
        .filter(|(_, slope)| *slope != 0.0)
        .collect()
}

/// The slope of a residual at the design place, with only what is on the body moved.
fn slope(drawn: &Row<f64>, moved: &Row<Dual64>) -> Option<f64> {
    let residual = match (drawn, moved) {
        (Row::Distance { a, b, length }, Row::Distance { a: a1, b: b1, .. }) => {
            let d = end(a, a1) - end(b, b1);
            (d.dot(&d) - Dual64::from(length * length)) / (length * 2.0)
        }
        (
            Row::Offset { frame, normal, from, to, rest, .. },
            Row::Offset { normal: normal1, from: from1, to: to1, .. },
        ) => {
            let normal = direction(*frame, normal, normal1);
            normal.dot(&(end(to, to1) - end(from, from1))) - Dual64::from(*rest)
        }
        (
            Row::Angle { a, along_a, b, along_b, rest },
            Row::Angle { along_a: along_a1, along_b: along_b1, .. },
        ) => direction(*a, along_a, along_a1).dot(&direction(*b, along_b, along_b1)) - Dual64::from(*rest),
        _ => return None,
    };
    Some(residual.eps)
}

fn end(drawn: &End<f64>, moved: &End<Dual64>) -> Vector3<Dual64> {
    direction(drawn.frame, &drawn.at, &moved.at)
}

/// As moved where the body carries it (or the rack, which is bolted to the body), as drawn elsewhere.
fn direction(frame: Frame, drawn: &Vector3<f64>, moved: &Vector3<Dual64>) -> Vector3<Dual64> {
    match frame {
        Frame::Ground | Frame::Carriage(_) => *moved,
        Frame::Body(_) => drawn.map(<Dual64 as From<f64>>::from),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn adjusters_take_away_what_they_can() {
        let shift = [0.3, -0.2];
        assert_eq!(left_over(shift, &[]), shift);
        assert_eq!(left_over(shift, &[[2.0, 0.0]]), [0.0, -0.2]);
        assert_eq!(left_over(shift, &[[2.0, 1.0]]), [0.0, -0.2 - 0.15]);
        assert_eq!(left_over(shift, &[[2.0, 0.1], [0.1, 3.0]]), [0.0, 0.0]);
        // Two that do the same are one.
        assert_eq!(left_over(shift, &[[2.0, 0.0], [-1.0, 0.0]]), [0.0, -0.2]);
        assert_eq!(left_over(shift, &[[0.0, 2.0]]), [0.3, 0.0]);
        assert_eq!(left_over(shift, &[[0.01, 0.02]]), shift);
    }
}
