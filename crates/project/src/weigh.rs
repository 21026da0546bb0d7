//! `[weigh]` and what belongs to it: scales, raised scales, the ledger of parts, driver, fuel, unsprung masses.

mod raised;

use units::Dimension;

use crate::entry::Entry;
use crate::frame::SurveyFrame;
use crate::model::{EndRates, Gyration, LevelScales, Part, Value, Weighing, Wish};
use crate::point::{self, Placing};
use crate::reader::Section;

/// Standard uncertainty of one scale where the file states none \[kg\]: a tenth of a per cent of half a tonne, and a
/// floor that is not quite level.
const SCALE: f64 = 0.5;

/// Standard uncertainty of a part's centre where the file states none \[m\]: found by balancing it, or by eye.
const CENTRE: f64 = 0.020;

/// How far the scales may be from a stated total, as a share of it: more is a mistake, not a scale.
const MISMATCH: f64 = 0.02;

/// How far a tyre's rate as weighed may be from the rate of the tyre that it runs on before that is told, as a share.
const OTHER_TYRE: f64 = 0.10;

/// What the ends of a share of the tank mean.
const FUEL: &str = "0 is empty, 1 is full";

/// The scales by the names of the corners.
const CORNERS: [&str; 4] = ["front-left", "front-right", "rear-left", "rear-right"];

/// Reads everything about weights; `None` where the file has nothing of it. `tyre_rates`, front and rear, are those of the
/// tyres that it runs on \[N/m\]: as weighed it stood on them, unless the file says otherwise.
pub(crate) fn read(
    root: &Section<'_>,
    frame: &SurveyFrame,
    stated_height: Option<Value>,
    tyre_rates: [Option<Value>; 2],
) -> Option<Weighing> {
    let there = ["weigh", "driver", "fuel", "unsprung"].iter().any(|key| root.has(key));
    if !there {
        return None;
    }
    let exactly = |value| Value { value, uncertainty: 0.0 };
    let driver = root.section("driver").and_then(|section| body(section, "driver", frame));
    let mut fuel_share = exactly(1.0);
    let fuel = root.section("fuel").and_then(|section| {
        fuel_share = section.entry("share").and_then(|entry| entry.share(FUEL)).unwrap_or(fuel_share);
        body(section, "fuel", frame)
    });
    let mut weighing = Weighing {
        level: None,
        raised: None,
        stated_height,
        driver_in: false,
        fuel_in: exactly(0.0),
        front: EndRates::default(),
        rear: EndRates::default(),
        parts_out: Vec::new(),
        parts_in: Vec::new(),
        driver,
        fuel,
        fuel_share,
        inertia: Gyration::default(),
        wish: None,
        span: root.span_of("weigh"),
    };
    if let Some(section) = root.section("weigh") {
        tables(root, section, frame, tyre_rates, &mut weighing);
    }
    for (rates, runs_on) in [&mut weighing.front, &mut weighing.rear].into_iter().zip(tyre_rates) {
        rates.tyre_rate = rates.tyre_rate.or(runs_on);
    }
    if let Some(section) = root.section("unsprung") {
        weighing.front.unsprung = section.positive("front", Dimension::Mass);
        weighing.rear.unsprung = section.positive("rear", Dimension::Mass);
        section.finish(None);
    }
    Some(weighing)
}

fn tables(
    root: &Section<'_>,
    section: Section<'_>,
    frame: &SurveyFrame,
    [front_tyre, rear_tyre]: [Option<Value>; 2],
    weighing: &mut Weighing,
) {
    weighing.level = section.section("level").and_then(level);
    weighing.raised =
        section.section("raised").and_then(|raised| raised::read(raised, weighing.level.as_ref()));
    if section.has("raised") && !section.has("level") {
        section.sink.error(
            &section.span_of("raised"),
            "scales with one end raised say nothing without the same car on the level".to_string(),
            "add `[weigh.level]` with what each of the four scales says".to_string(),
        );
    }
    if let Some(entry) = section.entry("driver") {
        weighing.driver_in = entry.word(&["in", "out"]) == Some("in");
        if weighing.driver_in && !root.has("driver") {
            entry.error(
                "the driver was in the car, and the file does not say what he weighs".into(),
                "add `[driver]` with his `mass` and `at`".to_string(),
            );
        }
    }
    if let Some(entry) = section.entry("fuel") {
        weighing.fuel_in = entry.share(FUEL).unwrap_or(weighing.fuel_in);
        if weighing.fuel_in.value > 0.0 && !root.has("fuel") {
            entry.error(
                "there was fuel in the car, and the file does not say what a full tank weighs".into(),
                "add `[fuel]` with the `mass` of a full tank and `at`".to_string(),
            );
        }
    }
    if let Some(entry) = section.entry("total")
        && let (Some(total), Some(level)) = (entry.positive(Dimension::Mass), &weighing.level)
    {
        let sum: f64 = level.scales.iter().map(|scale| scale.value).sum();
        if (sum - total.value).abs() > MISMATCH * total.value {
            let shown = |v| units::show::with_unit(v, Dimension::Mass, &root.units, 1);
            entry.error(
                format!(
                    "the four scales add up to {}, where `total` says {}",
                    shown(sum),
                    shown(total.value)
                ),
                "zero the scales, weigh again with the same fuel and driver, or correct a figure".to_string(),
            );
        }
    }
    if let Some(own) = section.section("front") {
        weighing.front = rates(own, front_tyre);
    }
    if let Some(own) = section.section("rear") {
        weighing.rear = rates(own, rear_tyre);
    }
    for (key, list) in [("out", &mut weighing.parts_out), ("in", &mut weighing.parts_in)] {
        // Without any part the ledger may still have its header.
        list.extend(
            section.named_sections(key).into_iter().filter_map(|(name, own)| body(own, &name, frame)),
        );
    }
    if let Some(own) = section.section("inertia") {
        let length = |key| own.positive(key, Dimension::Length);
        weighing.inertia = Gyration {
            yaw: length("yaw"),
            pitch: length("pitch"),
            roll: length("roll"),
            width: length("width"),
            height: length("height"),
        };
        own.finish(None);
    }
    weighing.wish = section.section("wish").and_then(wish);
    section.finish(None);
    too_much_out(root, weighing);
}

/// The part whose removal leaves nothing.
fn too_much_out(root: &Section<'_>, weighing: &Weighing) {
    let Some(level) = &weighing.level else { return };
    let sum = |parts: &[Part]| parts.iter().map(|part| part.mass.value).sum::<f64>();
    let there = level.scales.iter().map(|scale| scale.value).sum::<f64>() + sum(&weighing.parts_in);
    if sum(&weighing.parts_out) < there {
        return;
    }
    let heaviest = weighing.parts_out.iter().max_by(|a, b| a.mass.value.total_cmp(&b.mass.value));
    if let Some(part) = heaviest {
        let shown = units::show::with_unit(there, Dimension::Mass, &root.units, 0);
        root.sink.error(
            &part.span,
            format!("with `{}` more is taken out than the {shown} that are there", part.name),
            "check its mass and unit, and those of the other parts".to_string(),
        );
    }
}

fn level(section: Section<'_>) -> Option<LevelScales> {
    let accuracy = spread(&section);
    if accuracy.is_none() {
        let shown = units::show::with_unit(SCALE, Dimension::Mass, &section.units, 1);
        section.sink.note(
            &section.span,
            format!(
                "`{}.accuracy` is not given, so each scale is taken to be sure to ± {shown}",
                section.path
            ),
            "say what the scales' maker claims, or what comes of weighing twice".to_string(),
        );
    }
    let read = CORNERS.map(|key| {
        let entry = section.need(key, "what the scale under that wheel says")?;
        reading(&entry, accuracy)
    });
    let length = |key| section.positive(key, Dimension::Length);
    let (wheelbase, front_track, rear_track) =
        (length("wheelbase"), length("front-track"), length("rear-track"));
    let span = section.span.clone();
    section.finish(None);
    let [Some(a), Some(b), Some(c), Some(d)] = read else { return None };
    Some(LevelScales { scales: [a, b, c, d], wheelbase, front_track, rear_track, span })
}

/// The `accuracy` of a table of scales.
fn spread(section: &Section<'_>) -> Option<f64> {
    Some(section.positive("accuracy", Dimension::Mass)?.value)
}

/// What a scale says; never below zero, for a scale that does has not been zeroed.
fn reading(entry: &Entry<'_>, accuracy: Option<f64>) -> Option<Value> {
    let value = entry.quantity(Dimension::Mass)?;
    if value.value < 0.0 {
        entry.error(
            format!("`{}` is negative: no wheel pulls at its scale", entry.path),
            "zero the scale with nothing on it, and weigh again".to_string(),
        );
        return None;
    }
    let uncertainty = if value.uncertainty > 0.0 { value.uncertainty } else { accuracy.unwrap_or(SCALE) };
    Some(Value { uncertainty, ..value })
}

fn rates(section: Section<'_>, runs_on: Option<Value>) -> EndRates {
    let rates = EndRates {
        unsprung: None,
        tyre_rate: section.positive("tyre-rate", Dimension::Rate),
        wheel_rate: section.positive("wheel-rate", Dimension::Rate),
        motion_ratio: section.positive("motion-ratio", Dimension::Ratio),
        bar_rate: section.positive("bar-rate", Dimension::Rate),
        perch: section.positive("perch", Dimension::Pitch),
    };
    if let (Some(stated), Some(runs_on)) = (rates.tyre_rate, runs_on)
        && (stated.value - runs_on.value).abs() > OTHER_TYRE * runs_on.value
    {
        let shown = |v: Value| units::show::with_unit(v.value, Dimension::Rate, &section.units, 1);
        section.sink.note(
            &section.span_of("tyre-rate"),
            format!(
                "`{}.tyre-rate` is {}, where the tyre's `vertical-rate` is {}",
                section.path,
                shown(stated),
                shown(runs_on)
            ),
            "right if it was weighed on other tyres; if not, take it out".to_string(),
        );
    }
    section.finish(None);
    rates
}

/// A part, the driver or a full tank.
fn body(section: Section<'_>, name: &str, frame: &SurveyFrame) -> Option<Part> {
    let mass = section.need("mass", "what it weighs").and_then(|entry| entry.positive(Dimension::Mass));
    let written =
        section.need("at", "the place of its centre, as [x, y, z]").and_then(|entry| point::read(&entry));
    let accuracy = section.positive("accuracy", Dimension::Length).map_or(CENTRE, |value| value.value);
    let size = section.entry("size").and_then(|entry| size(&entry));
    let span = section.span.clone();
    section.finish(None);
    let placing = Placing { frame, accuracy, mirrored: false };
    Some(Part { name: name.to_string(), mass: mass?, at: placing.place(written?), size, span })
}

fn size(entry: &Entry<'_>) -> Option<nalgebra::Vector3<f64>> {
    let items = entry.items().unwrap_or_default();
    let [x, y, z] = items.as_slice() else {
        entry.error(
            format!("`{}` must be three lengths: along, across, up", entry.path),
            "for example [240, 175, 190]".to_string(),
        );
        return None;
    };
    let read = [x, y, z].map(|item| item.positive(Dimension::Length));
    let [Some(x), Some(y), Some(z)] = read else { return None };
    Some(nalgebra::Vector3::new(x.value, y.value, z.value))
}

fn wish(section: Section<'_>) -> Option<Wish> {
    let cross = section
        .entry("cross")
        .and_then(|entry| entry.share("0.5 is as much on one diagonal as on the other"));
    let any = CORNERS.iter().any(|key| section.has(key));
    let corners = CORNERS.map(|key| {
        let entry =
            if any { section.need(key, "the wished weight of that corner") } else { section.entry(key) };
        entry.and_then(|entry| reading(&entry, None))
    });
    if any && section.has("cross") {
        section.sink.error(
            &section.span_of("cross"),
            "`cross` and four corner weights are two wishes".to_string(),
            "keep one of them".to_string(),
        );
    }
    if !any && !section.has("cross") {
        section.missing("`cross`", "the wished share on front right and rear left, such as \"50 %\"");
    }
    section.finish(None);
    match corners {
        [Some(a), Some(b), Some(c), Some(d)] => Some(Wish::Corners([a, b, c, d].map(|v| v.value))),
        _ => cross.map(|cross| Wish::Cross(cross.value)),
    }
}
