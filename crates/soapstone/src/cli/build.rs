//! Build in the terminal: what holds least, loads, margins, the frame, sizes, the cut list.

use paper::build::{build_section, end_words, part_section};
use paper::flow::Flow;
use study::Scale;
use study::build::{Build, Part};
use units::UnitSystem;

use super::args::BuildArgs;
use super::{Failure, flow, load, output, select, stage};
use crate::json;

pub(crate) fn run(args: &BuildArgs) -> Result<(), Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let (place, holes) = stage::holes(&car, &args.place)?;
    let car = select::set_up(&car, &args.place)?;
    let build = study::build::build(car, select::axle(car, args.place.axle)?, &holes);
    if args.json {
        return output::json(&json::build(car, &place, &build));
    }
    if args.csv {
        return output::csv(&records(&build));
    }
    if args.cuts {
        return output::csv(&cut_list(&build, &car.units));
    }
    let Some(name) = &args.part else {
        return output::text(&flow::text(&build_section(&build, car)));
    };
    let mut found = Flow::new();
    for part in build.parts.iter().filter(|part| is_called(part, name)) {
        found.append(part_section(part, &build, car));
    }
    if found.blocks.is_empty() {
        let names = build.parts.iter().map(Part::full_name);
        let mut names: Vec<String> = names.collect();
        names.dedup();
        let like = names.iter().take(3).cloned().collect::<Vec<_>>().join(", ");
        return Err(Failure::Input {
            message: format!("there is no part `{name}`"),
            hint: Some(format!("parts are called like {like}")),
        });
    }
    output::text(&flow::text(&found))
}

/// Whether a part goes by a name: its own, with its axle before it or not, with its kind before that or not.
fn is_called(part: &Part, name: &str) -> bool {
    let name = name.trim().replace("rear.", "rear ").replace("front.", "front ");
    let full = part.full_name();
    name == part.name || name == full || name == format!("{} {full}", part.kind.words())
}

/// One record a piece.
fn cut_list(build: &Build, units: &UnitSystem) -> Vec<Vec<String>> {
    let (length, mass) = (Scale::Length, Scale::Mass);
    let head = [
        "piece".into(),
        "count".into(),
        "section".into(),
        "steel".into(),
        format!("between nodes [{}]", length.unit(units)),
        format!("saw to [{}]", length.unit(units)),
        "ends".into(),
        format!("each [{}]", mass.unit(units)),
    ];
    let mut records = vec![head.to_vec()];
    for piece in &build.cuts.pieces {
        let by = |value: f64, scale: Scale| format!("{:.3}", value * scale.factor(units));
        records.push(vec![
            piece.name.clone(),
            piece.count.to_string(),
            piece.section.clone(),
            piece.grade.clone(),
            by(piece.between, length),
            by(piece.length, length),
            end_words(piece, units),
            by(piece.mass, mass),
        ]);
    }
    records
}

/// One record a check, SI, the weakest part first.
fn records(build: &Build) -> Vec<Vec<String>> {
    let head = [
        "kind",
        "part",
        "made of",
        "what gives way",
        "case",
        "demand",
        "capacity",
        "holds",
        "past the model",
    ];
    let mut records = vec![head.map(str::to_string).to_vec()];
    for part in &build.parts {
        for judged in &part.checks {
            let check = &judged.check;
            let number = |v: f64| units::show::with_uncertainty(v, None, 5).0;
            let holds = check.holds();
            records.push(vec![
                part.kind.words().to_string(),
                part.full_name(),
                part.made_of.clone(),
                check.failure.title().to_string(),
                build.case_title(judged.case).to_string(),
                number(check.demand),
                number(check.capacity),
                if holds.is_finite() { number(holds) } else { String::new() },
                check.outside.unwrap_or_default().to_string(),
            ]);
        }
    }
    records
}
