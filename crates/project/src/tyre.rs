//! `[tyre]` of both axles, `[front.tyre]` and `[rear.tyre]` of one: a handful of figures, or a published parameter set.

use units::Dimension;
use vehicle::tyre::{Parameters, SlipConvention, Tyre};

use crate::model::{AsEntered, SimpleReading, TyreModel, TyreReading, Value};
use crate::reader::Section;
use crate::suggest;

/// Load at which cornering stiffness is greatest, over the nominal load, where the file states none: about two, as in
/// published parameter sets of road tyres (own choice).
const STIFFEST: f64 = 2.2;

/// Slip stiffness over the nominal load where the file states none: published sets lie between 15 and 30 (own choice).
const SLIP_STIFFNESS: f64 = 20.0;

/// Side rate of a carcass \[N/m\] where the file states none (common practice: 100 to 150 N/mm).
const LATERAL_RATE: f64 = 120e3;

/// Share of friction lost when the load doubles, where the file states none (common practice: 0.05 to 0.15).
const LOAD_SENSITIVITY: f64 = 0.10;

/// Vertical rates that a tyre of a car has \[N/m\].
const VERTICAL_RATES: (f64, f64) = (50e3, 1.5e6);

/// Peak friction that a tyre has.
const FRICTION: (f64, f64) = (0.1, 2.5);

/// Reads one table of tyres.
pub(crate) fn read(section: Section<'_>) -> Option<TyreReading> {
    let magic = section.word("model", &["simple", "magic"]) == Some("magic");
    let vertical_rate = section.entry("vertical-rate").and_then(|entry| {
        let rate = entry.positive(Dimension::Rate)?;
        if !(VERTICAL_RATES.0..=VERTICAL_RATES.1).contains(&rate.value) {
            let shown = units::show::with_unit(rate.value, Dimension::Rate, &section.units, 1);
            entry.sink.warning(
                &entry.span,
                format!("`{}` is {shown}, which is no tyre of a car", entry.path),
                "most have 150 to 400 N/mm; check the unit".to_string(),
            );
        }
        Some(rate)
    });
    let pressure = section.entry("pressure").and_then(|entry| {
        let value = entry.positive(Dimension::Pressure)?.value;
        let bare = || units::show::with_unit(value, Dimension::Pressure, &section.units, 2);
        // A text has its unit, unless it is a number in quotes.
        let written = entry.text_if_any().map(str::trim).filter(|text| text.contains(char::is_alphabetic));
        Some(AsEntered { value, words: written.map_or_else(bare, str::to_string) })
    });
    let span = section.span.clone();
    let model = if magic { published(&section) } else { simple(&section, vertical_rate) };
    section.finish(None);
    Some(TyreReading { model: model?, vertical_rate, pressure, span })
}

fn simple(section: &Section<'_>, vertical_rate: Option<Value>) -> Option<TyreModel> {
    let exactly = |value| Value { value, uncertainty: 0.0 };
    let mut assumed = Vec::new();
    let nominal_load = section.need("nominal-load", "the load at which the other figures hold");
    let nominal_load = nominal_load.and_then(|entry| entry.positive(Dimension::Force));
    let friction = |key: &str| {
        let entry = section.entry(key)?;
        let value = entry.positive(Dimension::Ratio)?;
        if !(FRICTION.0..=FRICTION.1).contains(&value.value) {
            entry.error(
                format!("`{}` is {}, which no tyre has", entry.path, value.value),
                "a road tyre has about 1, a racing slick up to 1.7".to_string(),
            );
            return None;
        }
        Some(value)
    };
    let both = friction("friction");
    let (along, across) = (friction("friction-along").or(both), friction("friction-across").or(both));
    let stated = ["friction", "friction-along", "friction-across"].iter().any(|key| section.has(key));
    if !stated {
        section.missing("`friction`", "peak friction at the nominal load, such as 1.1");
    } else if along.is_none() || across.is_none() {
        let one = section.has("friction-along") != section.has("friction-across") && !section.has("friction");
        if one {
            section.missing("`friction`", "for the direction that is not given by itself");
        }
    }
    let stiffness = section
        .need("cornering-stiffness", "side force per slip angle of one tyre, such as 1100 N/deg")
        .and_then(|entry| entry.positive(Dimension::CorneringStiffness));
    let sensitivity = section.entry("load-sensitivity").and_then(|entry| {
        entry.share("0: friction is the same at any load; 0.1: a tenth is lost when the load doubles")
    });
    let loads = loads(section);
    let mut take = |key: &'static str, stated: Option<Value>, other: Option<f64>| {
        if stated.is_none() && !section.has(key) {
            assumed.push(key);
        }
        stated.or(other.map(exactly))
    };
    let load_sensitivity = take("load-sensitivity", sensitivity, Some(LOAD_SENSITIVITY));
    let nominal = nominal_load.map(|n| n.value);
    let positive = |key: &str, dimension| section.positive(key, dimension);
    let stiffest =
        take("stiffest-load", positive("stiffest-load", Dimension::Force), nominal.map(|n| n * STIFFEST));
    let slip = take(
        "slip-stiffness",
        positive("slip-stiffness", Dimension::Force),
        nominal.map(|n| n * SLIP_STIFFNESS),
    );
    let lateral = take("lateral-rate", positive("lateral-rate", Dimension::Rate), Some(LATERAL_RATE));
    if vertical_rate.is_none() && !section.has("vertical-rate") {
        section.missing("`vertical-rate`", "the rate of one tyre, such as 210 N/mm");
    }
    if !assumed.is_empty() {
        let list = assumed.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ");
        section.sink.note(
            &section.span,
            format!("{list} of {} are taken from common practice", section.title()),
            "write what you know; the results say where their ± comes from".to_string(),
        );
    }
    let (nominal_load, loads) = (nominal_load?, loads?);
    if !(loads.0..=loads.1).contains(&nominal_load.value) {
        section.sink.error(
            &section.span_of("nominal-load"),
            "the nominal load is not among the loads for which the figures hold".to_string(),
            "widen `loads`, or correct one of the two".to_string(),
        );
        return None;
    }
    let reading = SimpleReading {
        nominal_load,
        friction_along: along?,
        friction_across: across?,
        load_sensitivity: load_sensitivity?,
        cornering_stiffness: stiffness?,
        stiffest_load: stiffest?,
        slip_stiffness: slip?,
        lateral_rate: lateral?,
        loads,
        assumed,
    };
    vertical_rate.map(|_| TyreModel::Simple(reading))
}

/// Least and greatest load for which the figures hold.
fn loads(section: &Section<'_>) -> Option<(f64, f64)> {
    let entry = section.need("loads", "the loads for which the figures hold, as [least, greatest]")?;
    let values: Vec<f64> = entry.list(Dimension::Force)?.iter().map(|load| load.value).collect();
    match values.as_slice() {
        [least, most] if 0.0 <= *least && least < most => Some((*least, *most)),
        _ => {
            entry.error(
                format!("`{}` must be two loads, the lesser one first", entry.path),
                "for example [600, 7500]: a tyre without a load range says nothing of load transfer"
                    .to_string(),
            );
            None
        }
    }
}

/// The words for the senses in which a set may have been fitted.
const CONVENTIONS: [&str; 3] = ["iso", "slip-reversed", "book"];

fn published(section: &Section<'_>) -> Option<TyreModel> {
    let mut parameters = Parameters::default();
    match section.word("convention", &CONVENTIONS) {
        Some("slip-reversed") => parameters.convention = SlipConvention::ReversedSlip,
        Some("book") => parameters.convention = SlipConvention::BookAxes,
        _ => {}
    }
    let table = section.need_section("parameters", "the set by the published names: `FNOMIN`, `PCX1`, …")?;
    let mut sound = true;
    for name in table.keys() {
        let Some(entry) = table.entry(name) else { continue };
        let Some(value) = entry.quantity(Dimension::Ratio) else {
            sound = false;
            continue;
        };
        if parameters.set(name, value.value).is_err() {
            let lower = name.to_lowercase();
            let near = suggest::nearest(&lower, Parameters::NAMES.iter().copied());
            let near = near.map_or(String::new(), |near| format!("did you mean `{}`? ", near.to_uppercase()));
            entry.error(
                format!("`{name}` is not a parameter of the 2002-style set, or its value is not usable"),
                format!("{near}parameters of other versions are left out"),
            );
            sound = false;
        }
    }
    let span = table.span.clone();
    table.finish(None);
    if !sound {
        return None;
    }
    let tyre = Tyre::Magic(Box::new(parameters));
    if let Err(error) = tyre.check() {
        section.sink.error(&span, error.to_string(), error.hint().to_string());
        return None;
    }
    match tyre {
        Tyre::Magic(parameters) => Some(TyreModel::Magic(parameters)),
        Tyre::Simple(_) => None,
    }
}
