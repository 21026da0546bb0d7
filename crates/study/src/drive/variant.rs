//! Variants of the car, each with its limits, its laps, and the same in samples of what is uncertain.

use std::sync::Arc;

use project::model::{Car, End};
use vehicle::lap::Lap;
use vehicle::limits::Surface;

use super::course::Venue;
use super::racer::{Racer, grips, lap};
use super::sample::{Way, deviate, spread};
use crate::estimate::Estimate;
use crate::whole::{Lack, WholeCar};

/// Changes a car's file before it is weighed and built, and the car that came of it.
pub(crate) type OfFile = Arc<dyn Fn(&mut Car) + Sync + Send>;
pub(crate) type OfRacer = Arc<dyn Fn(&mut Racer) + Sync + Send>;

/// One variant.
pub(crate) struct Variant {
    pub name: String,
    pub car: Arc<WholeCar>,
    pub holes: Vec<(End, usize)>,
    pub file: Option<OfFile>,
    pub racer: Option<OfRacer>,
}

/// What one venue makes of a variant.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OnVenue {
    pub time: f64,
    pub sections: Vec<f64>,
    pub greatest: f64,
}

/// A variant in one sample.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sample {
    pub venues: Vec<OnVenue>,
    /// Top speed [m/s].
    pub top: f64,
}

/// Sample by sample; `None` where there is no such car, or it was not reached.
pub(crate) type Samples = Vec<Option<Sample>>;

/// A variant driven.
pub(crate) struct Driven {
    pub limits: Surface,
    /// The same at few places: what samples are compared with.
    coarse: Surface,
    pub laps: Vec<Lap>,
    pub top: f64,
    pub samples: Samples,
}

impl Variant {
    fn racer(&self, sample: Option<u64>) -> Result<(Car, Racer), Lack> {
        let alter = |car: &mut Car| {
            if let Some(file) = &self.file {
                file(car);
            }
        };
        let (car, whole) = match sample {
            None => self.car.altered(&self.holes, alter)?,
            Some(sample) => self.car.drawn(&self.holes, |name| deviate(sample, name), alter)?,
        };
        let mut racer = Racer::new(&car, whole)?;
        if let Some(alter) = &self.racer {
            alter(&mut racer);
        }
        Ok((car, racer))
    }

    /// The nominal car's limits and laps; in detail, or as what it changes of another one.
    pub fn drive(&self, venues: &[Venue], like: Option<&Driven>, cores: usize) -> Result<Driven, Lack> {
        let grips = grips(venues);
        let (_, racer) = self.racer(None)?;
        let (limits, coarse) = match like {
            None => {
                let limits = racer.limits(&grips, None, cores)?;
                let coarse = racer.limits(&grips, Some(&limits), cores)?;
                (limits, coarse)
            }
            Some(base) => {
                let coarse = racer.limits(&grips, Some(&base.limits), cores)?;
                (base.limits.changed(&base.coarse, &coarse), coarse)
            }
        };
        let laps: Vec<Lap> = venues.iter().map(|venue| lap(&limits, venue, 1.0)).collect();
        Ok(Driven { top: limits.top_speed(), limits, coarse, laps, samples: Vec::new() })
    }

    pub(super) fn sample(&self, driven: &Driven, venues: &[Venue], sample: u64) -> Option<Sample> {
        let (car, racer) = self.racer(Some(sample)).ok()?;
        let coarse = racer.limits(&grips(venues), Some(&driven.limits), 1).ok()?;
        let limits = driven.limits.changed(&driven.coarse, &coarse);
        let one = |venue: &Venue| {
            let reading = car.venues.iter().find(|v| v.name == venue.name);
            let nominal = self.car.car().venues.iter().find(|v| v.name == venue.name);
            let grip = reading.zip(nominal).map_or(1.0, |(a, b)| a.grip.value / b.grip.value);
            let lap = lap(&limits, venue, grip.clamp(0.9, 1.1));
            OnVenue { time: lap.time, sections: lap.sections, greatest: lap.greatest }
        };
        let on: Vec<OnVenue> = venues.iter().map(one).collect();
        on.iter().all(|r| r.time.is_finite()).then(|| Sample { venues: on, top: limits.top_speed() })
    }
}

/// Drives all variants in so many samples.
pub(super) fn samples(
    variants: &[(&Variant, &mut Driven)],
    venues: &[Venue],
    count: usize,
    way: &Way<'_>,
    tick: &(dyn Fn() + Sync),
) -> Vec<Samples> {
    let kinds = variants.len();
    // One sample through all variants before the next, so that what has been done when it is stopped can be compared.
    let all = spread(count * kinds, way, |i| {
        let (variant, driven) = variants.get(i % kinds)?;
        let found = variant.sample(driven, venues, (i / kinds) as u64);
        tick();
        found
    });
    let mut out: Vec<Samples> = vec![Vec::with_capacity(count); kinds];
    for (i, found) in all.into_iter().enumerate() {
        if let Some(list) = out.get_mut(i % kinds) {
            list.push(found.flatten());
        }
    }
    out
}

/// A figure with its ±: the samples' deviations from their mean stand for contributions, so that those of two variants
/// cancel sample by sample in their difference.
pub(crate) fn estimate(value: f64, samples: &[Option<f64>]) -> Estimate {
    let known: Vec<f64> = samples.iter().flatten().copied().filter(|v| v.is_finite()).collect();
    if known.len() < 2 {
        return Estimate { value, contributions: Vec::new() };
    }
    let mean = known.iter().sum::<f64>() / known.len() as f64;
    let scale = 1.0 / ((known.len() - 1) as f64).sqrt();
    let contributions =
        samples.iter().map(|v| v.filter(|v| v.is_finite()).map_or(0.0, |v| (v - mean) * scale)).collect();
    Estimate { value, contributions }
}
