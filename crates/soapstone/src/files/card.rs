//! Setup cards: which are wanted, the jobs that lead to each, and their file.

use paper::card::{JobsFrom, card_section};
use paper::pdf::pdf;
use paper::sheet::Paper;
use project::model::Car;
use study::{Card, card, cards, steps};
use thiserror::Error;

use super::{FileError, document};

/// What the car without a setup is called.
const DRAWN: &str = "as drawn";

/// There is no such setup.
#[derive(Debug, Error)]
#[error("the file has no setup `{name}`")]
pub(crate) struct CardsError {
    name: String,
    known: Vec<String>,
}

impl CardsError {
    /// What there is.
    pub fn hint(&self) -> String {
        let known: Vec<String> = self.known.iter().map(|name| format!("`{name}`")).collect();
        format!("there is {}", known.join(", "))
    }
}

/// The card of a setup, `as drawn` for the car without one; the cards of all setups without a name.
pub(crate) fn cards_wanted(car: &Car, setup: Option<&str>) -> Result<Vec<Card>, CardsError> {
    match setup {
        None => Ok(cards(car)),
        Some(name) => named(car, name).map(|card| vec![card]),
    }
}

fn named(car: &Car, name: &str) -> Result<Card, CardsError> {
    let own = car.setup(name).map(|setup| setup.name.as_str());
    match card(car, own) {
        Some(card) if own.is_some() || name == DRAWN => Ok(card),
        _ => {
            let setups = car.setups.iter().map(|setup| setup.name.clone());
            Err(CardsError { name: name.to_string(), known: setups.chain([DRAWN.to_string()]).collect() })
        }
    }
}

/// The jobs to a card from one setup, or from every other one.
pub(crate) fn jobs_from(car: &Car, to: &Card, from: Option<&str>) -> Result<Vec<JobsFrom>, CardsError> {
    let others = match from {
        Some(name) => vec![named(car, name)?],
        None => cards(car).into_iter().filter(|other| other.name != to.name).collect(),
    };
    let jobs = |other: Card| {
        let steps = steps(&other, to, &car.units);
        JobsFrom { card: other, steps }
    };
    Ok(others.into_iter().map(jobs).collect())
}

/// The cards as PDF, each on a page of its own.
pub(crate) fn card_file(
    car: &Car,
    cards: &[(Card, Vec<JobsFrom>)],
    paper: Paper,
) -> Result<Vec<u8>, FileError> {
    let fonts = crate::print::fonts();
    let mut document = document(car, "setup cards", paper);
    for (card, from) in cards {
        document.flow(fonts, &card_section(card, from, &car.units));
    }
    Ok(pdf(&document, fonts)?)
}
