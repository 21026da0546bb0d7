//! What springs, dampers, their stops and the bar do: `[rear.spring]` beyond its points, `[rear.damper]`, `[rear.bar]`.

use suspension::scheme::ElementRole;
use units::Dimension;

use super::Parts;
use crate::model::{BarArms, BarReading, BumpStop, DamperReading, SpringReading, Value};
use crate::reader::Section;
use crate::suggest;

/// Rates and coefficients of an axle.
#[derive(Default)]
pub(crate) struct Springing {
    pub(crate) springs: Vec<SpringReading>,
    pub(crate) dampers: Vec<DamperReading>,
    pub(crate) stops: Vec<BumpStop>,
}

/// Reads what an element's table says beyond its points; `element` is the index that it will have.
pub(super) fn read(
    section: &Section<'_>,
    role: ElementRole,
    element: usize,
    rate: Option<Value>,
    into: &mut Springing,
) {
    if role == ElementRole::BarLink {
        return;
    }
    if section.has("rises-to") && !section.has("rate") {
        section.sink.error(
            &section.span_of("rises-to"),
            format!("`rises-to` of {} has no `rate` to rise from", section.title()),
            "write `rate`, what it has at ride height, or take `rises-to` out".to_string(),
        );
    }
    let rise = section.section("rises-to").and_then(|to| rise(to, rate)).unwrap_or(0.0);
    into.springs.extend(rate.map(|rate| SpringReading { element, rate, rise }));
    if role == ElementRole::Damper {
        let side = |key: &str| section.positive(key, Dimension::Damping);
        match (side("bump"), side("rebound")) {
            (Some(bump), Some(rebound)) => into.dampers.push(DamperReading { element, bump, rebound }),
            (None, None) => {}
            (Some(_), None) if !section.has("rebound") => {
                section.missing("`rebound`", "its coefficient in rebound, such as 4800 N s/m");
            }
            (None, Some(_)) if !section.has("bump") => {
                section.missing("`bump`", "its coefficient in bump, such as 2400 N s/m");
            }
            _ => {}
        }
    }
    for (key, sign) in [("bump-stop", 1.0), ("rebound-stop", -1.0)] {
        into.stops.extend(section.section(key).and_then(|own| stop(own, element, sign)));
    }
}

/// Change of the rate per way \[N/m^2\].
fn rise(section: Section<'_>, from: Option<Value>) -> Option<f64> {
    let rate = section.need("rate", "the rate that it rises to").and_then(|e| e.positive(Dimension::Rate));
    let after = section
        .need("after", "the way after which it has that rate")
        .and_then(|e| e.positive(Dimension::Length));
    section.finish(None);
    Some((rate?.value - from?.value) / after?.value)
}

fn stop(section: Section<'_>, element: usize, sign: f64) -> Option<BumpStop> {
    let gap = section
        .need("gap", "the way from ride height until it is met, along the element")
        .and_then(|e| e.positive(Dimension::Length));
    let rate = section.need("rate", "its rate once it is met").and_then(|e| e.positive(Dimension::Rate));
    let rise = section.section("rises-to").and_then(|to| rise(to, rate)).unwrap_or(0.0);
    if rise < 0.0 {
        section.sink.warning(
            &section.span_of("rises-to"),
            format!("{} grows softer as it is pressed: its `rate` is taken all the way", section.title()),
            "a rubber stiffens: `rate` is where it is met, `rises-to` the rate further on".to_string(),
        );
    }
    section.finish(None);
    Some(BumpStop { element, gap: sign * gap?.value, rate: rate?.value, rise: rise.max(0.0) })
}

/// Reads `[rear.bar]`.
pub(super) fn bar(axle: &Section<'_>, parts: &Parts<'_>) -> Option<BarReading> {
    let section = axle.section("bar")?;
    if !parts.scheme.elements.iter().any(|e| e.role == ElementRole::BarLink) {
        section.sink.error(
            &section.span,
            format!("{} has no link to the suspension", section.title()),
            format!("add `[{}.bar-link]` with `body`, the end of the bar's arm, and `mount`", axle.path),
        );
    }
    let length = |key: &str| section.positive(key, Dimension::Length);
    let rate = section.positive("rate", Dimension::Rate);
    let (diameter, bore, twisted, arm) =
        (length("diameter"), length("bore"), length("length"), length("arm"));
    let right = Value { value: std::f64::consts::FRAC_PI_2, uncertainty: 0.0 };
    let link_angle = section.quantity("link-angle", Dimension::Angle).unwrap_or(right);
    let (width, thickness) = (length("blade-width"), length("blade-thickness"));
    let arms = section.word("arms", &["rigid", "bent", "blades"]);
    not_used(&section, arms == Some("blades"));
    let arms = match arms {
        Some("bent") => Some(BarArms::Bent),
        Some("blades") => match (width, thickness) {
            (Some(w), Some(t)) => Some(BarArms::Blades { width: w.value, thickness: t.value }),
            _ => {
                section.missing("`blade-width` and `blade-thickness`", "the section of the blades");
                None
            }
        },
        _ => Some(BarArms::Rigid),
    };
    let unhooked = section.entry("unhooked").and_then(|entry| entry.truth()).unwrap_or(false);
    let span = section.span.clone();
    let made = match (rate, diameter, twisted, arm) {
        _ if unhooked => None,
        (Some(rate), None, ..) => Some(BarReading::Rate { rate, span }),
        (None, Some(diameter), Some(length), Some(arm)) => {
            let bore = bore.unwrap_or(Value { value: 0.0, uncertainty: 0.0 });
            if bore.value >= diameter.value {
                section.sink.error(
                    &section.span_of("bore"),
                    "the bore is as wide as the bar, or wider".to_string(),
                    "`diameter` is the outer one".to_string(),
                );
            }
            let sound = bore.value < diameter.value;
            arms.filter(|_| sound).map(|arms| BarReading::Made {
                diameter,
                bore,
                length,
                arm,
                link_angle,
                arms,
                span: span.clone(),
            })
        }
        (Some(_), Some(_), ..) => {
            section.sink.error(
                &section.span_of("rate"),
                "a bar's rate and its sizes are two answers to one question".to_string(),
                "keep `rate`, or the sizes".to_string(),
            );
            None
        }
        _ => {
            // A figure that is there and could not be read has its own error.
            let whole = |keys: &[&str]| keys.iter().all(|key| section.has(key));
            if !whole(&["rate"]) && !whole(&["diameter", "length", "arm"]) {
                section.missing("`rate`", "or `diameter`, `length` and `arm`");
            }
            None
        }
    };
    section.finish(None);
    made
}

/// Sizes that a bar's table gives and nothing asks for. A `diameter` beside `rate` is an error of its own.
fn not_used(section: &Section<'_>, blades: bool) {
    const SIZES: [&str; 7] =
        ["bore", "length", "arm", "link-angle", "arms", "blade-width", "blade-thickness"];
    let (keys, why, hint): (&[&'static str], _, _) = if section.has("rate") {
        if section.has("diameter") {
            return;
        }
        (&SIZES, "`rate` stands in place of all sizes", "take them out, or give all sizes in place of `rate`")
    } else if blades {
        return;
    } else {
        (&SIZES[5..], "the arms are not blades", "write `arms = \"blades\"`, or take them out")
    };
    let there: Vec<&str> = keys.iter().copied().filter(|key| section.has(key)).collect();
    let Some(first) = there.first() else { return };
    let (verb, list) = (if there.len() == 1 { "is" } else { "are" }, suggest::list(there.iter().copied()));
    section.sink.warning(
        &section.span_of(first),
        format!("{list} of {} {verb} not used: {why}", section.title()),
        hint.to_string(),
    );
}
