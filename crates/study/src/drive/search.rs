//! The search: over holes, bars, the bias, ride heights and air parts, for one venue or for all of them, under one set of
//! welded parts and quick changes in the paddock.
//!
//! Three steps. *Samples*: settings spread evenly over all that may change, each a function of its number alone, so that a
//! range of numbers can be worked out anywhere and the parts put together. *Polish*: from the best of them a search along
//! one axis after the other (R. Hooke & T. Jeeves, J. ACM 8 (1961) 212, remembered, without its pattern move), for weights
//! from one venue to the other: the front. *Confirm*: what came of it is worked out in detail, with the samples of what is
//! uncertain alike for all, so that a difference is called one only when it is.
//!
//! In the first two a setting is what it changes of the limits found in detail for the same hole
//! ([`vehicle::limits::Surface::changed`]).

mod front;
mod halton;
mod lay;
mod polish;
mod space;

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Mutex;

use project::model::Car;

use super::course::Venue;
use super::sample::{Way, spread};
use super::variant::{Driven, Variant};
use crate::stage::Stage;
use crate::whole::Lack;
use space::Space;

/// A setting: which hole, and a value for each thing that may change.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Index of the choice of holes.
    pub hole: usize,
    /// In the order of [`Search::columns`].
    pub values: Vec<f64>,
}

/// A setting and what it came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// Number of the sample.
    pub index: u64,
    /// The setting.
    pub setting: Setting,
    /// Time on each venue [s]; not a number where the car cannot run so.
    pub times: Vec<f64>,
}

/// What a search may change, and the car that it changes.
pub struct Search {
    space: Space,
    venues: Vec<Venue>,
    /// For each choice of holes, the file's other figures as they are.
    bases: Vec<(Variant, Driven)>,
    /// Venues and choices that had to be left out.
    lacks: Vec<Lack>,
    /// Times of settings that were asked for before: polishing comes back to many.
    known: Mutex<HashMap<Vec<u64>, Vec<f64>>>,
}

impl Search {
    /// Gets a search ready: courses, choices of holes, their limits in detail.
    ///
    /// # Errors
    /// What the car lacks to be driven; a search over nothing.
    pub fn new(car: &Car, cores: usize) -> Result<Self, Lack> {
        let mut stage = Stage::default();
        let mut venues = super::venues(car, &mut stage)?;
        if let Some(wanted) = car.search.as_ref().filter(|s| !s.venues.is_empty()) {
            venues.retain(|venue| wanted.venues.contains(&venue.name));
        }
        let mut lacks = stage.lacks;
        if venues.is_empty() {
            return Err(lacks.pop().unwrap_or_else(|| Lack {
                what: "no venue is left to search for".into(),
                hint: "name venues of the file in `venues` of `[search]`".into(),
            }));
        }
        let mut bases = Vec::new();
        for variant in space::choices(car)? {
            match variant.drive(&venues, None, cores) {
                Ok(driven) => bases.push((variant, driven)),
                Err(lack) if bases.is_empty() => return Err(lack),
                Err(lack) => {
                    lacks.push(Lack { what: format!("{}: {}", variant.name, lack.what), hint: lack.hint });
                }
            }
        }
        let space = Space::new(car, &bases, &mut lacks)?;
        Ok(Self { space, venues, bases, lacks, known: Mutex::default() })
    }

    /// What may change, by name with its unit, in the order of a setting's values.
    pub fn columns(&self) -> Vec<(String, Option<&'static str>)> {
        self.space.axes.iter().map(|axis| (axis.name.clone(), axis.unit())).collect()
    }

    /// Names of the venues, in the order of the times.
    pub fn venues(&self) -> Vec<String> {
        self.venues.iter().map(|venue| venue.name.clone()).collect()
    }

    /// Names of the choices of holes.
    pub fn holes(&self) -> Vec<String> {
        self.bases.iter().map(|(variant, _)| variant.name.clone()).collect()
    }

    /// Settings by their numbers, tried on so many cores. What was not reached when it was stopped is left out.
    pub fn samples(&self, range: Range<u64>, way: &Way<'_>) -> Vec<Tried> {
        let count = usize::try_from(range.end.saturating_sub(range.start)).unwrap_or(0);
        let tick = way.counted(count);
        let tried = spread(count, way, |i| {
            let index = range.start + i as u64;
            let setting = self.space.sample(index, self.bases.len());
            let times = self.work_out(&setting);
            tick();
            Tried { index, setting, times }
        });
        tried.into_iter().flatten().collect()
    }

    /// The front, polished from samples and confirmed by so many draws of what is uncertain.
    pub fn stage(&self, tried: &[Tried], draws: usize, way: &Way<'_>) -> Stage {
        let mut stage = Stage { lacks: self.lacks.clone(), ..Stage::default() };
        let found = front::find(self, tried, way);
        lay::out(self, tried, &found, draws, way, &mut stage);
        stage
    }

    /// Time on each venue, kept for the next who asks.
    fn times(&self, setting: &Setting) -> Vec<f64> {
        let key: Vec<u64> =
            [setting.hole as u64].into_iter().chain(setting.values.iter().map(|v| v.to_bits())).collect();
        if let Some(times) = self.known.lock().ok().and_then(|known| known.get(&key).cloned()) {
            return times;
        }
        let times = self.work_out(setting);
        if let Ok(mut known) = self.known.lock() {
            known.insert(key, times.clone());
        }
        times
    }

    fn work_out(&self, setting: &Setting) -> Vec<f64> {
        let none = || vec![f64::NAN; self.venues.len()];
        let Some((base, driven)) = self.bases.get(setting.hole) else { return none() };
        let variant = self.space.variant(base, setting);
        match variant.drive(&self.venues, Some(driven), 1) {
            Ok(found) => found.laps.iter().map(|lap| lap.time).collect(),
            Err(_) => none(),
        }
    }
}
