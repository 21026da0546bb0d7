//! `[weigh.raised]`: the scales with one end of the car raised.

use units::Dimension;

use crate::model::{End, Held, LevelScales, LiftReading, RaisedScales, Value};
use crate::reader::Section;

/// Standard uncertainties by which the low end may be lighter than on the level before it is called a mistake.
const DOUBT: f64 = 3.0;

/// Reads the table.
pub(super) fn read(section: Section<'_>, level: Option<&LevelScales>) -> Option<RaisedScales> {
    let accuracy = super::spread(&section);
    let end = section
        .need("end", "which end was raised, \"front\" or \"rear\"")
        .and_then(|entry| entry.word(&["front", "rear"]))
        .map(|word| if word == "front" { End::Front } else { End::Rear });
    let lift = lift(&section);
    // Two scales of an axle are read: their errors add as squares.
    let both = Some(accuracy.unwrap_or(super::SCALE) * std::f64::consts::SQRT_2);
    let under = |key| section.entry(key).and_then(|entry| super::reading(&entry, both));
    let (low, high) = (under("low"), under("high"));
    if !section.has("low") && !section.has("high") {
        section.missing("`low` or `high`", "what both wheels of that axle weigh with one end raised");
    }
    let held = match section.word("wheels", &["free", "one-axle", "all"]) {
        Some("one-axle") => Held::OneAxle,
        Some("all") => Held::All,
        _ => Held::Free,
    };
    if held == Held::All {
        section.sink.error(
            &section.span_of("wheels"),
            "with all wheels held the tyres push the scales sideways by an unknown force".to_string(),
            "let the wheels of at least one axle roll, and weigh again".to_string(),
        );
    }
    let locked = match section.word("suspension", &["locked", "free"]) {
        Some(word) => word == "locked",
        None => {
            if !section.has("suspension") && !section.misspelt("suspension") {
                section.sink.note(
                    &section.span,
                    "`suspension` is not said: it is taken to have been locked".to_string(),
                    "write \"locked\" with solid struts in place of the dampers, else \"free\"".to_string(),
                );
            }
            true
        }
    };
    let raised = end.zip(lift).filter(|_| low.is_some() || high.is_some()).map(|(end, lift)| RaisedScales {
        end,
        lift,
        low,
        high,
        held,
        locked,
        span: section.span.clone(),
    });
    let right = raised.as_ref().zip(level).is_none_or(|(raised, level)| right_way(&section, raised, level));
    section.finish(None);
    raised.filter(|raised| right && raised.held != Held::All)
}

/// The lift, by one of three ways.
fn lift(section: &Section<'_>) -> Option<LiftReading> {
    let length = |key| section.positive(key, Dimension::Length);
    let (pads, hubs) = (length("pads"), length("hubs"));
    let angle = section.positive("angle", Dimension::Angle);
    let given = ["pads", "hubs", "angle"].iter().filter(|key| section.has(key)).count();
    if given == 0 {
        section.missing(
            "`pads`, `hubs` or `angle`",
            "the height of the pads, the rise of the hubs, or the tilt of the body",
        );
    } else if given > 1 {
        section.sink.error(
            &section.span,
            "the lift is given in more than one way".to_string(),
            "keep the one that was measured best: `pads`, `hubs` or `angle`".to_string(),
        );
        return None;
    }
    pads.map(LiftReading::Pads).or(hubs.map(LiftReading::Hubs)).or(angle.map(LiftReading::Angle))
}

/// Whether the low end gained and the high end lost, as they do on every car that stands on its wheels.
fn right_way(section: &Section<'_>, raised: &RaisedScales, level: &LevelScales) -> bool {
    let [a, b, c, d] = level.scales;
    let axle = |one: Value, other: Value| Value {
        value: one.value + other.value,
        uncertainty: one.uncertainty.hypot(other.uncertainty),
    };
    let (front, rear) = (axle(a, b), axle(c, d));
    let (low, high) = if raised.end == End::Rear { (front, rear) } else { (rear, front) };
    let mut right = true;
    let cases =
        [("low", raised.low, low, 1.0, "gets heavier"), ("high", raised.high, high, -1.0, "gets lighter")];
    for (key, read, level, sign, does) in cases {
        let Some(read) = read else { continue };
        let gained = sign * (read.value - level.value);
        if gained < -DOUBT * read.uncertainty.hypot(level.uncertainty) {
            right = false;
            let shown = |v| units::show::with_unit(v, Dimension::Mass, &section.units, 1);
            section.sink.error(
                &section.span_of(key),
                format!(
                    "`{key}` is {}, and the same axle weighs {} on the level: the {key} end {does}",
                    shown(read.value),
                    shown(level.value)
                ),
                "say which `end` was raised, write the reading as the other one, and give both wheels together"
                    .to_string(),
            );
        }
    }
    right
}
