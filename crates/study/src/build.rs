//! Build: will it hold, and what is cut. The loads of every case go through the linkage into links and pickups, from there
//! into brackets, welds and the frame; every part is checked, the least margin of each position stands in the choice table.
//!
//! Left is looked at as the outer and the struck side; links and brackets are the same on both.

mod bracket;
mod case;
mod cut;
mod flex;
mod forces;
mod frame;
mod ledger;
mod link;
mod part;
mod position;
mod size;
mod table;
mod texts;
mod wall;
mod wheel;
mod work;

use project::model::{BuildReading, Car, End};

use crate::choice::{Candidate, candidates};
use crate::subject::Subject;
use crate::whole::{Lack, Whole, WholeCar};
use frame::Ready;
use size::Sizing;
use work::Work;

pub use case::{Case, WheelLoad};
pub use cut::{CutList, CutPiece, EndCut, StockNeed};
pub use forces::AxleForces;
pub use frame::{FootLoad, FrameResult, PickupGive, PickupLoad, TubeUse};
pub(crate) use ledger::put_in;
pub use part::{Judged, Part, PartKind};
pub use position::{Flex, Greatest, Least, Position};
pub use size::Proposal;
pub(crate) use table::{InTable, TableAnswer, about};
pub use texts::NOT_COVERED;

/// All that the stage has to say.
#[derive(Clone, Debug, Default)]
pub struct Build {
    /// The axle whose positions are compared.
    pub end: Option<End>,
    /// How many times its loads a part is to hold.
    pub wanted: f64,
    /// Load cases.
    pub cases: Vec<Case>,
    /// Forces of the front and the rear axle in every case, with the holes in use.
    pub axles: Vec<(End, Vec<AxleForces>)>,
    /// Every part with its checks, the weakest first.
    pub parts: Vec<Part>,
    /// Every position of the axle with its weakest part.
    pub positions: Vec<Position>,
    /// The frame, with the holes in use.
    pub frame: Option<FrameResult>,
    /// What would be the lightest that holds.
    pub proposals: Vec<Proposal>,
    /// What is cut.
    pub cuts: CutList,
    /// What is assumed and what to beware of.
    pub notes: Vec<String>,
    /// What is missing for more.
    pub lacks: Vec<Lack>,
}

/// Works the stage out for an axle, with some holes in use.
pub fn build(car: &Car, end: End, holes: &[(End, usize)]) -> Build {
    let mut out = Build { end: Some(end), notes: texts::notes(), ..Build::default() };
    if let Err(lack) = worked(car, end, holes, &mut out) {
        out.lacks.push(lack);
    }
    out
}

fn worked(car: &Car, end: End, holes: &[(End, usize)], out: &mut Build) -> Result<(), Lack> {
    let usual = BuildReading::usual();
    let build = match (&car.build, &usual) {
        (Some(build), _) => build,
        (None, Some(usual)) => {
            out.lacks.push(texts::nothing_stated());
            usual
        }
        (None, None) => return Err(texts::nothing_stated()),
    };
    out.wanted = build.wanted;
    let whole_car = WholeCar::new(car)?;
    let whole = whole_car.at(holes)?;
    let ready = match build.frame.as_ref().map(|frame| Ready::new(build, frame)) {
        Some(Ok(ready)) => Some(ready),
        Some(Err(lack)) => {
            out.lacks.push(lack);
            None
        }
        None => {
            out.lacks.push(texts::no_frame());
            None
        }
    };
    let work = Work::new(car, &whole, end, holes, ready.as_ref())?;
    out.parts = work.parts(car, build, ready.as_ref());
    let rows = rows(car, end)?;
    let place = Place { car, build, end, holes, ready: ready.as_ref() };
    let wholes: Vec<Result<Whole, Lack>> = rows.iter().map(|row| place.whole(row, &whole_car)).collect();
    let works: Vec<Result<Work<'_>, Lack>> =
        rows.iter().zip(&wholes).map(|(row, whole)| place.work(row, whole)).collect();
    out.positions = rows.iter().zip(&works).map(|(row, work)| place.position(row, work.as_ref())).collect();
    let sound: Vec<&Work<'_>> = works.iter().filter_map(|work| work.as_ref().ok()).collect();
    out.proposals = Sizing { car, build, end, works: &sound }.all();
    out.cuts = cut_list(car, build, ready.as_ref());
    out.notes.extend(ready.as_ref().map(|ready| texts::ledger(build.in_ledger, ready.frame.mass().mass)));
    if let Some(ready) = &ready {
        let name = |end: End, point: usize| {
            let point = car.axle(end).and_then(|axle| axle.scheme.points.get(point));
            format!("{} {}", end.name(), point.map_or("", String::as_str))
        };
        out.frame = Some(ready.result(&work.responses, build.wanted, &work, &name));
    }
    out.notes.extend(
        work.cases.iter().flat_map(|case| case.notes.iter().map(|note| format!("{}: {note}", case.title))),
    );
    out.notes.extend(texts::bottomed(&work));
    out.axles = work.axles.into_iter().map(|(loaded, forces)| (loaded.end, forces)).collect();
    out.cases = work.cases;
    Ok(())
}

/// Every position of an axle with what holds least there: a part of [`build`], for who needs no more.
///
/// # Errors
/// Whatever the car lacks for it.
pub fn positions(car: &Car, end: End) -> Result<Vec<Position>, Lack> {
    let build = car.build.as_ref().ok_or_else(texts::nothing_stated)?;
    let whole_car = WholeCar::new(car)?;
    let ready = build.frame.as_ref().map(|frame| Ready::new(build, frame)).transpose()?;
    let place = Place { car, build, end, holes: &[], ready: ready.as_ref() };
    let rows = rows(car, end)?;
    let positions = rows.iter().map(|row| {
        let whole = place.whole(row, &whole_car);
        place.position(row, place.work(row, &whole).as_ref())
    });
    Ok(positions.collect())
}

/// The positions that the choice table has.
fn rows(car: &Car, end: End) -> Result<Vec<Candidate>, Lack> {
    let subject = Subject::new(car, end).map_err(|e| Lack { what: e.to_string(), hint: String::new() })?;
    Ok(candidates(&subject))
}

/// What all positions of an axle share.
struct Place<'a> {
    car: &'a Car,
    build: &'a BuildReading,
    end: End,
    holes: &'a [(End, usize)],
    ready: Option<&'a Ready>,
}

impl<'a> Place<'a> {
    /// The car of a row: that of its setup, where it has more than holes of its own.
    fn car(&self, row: &Candidate) -> &'a Car {
        self.car.with_setup(row.with.as_deref())
    }

    /// Holes of both axles in a row.
    fn holes(&self, row: &Candidate) -> Vec<(End, usize)> {
        match row.with.as_deref().and_then(|name| self.car.setup(name)) {
            Some(setup) => setup.holes.clone(),
            None => with(self.holes, self.end, &row.holes),
        }
    }

    /// `own` is the car without a setup.
    fn whole(&self, row: &Candidate, own: &WholeCar) -> Result<Whole, Lack> {
        let holes = self.holes(row);
        if row.with.is_some() { WholeCar::new(self.car(row))?.at(&holes) } else { own.at(&holes) }
    }

    fn work(&self, row: &Candidate, whole: &'a Result<Whole, Lack>) -> Result<Work<'a>, Lack> {
        let whole = whole.as_ref().map_err(Clone::clone)?;
        Work::for_position(self.car(row), whole, self.end, &self.holes(row), self.ready, None)
    }

    fn position(&self, row: &Candidate, work: Result<&Work<'_>, &Lack>) -> Position {
        match work {
            Ok(work) => {
                work.position(row, self.end, &work.parts(self.car, self.build, self.ready), self.ready)
            }
            Err(lack) => Position {
                name: row.name.clone(),
                holes: row.holes.clone(),
                setups: row.setups.clone(),
                refused: Some(lack.to_string()),
                ..Position::default()
            },
        }
    }
}

/// The holes in use, those of an axle in place of what it had.
fn with(holes: &[(End, usize)], end: End, own: &[usize]) -> Vec<(End, usize)> {
    let others = holes.iter().filter(|(at, _)| *at != end).copied();
    others.chain(own.iter().map(|hole| (end, *hole))).collect()
}

/// Tubes of the frame and tabs of the brackets.
fn cut_list(car: &Car, build: &BuildReading, ready: Option<&Ready>) -> CutList {
    let mut pieces = Vec::new();
    let (mut mass, mut centre) = (0.0, nalgebra::Vector3::zeros());
    if let (Some(ready), Some(frame)) = (ready, &build.frame) {
        let sections: Vec<String> = frame.tubes.iter().map(|tube| tube.section.0.clone()).collect();
        let of_tubes = ready.frame.mass();
        (mass, centre) = (of_tubes.mass, of_tubes.centre);
        pieces = cut::pieces(&ready.frame, &sections);
    }
    for end in [End::Front, End::Rear] {
        if let (Some(axle), Some(parts)) = (car.axle(end), build.axle(end)) {
            pieces.extend(cut::tabs(axle, parts, &build.grade));
            pieces.extend(ready.iter().flat_map(|ready| wall::doublers(axle, parts, &build.grade, ready)));
        }
    }
    CutList::of(pieces, mass, centre)
}

impl Build {
    /// The title of a case.
    pub fn case_title(&self, case: usize) -> &str {
        self.cases.get(case).map_or("", |case| case.title.as_str())
    }

    /// The part that holds least.
    pub fn weakest(&self) -> Option<&Part> {
        self.parts.iter().find(|part| part.worst().is_some())
    }

    /// Whether something holds less than is wanted.
    pub fn falls_short(&self) -> bool {
        self.weakest().is_some_and(|part| part.holds() < self.wanted)
    }
}
