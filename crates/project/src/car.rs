//! The whole file: version, units, car, axles, setups.

use nalgebra::Vector3;
use toml_edit::Document;
use units::{AngleUnit, Dimension, ForceUnit, LengthUnit, MassUnit, UnitSystem};

use crate::axle;
use crate::diagnostic::{Diagnostic, Sink};
use crate::entry::shorten;
use crate::frame::SurveyFrame;
use crate::model::{Axle, Car, Choose, Driven, End, Value};
use crate::reader::Section;
use crate::setup;
use crate::slips;
use crate::suggest;
use crate::survey::{self, Axles};
use crate::syntax;

/// The version of the format that this reader reads.
const VERSION: i64 = 1;

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
    let sink = Sink::new(text);
    let car = match Document::parse(text) {
        Ok(document) => read_document(&sink, &document),
        Err(error) => {
            syntax::report(&sink, &error);
            None
        }
    };
    let car = car.filter(|_| !sink.unusable());
    Loaded { car, diagnostics: sink.into_diagnostics() }
}

fn read_document(sink: &Sink<'_>, document: &Document<&str>) -> Option<Car> {
    let mut root = Section::root(sink, document.as_table(), UnitSystem::default());
    version(&root);
    let units = units(&root);
    root.units = units;
    let head = head(&root);
    let survey = survey::read(&root);
    let centres = Axles {
        front: axle::peek_x(document.as_table(), "front", units),
        rear: axle::peek_x(document.as_table(), "rear", units),
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
    let front = axle::read(&root, End::Front, &context);
    let rear = axle::read(&root, End::Rear, &context);
    if !root.has("front") && !root.has("rear") {
        sink.fatal(
            &(0..0),
            "the file has no axle: it needs `[front]` or `[rear]`, or both".to_string(),
            "one axle is enough to begin with: its `kind`, its wheel and its points".to_string(),
        );
    }
    let brake_front_share = brakes(&root);
    let drive_front_share = drive(&root, head.driven);
    let setups = setup::read(&root, front.as_ref(), rear.as_ref());
    let choose = choose(&root);
    let wheelbase = wheelbase(&root, &head, front.as_ref(), rear.as_ref());
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
    })
}

fn version(root: &Section<'_>) {
    let Some(entry) = root.entry("soapstone") else {
        root.sink.fatal(
            &(0..0),
            "the file does not say which version of the format it is written in".to_string(),
            format!("put `soapstone = {VERSION}` on its first line"),
        );
        return;
    };
    match entry.integer() {
        Some(VERSION) => {}
        Some(newer) if newer > VERSION => entry.sink.fatal(
            &entry.span,
            format!("the file is written in version {newer} of the format, and this Soapstone reads {VERSION}"),
            "use a newer Soapstone for it".to_string(),
        ),
        _ => entry.sink.fatal(
            &entry.span,
            format!("`soapstone` is the version of the format and must be {VERSION}"),
            format!("write `soapstone = {VERSION}`"),
        ),
    }
}

fn units(root: &Section<'_>) -> UnitSystem {
    let mut system = UnitSystem::default();
    let Some(section) = root.section("units") else { return system };
    if let Some(unit) = unit(&section, "length", LengthUnit::NAMES, LengthUnit::from_name) {
        system.length = unit;
    }
    if let Some(unit) = unit(&section, "mass", MassUnit::NAMES, MassUnit::from_name) {
        system.mass = unit;
    }
    if let Some(unit) = unit(&section, "force", ForceUnit::NAMES, ForceUnit::from_name) {
        system.force = unit;
    }
    if let Some(unit) = unit(&section, "angle", AngleUnit::NAMES, AngleUnit::from_name) {
        system.angle = unit;
    }
    section.finish(None);
    system
}

/// A unit that is not understood leaves every bare number without a meaning, so that there is no car.
fn unit<U>(
    section: &Section<'_>,
    key: &str,
    names: &[&'static str],
    from_name: fn(&str) -> Option<U>,
) -> Option<U> {
    let entry = section.entry(key)?;
    let text = entry.text_if_any();
    let unit = text.and_then(from_name);
    if unit.is_none() {
        let all = names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let near = text.and_then(|text| suggest::nearest(text, names.iter().copied()));
        let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
        let found = text.map_or(entry.found().to_string(), |text| format!("`{}`", shorten(text)));
        entry.sink.fatal(
            &entry.span,
            format!("`units.{key}` cannot be {found}"),
            format!("{near}it may be {all}"),
        );
    }
    unit
}

/// What `[car]` says.
struct Head {
    name: String,
    driven: Driven,
    wheelbase: Option<Value>,
    wheelbase_span: std::ops::Range<usize>,
    cg_height: Option<Value>,
}

fn head(root: &Section<'_>) -> Head {
    let mut head = Head {
        name: "unnamed car".to_string(),
        driven: Driven::Rear,
        wheelbase: None,
        wheelbase_span: 0..0,
        cg_height: None,
    };
    let Some(section) = root.need_section("car", "the car's `name`, and which wheels are `driven`") else {
        return head;
    };
    if let Some(name) = section.entry("name").and_then(|name| name.text("the car's name")) {
        head.name = name.to_string();
    }
    match section.need("driven", "which wheels are driven, \"front\", \"rear\" or \"all\"") {
        Some(entry) => match entry.word(&["front", "rear", "all"]) {
            Some("front") => head.driven = Driven::Front,
            Some("all") => head.driven = Driven::All,
            _ => {}
        },
        None => {}
    }
    if let Some(entry) = section.entry("wheelbase") {
        head.wheelbase = entry.positive(Dimension::Length);
        head.wheelbase_span = entry.span.clone();
        if let Some(wheelbase) = head.wheelbase {
            slips::wheelbase(root, &entry.span, wheelbase.value);
        }
    }
    if let Some(entry) = section.entry("cg-height") {
        head.cg_height = entry.positive(Dimension::Length);
        if let Some(height) = head.cg_height {
            slips::cg_height(root, &entry.span, height.value);
        }
    }
    section.finish(None);
    head
}

/// Wheelbase from both centres; of one axle as stated, or from the survey where that counts from the other axle.
fn wheelbase(root: &Section<'_>, head: &Head, front: Option<&Axle>, rear: Option<&Axle>) -> Option<Value> {
    let (Some(front), Some(rear)) = (front, rear) else {
        return head.wheelbase.or_else(|| {
            let centre = &rear?.wheel.centre;
            (-centre.at.x > slips::WHEELBASE.0)
                .then_some(Value { value: -centre.at.x, uncertainty: centre.uncertainty.x })
        });
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

fn drive(root: &Section<'_>, driven: Driven) -> Value {
    let exactly = |value| Value { value, uncertainty: 0.0 };
    let section = root.section("drive");
    let stated = section.as_ref().and_then(share);
    if let Some(section) = section {
        if driven != Driven::All {
            section.sink.error(
                &section.span,
                "`[drive]` shares the drive between two axles, and `car.driven` says that one is driven".to_string(),
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
    let share = entry.quantity(Dimension::Ratio)?;
    if (0.0..=1.0).contains(&share.value) {
        return Some(share);
    }
    let hint = if 1.0 < share.value && share.value <= 100.0 {
        format!("for per cent write \"{} %\"", share.value)
    } else {
        "0 is nothing at the front, 1 is everything".to_string()
    };
    entry.error(format!("`{}` must lie between 0 and 1", entry.path), hint);
    None
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
                format!("`choose.travels` must be a list of 1 to {MOST_TRAVELS} wheel travels, jounce positive"),
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
