//! What the choice table shows of Build, position by position.

use std::sync::Arc;

use project::model::{Car, End};

use super::frame::Ready;
use super::position::concerns;
use super::work::Work;
use crate::quantity::{About, Built};
use crate::whole::{Lack, WholeCar};

/// What a row of the choice table needs: the frame, factored once.
#[derive(Clone, Debug)]
pub(crate) struct InTable {
    ready: Option<Arc<Ready>>,
}

/// What Build says of a position.
#[derive(Clone, Debug, Default)]
pub(crate) struct TableAnswer {
    /// In the order of [`Built::ALL`].
    pub values: [Option<f64>; Built::ALL.len()],
    /// The load case in which the weakest part holds least, by its index.
    pub case: Option<usize>,
    /// The weakest part, in words.
    pub weakest: Option<String>,
    /// Whether that holds less than is wanted.
    pub short: bool,
}

impl InTable {
    /// # Errors
    /// A frame that cannot stand.
    pub fn new(car: &Car) -> Result<Self, Lack> {
        let build = car.build.as_ref();
        let ready = build.and_then(|build| build.frame.as_ref().map(|frame| Ready::new(build, frame)));
        Ok(Self { ready: ready.transpose()?.map(Arc::new) })
    }

    /// The columns that there is something for.
    pub fn columns(&self) -> impl Iterator<Item = Built> + '_ {
        Built::ALL.into_iter().filter(|which| *which == Built::Holds || self.ready.is_some())
    }

    /// A position of an axle, with the holes of both axles; of one load case alone where `only` says which.
    ///
    /// # Errors
    /// Whatever the car lacks for it.
    pub fn answer(
        &self,
        whole: &WholeCar,
        end: End,
        holes: &[(End, usize)],
        only: Option<usize>,
    ) -> Result<TableAnswer, Lack> {
        let car = whole.car();
        let Some(build) = &car.build else { return Ok(TableAnswer::default()) };
        let whole = whole.at(holes)?;
        let ready = self.ready.as_deref();
        let work = Work::for_position(car, &whole, end, holes, ready, only)?;
        let parts = work.parts(car, build, ready);
        let own = parts.iter().filter(|part| concerns(part.end, end));
        let weakest = own
            .filter_map(|part| Some((part, part.worst()?)))
            .min_by(|a, b| a.1.check.holds().total_cmp(&b.1.check.holds()));
        let holds = weakest.map(|(_, judged)| judged.check.holds()).filter(|holds| holds.is_finite());
        let case = |index: usize| work.cases.get(index);
        let flex = ready.and_then(|ready| work.flex(ready, end));
        Ok(TableAnswer {
            values: [holds, flex.map(|flex| flex.toe)],
            case: weakest.and_then(|(_, judged)| only.or(Some(judged.case))),
            weakest: weakest.map(|(part, judged)| {
                format!(
                    "holds {:.2} times: {} {}, {} in {}",
                    judged.check.holds(),
                    part.kind.words(),
                    part.full_name(),
                    judged.check.failure.title(),
                    case(judged.case).map_or("", |case| case.title.as_str()).to_lowercase()
                )
            }),
            short: holds.is_some_and(|holds| holds < build.wanted),
        })
    }
}

/// What there is to say about each.
pub(crate) fn about(which: Built) -> About {
    match which {
        Built::Holds => About {
            title: "holds so many times its loads",
            definition: "capacity over load of the weakest part of this axle and of the frame, in the worst load case",
            formula: "least of capacity / load over all parts and cases; `soapstone build --part NAME` has each formula",
            source: "each check has its own: EN 1993-1-1, EN 1993-1-8, machine-design texts, makers' ratings (docs/theory-steel.md)",
            does: "Less than is wanted: something yields, buckles, tears or breaks in a load that is to be expected",
            does_not: "It is one still load on sound steel: no fatigue, no heat beside the weld, no crash, not the shell. It has no \
                       ±: the load cases are surer by habit than by measure",
        },
        Built::ToeGives => About {
            title: "toe by the give of the frame",
            definition: "how far the frame's give turns a wheel in toe, the largest of all load cases and both wheels",
            formula: "sum of F_p . d_p over the pickups: F_p by a unit of steering moment, d_p their movement",
            source: "virtual work through the linkage's reactions (own derivation, docs/theory-steel.md)",
            does: "A wheel that toes out under load steers by itself; it is the frame's part of what one feels as vagueness",
            does_not: "Bolts, bearings, tabs and the shell give besides",
        },
    }
}
