//! The whole file, in the order in which its parts need each other.

use nalgebra::Vector3;
use toml_edit::{Document, Table};
use units::{Dimension, LengthUnit, UnitSystem};

use crate::air;
use crate::axle;
use crate::brake;
use crate::build;
use crate::diagnostic::{Diagnostic, Sink};
use crate::drive::{self, Drive};
use crate::frame::SurveyFrame;
use crate::head::{self, Head};
use crate::jig;
use crate::model::{Axle, Car, Choose, Driven, End, Value};
use crate::reader::Section;
use crate::setup::{self, overlay};
use crate::slips;
use crate::survey::{self, Axles};
use crate::syntax;
use crate::tyre;
use crate::weigh;

/// Share of the drive at the front axle of a car driven by all wheels, where the file states none.
const EVEN_DRIVE: f64 = 0.5;

/// Most travels in one choice table.
const MOST_TRAVELS: usize = 24;

/// What came of reading a file.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The car; `None` when an error makes it unusable. Where it is there despite errors, what they are about is
    /// left out of it or has its default.
    pub car: Option<Car>,
    /// Everything wrong, doubtful or assumed, in the order of the file.
    pub diagnostics: Vec<Diagnostic>,
}

/// Reads a car file. Never stops at the first mistake, unless the text is not TOML.
pub fn read(text: &str) -> Loaded {
    let document = match Document::parse(text) {
        Ok(document) => document,
        Err(error) => {
            let sink = Sink::new(text);
            syntax::report(&sink, &error);
            return Loaded { car: None, diagnostics: sink.into_diagnostics() };
        }
    };
    let mut loaded = read_table(text, document.as_table());
    if let Some(car) = &mut loaded.car {
        overlay::changed_cars(text, document.as_table(), car, &mut loaded.diagnostics);
    }
    loaded
}

/// Reads a whole file, as it stands or with a setup's changes put in place.
pub(crate) fn read_table(text: &str, table: &Table) -> Loaded {
    let sink = Sink::new(text);
    let car = read_root(&sink, table).filter(|_| !sink.unusable());
    Loaded { car, diagnostics: sink.into_diagnostics() }
}

fn read_root(sink: &Sink<'_>, table: &Table) -> Option<Car> {
    let mut root = Section::root(sink, table, UnitSystem::default());
    head::version(&root);
    let units = head::units(&root);
    root.units = units;
    let head = head::head(&root);
    let survey = survey::read(&root);
    let centres = Axles {
        front: axle::peek_x(table, "front", units),
        rear: axle::peek_x(table, "rear", units),
        wheelbase: head.wheelbase.map(|value| value.value),
    };
    let frame = survey.as_ref().and_then(|survey| survey.frame(&centres, &root));
    // Without a frame the axles are read all the same, so that their mistakes are told in the same pass.
    let unknown = SurveyFrame::new([true; 3], Vector3::zeros(), "");
    let context = axle::Context {
        frame: frame.as_ref().unwrap_or(&unknown),
        accuracy: survey.as_ref().map_or(0.0, |survey| survey.accuracy),
        height_datum: survey.as_ref().and_then(|survey| survey.height_datum()),
        judge: frame.is_some(),
    };
    let mut front = axle::read(&root, End::Front, &context);
    let mut rear = axle::read(&root, End::Rear, &context);
    // Tyres of both axles alike, but for an axle that has its own.
    let tyres = root.section("tyre").and_then(tyre::read);
    for axle in [&mut front, &mut rear].into_iter().flatten() {
        axle.tyre = axle.tyre.take().or_else(|| tyres.clone());
    }
    if !root.has("front") && !root.has("rear") {
        sink.fatal(
            &(0..0),
            "the file has no axle: it needs `[front]` or `[rear]`, or both".to_string(),
            "one axle is enough to begin with: its `kind`, its wheel and its points".to_string(),
        );
    }
    let brake_front_share = brakes(&root);
    let drive_front_share = drive_share(&root, head.driven);
    let setups = setup::read(&root, front.as_ref(), rear.as_ref());
    let choose = choose(&root);
    let tyre_rate = |axle: &Option<Axle>| axle.as_ref()?.tyre.as_ref()?.vertical_rate;
    let tyre_rates = [tyre_rate(&front), tyre_rate(&rear)];
    let weigh = weigh::read(&root, context.frame, head.cg_height, tyre_rates);
    let pedal = brake::pedal(&root);
    let braked = |axle: &Option<Axle>| axle.as_ref().is_some_and(|axle| axle.brake.is_some());
    if brake_front_share.is_some() && pedal.is_some() && braked(&front) && braked(&rear) {
        sink.note(
            &root.span_of("brakes"),
            "`brakes.front-share` stands beside complete brake parts: once the car is weighed, theirs counts"
                .to_string(),
            "take one of the two out, so that nobody wonders".to_string(),
        );
    }
    let air = air::read(&root);
    let stop = air::stop(&root);
    let jig = jig::read(&root, &context);
    let build = build::read(&root, &context, front.as_ref(), rear.as_ref());
    let parts = air.as_ref().map_or(&[][..], |air| &air.parts);
    let Drive { engine, gearbox, in_hand, venues, search, manoeuvre } = drive::read(&root, parts);
    if let Some(raised) = weigh.as_ref().and_then(|w| w.raised.as_ref().filter(|_| w.level.is_some()))
        && head.cg_height.is_some()
    {
        sink.note(
            &head.cg_height_span,
            "`cg-height` is not used: the scales with one end raised give the height".to_string(),
            format!("line {} begins them; take one of the two out", sink.line(&raised.span)),
        );
    }
    let wheelbase = frame.as_ref().and_then(|_| wheelbase(&root, &head, front.as_ref(), rear.as_ref()));
    root.finish(None);
    let frame = frame?;
    if front.is_none() && rear.is_none() {
        return None;
    }
    Some(Car {
        name: head.name,
        driven: head.driven,
        units,
        frame,
        front,
        rear,
        wheelbase,
        cg_height: head.cg_height,
        brake_front_share,
        drive_front_share,
        setups,
        choose,
        weigh,
        pedal,
        air,
        stop,
        jig,
        build,
        engine,
        gearbox,
        in_hand,
        venues,
        search,
        manoeuvre,
    })
}

/// Wheelbase from both centres; of one axle as stated, or from the survey where that counts from the other axle.
fn wheelbase(root: &Section<'_>, head: &Head, front: Option<&Axle>, rear: Option<&Axle>) -> Option<Value> {
    let (Some(front), Some(rear)) = (front, rear) else {
        let Some(rear) = rear.filter(|_| !root.has("front")) else { return head.wheelbase };
        let centre = &rear.wheel.centre;
        let behind = Value { value: -centre.at.x, uncertainty: centre.uncertainty.x };
        let surveyed = behind.value > slips::WHEELBASE.0;
        if let Some(stated) = head.wheelbase.filter(|_| surveyed) {
            slips::wheelbases_differ(root, &head.wheelbase_span, stated.value, behind.value);
        }
        return head.wheelbase.or(Some(behind).filter(|_| surveyed));
    };
    let (from, to) = (&front.wheel.centre, &rear.wheel.centre);
    let value = from.at.x - to.at.x;
    let uncertainty = from.uncertainty.x.hypot(to.uncertainty.x);
    match head.wheelbase {
        Some(stated) => slips::wheelbases_differ(root, &head.wheelbase_span, stated.value, value),
        None => slips::wheelbase(root, &to.span, value),
    }
    Some(Value { value, uncertainty })
}

fn brakes(root: &Section<'_>) -> Option<Value> {
    let section = root.section("brakes")?;
    let share = share(&section);
    section.finish(None);
    share
}

fn drive_share(root: &Section<'_>, driven: Driven) -> Value {
    let exactly = |value| Value { value, uncertainty: 0.0 };
    let section = root.section("drive");
    let stated = section.as_ref().and_then(share);
    if let Some(section) = section {
        if driven != Driven::All {
            section.sink.error(
                &section.span,
                "`[drive]` shares the drive between two axles, and `car.driven` says that one is driven"
                    .to_string(),
                "take it out, or write `driven = \"all\"`".to_string(),
            );
        }
        section.finish(None);
    }
    match driven {
        Driven::Front => exactly(1.0),
        Driven::Rear => exactly(0.0),
        Driven::All => stated.unwrap_or_else(|| {
            root.sink.note(
                &root.span_of("car"),
                "`drive.front-share` is not given: half of the drive is taken to be at the front".to_string(),
                "write it as `[drive] front-share = 0.4`".to_string(),
            );
            exactly(EVEN_DRIVE)
        }),
    }
}

/// `front-share`, between 0 and 1.
fn share(section: &Section<'_>) -> Option<Value> {
    let entry = section.need("front-share", "the share of the front axle, such as 0.64 or \"64 % ± 3 %\"")?;
    entry.share("0 is nothing at the front, 1 is everything")
}

fn choose(root: &Section<'_>) -> Choose {
    let inches = matches!(root.units.length, LengthUnit::Inch | LengthUnit::Foot);
    let default = if inches { 2.0 * LengthUnit::Inch.to_si() } else { 0.050 };
    let mut choose = Choose { axle: None, travels: vec![-default, default] };
    let Some(section) = root.section("choose") else { return choose };
    if let Some(entry) = section.entry("axle") {
        choose.axle = match entry.word(&["front", "rear"]) {
            Some("front") => Some(End::Front),
            Some(_) => Some(End::Rear),
            None => None,
        };
        if let Some(axle) = choose.axle.map(End::name).filter(|axle| !root.has(axle)) {
            entry.error(format!("`choose.axle` is \"{axle}\", and the file has no `[{axle}]`"), None);
            choose.axle = None;
        }
    }
    if let Some(entry) = section.entry("travels") {
        let items = entry.items().unwrap_or_default();
        let travels: Vec<f64> =
            items.iter().filter_map(|item| Some(item.quantity(Dimension::Length)?.value)).collect();
        if items.is_empty() || items.len() > MOST_TRAVELS {
            entry.error(
                format!(
                    "`choose.travels` must be a list of 1 to {MOST_TRAVELS} wheel travels, jounce positive"
                ),
                "for example [-50, 50]".to_string(),
            );
        } else if travels.len() == items.len() {
            slips::travels(&items, &travels);
            choose.travels = travels;
        }
    }
    section.finish(None);
    choose
}
