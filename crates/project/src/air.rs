//! `[aero]`: the air over the car; and `[stop]`: the stop that is looked at.

use units::Dimension;

use crate::model::{AirPart, AirReading, AirRow, StatedStop, Value};
use crate::reader::Section;

/// Density of the air at sea level and 15 deg C \[kg/m^3\] (ISO 2533; remembered).
const SEA_LEVEL: f64 = 1.225;

/// Largest area of a car \[m^2\]: more is a mistaken unit.
const LARGEST: f64 = 12.0;

/// Most stops in a sequence.
const MOST_STOPS: i64 = 200;

/// Reads `[aero]`.
pub(crate) fn read(root: &Section<'_>) -> Option<AirReading> {
    let section = root.section("aero")?;
    let density = section.positive("density", Dimension::Density).map_or(SEA_LEVEL, |v| v.value);
    let drag = section.need("drag-area", "drag coefficient times frontal area, such as 0.7 m2");
    let drag =
        drag.and_then(|entry| entry.positive(Dimension::Area)).filter(|v| sized(&section, "drag-area", v));
    let drag_height =
        section.need("drag-height", "height at which the drag acts: about the middle of the front");
    // Zero where the axle figures were measured at the ground.
    let drag_height = drag_height.and_then(|entry| {
        let height = entry.quantity(Dimension::Length)?;
        if height.value >= 0.0 {
            return Some(height);
        }
        entry.error(format!("`{}` is below the ground", entry.path), None);
        None
    });
    let nothing = Value { value: 0.0, uncertainty: 0.0 };
    let down = |key: &str| match section.entry(key) {
        None => Some(nothing),
        Some(entry) => entry.quantity(Dimension::Area).filter(|v| sized(&section, key, v)),
    };
    let (front, rear) = (down("front-downforce-area"), down("rear-downforce-area"));
    let heights = section.array_of_sections("at").into_iter().filter_map(row).collect();
    let parts = parts(&section);
    let span = section.span.clone();
    section.finish(None);
    Some(AirReading {
        density,
        drag: drag?,
        drag_height: drag_height?,
        front: front?,
        rear: rear?,
        heights,
        parts,
        span,
    })
}

/// `[aero.part.NAME]`, and `without`: those that are off.
fn parts(aero: &Section<'_>) -> Vec<AirPart> {
    let nothing = Value { value: 0.0, uncertainty: 0.0 };
    let mut parts = Vec::new();
    for (name, section) in aero.named_sections("part") {
        let area = |key: &str| match section.entry(key) {
            None => Some(nothing),
            Some(entry) => entry.quantity(Dimension::Area).filter(|v| sized(&section, key, v)),
        };
        let areas = (area("drag-area"), area("front-downforce-area"), area("rear-downforce-area"));
        if ["drag-area", "front-downforce-area", "rear-downforce-area"].iter().all(|key| !section.has(key)) {
            section.sink.error(
                &section.span,
                format!("`[{}]` adds nothing to the air", section.path),
                "give what it adds: `drag-area`, `front-downforce-area`, `rear-downforce-area`".to_string(),
            );
        }
        section.finish(None);
        if let (Some(drag), Some(front), Some(rear)) = areas {
            parts.push(AirPart { name, drag, front, rear, fitted: true });
        }
    }
    let Some(without) = aero.entry("without") else { return parts };
    let Some(names) = without.items() else {
        without.error(
            format!("`{}` must be a list of parts", without.path),
            "write it like [\"wing\"]; the parts are `[aero.part.NAME]`".to_string(),
        );
        return parts;
    };
    for item in names {
        let Some(name) = item.text("the name of a part") else { continue };
        let known: Vec<String> = parts.iter().map(|part| part.name.clone()).collect();
        match parts.iter_mut().find(|part| part.name == name.trim()) {
            Some(part) => part.fitted = false,
            None => item.error(
                format!("there is no `[aero.part.{}]`", crate::entry::shorten(name)),
                crate::suggest::hint(name, known.iter().map(String::as_str)),
            ),
        }
    }
    parts
}

fn sized(section: &Section<'_>, key: &str, value: &Value) -> bool {
    let good = value.value.abs() <= LARGEST;
    if !good {
        section.sink.error(
            &section.span_of(key),
            format!("`{}.{key}` is larger than any car", section.path),
            "it is a coefficient times an area: check the unit".to_string(),
        );
    }
    good
}

fn row(section: Section<'_>) -> Option<AirRow> {
    let length =
        |key: &str| section.need(key, "rise of the body over ride height")?.quantity(Dimension::Length);
    let area = |key: &str| {
        let value = section.need(key, "the area at these ride heights")?.quantity(Dimension::Area)?;
        sized(&section, key, &value).then_some(value.value)
    };
    let (front_rise, rear_rise) = (length("front-rise"), length("rear-rise"));
    let (front, rear, drag) = (area("front-downforce-area"), area("rear-downforce-area"), area("drag-area"));
    section.finish(None);
    Some(AirRow {
        front_rise: front_rise?.value,
        rear_rise: rear_rise?.value,
        front: front?,
        rear: rear?,
        drag: drag?,
    })
}

/// Reads `[stop]`; what it leaves out is as in [`StatedStop::default`].
pub(crate) fn stop(root: &Section<'_>) -> StatedStop {
    let usual = StatedStop::default();
    let Some(section) = root.section("stop") else { return usual };
    let from = section.positive("from", Dimension::Speed).map_or(usual.from, |v| v.value);
    let to = section.quantity("to", Dimension::Speed).map_or(usual.to.min(from / 2.0), |v| v.value);
    let deceleration = section.positive("deceleration", Dimension::Acceleration);
    let deceleration = deceleration.map_or(usual.deceleration, |v| v.value);
    let rise = section.positive("rise", Dimension::Time).map_or(usual.rise, |v| v.value);
    let pause = section.quantity("pause", Dimension::Time).map_or(usual.pause, |v| v.value);
    let air = section.quantity("air", Dimension::Temperature).map_or(usual.air, |v| v.value);
    let repeats = match section.entry("repeats") {
        None => usual.repeats,
        Some(entry) => match entry.integer() {
            Some(count) if (1..=MOST_STOPS).contains(&count) => u32::try_from(count).unwrap_or(usual.repeats),
            _ => {
                entry.error(format!("`stop.repeats` must be a whole number from 1 to {MOST_STOPS}"), None);
                usual.repeats
            }
        },
    };
    let span = section.span.clone();
    let wrong = |key: &str, message: &str, hint: &str| {
        section.sink.error(&section.span_of(key), message.to_string(), hint.to_string());
    };
    let mut stop = StatedStop { from, to, deceleration, rise, repeats, pause, air, stated: true, span };
    if !(0.0..from).contains(&to) {
        wrong(
            "to",
            "the stop must end slower than it begins, and not backward",
            "`from` is the higher speed",
        );
        stop.to = 0.0;
    }
    if from > vehicle::aero::FASTEST {
        wrong(
            "from",
            "that is faster than any car here",
            "bare speeds are km/h, or mph where lengths are inches",
        );
        stop.from = usual.from;
        stop.to = usual.to;
    }
    if deceleration > MOST_DECELERATION {
        wrong("deceleration", "no car slows so hard", "bare decelerations are in g: 0.9");
        stop.deceleration = usual.deceleration;
    }
    if !(AIR.0..=AIR.1).contains(&air) {
        wrong("air", "that is no weather", "bare temperatures are deg C, or deg F where lengths are inches");
        stop.air = usual.air;
    }
    if !(0.0..=LONGEST_PAUSE).contains(&pause) || rise > LONGEST_RISE {
        wrong("pause", "`pause` must be from 0 to 3600 s, and `rise` at most 5 s", "times are in seconds");
        (stop.pause, stop.rise) = (usual.pause, usual.rise);
    }
    section.finish(None);
    stop
}

/// Hardest stop that is taken for one \[m/s^2\].
const MOST_DECELERATION: f64 = 50.0;

/// Coldest and warmest air \[K\].
const AIR: (f64, f64) = (220.0, 340.0);

/// Longest pause and longest way of the pedal \[s\].
const LONGEST_PAUSE: f64 = 3600.0;
const LONGEST_RISE: f64 = 5.0;
