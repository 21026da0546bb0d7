//! `soapstone.card/1`: what is set in each setup, and the jobs from others.

use paper::card::JobsFrom;
use project::model::Car;
use serde::Serialize;
use study::{Card, Item, Set, Step, Work};

use super::CAUTION;

#[derive(Serialize)]
struct CardsOut {
    schema: &'static str,
    car: String,
    cards: Vec<CardOut>,
    cautions: [&'static str; 3],
}

#[derive(Serialize)]
struct CardOut {
    setup: String,
    items: Vec<ItemOut>,
    from: Vec<FromOut>,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct ItemOut {
    work: &'static str,
    what: String,
    /// In words and the file's units.
    set_to: String,
    on_stands: bool,
    /// Length of a link.
    #[serde(skip_serializing_if = "Option::is_none")]
    length_m: Option<f64>,
    /// Against the link as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    change_m: Option<f64>,
    /// Turns for that change; left out where the link is made anew.
    #[serde(skip_serializing_if = "Option::is_none")]
    turns: Option<f64>,
}

#[derive(Serialize)]
struct FromOut {
    setup: String,
    steps: Vec<StepOut>,
}

#[derive(Serialize)]
struct StepOut {
    work: &'static str,
    what: String,
    on_stands: bool,
}

/// The cards.
pub(crate) fn cards(car: &Car, cards: &[(Card, Vec<JobsFrom>)]) -> impl Serialize {
    CardsOut {
        schema: "soapstone.card/1",
        car: car.name.clone(),
        cards: cards.iter().map(|(card, from)| one(car, card, from)).collect(),
        cautions: [paper::card::CAUTIONS[0], paper::card::CAUTIONS[1], CAUTION],
    }
}

fn one(car: &Car, card: &Card, from: &[JobsFrom]) -> CardOut {
    let step = |step: &Step| StepOut {
        work: name(step.work),
        what: step.words.clone(),
        on_stands: step.work.on_stands(),
    };
    CardOut {
        setup: card.name.clone(),
        items: card.items.iter().map(|of| item(car, of)).collect(),
        from: from
            .iter()
            .map(|from| FromOut {
                setup: from.card.name.clone(),
                steps: from.steps.iter().map(step).collect(),
            })
            .collect(),
        notes: card.notes.clone(),
    }
}

fn item(car: &Car, item: &Item) -> ItemOut {
    let (length_m, change_m, turns) = match &item.set {
        Set::Link { length, change, per_turn } => {
            (Some(*length), Some(*change), per_turn.map(|turn| change / turn))
        }
        Set::Words(_) => (None, None, None),
    };
    ItemOut {
        work: name(item.work),
        what: item.what.clone(),
        set_to: item.value(&car.units),
        on_stands: item.work.on_stands(),
        length_m,
        change_m,
        turns,
    }
}

fn name(work: Work) -> &'static str {
    match work {
        Work::Hole => "hole",
        Work::Link => "link",
        Work::Spring => "spring",
        Work::Damper => "damper",
        Work::Bar => "bar",
        Work::Brake => "brake",
        Work::Tyre => "tyre",
        Work::Fuel => "fuel",
        Work::RideHeight => "ride-height",
        Work::Camber => "camber",
        Work::Toe => "toe",
        Work::Pressure => "pressure",
        Work::Bias => "bias",
        Work::Air => "air",
    }
}
