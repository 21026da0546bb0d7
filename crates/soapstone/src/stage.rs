//! The stages that answer with groups of figures: their names, and what the terminal and the page say alike.

use project::model::{Car, End};
use study::{Finding, Stage};

/// Such a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Which {
    /// What happens under the brakes.
    Stop,
    /// Whether it is steady, and whether it turns.
    Balance,
    /// What a choice is worth where it is driven.
    Drive,
    /// The open standards' manoeuvres.
    Manoeuvres,
    /// The best settings over the venues.
    Search,
}

/// What ± means.
pub(crate) const PLUS_MINUS: &str = "± is one standard uncertainty.";

impl Which {
    /// Those that are worked out while one waits.
    pub(crate) const ALL: [Self; 4] = [Self::Stop, Self::Balance, Self::Drive, Self::Manoeuvres];

    /// Name in addresses, commands and JSON.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Balance => "balance",
            Self::Drive => "drive",
            Self::Manoeuvres => "manoeuvres",
            Self::Search => "search",
        }
    }

    /// Name for people.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Stop => "Stop",
            Self::Balance => "Balance",
            Self::Drive => "Drive",
            Self::Manoeuvres => "Manoeuvres",
            Self::Search => "Search",
        }
    }

    /// The schema of its JSON.
    pub(crate) fn schema(self) -> &'static str {
        match self {
            Self::Stop => "soapstone.stop/1",
            Self::Balance => "soapstone.balance/1",
            Self::Drive => "soapstone.drive/1",
            Self::Manoeuvres => "soapstone.manoeuvres/1",
            Self::Search => "soapstone.search/1",
        }
    }

    /// What to beware of.
    pub(crate) fn caution(self) -> &'static str {
        match self {
            Self::Stop => {
                "Planning figures, not an approval: brakes are proved step by step, on an empty place, away from people."
            }
            Self::Balance => {
                "Planning figures, not an approval: a car is proved step by step, on an empty place, away from people."
            }
            Self::Manoeuvres => study::MANOEUVRES_CAUTION,
            Self::Drive | Self::Search => {
                "Planning figures, not an approval and no promise of a time: a car is brought to its limit step by step, \
                 where that is allowed, by a driver who is used to it."
            }
        }
    }

    /// Works it out.
    pub(crate) fn work(self, car: &Car, holes: &[(End, usize)]) -> Stage {
        match self {
            Self::Stop => study::stop(car, holes),
            Self::Balance => study::balance(car, holes),
            Self::Drive => drawn(car, holes, study::Draws { choices: 8, changes: 3 }),
            Self::Manoeuvres => confirmed(car, holes, 3),
            Self::Search => searched(car),
        }
    }

    /// The same without the samples that a ± takes long for.
    fn work_once(self, car: &Car, holes: &[(End, usize)]) -> Stage {
        match self {
            Self::Drive => drawn(car, holes, study::Draws { choices: 0, changes: 0 }),
            Self::Manoeuvres => confirmed(car, holes, 0),
            other => other.work(car, holes),
        }
    }
}

/// Manoeuvres with so many samples.
fn confirmed(car: &Car, holes: &[(End, usize)], draws: usize) -> Stage {
    let stop = std::sync::atomic::AtomicBool::new(false);
    study::manoeuvres_with(car, holes, draws, study::cores(), &stop, &|_, _| {})
}

/// A search as long as a page may take.
fn searched(car: &Car) -> Stage {
    let stop = std::sync::atomic::AtomicBool::new(false);
    let way = study::Way { cores: study::cores(), stop: &stop, progress: &|_, _| {} };
    match study::Search::new(car, way.cores) {
        Ok(search) => search.stage(&search.samples(0..200, &way), 4, &way),
        Err(lack) => Stage { lacks: vec![lack], ..Stage::default() },
    }
}

/// Drive with so many samples: a page waits for them, so it takes few.
fn drawn(car: &Car, holes: &[(End, usize)], draws: study::Draws) -> Stage {
    let stop = std::sync::atomic::AtomicBool::new(false);
    study::drive_with(car, holes, draws, study::cores(), &stop, &|_, _| {})
}

/// The result of this name in any stage, with its stage and the names of its columns.
pub(crate) fn find(car: &Car, holes: &[(End, usize)], key: &str) -> Option<(Which, Vec<String>, Finding)> {
    Which::ALL.into_iter().find_map(|which| {
        let stage = which.work_once(car, holes);
        let (group, finding) = stage.find(key)?;
        Some((which, group.columns.clone(), finding.clone()))
    })
}

/// Every result that any stage gives of a car as drawn, once.
pub(crate) fn all(car: &Car) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::new();
    for finding in
        Which::ALL.into_iter().flat_map(|which| which.work_once(car, &[]).groups).flat_map(|g| g.rows)
    {
        if !list.iter().any(|known| known.key == finding.key) {
            list.push(finding);
        }
    }
    list
}
