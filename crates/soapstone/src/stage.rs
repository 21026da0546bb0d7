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
}

/// What ± means.
pub(crate) const PLUS_MINUS: &str = "± is one standard uncertainty.";

impl Which {
    /// Both.
    pub(crate) const ALL: [Self; 2] = [Self::Stop, Self::Balance];

    /// Name in addresses, commands and JSON.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Balance => "balance",
        }
    }

    /// Name for people.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Stop => "Stop",
            Self::Balance => "Balance",
        }
    }

    /// The schema of its JSON.
    pub(crate) fn schema(self) -> &'static str {
        match self {
            Self::Stop => "soapstone.stop/1",
            Self::Balance => "soapstone.balance/1",
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
        }
    }

    /// Works it out.
    pub(crate) fn work(self, car: &Car, holes: &[(End, usize)]) -> Stage {
        match self {
            Self::Stop => study::stop(car, holes),
            Self::Balance => study::balance(car, holes),
        }
    }
}

/// The result of this name in either stage, with its stage and the names of its columns.
pub(crate) fn find(car: &Car, holes: &[(End, usize)], key: &str) -> Option<(Which, Vec<String>, Finding)> {
    Which::ALL.into_iter().find_map(|which| {
        let stage = which.work(car, holes);
        let (group, finding) = stage.find(key)?;
        Some((which, group.columns.clone(), finding.clone()))
    })
}

/// Every result that either stage gives of a car as drawn, once.
pub(crate) fn all(car: &Car) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::new();
    for finding in Which::ALL.into_iter().flat_map(|which| which.work(car, &[]).groups).flat_map(|g| g.rows) {
        if !list.iter().any(|known| known.key == finding.key) {
            list.push(finding);
        }
    }
    list
}
