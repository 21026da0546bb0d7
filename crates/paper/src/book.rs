//! The book of a car: cover, choice table, drawings, curves, stages, templates, the survey, worked numbers, what was
//! assumed. It stands on its own: who has the paper needs neither the program nor the file.

mod assumed;
mod choice;
mod cover;
mod curves;
mod survey;
mod views;
mod weights;
mod worked;

use project::Diagnostic;
use project::model::{Car, End};
use study::build::Build;
use study::{Choice, Subject, Way};

use crate::CAUTION;
use crate::build::{build_section, parts_section};
use crate::card::{JobsFrom, card_section};
use crate::document::{Document, Head};
use crate::flow::Flow;
use crate::font::Fonts;
use crate::jig::jig_section;
use crate::sheet::Paper;
use crate::stage::{stage_section, worked_section};
use crate::template::{Clearance, of_plate, sheets};

/// What a book says beside the car.
#[derive(Clone, Debug, Default)]
pub struct BookSpec<'a> {
    /// The day it is made, as printed: `2026-05-17`.
    pub date: String,
    /// Which version of the car file; empty for none.
    pub revision: String,
    /// What is in the printer.
    pub paper: Paper,
    /// The car file's text, and what its reading had to say: what was assumed is printed from it.
    pub text: &'a str,
    /// The same with the study's findings.
    pub diagnostics: &'a [Diagnostic],
}

/// The chapters, in order; what a car has no data for is left out.
const CHAPTERS: usize = 9;

/// The whole book. The car has been settled. `progress` is called with what is done and out of how much.
pub fn book(
    car: &Car,
    spec: &BookSpec<'_>,
    fonts: &Fonts,
    mut progress: impl FnMut(usize, usize),
) -> Document {
    let head = Head {
        title: format!("{}: the book", car.name),
        subject: "Where the pickups go, what the car does with them there, and what to mark, drill and set"
            .into(),
        date: spec.date.clone(),
        revision: spec.revision.clone(),
        caution: CAUTION.into(),
        paper: spec.paper,
    };
    let mut matter = Document::new(head.clone());
    let mut done = 0;
    let mut step = || {
        done += 1;
        progress(done, CHAPTERS);
    };
    let axles: Vec<Axle<'_>> =
        [End::Front, End::Rear].into_iter().filter_map(|end| Axle::new(car, end)).collect();
    step();
    for axle in axles.iter().filter(|axle| axle.is_chosen(car)) {
        matter.flow(fonts, &choice::chapter(axle));
    }
    step();
    for axle in &axles {
        matter.flow(fonts, &views::chapter(axle));
    }
    step();
    for axle in &axles {
        matter.flow(fonts, &curves::chapter(axle));
    }
    step();
    matter.flow(fonts, &weights::chapter(car));
    let mut stages: Vec<Named> = vec![("Stop", study::stop(car, &[])), ("Balance", study::balance(car, &[]))];
    if !car.venues.is_empty() {
        stages.push(("Drive", study::drive(car, &[], DRAWS, &Way::default())));
    }
    // Who says nothing of dampers and tyres is not asked for them here.
    stages.extend(
        Some((MANOEUVRES, study::manoeuvres(car, &[], MANOEUVRE_DRAWS, &Way::default())))
            .filter(|named| has_data(&named)),
    );
    for (title, stage) in stages.iter().filter(has_data) {
        let mut remarks = vec!["± is one standard uncertainty."];
        if *title == MANOEUVRES {
            remarks.push(study::MANOEUVRES_CAUTION);
        }
        matter.flow(fonts, &stage_section(title, CAUTION, &remarks, stage, &car.units));
    }
    let built: Vec<Build> = axles
        .iter()
        .filter(|axle| axle.is_chosen(car) && car.build.is_some())
        .map(|axle| study::build::build(car, axle.subject.axle().end, &[]))
        .collect();
    for build in &built {
        matter.flow(fonts, &build_section(build, car));
    }
    step();
    cards(&mut matter, car, fonts);
    for axle in axles.iter().filter(|axle| axle.is_chosen(car)) {
        if let Ok(jig) = study::jig(car, axle.subject.axle().end) {
            matter.flow(fonts, &jig_section(&jig, car));
        }
    }
    templates(&mut matter, car, fonts);
    step();
    matter.flow(fonts, &survey::chapter(car));
    step();
    for axle in axles.iter().filter(|axle| axle.is_chosen(car)) {
        matter.flow(fonts, &worked::chapter(axle));
    }
    for (title, stage) in stages.iter().filter(has_data) {
        matter.flow(fonts, &worked_section(&format!("{title}: how it comes about"), stage, &car.units));
    }
    for build in &built {
        matter.flow(fonts, &parts_section(build, car));
    }
    step();
    matter.flow(fonts, &assumed::chapter(&stages, spec));
    let whole = cover::before(car, spec, &axles, matter, head, fonts);
    step();
    whole
}

/// Samples of Drive: those of its page.
const DRAWS: study::Draws = study::Draws { choices: 8, changes: 3 };

/// Samples of the manoeuvres.
const MANOEUVRE_DRAWS: usize = 4;

/// The chapter with a caution of its own.
const MANOEUVRES: &str = "Manoeuvres";

/// A stage with its name.
type Named = (&'static str, study::Stage);

/// Whether a stage has data; with nothing but what is lacking it is said on the page of what was assumed.
fn has_data((_, stage): &&Named) -> bool {
    !stage.groups.is_empty()
}

/// A setup card each, with the jobs from every other setup.
fn cards(document: &mut Document, car: &Car, fonts: &Fonts) {
    let all = study::cards(car);
    for card in &all {
        let others = all.iter().filter(|other| other.name != card.name);
        let from: Vec<JobsFrom> = others
            .map(|other| JobsFrom { card: other.clone(), steps: study::steps(other, card, &car.units) })
            .collect();
        document.flow(fonts, &card_section(card, &from, &car.units));
    }
}

fn templates(document: &mut Document, car: &Car, fonts: &Fonts) {
    for end in [End::Front, End::Rear] {
        let Some(axle) = car.axle(end) else { continue };
        for plate in &axle.plates {
            let mut wrong = Flow::new();
            let made = of_plate(end, plate, &axle.holes, &Clearance::default()).and_then(|pair| {
                pair.iter().try_for_each(|pattern| sheets(document, fonts, pattern, &car.units))
            });
            if let Err(error) = made {
                wrong.heading(1, format!("Template of plate {}", plate.name));
                wrong.say(format!("There is none: {error}."));
                document.flow(fonts, &wrong);
            }
        }
    }
}

/// An axle with its choice table.
pub(crate) struct Axle<'a> {
    pub subject: Subject<'a>,
    pub choice: Result<Choice, String>,
}

impl<'a> Axle<'a> {
    fn new(car: &'a Car, end: End) -> Option<Self> {
        let subject = Subject::new(car, end).ok()?;
        let choice =
            study::choose(&subject, &[], &car.choose.travels, |_, _| {}).map_err(|error| error.to_string());
        Some(Self { subject, choice })
    }

    /// Whether there is something to choose at this axle, or no other one.
    fn is_chosen(&self, car: &Car) -> bool {
        let axle = self.subject.axle();
        let alone = car.front.is_none() || car.rear.is_none();
        alone || !axle.holes.is_empty() || car.choose.axle == Some(axle.end)
    }

    /// `Rear axle`.
    pub fn title(&self) -> &'static str {
        match self.subject.axle().end {
            End::Front => "Front axle",
            End::Rear => "Rear axle",
        }
    }
}
