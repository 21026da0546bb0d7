//! Brake parts: `[front.disc]` or `[front.drum]` of a wheel, `[pedal]` with its valve.

use units::Dimension;
use vehicle::brake::effective_radius;

use crate::entry::Entry;
use crate::model::{
    BrakeReading, DiscReading, Masters, PadReading, PedalReading, TorqueMaker, Value, ValveReading,
};
use crate::reader::Section;

/// Friction that a pad has.
const FRICTION: (f64, f64) = (0.05, 1.2);

/// What friction in the pedal box and the cylinders leaves, where the file states nothing (common practice).
const EFFICIENCY: f64 = 0.95;

/// Most calipers at one wheel.
const MOST_CALIPERS: i64 = 4;

/// The brake of one wheel, where the axle has one.
pub(crate) fn of_wheel(axle: &Section<'_>) -> Option<BrakeReading> {
    let (disc, drum) = (axle.section("disc"), axle.section("drum"));
    if let (Some(disc), Some(_)) = (&disc, &drum) {
        disc.sink.error(
            &disc.span,
            format!("{} stands beside a drum of the same wheel", disc.title()),
            "keep the one that is on the car".to_string(),
        );
        // Both are looked over, and neither counts.
    }
    let both = disc.is_some() && drum.is_some();
    let disc = disc.and_then(read_disc);
    let drum = drum.and_then(read_drum);
    if both { None } else { disc.or(drum) }
}

fn threshold(section: &Section<'_>) -> Value {
    let nothing = Value { value: 0.0, uncertainty: 0.0 };
    let Some(entry) = section.entry("threshold") else { return nothing };
    let Some(pressure) = entry.quantity(Dimension::Pressure) else { return nothing };
    if pressure.value >= 0.0 {
        return pressure;
    }
    entry.error(
        format!("`{}` is negative: no brake moves without pressure", entry.path),
        "write 0, or leave it out".to_string(),
    );
    nothing
}

fn read_disc(section: Section<'_>) -> Option<BrakeReading> {
    let floating = section
        .need("caliper", "\"fixed\" with pistons on both sides, or \"floating\"")
        .and_then(|entry| entry.word(&["fixed", "floating"]))
        .map(|word| word == "floating");
    let bores =
        section.need("pistons", "the bores of all pistons of one caliper, as [38, 38]").and_then(|entry| {
            let bores = entry.list(Dimension::Length)?;
            let sound = !bores.is_empty() && bores.iter().all(|bore| bore.value > 0.0);
            if !sound {
                entry.error(
                    format!("`{}` must be a list of bores", entry.path),
                    "for example [38, 38]: all pistons of one caliper".to_string(),
                );
            }
            if sound && floating == Some(false) && bores.len() % 2 == 1 {
                entry.error(
                    format!(
                        "`{}` has {} pistons: a fixed caliper has as many on each side",
                        entry.path,
                        bores.len()
                    ),
                    "give the bores of all of them, or write `caliper = \"floating\"`".to_string(),
                );
                return None;
            }
            sound.then_some(bores)
        });
    let calipers = match section.entry("calipers") {
        None => 1,
        Some(entry) => match entry.integer() {
            Some(count) if (1..=MOST_CALIPERS).contains(&count) => u32::try_from(count).unwrap_or(1),
            _ => {
                entry.error(
                    format!("`{}` must be a whole number from 1 to {MOST_CALIPERS}", entry.path),
                    None,
                );
                1
            }
        },
    };
    let length = |key| section.positive(key, Dimension::Length);
    let diameter = length("diameter");
    let outer = length("pad-outer");
    let radius = radius(&section, outer, length("pad-inner"), length("effective-radius"));
    let past = |r: Option<Value>, d: f64| r.is_some_and(|r| r.value > d / 2.0);
    if let Some(diameter) = diameter
        && (past(outer, diameter.value) || past(radius, diameter.value))
    {
        section.sink.error(
            &section.span,
            format!("the pads of {} reach past the disc", section.title()),
            "`diameter` is that of the disc, radii are from its middle".to_string(),
        );
    }
    let pads = pads(&section);
    let mass = section.positive("mass", Dimension::Mass);
    let area = section.positive("area", Dimension::Area);
    let vented = section.entry("vented").is_some_and(|entry| entry.truth() == Some(true));
    let threshold = threshold(&section);
    let span = section.span.clone();
    section.finish(None);
    let disc = match (mass, diameter) {
        (Some(mass), Some(diameter)) => Some(DiscReading { mass, diameter, area, vented }),
        _ => None,
    };
    let maker = TorqueMaker::Disc {
        bores: bores?,
        floating: floating?,
        calipers,
        radius: radius?,
        pads: pads?,
        disc,
    };
    Some(BrakeReading { maker, threshold, span })
}

/// Effective radius of the pads, stated or from their edges.
fn radius(
    section: &Section<'_>,
    outer: Option<Value>,
    inner: Option<Value>,
    stated: Option<Value>,
) -> Option<Value> {
    match (stated, outer, inner) {
        (Some(stated), ..) => Some(stated),
        (None, Some(outer), Some(inner)) if inner.value < outer.value => Some(Value {
            value: effective_radius(outer.value, inner.value),
            uncertainty: outer.uncertainty.hypot(inner.uncertainty) / 2.0,
        }),
        (None, Some(_), Some(_)) => {
            section.sink.error(
                &section.span_of("pad-inner"),
                "the inner edge of the pads lies outside the outer one".to_string(),
                "both are radii from the middle of the disc".to_string(),
            );
            None
        }
        _ if section.has("effective-radius") => None,
        _ => {
            section.missing(
                "`effective-radius`",
                "or `pad-outer` and `pad-inner`, radii from the disc's middle",
            );
            None
        }
    }
}

/// Friction of the pads, the same everywhere or over temperature.
fn pads(section: &Section<'_>) -> Option<PadReading> {
    let sound = |entry: &Entry<'_>, friction: f64| {
        let good = (FRICTION.0..=FRICTION.1).contains(&friction);
        if !good {
            entry.error(
                format!("`{}` is {friction}, which no pad has", entry.path),
                "pads have 0.25 to 0.6; the factor 2 for both faces is not in it".to_string(),
            );
        }
        good
    };
    if let Some(entry) = section.entry("friction-over-temperature") {
        let mut rows = Vec::new();
        for row in entry.items().unwrap_or_default() {
            let items = row.items().unwrap_or_default();
            let [temperature, friction] = items.as_slice() else {
                row.error(
                    format!("`{}` must be pairs of temperature and friction", entry.path),
                    "for example [[20, 0.36], [300, 0.45], [600, 0.38]]".to_string(),
                );
                return None;
            };
            let (t, f) =
                (temperature.quantity(Dimension::Temperature)?, friction.positive(Dimension::Ratio)?);
            if !sound(friction, f.value) {
                return None;
            }
            rows.push((t.value, f.value));
        }
        if rows.is_empty() || rows.iter().zip(rows.iter().skip(1)).any(|(a, b)| a.0 >= b.0) {
            entry.error(
                format!("`{}` needs rows of rising temperature", entry.path),
                "sort them, and give no temperature twice".to_string(),
            );
            return None;
        }
        return Some(PadReading { rows, uncertainty: 0.0 });
    }
    let entry = section.need("friction", "friction of the pads, such as \"0.42 ± 0.03\"")?;
    let friction = entry.positive(Dimension::Ratio)?;
    sound(&entry, friction.value)
        .then(|| PadReading { rows: vec![(1.0, friction.value)], uncertainty: friction.uncertainty })
}

fn read_drum(section: Section<'_>) -> Option<BrakeReading> {
    let torque = section
        .need("torque", "torque of one brake at the pressure `at`")
        .and_then(|e| e.positive(Dimension::Torque));
    let pressure = section
        .need("at", "the pressure at which that torque was found")
        .and_then(|e| e.positive(Dimension::Pressure));
    let threshold = threshold(&section);
    let span = section.span.clone();
    let (sink, at_threshold) = (section.sink, section.span_of("threshold"));
    section.finish(None);
    let (torque, pressure) = (torque?, pressure?);
    let beyond = pressure.value - threshold.value;
    if beyond <= 0.0 {
        sink.error(
            &at_threshold,
            "the torque was found at a pressure that moves nothing".to_string(),
            "`threshold` must be less than `at`: check the units of both".to_string(),
        );
    }
    let maker = TorqueMaker::Measured(Value {
        value: torque.value / beyond,
        uncertainty: torque.uncertainty / beyond,
    });
    (beyond > 0.0).then_some(BrakeReading { maker, threshold, span })
}

/// `[pedal]`.
pub(crate) fn pedal(root: &Section<'_>) -> Option<PedalReading> {
    let section = root.section("pedal")?;
    let ratio = section
        .need("ratio", "pad to pivot over rod to pivot, such as 5.2")
        .and_then(|e| e.positive(Dimension::Ratio));
    if !section.has("efficiency") {
        section.sink.note(
            &section.span,
            format!("`pedal.efficiency` is not given: {EFFICIENCY} is taken, which is common practice"),
            "write what you know of the friction in pedal, bar and seals".to_string(),
        );
    }
    let efficiency = section
        .entry("efficiency")
        .and_then(|e| e.share("1: nothing is lost to friction"))
        .filter(|e| e.value > 0.0)
        .unwrap_or(Value { value: EFFICIENCY, uncertainty: 0.0 });
    let length = |key| section.positive(key, Dimension::Length);
    let (front, rear, tandem) = (length("front-master"), length("rear-master"), length("tandem"));
    let share = section.entry("bias").and_then(|e| e.share("share of the rod's force on the front cylinder"));
    let masters = match (front, rear, share, tandem) {
        (None, None, None, Some(bore)) => Some(Masters::Tandem(bore)),
        (Some(front), Some(rear), Some(share), None) => Some(Masters::Bar { front, rear, share }),
        (.., Some(_)) => {
            section.sink.error(
                &section.span_of("tandem"),
                "a tandem cylinder has no bias bar and no second bore".to_string(),
                "keep `tandem`, or `front-master`, `rear-master` and `bias`".to_string(),
            );
            None
        }
        _ => {
            for (key, what) in [
                ("front-master", "bore of the front master cylinder"),
                ("rear-master", "bore of the rear one; or `tandem` alone"),
                ("bias", "share of the rod's force on the front cylinder, such as \"55 %\""),
            ] {
                if !section.has(key) {
                    section.missing(&format!("`{key}`"), what);
                }
            }
            None
        }
    };
    let valve = section.section("valve").and_then(valve);
    let span = section.span.clone();
    section.finish(None);
    Some(PedalReading { ratio: ratio?, efficiency, masters: masters?, valve, span })
}

fn valve(section: Section<'_>) -> Option<ValveReading> {
    let knee = section
        .need("knee", "the pressure where it begins to act")
        .and_then(|e| e.quantity(Dimension::Pressure));
    let slope = section
        .need("slope", "rear rise over front rise beyond it, such as 0.35")
        .and_then(|e| e.share("0 holds the rear pressure, 1 does nothing"));
    let span = section.span.clone();
    section.finish(None);
    Some(ValveReading { knee: knee?, slope: slope?, span })
}
