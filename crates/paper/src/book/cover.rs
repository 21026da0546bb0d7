//! The first page: which car, when, what it comes to, what is inside, what to beware of.

use project::model::{Car, Driven, End};
use study::Scale;
use units::{Dimension, show};

use super::{Axle, BookSpec};
use crate::document::{Document, Head};
use crate::flow::{Column, Flow, Table};
use crate::font::Fonts;

/// What can hurt someone.
const CAUTIONS: [&str; 5] = [
    "Planning figures, not an approval.",
    "A structural change to a vehicle must be checked by a licensed engineer, and satisfy local road law and the \
     sanctioning body's rules.",
    "Welding: take out fuel, batteries and lines, or keep well away from them; disconnect what current can harm.",
    "A raised car stands on stands made for it, on level ground, its wheels chocked; nobody under it while it is moved.",
    "Prove it step by step, slowly first, on an empty place, away from people.",
];

/// Most lines of the contents that are set one by one.
const MOST_LINES: usize = 40;

/// Puts the cover before the rest, with its contents.
pub(super) fn before(
    car: &Car,
    spec: &BookSpec<'_>,
    axles: &[Axle<'_>],
    matter: Document,
    head: Head,
    fonts: &Fonts,
) -> Document {
    // The cover's own length moves every page number on it: once is enough unless that changes its length.
    let mut pages = 1;
    loop {
        let mut front = Document::new(head.clone());
        front.flow(fonts, &cover(car, spec, axles, &matter, pages));
        if front.len() <= pages {
            front.join(matter);
            return front;
        }
        pages = front.len();
    }
}

fn cover(car: &Car, spec: &BookSpec<'_>, axles: &[Axle<'_>], matter: &Document, pages: usize) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, car.name.clone());
    flow.say("Where the pickups go, what the car does with them there, and what to mark, drill and set.");
    let mut pairs = vec![("made", spec.date.clone())];
    if !spec.revision.is_empty() {
        pairs.push(("revision", spec.revision.clone()));
    }
    for end in [End::Front, End::Rear] {
        if let Some(axle) = car.axle(end) {
            pairs.push((if end == End::Front { "front axle" } else { "rear axle" }, axle.kind.clone()));
        }
    }
    let driven = match car.driven {
        Driven::Front => "front",
        Driven::Rear => "rear",
        Driven::All => "all four",
    };
    pairs.push(("driven wheels", driven.to_string()));
    if let Some(wheelbase) = car.wheelbase {
        let words = show::with_unit(
            wheelbase.value,
            Dimension::Length,
            &car.units,
            Scale::Length.decimals(&car.units),
        );
        pairs.push(("wheelbase", words));
    }
    if let Some(mass) = study::weigh(car).ok().and_then(|weighed| {
        let state = weighed.ready()?;
        Some(study::shown(state.after(study::Weight::Mass)?, Scale::Mass, &car.units).text())
    }) {
        pairs.push(("mass, ready to run", mass));
    }
    flow.pairs(pairs);
    for axle in axles.iter().filter(|axle| axle.is_chosen(car)) {
        let Ok(choice) = &axle.choice else { continue };
        let summary = study::summary(choice, &car.units);
        if !summary.is_empty() {
            flow.heading(2, format!("{}: what the choice comes to", axle.title()));
            flow.bullets(summary);
        }
    }
    flow.heading(2, "Beware");
    flow.caution(CAUTIONS.join(" "));
    contents(&mut flow, matter, pages);
    flow
}

fn contents(flow: &mut Flow, matter: &Document, pages: usize) {
    let chapters: Vec<_> = matter.bookmarks().iter().filter(|mark| mark.level == 1).collect();
    if chapters.is_empty() {
        return;
    }
    flow.heading(2, "Contents");
    let mut table = Table::new([Column::words("chapter"), Column::figures("page")]);
    for chapter in chapters.iter().take(MOST_LINES) {
        table.row([chapter.words.clone(), (chapter.page + pages + 1).to_string()]);
    }
    flow.table(table);
    if chapters.len() > MOST_LINES {
        flow.remark(format!(
            "And {} more: the bookmarks of the file have them all.",
            chapters.len() - MOST_LINES
        ));
    }
}
