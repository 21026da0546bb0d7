//! Laps in the choice table: the time of each row against the car as drawn, on the first two venues of the file.

use std::sync::Arc;

use project::model::{Car, End};

use super::compare::difference;
use super::course::{self, Venue};
use super::sample::{Way, spread};
use super::variant::{Driven, Sample, Variant, estimate};
use crate::estimate::Estimate;
use crate::quantity::{About, Lap};
use crate::whole::{Lack, WholeCar};

/// Samples of what is uncertain: a ± to two fifths of itself. Drive takes more.
const DRAWS: usize = 4;

/// What every row is compared with.
#[derive(Clone)]
pub(crate) struct InTable {
    venues: Arc<Vec<Venue>>,
    base: Arc<Driven>,
}

impl std::fmt::Debug for InTable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("InTable").field("venues", &self.venues.len()).finish_non_exhaustive()
    }
}

/// Values in the order of [`Lap::ALL`].
pub(crate) type Values = [Option<Estimate>; Lap::ALL.len()];

impl InTable {
    /// `None` for a car that says nothing of where it is driven, or by what.
    ///
    /// # Errors
    /// What it lacks to be driven.
    pub fn new(car: &Car, whole: &WholeCar) -> Result<Option<Self>, Lack> {
        if car.venues.is_empty() || car.engine.is_none() {
            return Ok(None);
        }
        let venues =
            car.venues.iter().take(Lap::ALL.len()).map(course::venue).collect::<Result<Vec<_>, _>>()?;
        let variant = variant(whole, &[]);
        let mut base = variant.drive(&venues, None, super::cores())?;
        base.samples = drawn(&variant, &base, &venues);
        Ok(Some(Self { venues: Arc::new(venues), base: Arc::new(base) }))
    }

    /// The columns that there is something for.
    pub fn columns(&self) -> impl Iterator<Item = Lap> + use<> {
        Lap::ALL.into_iter().take(self.venues.len())
    }

    /// A car with some holes against the car as drawn.
    ///
    /// # Errors
    /// Whatever it lacks.
    pub fn answer(&self, whole: &WholeCar, holes: &[(End, usize)]) -> Result<Values, Lack> {
        let variant = variant(whole, holes);
        let mut driven = variant.drive(&self.venues, Some(&self.base), 1)?;
        driven.samples = drawn(&variant, &driven, &self.venues);
        let of = |driven: &Driven, venue: usize| {
            let time = |s: &Option<Sample>| Some(s.as_ref()?.venues.get(venue)?.time);
            let samples: Vec<Option<f64>> = driven.samples.iter().map(time).collect();
            Some(estimate(driven.laps.get(venue)?.time, &samples))
        };
        Ok(Lap::ALL.map(|lap| {
            let (own, base) = (of(&driven, lap.index())?, of(&self.base, lap.index())?);
            Some(difference(&own, &base)).filter(|e| e.value.is_finite())
        }))
    }
}

fn variant(whole: &WholeCar, holes: &[(End, usize)]) -> Variant {
    Variant {
        name: String::new(),
        car: Arc::new(whole.clone()),
        holes: holes.to_vec(),
        file: None,
        racer: None,
    }
}

fn drawn(variant: &Variant, driven: &Driven, venues: &[Venue]) -> Vec<Option<Sample>> {
    let all = spread(DRAWS, &Way::default(), |i| variant.sample(driven, venues, i as u64));
    all.into_iter().map(Option::flatten).collect()
}

/// What there is to say about a column.
pub(crate) fn about(lap: Lap) -> About {
    About {
        title: match lap {
            Lap::First => "time on the first venue, against as drawn",
            Lap::Second => "time on the second venue, against as drawn",
        },
        definition: "time over a venue of the file (in its order) less that of the car as drawn, with what the driver keeps in hand; \
                     below zero is quicker",
        ..super::texts::DIFFERENCE
    }
}
