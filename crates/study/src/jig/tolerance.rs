//! How exact each place has to be: the least, over the results, of the change that is allowed over the result's
//! derivative by the coordinate.

use linkage::Unreachable;
use nalgebra::Vector3;
use project::model::{Axle, Car};
use suspension::Mover;

use super::consequence::Consequence;
use super::exactness::{Exactness, TAPE_IS_ENOUGH};
use super::misplaced;
use super::points::{JigRole, Place, Side};
use crate::estimate::Estimate;
use crate::evaluate::{Evaluation, Extent, Position};
use crate::quantity::Quantity;
use crate::subject::{Parameter, StudyError, Subject};

/// What is allowed of one coordinate of one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// By how much it may be off alone \[m\].
    pub tolerance: f64,
    /// The result that decides.
    pub decides: Consequence,
    /// Derivative of that result by the coordinate, in the file's own direction of it \[SI a metre\].
    pub slope: f64,
}

/// How exact a place has to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// Along x, y and z; `None` where the coordinate moves no result by what is allowed within 50 mm.
    pub along: [Option<Limit>; 3],
    /// The class of the least of the three.
    pub class: Exactness,
}

impl Need {
    /// The same on a side: across the car, what the left side gains the right side loses.
    pub(super) fn on(&self, side: Side) -> Self {
        let mut need = self.clone();
        if let (Side::Right, [_, Some(across), _]) = (side, &mut need.along) {
            across.slope = -across.slope;
        }
        need
    }
}

/// A coordinate that may be off by more than this \[m\] does not matter: the derivative at the drawn place says nothing
/// of places so far away.
const FARTHEST: f64 = 0.05;

/// What all pickups of the axle as drawn do together to one result.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// The result.
    pub result: Consequence,
    /// What is allowed of it \[SI\].
    pub allowed: f64,
    /// Its standard deviation where every coordinate of every place on the body has one of half the place's class bound
    /// (its own least tolerance where that is finer), each by itself \[SI\].
    pub spread: f64,
}

/// Share of a class bound that is taken for a standard deviation: the bound is kept in about 19 of 20.
const DEVIATION: f64 = 0.5;

/// What was found.
pub(super) struct Judged {
    /// In the order of the places; `None` for those that are not on the body.
    pub needs: Vec<Option<Need>>,
    pub together: Vec<Together>,
    /// Results that could not be worked out.
    pub lacking: Vec<Consequence>,
}

/// Judges every place on the body: those of the axle as drawn at one go, each hole as the one that is used.
///
/// # Errors
/// If the corner cannot be built or is not held.
pub(super) fn judge(subject: &Subject<'_>, places: &[Place]) -> Result<Judged, StudyError> {
    let (car, axle) = (subject.car(), subject.axle());
    let wanted = results(subject);
    let sure = |place: &Place| place.role.is_on_body() && place.hole.is_none();
    let drawn: Vec<usize> = places.iter().filter(|p| sure(p)).filter_map(|p| p.index).collect();
    let mut lacking = Vec::new();
    let base = slopes(&probe(car, axle, |c| c.points = drawn.clone()), axle, &[], &wanted, &mut lacking)?;
    let mut needs = Vec::with_capacity(places.len());
    for place in places {
        needs.push(match (&place.hole, place.index) {
            (Some((hole, _)), _) => {
                let probed = probe(car, axle, |c| c.hole = Some(*hole));
                let of = slopes(&probed, axle, &[*hole], &wanted, &mut Vec::new())?;
                Some(need(&of, &wanted, |k| Parameter::Hole(*hole, k), car))
            }
            (None, Some(index)) if place.role.is_on_body() => {
                Some(need(&base, &wanted, |k| Parameter::Point(index, k), car))
            }
            _ => None,
        });
    }
    let together = together(&base, &wanted, places, &needs, car);
    Ok(Judged { needs, together, lacking })
}

/// Everything that could decide on this axle.
fn results(subject: &Subject<'_>) -> Vec<Consequence> {
    let mut results = Vec::new();
    let travels = &subject.car().choose.travels;
    let ends = [travels.iter().copied().fold(0.0, f64::min), travels.iter().copied().fold(0.0, f64::max)];
    for travel in ends.into_iter().filter(|t| *t != 0.0) {
        results.extend([Consequence::ToeChange(travel), Consequence::CamberChange(travel)]);
    }
    results.extend([Consequence::RollCentre, Consequence::AntiBraking]);
    if subject.driven() {
        results.push(Consequence::AntiDriving);
    }
    results.extend((0..subject.axle().scheme.elements.len()).map(Consequence::MotionRatio));
    results.extend([Consequence::Toe, Consequence::Camber]);
    results
}

/// What is taken to be uncertain by one metre, so that a contribution is a derivative.
#[derive(Default)]
struct Chosen {
    points: Vec<usize>,
    hole: Option<usize>,
}

/// The car with the chosen places uncertain by one metre a coordinate and everything else certain.
fn probe(car: &Car, axle: &Axle, choose: impl FnOnce(&mut Chosen)) -> Car {
    let mut chosen = Chosen::default();
    choose(&mut chosen);
    let mut car = car.clone();
    let none = Vector3::zeros();
    let one = Vector3::repeat(1.0);
    for of in [&mut car.front, &mut car.rear].into_iter().flatten() {
        let this = of.end == axle.end;
        for (index, point) in of.points.iter_mut().enumerate() {
            point.uncertainty = if this && chosen.points.contains(&index) { one } else { none };
        }
        for (index, hole) in of.holes.iter_mut().enumerate() {
            hole.at.uncertainty = if this && chosen.hole == Some(index) { one } else { none };
        }
        of.wheel.centre.uncertainty = none;
        for value in [&mut of.wheel.loaded_radius, &mut of.wheel.toe, &mut of.wheel.camber] {
            value.uncertainty = 0.0;
        }
    }
    for value in [&mut car.wheelbase, &mut car.cg_height, &mut car.brake_front_share].into_iter().flatten() {
        value.uncertainty = 0.0;
    }
    car.drive_front_share.uncertainty = 0.0;
    car
}

/// Derivatives of the results by every coordinate that a car is uncertain of.
struct Slopes {
    parameters: Vec<Parameter>,
    /// A row a result, in the order asked; `None` where it cannot be worked out.
    rows: Vec<Option<Vec<f64>>>,
}

fn slopes(
    probed: &Car,
    axle: &Axle,
    holes: &[usize],
    wanted: &[Consequence],
    lacking: &mut Vec<Consequence>,
) -> Result<Slopes, StudyError> {
    let subject = Subject::new(probed, axle.end)?;
    let whole = Evaluation::new(&subject, holes, Extent::Whole)?;
    let mut mover = Mover::new(&whole.corner);
    let level = whole.at(&mut mover, 0.0);
    let misplaced = misplaced_slopes(&subject, holes)?;
    let mut rows = Vec::with_capacity(wanted.len());
    for result in wanted {
        let row = match result {
            Consequence::Toe => misplaced.as_ref().map(|m| m.iter().map(|s| s[0]).collect()),
            Consequence::Camber => misplaced.as_ref().map(|m| m.iter().map(|s| s[1]).collect()),
            other => level.as_ref().ok().and_then(|level| estimate(&whole, &mut mover, level, *other)),
        };
        if row.is_none() {
            lacking.push(*result);
        }
        rows.push(row);
    }
    let parameters = subject.parameters().iter().map(|(parameter, _)| *parameter).collect();
    Ok(Slopes { parameters, rows })
}

fn estimate(
    whole: &Evaluation<'_, '_>,
    mover: &mut Mover<'_>,
    level: &Position,
    result: Consequence,
) -> Option<Vec<f64>> {
    let at_level = |quantity: Quantity| level.estimate(whole.subject, quantity);
    let mut change = |quantity: Quantity, travel: f64| -> Option<Estimate> {
        mover.reset();
        let there: Result<Position, Unreachable> = whole.at(mover, travel);
        let (there, here) = (there.ok()?.estimate(whole.subject, quantity)?, at_level(quantity)?);
        let contributions = there.contributions.iter().zip(&here.contributions).map(|(a, b)| a - b).collect();
        Some(Estimate { value: there.value - here.value, contributions })
    };
    let estimate = match result {
        Consequence::ToeChange(travel) => change(Quantity::Toe, travel),
        Consequence::CamberChange(travel) => change(Quantity::Camber, travel),
        Consequence::RollCentre => at_level(Quantity::RollCentre),
        Consequence::AntiBraking => at_level(Quantity::AntiBraking),
        Consequence::AntiDriving => at_level(Quantity::AntiDriving),
        Consequence::MotionRatio(element) => at_level(Quantity::MotionRatio(element)),
        Consequence::Toe | Consequence::Camber => None,
    };
    Some(estimate?.contributions)
}

/// What is left of the shift of toe and camber at ride height after the adjusters, by each parameter; `None` where the
/// linkage stands at a dead point.
fn misplaced_slopes(subject: &Subject<'_>, holes: &[usize]) -> Result<Option<Vec<[f64; 2]>>, StudyError> {
    let wheel = Evaluation::new(subject, holes, Extent::Wheel)?;
    let adjusters: Vec<[f64; 2]> = subject
        .axle()
        .adjusters
        .iter()
        .filter_map(|adjuster| misplaced::adjuster(&wheel.corner, &adjuster.joint))
        .collect();
    let shifts = wheel.duals().map(|dual| match dual {
        Some((_, corner)) => {
            misplaced::shift(&wheel.corner, corner).map(|s| misplaced::left_over(s, &adjusters))
        }
        // What guides no wheel does not shift it.
        None => Some([0.0; 2]),
    });
    Ok(shifts.collect())
}

/// The least tolerance along each coordinate over all results; what is beyond [`FARTHEST`] does not count.
fn need(slopes: &Slopes, wanted: &[Consequence], parameter: impl Fn(usize) -> Parameter, car: &Car) -> Need {
    let signs = car.frame.direction_to_survey(Vector3::repeat(1.0));
    let along = [0, 1, 2].map(|k| {
        let column = slopes.parameters.iter().position(|p| *p == parameter(k))?;
        let limits = wanted.iter().zip(&slopes.rows).filter_map(|(result, row)| {
            let slope = *row.as_ref()?.get(column)?;
            let tolerance = result.allowed(&car.jig.allowed) / slope.abs();
            (tolerance <= FARTHEST).then_some(Limit { tolerance, decides: *result, slope: slope * signs[k] })
        });
        limits.min_by(|a, b| a.tolerance.total_cmp(&b.tolerance))
    });
    let least = along.iter().flatten().map(|limit| limit.tolerance).fold(FARTHEST, f64::min);
    Need { along, class: Exactness::of(least) }
}

fn together(
    slopes: &Slopes,
    wanted: &[Consequence],
    places: &[Place],
    needs: &[Option<Need>],
    car: &Car,
) -> Vec<Together> {
    // Variance of each parameter's place \[m^2\].
    let deviation = |parameter: &Parameter| -> f64 {
        let Parameter::Point(index, _) = parameter else { return 0.0 };
        let of = places.iter().zip(needs).find(|(place, _)| {
            place.index == Some(*index) && place.hole.is_none() && place.role != JigRole::WheelCentre
        });
        let Some(need) = of.and_then(|(_, need)| need.as_ref()) else { return 0.0 };
        let least = need.along.iter().flatten().map(|limit| limit.tolerance).fold(TAPE_IS_ENOUGH, f64::min);
        DEVIATION * need.class.bound().unwrap_or(least)
    };
    let deviations: Vec<f64> = slopes.parameters.iter().map(deviation).collect();
    wanted
        .iter()
        .zip(&slopes.rows)
        .filter_map(|(result, row)| {
            let squares =
                row.as_ref()?.iter().zip(&deviations).map(|(slope, deviation)| (slope * deviation).powi(2));
            let spread = squares.sum::<f64>().sqrt();
            Some(Together { result: *result, allowed: result.allowed(&car.jig.allowed), spread })
        })
        .collect()
}
