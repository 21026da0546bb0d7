//! Setup cards, and the jobs from one setup to another.

use paper::card::{JobsFrom, card_section};
use study::Card;

use super::args::CardArgs;
use super::{Failure, file, flow, load, output};
use crate::files::{CardsError, Kind, card_file, cards_wanted, jobs_from};
use crate::json;

pub(crate) fn run(args: &CardArgs) -> Result<(), Failure> {
    let kind = args.output.as_deref().map(|path| file::kind(path, &[Kind::Pdf])).transpose()?;
    let car = load::whole_car(args.car.as_deref())?;
    let mut cards: Vec<(Card, Vec<JobsFrom>)> = Vec::new();
    for card in cards_wanted(&car, args.setup.as_deref()).map_err(failure)? {
        let jobs = jobs_from(&car, &card, args.from.as_deref()).map_err(failure)?;
        cards.push((card, jobs));
    }
    if let (Some(path), Some(_)) = (&args.output, kind) {
        file::write(path, &card_file(&car, &cards, file::paper(&args.file, &car))?, args.file.force)?;
        return file::wrote(path, "");
    }
    if args.json {
        return output::json(&json::cards(&car, &cards));
    }
    // All jobs between all setups are many: on the screen those that are asked for.
    let asked = args.from.is_some();
    let texts = cards.iter().map(|(card, jobs)| {
        let jobs = if asked { jobs.as_slice() } else { &[] };
        flow::text(&card_section(card, jobs, &car.units))
    });
    let mut text = texts.collect::<Vec<_>>().join("\n");
    if !asked && cards.iter().any(|(_, jobs)| !jobs.is_empty()) {
        text.push_str("\n`--from NAME` lists the jobs from another setup.\n");
    }
    output::text(&text)
}

fn failure(error: CardsError) -> Failure {
    Failure::with_hint(error.to_string(), error.hint())
}
