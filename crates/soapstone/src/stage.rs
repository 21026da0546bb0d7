//! The stages that answer with groups of figures: their names, and what the terminal and the page say alike.

use project::model::{Car, End};
use study::{Draws, Finding, Stage, Way};

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
}

/// What ± means.
pub(crate) const PLUS_MINUS: &str = "± is one standard uncertainty.";

/// What a sheet of figures is called, and what to beware of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Head {
    /// Name in addresses, commands and JSON.
    pub name: &'static str,
    /// Name for people.
    pub title: &'static str,
    /// The schema of its JSON.
    pub schema: &'static str,
    /// What stands beside its figures.
    pub caution: &'static str,
}

const AT_THE_LIMIT: &str = "Planning figures, not an approval and no promise of a time: a car is brought to its limit step by step, \
                            where that is allowed, by a driver who is used to it.";

/// The best settings over the venues: no stage that is worked out while one waits.
pub(crate) const SEARCH: Head =
    Head { name: "search", title: "Search", schema: "soapstone.search/1", caution: AT_THE_LIMIT };

impl Which {
    /// All.
    pub(crate) const ALL: [Self; 4] = [Self::Stop, Self::Balance, Self::Drive, Self::Manoeuvres];

    /// What it is called, and what to beware of.
    pub(crate) fn head(self) -> Head {
        match self {
            Self::Stop => Head {
                name: "stop",
                title: "Stop",
                schema: "soapstone.stop/1",
                caution: "Planning figures, not an approval: brakes are proved step by step, on an empty place, away from people.",
            },
            Self::Balance => Head {
                name: "balance",
                title: "Balance",
                schema: "soapstone.balance/1",
                caution: "Planning figures, not an approval: a car is proved step by step, on an empty place, away from people.",
            },
            Self::Drive => {
                Head { name: "drive", title: "Drive", schema: "soapstone.drive/1", caution: AT_THE_LIMIT }
            }
            Self::Manoeuvres => Head {
                name: "manoeuvres",
                title: "Manoeuvres",
                schema: "soapstone.manoeuvres/1",
                caution: study::MANOEUVRES_CAUTION,
            },
        }
    }

    /// Works it out.
    pub(crate) fn work(self, car: &Car, holes: &[(End, usize)]) -> Stage {
        match self {
            Self::Stop => study::stop(car, holes),
            Self::Balance => study::balance(car, holes),
            Self::Drive => study::drive(car, holes, Draws { choices: 8, changes: 3 }, &Way::default()),
            Self::Manoeuvres => study::manoeuvres(car, holes, 3, &Way::default()),
        }
    }

    /// The same without the samples that a ± takes long for.
    fn work_once(self, car: &Car, holes: &[(End, usize)]) -> Stage {
        match self {
            Self::Drive => study::drive(car, holes, Draws { choices: 0, changes: 0 }, &Way::default()),
            Self::Manoeuvres => study::manoeuvres(car, holes, 0, &Way::default()),
            other => other.work(car, holes),
        }
    }
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
