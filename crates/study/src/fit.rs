//! What a change of holes asks of the links: the length to set so that the wheel stays where it is at ride
//! height, and, if the link is left as it is, how far wheelbase, toe and camber shift and which turns of which
//! adjuster put them back.

use linkage::Dual64;
use linkage::scalar::norm;
use nalgebra::{DMatrix, DVector, Vector3};
use suspension::{AxleEnd, Corner, Measures, Mover};

use crate::estimate::Estimate;
use crate::evaluate::{Evaluation, Extent, gather};
use crate::subject::{Inputs, Subject};

/// Camber or toe [rad] that weighs as much as a metre of wheelbase when adjusters cannot put all three back:
/// a millimetre of wheelbase is worth as little as 0.05 deg of toe. Common practice, not a source.
const ANGLE_PER_LENGTH: f64 = 0.87;

/// Newton steps to put the wheel back by adjusters; it takes three or four.
const ADJUSTER_STEPS: usize = 25;

/// A link whose end moved, and the length that keeps the wheel in place.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkFit {
    /// Name of the joint.
    pub joint: String,
    /// Length between its ends as drawn [m].
    pub drawn: f64,
    /// Length to set [m].
    pub length: Estimate,
    /// Change of length [m].
    pub change: Estimate,
    /// Turns of the link's own adjuster, where it has one.
    pub turns: Option<Estimate>,
}

/// How far the wheel shifts at ride height if the links are left as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// Change of wheelbase on this side [m].
    pub wheelbase: Estimate,
    /// Change of toe [rad], toe-in positive.
    pub toe: Estimate,
    /// Change of camber [rad].
    pub camber: Estimate,
    /// What the adjusters can do about it.
    pub put_back: Adjustment,
}

/// Turns of the adjusters that bring the wheel back as near as they can, and what is left then.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Adjustment {
    /// Joint and turns, longer positive; empty where the axle has no adjuster.
    pub turns: Vec<(String, f64)>,
    /// Wheelbase [m], toe [rad] and camber [rad] still off afterwards.
    pub left: [f64; 3],
}

/// The links that end at the changed points.
pub(crate) fn link_fits(evaluation: &Evaluation<'_, '_>, holes: &[usize]) -> Vec<LinkFit> {
    let subject = evaluation.subject;
    let axle = subject.axle();
    let scheme = &axle.scheme;
    let mut fits = Vec::new();
    for hole in holes.iter().filter_map(|h| axle.holes.get(*h)) {
        for (name, other) in scheme.legs_at(hole.point) {
            let between = |points: &[Vector3<f64>]| (points[hole.point] - points[other]).norm();
            let (new, drawn) = (between(&evaluation.inputs.points), between(&evaluation.inputs.drawn));
            let dual = |points: &[Vector3<Dual64>]| norm(&(points[hole.point] - points[other]));
            let length = gather(subject, new, evaluation.duals().map(|d| Some(dual(&d?.0.points))));
            let change = gather(
                subject,
                new - drawn,
                evaluation.duals().map(|d| {
                    let inputs = d?.0;
                    Some(dual(&inputs.points) - dual(&inputs.drawn))
                }),
            );
            let turns = axle.adjusters.iter().find(|a| a.joint == name).map(|a| Estimate {
                value: change.value / a.per_turn,
                contributions: change.contributions.iter().map(|c| c / a.per_turn).collect(),
            });
            fits.push(LinkFit { joint: name.into(), drawn, length, change, turns });
        }
    }
    fits
}

/// The shift at ride height with the links at their drawn lengths. `None` where the wheel then finds no
/// position near, or the moved points belong to no link (a hinge or bush has no length to leave). The evaluation
/// must be of [`crate::evaluate::Extent::Wheel`].
pub(crate) fn left_as_is(evaluation: &Evaluation<'_, '_>, holes: &[usize]) -> Option<Shift> {
    let subject = evaluation.subject;
    let axle = subject.axle();
    // (name of the leg, the moved point, the point at the other end)
    let changed: Vec<(&str, usize, usize)> = holes
        .iter()
        .filter_map(|h| axle.holes.get(*h))
        .flat_map(|h| axle.scheme.legs_at(h.point).map(|(name, other)| (name, h.point, other)))
        .collect();
    if changed.is_empty() {
        return None;
    }
    let mut corner = evaluation.corner.clone();
    let drawn = &evaluation.inputs.drawn;
    for (name, a, b) in &changed {
        let joint = corner.linkage().joint(name)?;
        corner.linkage_mut().set_rod_length(joint, (drawn[*a] - drawn[*b]).norm()).then_some(())?;
    }
    let mut mover = Mover::new(&corner);
    mover.assemble().ok()?;
    let measures = mover.at(0.0, 0.0).ok()?;
    let plain = misfit(subject, &measures, &evaluation.inputs);
    let duals: Vec<Option<[Dual64; 3]>> = evaluation
        .duals()
        .map(|dual| {
            let (inputs, corner) = dual?;
            let mut corner = corner.clone();
            for (name, a, b) in &changed {
                let joint = corner.linkage().joint(name)?;
                corner.linkage_mut().set_rod_length(joint, norm(&(inputs.drawn[*a] - inputs.drawn[*b])));
            }
            let m = mover.sensitivity(&corner)?;
            Some(misfit(subject, &m, inputs))
        })
        .collect();
    let estimate = |k: usize| gather(subject, plain[k], duals.iter().map(|d| d.as_ref().map(|d| d[k])));
    let put_back = put_back(subject, &corner, &evaluation.inputs);
    Some(Shift { wheelbase: estimate(0), toe: estimate(1), camber: estimate(2), put_back })
}

/// A link whose length is set, in a state of the car.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LinkSetting {
    /// Name of the joint.
    pub joint: String,
    /// Length between its ends [m].
    pub length: f64,
    /// Change from the drawn length [m].
    pub change: f64,
    /// Change of length of one turn [m], where it can be turned.
    pub per_turn: Option<f64>,
}

/// Lengths of the links with some holes in use and a toe and camber [rad] set at ride height: those that end at a moved
/// point, and all that can be turned. Also what is left of wheelbase [m], toe and camber [rad], where the adjusters do
/// not reach. `None` where the wheel finds no position.
pub(crate) fn link_settings(
    subject: &Subject<'_>,
    holes: &[usize],
    toe: f64,
    camber: f64,
) -> Option<(Vec<LinkSetting>, [f64; 3])> {
    let evaluation = Evaluation::plain(subject, holes, Extent::Wheel).ok()?;
    let axle = subject.axle();
    let mut inputs = evaluation.inputs.clone();
    (inputs.wheel.toe, inputs.wheel.camber) = (toe, camber);
    let adjustment = put_back(subject, &evaluation.corner, &inputs);
    let linkage = evaluation.corner.linkage();
    let moved: Vec<(&str, f64)> = holes
        .iter()
        .filter_map(|h| axle.holes.get(*h))
        .flat_map(|hole| axle.scheme.legs_at(hole.point).map(|(name, other)| (name, hole.point, other)))
        .filter_map(|(name, a, b)| Some((name, (inputs.drawn.get(a)? - inputs.drawn.get(b)?).norm())))
        .collect();
    let turned = |name: &str| adjustment.turns.iter().find(|(joint, _)| joint == name).map_or(0.0, |t| t.1);
    let adjusters = axle.adjusters.iter().map(|a| a.joint.as_str());
    let mut names: Vec<&str> = moved.iter().map(|(name, _)| *name).collect();
    names.extend(adjusters);
    names.sort_unstable();
    names.dedup();
    let setting = |name: &str| {
        let made = linkage.rod_length(linkage.joint(name)?)?;
        let drawn = moved.iter().find(|(joint, _)| *joint == name).map_or(made, |(_, drawn)| *drawn);
        let per_turn = axle.adjusters.iter().find(|a| a.joint == name).map(|a| a.per_turn);
        let length = made + turned(name) * per_turn.unwrap_or(0.0);
        Some(LinkSetting { joint: name.into(), length, change: length - drawn, per_turn })
    };
    Some((names.into_iter().filter_map(setting).collect(), adjustment.left))
}

/// Wheelbase [m], toe and camber [rad] off from the inputs' own.
fn misfit<T: linkage::scalar::Real>(subject: &Subject<'_>, m: &Measures<T>, inputs: &Inputs<T>) -> [T; 3] {
    let ahead = m.centre.x - inputs.wheel.centre.x;
    let longer = match subject.end() {
        AxleEnd::Front => ahead,
        AxleEnd::Rear => -ahead,
    };
    [longer, m.toe - inputs.wheel.toe, m.camber - inputs.wheel.camber]
}

/// Turns the adjusters of a corner until wheelbase, toe and camber at ride height are back, or as near as they
/// go: Gauss-Newton on the three misfits, with the exact response of the wheel to each length.
fn put_back(subject: &Subject<'_>, corner: &Corner<f64>, inputs: &Inputs<f64>) -> Adjustment {
    let mut corner = corner.clone();
    let adjusters: Vec<(usize, &project::model::Adjuster)> = subject
        .axle()
        .adjusters
        .iter()
        .filter_map(|a| Some((corner.linkage().joint(&a.joint)?, a)))
        .filter(|(j, _)| corner.linkage().rod_length(*j).is_some())
        .collect();
    let mut lengths: Vec<f64> =
        adjusters.iter().map(|(j, _)| corner.linkage().rod_length(*j).unwrap_or(0.0)).collect();
    let start = lengths.clone();
    let mut left = [f64::NAN; 3];
    for _ in 0..ADJUSTER_STEPS {
        let Some((off, response)) = respond(subject, &corner, inputs, &adjusters) else { break };
        left = off;
        if adjusters.is_empty() {
            break;
        }
        let weigh = [1.0, ANGLE_PER_LENGTH, ANGLE_PER_LENGTH];
        let matrix = DMatrix::from_fn(3, adjusters.len(), |i, j| response[j][i] * weigh[i]);
        let target = DVector::from_fn(3, |i, _| -off[i] * weigh[i]);
        let Ok(step) = matrix.svd(true, true).solve(&target, 1e-6) else { break };
        let longest = step.amax();
        // A link is not turned by more than a few mm at a step: the response changes on the way.
        let scale = if longest > 0.005 { 0.005 / longest } else { 1.0 };
        for ((length, step), (joint, _)) in lengths.iter_mut().zip(step.iter()).zip(&adjusters) {
            *length += step * scale;
            corner.linkage_mut().set_rod_length(*joint, *length);
        }
        if longest < 1e-9 {
            break;
        }
    }
    let turns = adjusters
        .iter()
        .zip(lengths.iter().zip(&start))
        .map(|((_, a), (now, then))| (a.joint.clone(), (now - then) / a.per_turn))
        .collect();
    Adjustment { turns, left }
}

type Responses = ([f64; 3], Vec<[f64; 3]>);

/// The three misfits at ride height and their derivatives by each adjuster's length.
fn respond(
    subject: &Subject<'_>,
    corner: &Corner<f64>,
    inputs: &Inputs<f64>,
    adjusters: &[(usize, &project::model::Adjuster)],
) -> Option<Responses> {
    let mut mover = Mover::new(corner);
    mover.assemble().ok()?;
    let m = mover.at(0.0, 0.0).ok()?;
    let off = misfit(subject, &m, inputs);
    let frames = corner.linkage().frames();
    let spin = frames.direction(mover.solver().position(), corner.centre().frame, corner.spin());
    let mut responses = Vec::with_capacity(adjusters.len());
    for (joint, _) in adjusters {
        let row = corner.linkage().joints().get(*joint)?.rows.start;
        let twist = *mover.solver().response(row)?.first()?;
        let (toe, camber) = suspension::angle_rates(&spin, &twist.w);
        let longer = if subject.end() == AxleEnd::Front { twist.v.x } else { -twist.v.x };
        responses.push([longer, toe, camber]);
    }
    Some((off, responses))
}
