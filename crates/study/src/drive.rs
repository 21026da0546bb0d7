//! The stage Drive: what is a choice worth where I race? Lap and section times of every choice of holes and every setup on
//! every venue of the file, against each other, with the ± of what is uncertain; where the time is; what a change of the car
//! is worth.
//!
//! Limits are [`vehicle::limits`], runs [`vehicle::lap`]. Stability pays in time only through what the driver keeps in hand
//! ([`vehicle::limits::Driver`]); the results without it stand beside those with it.

mod compare;
mod course;
pub(crate) mod in_table;
mod picture;
mod racer;
mod sample;
mod search;
mod texts;
mod variant;
mod worth;

use std::sync::Arc;

use project::model::{Car, End};

use crate::choice::candidates;
use crate::stage::Stage;
use crate::subject::Subject;
use crate::whole::{Lack, WholeCar};
use course::Venue;
pub(crate) use variant::Variant;
pub(crate) use variant::estimate;
use variant::{Driven, samples};

pub use sample::{Way, cores};
pub(crate) use sample::{deviate, spread};
pub use search::{Search, Setting, Tried};

/// How much is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// Samples of what is uncertain for each choice.
    pub choices: usize,
    /// For each change of the car.
    pub changes: usize,
}

impl Default for Draws {
    /// Enough for a ± to a fifth of itself.
    fn default() -> Self {
        Self { choices: 16, changes: 6 }
    }
}

/// Most choices side by side.
const MOST: usize = 8;

/// Works the stage out for a choice of holes, against all others. Stopped, it uses what has been drawn.
pub fn drive(car: &Car, holes: &[(End, usize)], draws: Draws, way: &Way<'_>) -> Stage {
    let mut stage = Stage::default();
    if let Err(lack) = whole(car, holes, draws, way, &mut stage) {
        stage.lack(lack);
    }
    stage
}

/// The venues that can be driven; the others are told.
fn venues(car: &Car, stage: &mut Stage) -> Result<Vec<Venue>, Lack> {
    if car.venues.is_empty() {
        return Err(Lack {
            what: "no venue is known".into(),
            hint: "write `[venue.NAME]`: straights and corners, a centreline, or gates of cones".into(),
        });
    }
    let mut list = Vec::new();
    for reading in &car.venues {
        match course::venue(reading) {
            Ok(venue) => list.push(venue),
            Err(lack) => stage.lack(lack),
        }
    }
    Ok(list)
}

/// The choices side by side, the one that is asked for first.
pub(crate) fn choices(car: &Car, holes: &[(End, usize)]) -> Result<Vec<Variant>, Lack> {
    let own = Arc::new(WholeCar::new(car)?);
    let variant = |name: String, car: Arc<WholeCar>, holes: Vec<(End, usize)>| Variant {
        name,
        car,
        holes,
        file: None,
        racer: None,
    };
    let end = car.choose.axle;
    let end = end.unwrap_or(if car.rear.is_some() { End::Rear } else { End::Front });
    let mut list = Vec::new();
    let mut chosen = None;
    if let Ok(subject) = Subject::new(car, end) {
        for candidate in candidates(&subject) {
            let mut all: Vec<(End, usize)> = candidate.holes.iter().map(|hole| (end, *hole)).collect();
            let mut name = candidate.name.clone();
            let mut source = own.clone();
            if let Some(setup) = candidate.with.as_deref().and_then(|with| car.setup(with)) {
                all.clone_from(&setup.holes);
                name = format!("setup {}", setup.name);
                if let Some(changed) = &setup.car {
                    source = Arc::new(WholeCar::new(changed)?);
                }
            } else if !candidate.setups.is_empty() {
                name = format!("{} ({})", candidate.name, candidate.setups.join(", "));
            }
            let same = |a: &[(End, usize)], b: &[(End, usize)]| {
                let sorted = |list: &[(End, usize)]| {
                    let mut list: Vec<_> = list.iter().map(|(e, h)| (*e == End::Rear, *h)).collect();
                    list.sort_unstable();
                    list
                };
                sorted(a) == sorted(b)
            };
            if candidate.with.is_none() && same(&all, holes) {
                chosen = Some(list.len());
            }
            list.push(variant(name, source, all));
        }
    }
    match chosen {
        Some(at) => {
            let first = list.remove(at);
            list.insert(0, first);
        }
        None => list.insert(0, variant("as chosen".into(), own, holes.to_vec())),
    }
    list.truncate(MOST);
    Ok(list)
}

fn whole(
    car: &Car,
    holes: &[(End, usize)],
    draws: Draws,
    way: &Way<'_>,
    stage: &mut Stage,
) -> Result<(), Lack> {
    let venues = venues(car, stage)?;
    if venues.is_empty() {
        return Ok(());
    }
    let mut variants = choices(car, holes)?;
    let mut driven: Vec<Driven> = Vec::new();
    let mut kept = Vec::new();
    for variant in variants.drain(..) {
        match variant.drive(&venues, None, way.cores) {
            Ok(found) => {
                driven.push(found);
                kept.push(variant);
            }
            Err(lack) if kept.is_empty() => return Err(lack),
            Err(lack) => {
                stage.lack(Lack { what: format!("{}: {}", variant.name, lack.what), hint: lack.hint });
            }
        }
    }
    let variants = kept;
    let changes = worth::changes(&variants, car);
    let tick = way.counted(draws.choices * variants.len() + draws.changes * (changes.len() + 1));
    {
        let mut pairs: Vec<(&Variant, &mut Driven)> = variants.iter().zip(&mut driven).collect();
        let drawn = samples(&pairs, &venues, draws.choices, way, &tick);
        for ((_, driven), drawn) in pairs.iter_mut().zip(drawn) {
            driven.samples = drawn;
        }
    }
    compare::top(&variants, &driven, stage);
    for (i, venue) in venues.iter().enumerate() {
        compare::laps(car, venue, i, &variants, &driven, way.cores, stage);
        picture::all(venue, i, &variants, &driven, stage);
    }
    if let Some(base) = variants.first().zip(driven.first()) {
        worth::group(base, &changes, &venues, draws.changes, way, &tick, stage);
    }
    stage.notes = texts::notes(car);
    stage.notes.push(texts::spread_of(draws));
    Ok(())
}
