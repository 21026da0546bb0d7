//! A choice of holes with its exact derivatives: one plain corner, one dual corner per uncertain input.

use linkage::scalar::Real;
use linkage::{Dual64, Unreachable};
use suspension::{Corner, Measures, Mover, diagnose};

use crate::estimate::Estimate;
use crate::facts::Facts;
use crate::quantity::Quantity;
use crate::subject::{Inputs, StudyError, Subject};

/// A subject with some holes chosen.
#[derive(Debug)]
pub(crate) struct Evaluation<'s, 'a> {
    pub subject: &'s Subject<'a>,
    pub inputs: Inputs<f64>,
    pub corner: Corner<f64>,
    duals: Vec<Option<(Inputs<Dual64>, Corner<Dual64>)>>,
}

/// Facts at one travel, plain and with the derivative by each parameter that bears on them.
#[derive(Debug)]
pub(crate) struct Position {
    pub plain: Facts<f64>,
    pub duals: Vec<Option<Facts<Dual64>>>,
}

/// How much of a corner is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Extent {
    /// What guides the wheel: every leg a rod, nothing mounted.
    Wheel,
    /// With springs, dampers and bar links on the bodies that carry them.
    Whole,
}

impl<'s, 'a> Evaluation<'s, 'a> {
    /// Builds the corner and its dual twins.
    ///
    /// # Errors
    /// If a joint cannot be built, or the joints do not leave the wheel exactly its travel.
    pub fn new(subject: &'s Subject<'a>, holes: &[usize], extent: Extent) -> Result<Self, StudyError> {
        let mut evaluation = Self::plain(subject, holes, extent)?;
        evaluation.duals = subject
            .parameters()
            .iter()
            .enumerate()
            .map(|(i, (parameter, _))| {
                let concerns = match extent {
                    Extent::Wheel => subject.guides(*parameter, holes),
                    Extent::Whole => subject.concerns(*parameter, holes),
                };
                if !concerns {
                    return Ok(None);
                }
                let inputs = subject.seeded(holes, i);
                let corner = build(subject, &inputs, extent)?;
                Ok(Some((inputs, corner)))
            })
            .collect::<Result<_, StudyError>>()?;
        Ok(evaluation)
    }

    /// Builds the corner alone: its results carry no ±.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn plain(subject: &'s Subject<'a>, holes: &[usize], extent: Extent) -> Result<Self, StudyError> {
        let inputs = subject.nominal(holes);
        let corner = build(subject, &inputs, extent)?;
        if let Some(f) = diagnose(&corner).into_iter().find(|f| f.fatal) {
            return Err(StudyError::Held { message: f.message, hint: f.hint });
        }
        Ok(Self { subject, inputs, corner, duals: Vec::new() })
    }

    /// Dual inputs and corners, one per parameter that bears on the choice.
    pub fn duals(&self) -> impl Iterator<Item = Option<(&Inputs<Dual64>, &Corner<Dual64>)>> {
        self.duals.iter().map(|d| d.as_ref().map(|(i, c)| (i, c)))
    }

    /// Facts at a travel [m], straight ahead.
    pub fn at(&self, mover: &mut Mover<'_>, travel: f64) -> Result<Position, Unreachable> {
        let measures = mover.at(travel, 0.0)?;
        let course = mover.solver().course();
        let plain = facts(self.subject, &self.inputs, &self.corner, measures, &course);
        let duals = self
            .duals()
            .map(|dual| {
                let (inputs, corner) = dual?;
                let course = mover.solver().sensitivity(corner.linkage())?;
                let measures = Measures::of(corner, &course.position, &course.motion, &course.curvature);
                Some(facts(self.subject, inputs, corner, measures, &course))
            })
            .collect();
        Ok(Position { plain, duals })
    }
}

fn build<T: Real>(
    subject: &Subject<'_>,
    inputs: &Inputs<T>,
    extent: Extent,
) -> Result<Corner<T>, StudyError> {
    Ok(match extent {
        Extent::Wheel => subject.corner_of_rods(inputs)?,
        Extent::Whole => subject.corner(inputs)?,
    })
}

/// The facts of one corner at one position.
pub(crate) fn facts<T: Real>(
    subject: &Subject<'_>,
    inputs: &Inputs<T>,
    corner: &Corner<T>,
    measures: Measures<T>,
    course: &linkage::Course<T>,
) -> Facts<T> {
    let ratios = corner
        .elements()
        .iter()
        .map(|e| e.ratio(corner, &course.position, &course.motion, &course.curvature))
        .collect();
    Facts {
        measures,
        ratios,
        figures: inputs.figures,
        end: subject.end(),
        braking: subject.braking_reaction(),
        driving: subject.driving_reaction(),
        driven: subject.driven(),
    }
}

impl Position {
    /// A quantity here, with its contributions.
    pub fn estimate(&self, subject: &Subject<'_>, quantity: Quantity) -> Option<Estimate> {
        let value = quantity.value(&self.plain)?;
        Some(gather(subject, value, self.duals.iter().map(|d| quantity.value(d.as_ref()?))))
    }
}

/// An estimate from a value and its dual twins, one per parameter.
pub(crate) fn gather(
    subject: &Subject<'_>,
    value: f64,
    duals: impl Iterator<Item = Option<Dual64>>,
) -> Estimate {
    let contributions = duals
        .zip(subject.parameters())
        .map(|(dual, (_, u))| dual.map_or(0.0, |d| d.eps * u))
        .map(|c| if c.is_finite() { c } else { 0.0 })
        .collect();
    Estimate { value, contributions }
}
