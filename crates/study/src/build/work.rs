//! One choice of holes worked through: forces of every case, parts, the frame's response.

use nalgebra::Vector3;
use project::model::{BuildReading, Car, End};
use steel::frame::Response;

use super::case::{Case, cases};
use super::flex::{Influence, change, influence};
use super::forces::{AxleForces, Loaded};
use super::frame::Ready;
use super::part::{Made, Part, weakest_first};
use super::position::{Flex, Greatest, Least, Position, concerns};
use super::wall::{Wall, walls};
use super::{bracket, link};
use crate::choice::Candidate;
use crate::whole::{Lack, Whole};

/// Both axles in every case.
pub(super) struct Work<'a> {
    pub cases: Vec<Case>,
    pub axles: Vec<(Loaded<'a>, Vec<AxleForces>)>,
    /// The frame's response in every case.
    pub responses: Vec<Response>,
}

impl<'a> Work<'a> {
    /// Both axles in all cases.
    ///
    /// # Errors
    /// An axle that nothing carries, joints that cannot bear a case, a frame that cannot stand.
    pub fn new(
        car: &'a Car,
        whole: &'a Whole,
        end: End,
        holes: &[(End, usize)],
        ready: Option<&Ready>,
    ) -> Result<Self, Lack> {
        Self::of(car, whole, end, holes, ready, &[End::Front, End::Rear], None)
    }

    /// What a position of an axle needs: that axle, the other one where its pickups hang from the frame too; one case
    /// alone where `only` says which.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn for_position(
        car: &'a Car,
        whole: &'a Whole,
        end: End,
        holes: &[(End, usize)],
        ready: Option<&Ready>,
        only: Option<usize>,
    ) -> Result<Self, Lack> {
        let needed = |axle: &End| *axle == end || ready.is_some_and(|ready| ready.carries_any(*axle));
        let axles: Vec<End> = [End::Front, End::Rear].into_iter().filter(needed).collect();
        Self::of(car, whole, end, holes, ready, &axles, only)
    }

    fn of(
        car: &'a Car,
        whole: &'a Whole,
        end: End,
        holes: &[(End, usize)],
        ready: Option<&Ready>,
        ends: &[End],
        only: Option<usize>,
    ) -> Result<Self, Lack> {
        let mut cases = cases(car, end, whole);
        if let Some(only) = only.and_then(|only| cases.get(only).cloned()) {
            cases = vec![only];
        }
        let mut axles = Vec::new();
        for end in ends {
            let loaded = Loaded::new(car, whole, *end, holes)?;
            let forces: Result<Vec<AxleForces>, Lack> =
                cases.iter().map(|case| loaded.in_case(case)).collect();
            axles.push((loaded, forces?));
        }
        let mut work = Self { cases, axles, responses: Vec::new() };
        if let Some(ready) = ready {
            work.responses = ready.solve(&work.loads_of(ready))?;
        }
        Ok(work)
    }

    /// What every case puts on the frame's nodes.
    pub fn loads_of(&self, ready: &Ready) -> Vec<Vec<steel::frame::Load>> {
        (0..self.cases.len()).map(|case| self.loads(ready, case)).collect()
    }

    fn loads(&self, ready: &Ready, case: usize) -> Vec<steel::frame::Load> {
        self.cases.get(case).map_or_else(Vec::new, |of| ready.loads(of, &self.in_case(case)))
    }

    /// Both axles in one case.
    pub fn in_case(&self, case: usize) -> Vec<(End, &AxleForces, &Loaded<'a>)> {
        let axles = self.axles.iter();
        axles.filter_map(|(loaded, forces)| Some((loaded.end, forces.get(case)?, loaded))).collect()
    }

    /// All parts, the weakest first.
    pub fn parts(&self, car: &Car, build: &BuildReading, ready: Option<&Ready>) -> Vec<Part> {
        let mut parts = Vec::new();
        for (loaded, forces) in &self.axles {
            // An axle of which the file says nothing here is left as it is.
            let (Some(axle), Some(own)) = (car.axle(loaded.end), build.axle(loaded.end)) else { continue };
            let made = Made { axle, parts: own, grade: &build.grade };
            parts.extend(link::links(&made, forces));
            parts.extend(bracket::brackets(&made, loaded, forces));
        }
        if let Some(ready) = ready {
            let walls = self.walls(car, build, ready);
            parts.extend(walls.iter().map(|wall| wall.part(ready, &self.responses, None)));
            parts.extend(ready.parts(&self.responses));
        }
        weakest_first(&mut parts);
        parts
    }

    /// The walls under all pickups that hang from a frame.
    pub fn walls<'c>(&self, car: &'c Car, build: &'c BuildReading, ready: &Ready) -> Vec<Wall<'c>> {
        let axles = self.axles.iter().filter_map(|(loaded, forces)| {
            let (axle, parts) = car.axle(loaded.end).zip(build.axle(loaded.end))?;
            Some(walls(&Made { axle, parts, grade: &build.grade }, loaded, forces, ready))
        });
        axles.flatten().collect()
    }

    /// The axle at this end.
    pub fn axle(&self, end: End) -> Option<&(Loaded<'a>, Vec<AxleForces>)> {
        self.axles.iter().find(|(loaded, _)| loaded.end == end)
    }

    /// What a position makes of the parts.
    pub fn position(
        &self,
        candidate: &Candidate,
        end: End,
        parts: &[Part],
        ready: Option<&Ready>,
    ) -> Position {
        let own = parts.iter().filter(|part| concerns(part.end, end));
        let least = own
            .filter_map(|part| Some((part, part.worst()?)))
            .min_by(|a, b| a.1.check.holds().total_cmp(&b.1.check.holds()));
        Position {
            name: candidate.name.clone(),
            holes: candidate.holes.clone(),
            setups: candidate.setups.clone(),
            least: least.map(|(part, judged)| Least {
                holds: judged.check.holds(),
                part: format!("{} {}", part.kind.words(), part.full_name()),
                failure: judged.check.failure.title(),
                case: judged.case,
            }),
            greatest: self.greatest(end),
            forces: self.axle(end).map_or_else(Vec::new, |(_, forces)| forces.clone()),
            flex: ready.and_then(|ready| self.flex(ready, end)),
            refused: None,
        }
    }

    fn greatest(&self, end: End) -> Option<Greatest> {
        let (_, forces) = self.axle(end)?;
        let all = forces.iter().enumerate().flat_map(|(case, forces)| {
            forces.sides.iter().flat_map(move |side| {
                let plain = side.legs.iter().map(|leg| (&leg.name, leg.tension));
                let cuts = side.carried.iter().flat_map(|c| c.cuts.iter().map(|cut| (&c.name, cut.axial)));
                plain.chain(cuts).map(move |(link, tension)| Greatest { link: link.clone(), tension, case })
            })
        });
        all.max_by(|a, b| a.tension.abs().total_cmp(&b.tension.abs()))
    }

    /// Toe and camber as the frame gives, both wheels, all cases.
    pub fn flex(&self, ready: &Ready, end: End) -> Option<Flex> {
        let (loaded, _) = self.axle(end)?;
        let by: Influence = influence(loaded)?;
        if !by.iter().any(|(point, _)| ready.carries(end, *point)) {
            return None;
        }
        let mut flex = Flex::default();
        for (case, response) in self.responses.iter().enumerate() {
            for side in 0..2 {
                let moves: Vec<(usize, Vector3<f64>)> = ready
                    .moved(response, end, side, loaded)
                    .into_iter()
                    // The right wheel is seen in its mirror, where toe-in and top-out have the signs of the left.
                    .map(|(point, m)| (point, if side == 1 { Vector3::new(m.x, -m.y, m.z) } else { m }))
                    .collect();
                flex.take(change(&by, &moves), case);
            }
        }
        Some(flex)
    }
}
