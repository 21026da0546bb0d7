//! Which places of a frame can be drawn, and where they go.

use nalgebra::Vector3;

use super::aim::usable;
use super::signs::{self, Arrow};
use super::usage::Class;
use super::{FrameSpec, FrameTube, Sheet};
use crate::plane::Spot;

/// Places this near to one another are the same joint \[m\].
pub(crate) const SAME: f64 = 1e-3;

/// Air around the frame for words, and the least of it, for the width of the lines \[px\].
const AIR: f64 = 16.0;
const LEAST_AIR: f64 = 8.0;

/// A tube with what of it can be drawn.
#[derive(Clone, Debug)]
pub(crate) struct Shape<'a> {
    pub tube: &'a FrameTube,
    pub class: Class,
    /// Without load, in unbroken runs.
    pub rest: Vec<Vec<Vector3<f64>>>,
    /// Under load, magnified, in the same runs.
    pub now: Vec<Vec<Vector3<f64>>>,
    /// Whether the give of some place is missing or no number: it is drawn at rest.
    pub unsure: bool,
}

/// The tubes that have a place, in order.
pub(crate) fn shapes(spec: &FrameSpec) -> Vec<Shape<'_>> {
    let larger = spec.larger();
    let mut all = Vec::with_capacity(spec.tubes.len());
    for tube in &spec.tubes {
        let mut shape = Shape {
            tube,
            class: Class::of(tube.uses),
            rest: Vec::new(),
            now: Vec::new(),
            unsure: !tube.moved.is_empty() && tube.moved.len() < tube.rest.len(),
        };
        let mut open = false;
        for (i, at) in tube.rest.iter().enumerate() {
            if !usable(at) {
                open = false;
                continue;
            }
            if !open {
                shape.rest.push(Vec::new());
                shape.now.push(Vec::new());
                open = true;
            }
            let moved = at + tube.moved.get(i).copied().unwrap_or_default() * larger;
            let known = tube.moved.get(i).is_none_or(usable) && usable(&moved);
            shape.unsure |= !known;
            if let (Some(rest), Some(now)) = (shape.rest.last_mut(), shape.now.last_mut()) {
                rest.push(*at);
                now.push(if known { moved } else { *at });
            }
        }
        if !shape.rest.is_empty() {
            all.push(shape);
        }
    }
    all
}

/// Where a place of the frame is under load: with the first tube that runs through it, else at rest.
pub(crate) fn loaded(shapes: &[Shape<'_>], at: &Vector3<f64>) -> Vector3<f64> {
    for (rest, now) in shapes.iter().flat_map(|s| s.rest.iter().zip(&s.now)) {
        for ((a, b), (a_now, b_now)) in pieces(rest).zip(pieces(now)) {
            let way = b - a;
            let share = ((at - a).dot(&way) / way.norm_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            if (a + way * share - at).norm() < SAME {
                return a_now + (b_now - a_now) * share;
            }
        }
    }
    *at
}

fn pieces(run: &[Vector3<f64>]) -> impl Iterator<Item = (&Vector3<f64>, &Vector3<f64>)> {
    run.iter().zip(run.iter().skip(1))
}

/// Fills the plot with the frame and its signs.
pub(crate) fn fit(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>], arrows: &[Arrow<'_>]) {
    let mut places: Vec<(Vector3<f64>, Spot)> = Vec::new();
    for shape in shapes {
        places.extend(shape.rest.iter().chain(&shape.now).flatten().map(|at| (*at, (0.0, 0.0))));
    }
    let spec = sheet.spec;
    places.extend(spec.nodes.iter().filter(|(_, at)| usable(at)).map(|(_, at)| (*at, (0.0, 0.0))));
    let room = signs::have_room(sheet);
    for (_, at) in spec.feet.iter().filter(|(_, at)| room && usable(at)) {
        places.extend(signs::FOOT.map(|way| (*at, way)));
    }
    for arrow in arrows {
        places.extend([(arrow.at, arrow.from), (arrow.at, arrow.to)]);
    }
    let plot = sheet.plot.grown(-(sheet.plot.width().min(sheet.plot.height()) * 0.1).clamp(LEAST_AIR, AIR));
    sheet.aim.fit(&places, &plot);
}
