//! One quantity with its worked numbers.

use std::path::Path;

use project::model::End;
use study::{Quantity, Subject, Weight, Worked, explain};
use suspension::AxleEnd;
use suspension::scheme::ElementRole;

use super::args::ExplainArgs;
use super::output::{ACCENT, FAINT, HEADING, styled};
use super::{Failure, load, output, select, table};
use crate::json;
use crate::stage;

pub(crate) fn run(args: &ExplainArgs) -> Result<(), Failure> {
    let Some(name) = &args.quantity else { return list(args.json) };
    // `explain CAR.toml` without a quantity is a slip worth catching.
    if args.car.is_none() && Path::new(name).is_file() {
        return Err(Failure::with_hint(
            format!("`{name}` is a file, not a quantity"),
            format!("write `soapstone explain anti-lift {name}`"),
        ));
    }
    if let Some(weight) = study::EXPLAINED.into_iter().find(|w| w.key() == name.as_str()) {
        return explain_weight(args, weight);
    }
    let known = [AxleEnd::Front, AxleEnd::Rear].iter().any(|end| Quantity::from_key(name, *end).is_some());
    if !known && let Some(done) = explain_stage(args, name)? {
        return Ok(done);
    }
    let car = load::car(args.car.as_deref())?;
    let mut end = select::axle(&car, args.place.axle)?;
    // A name that only the other axle knows (anti-dive) means that axle, unless one was asked for.
    if args.place.axle.is_none() {
        let other = if end == End::Front { End::Rear } else { End::Front };
        if Quantity::from_key(name, end.into()).is_none()
            && Quantity::from_key(name, other.into()).is_some()
            && car.axle(other).is_some()
        {
            end = other;
        }
    }
    let subject = Subject::new(select::set_up(&car, &args.place)?, end)?;
    let quantity = quantity(&subject, name, args.element.as_deref())?;
    let holes = select::holes(&car, &subject, &args.place)?;
    let travel = match &args.travel {
        Some(t) => select::length(&car, t, "travel")?,
        None => 0.0,
    };
    let worked = explain(&subject, quantity, &holes, travel)?;
    if args.json {
        return output::json(&json::worked(&subject, quantity, travel, &worked));
    }
    output::text(&text(&subject, &holes, &worked))
}

/// A result of the weighing; the weighed demo where no car is given.
fn explain_weight(args: &ExplainArgs, weight: Weight) -> Result<(), Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let weighed = study::weigh(&car)?;
    let worked = study::explain_weight(&car, &weighed, weight).ok_or_else(|| {
        Failure::with_hint(
            format!("`{}` is not known of this car", weight.key()),
            "weigh it with one end raised and write `[weigh.raised]`",
        )
    })?;
    if args.json {
        return output::json(&json::worked_car(&car, weight.key(), weight.scale(), &worked));
    }
    output::text(&page(&format!("{}: {}", worked.about.title, car.name), &worked))
}

/// A result of Stop or Balance, every column of it, of the whole demo where no car is given; `None` where there is no
/// such result.
fn explain_stage(args: &ExplainArgs, name: &str) -> Result<Option<()>, Failure> {
    let car = load::whole_car(args.car.as_deref())?;
    let (place, holes) = super::stage::holes(&car, &args.place)?;
    let car = select::set_up(&car, &args.place)?;
    let Some((which, columns, finding)) = stage::find(car, &holes, name) else { return Ok(None) };
    let columns = columns.iter().enumerate().map(|(i, column)| (column, finding.worked(i, &car.units)));
    if args.json {
        return output::json(&json::worked_columns(car, &finding, columns)).map(Some);
    }
    let pages = columns.map(|(column, worked)| {
        let of = if column.is_empty() { String::new() } else { format!(", {column}") };
        page(&format!("{}{of}: {}, {place}, {}", finding.about.title, car.name, which.head().name), &worked)
    });
    output::text(&pages.collect::<Vec<_>>().join("\n")).map(Some)
}

/// The quantity of this name at the subject's axle; for motion ratio and wheel rate with the element meant.
pub(crate) fn quantity(
    subject: &Subject<'_>,
    name: &str,
    element: Option<&str>,
) -> Result<Quantity, Failure> {
    let end = subject.end();
    let Some(quantity) = Quantity::from_key(name, end) else {
        if let Some(failure) = other_axle(subject, name) {
            return Err(failure);
        }
        let keys: Vec<&str> = keys(end);
        let near = keys.iter().max_by(|a, b| likeness(name, a).total_cmp(&likeness(name, b)));
        return Err(Failure::with_hint(
            format!("there is no quantity `{name}` at the {} axle", subject.axle().end.name()),
            match near {
                Some(near) if likeness(name, near) > 0.4 => {
                    format!("did you mean `{near}`? all: {}", keys.join(", "))
                }
                _ => format!("there is {}", keys.join(", ")),
            },
        ));
    };
    let elements = &subject.axle().scheme.elements;
    let pick = |only_springs: bool| -> Result<usize, Failure> {
        let found = elements.iter().position(|e| match element {
            Some(wanted) => e.name == wanted,
            None => !only_springs || e.role == ElementRole::Spring,
        });
        found.ok_or_else(|| {
            let known: Vec<&str> = elements.iter().map(|e| e.name.as_str()).collect();
            let table = format!("`[{}.spring]`", subject.axle().end.name());
            Failure::with_hint(
                element.map_or_else(
                    || format!("the {} axle has no spring in the file", subject.axle().end.name()),
                    |e| format!("the {} axle has no `{e}`", subject.axle().end.name()),
                ),
                if known.is_empty() {
                    format!("write {table}")
                } else {
                    format!("there is {}", known.join(", "))
                },
            )
        })
    };
    Ok(match quantity {
        Quantity::MotionRatio(_) => Quantity::MotionRatio(pick(false)?),
        Quantity::WheelRate(_) => Quantity::WheelRate(pick(true)?),
        other => other,
    })
}

/// What to say of a quantity that only the other axle has; `None` where that one does not know it either.
fn other_axle(subject: &Subject<'_>, name: &str) -> Option<Failure> {
    let here = subject.axle().end;
    let there = if here == End::Front { End::Rear } else { End::Front };
    let quantity = Quantity::from_key(name, there.into())?;
    let same = quantity.key(here.into());
    let (here_name, there_name) = (here.name(), there.name());
    let same =
        format!("at the {here_name} axle the like of it is `{same}`: write `{same} --axle {here_name}`");
    Some(if subject.car().axle(there).is_some() {
        Failure::with_hint(
            format!("`{name}` belongs to the {there_name} axle, and the {here_name} axle is asked for"),
            format!("write `--axle {there_name}`; {same}"),
        )
    } else {
        Failure::with_hint(
            format!("`{name}` belongs to the {there_name} axle, and the file has no `[{there_name}]`"),
            same,
        )
    })
}

fn keys(end: AxleEnd) -> Vec<&'static str> {
    Quantity::ALL
        .into_iter()
        .chain([Quantity::MotionRatio(0), Quantity::WheelRate(0)])
        .map(|q| q.key(end))
        .collect()
}

/// Share of letter pairs that two names have in common [0..1].
fn likeness(a: &str, b: &str) -> f64 {
    let pairs = |s: &str| -> Vec<(char, char)> {
        let c: Vec<char> = s.to_lowercase().chars().collect();
        c.windows(2).filter_map(|w| Some((*w.first()?, *w.get(1)?))).collect()
    };
    let (a, b) = (pairs(a), pairs(b));
    let common = a.iter().filter(|p| b.contains(p)).count();
    2.0 * common as f64 / (a.len() + b.len()).max(1) as f64
}

fn list(as_json: bool) -> Result<(), Failure> {
    if as_json {
        return output::json(&json::quantities(&stage::all(&load::whole_car(None)?)));
    }
    let mut out =
        format!("{}\n\n", styled(HEADING, "What can be explained: soapstone explain QUANTITY [CAR]"));
    for end in [AxleEnd::Rear, AxleEnd::Front] {
        for key in keys(end) {
            let known_already =
                end == AxleEnd::Front && keys(AxleEnd::Rear).contains(&key) && key != "anti-lift";
            if let (false, Some(q)) = (known_already, Quantity::from_key(key, end)) {
                let about = q.about(end);
                let place = match (end, q) {
                    (AxleEnd::Rear, Quantity::AntiBraking | Quantity::AntiDriving) => " (rear)",
                    (AxleEnd::Front, _) => " (front)",
                    _ => "",
                };
                out.push_str(&format!(
                    "  {:<24}{}\n",
                    format!("{key}{place}"),
                    table::wrap(about.definition, 26)
                ));
            }
        }
    }
    for weight in study::EXPLAINED {
        if let Some(about) = study::about_weight(weight) {
            out.push_str(&format!("  {:<24}{}\n", weight.key(), table::wrap(about.definition, 26)));
        }
    }
    for finding in stage::all(&load::whole_car(None)?) {
        out.push_str(&format!("  {:<24}{}\n", finding.key, table::wrap(finding.about.definition, 26)));
    }
    output::text(&out)
}

fn text(subject: &Subject<'_>, holes: &[usize], worked: &Worked) -> String {
    let axle = subject.axle();
    let names: Vec<&str> = holes.iter().filter_map(|h| axle.holes.get(*h)).map(|h| h.name.as_str()).collect();
    let place = if names.is_empty() { "as drawn".to_string() } else { format!("hole {}", names.join(", ")) };
    let (title, car) = (worked.about.title, &subject.car().name);
    page(&format!("{title}: {car}, {} axle, {place}", axle.end.name()), worked)
}

fn page(title: &str, worked: &Worked) -> String {
    let about = &worked.about;
    let mut out = format!("{}\n\n", styled(HEADING, title));
    let result = worked.shown.as_ref().map_or_else(|| "not known".to_string(), study::Shown::text);
    out.push_str(&format!("  {}\n\n", styled(ACCENT, &result)));
    let mut line = |label: &str, words: &str| {
        out.push_str(&format!("{label:<13}{}\n", table::wrap(words, 13)));
    };
    line("what it is", about.definition);
    line("formula", about.formula);
    line("this car", &worked.substituted);
    for term in &worked.terms {
        let symbol = if term.symbol.is_empty() { String::new() } else { format!("{} = ", term.symbol) };
        line("", &format!("{symbol}{}   {}", term.value, term.meaning));
    }
    line("source", about.source);
    line("it does", about.does);
    line("it does not", about.does_not);
    if !worked.sources_of_doubt.is_empty() {
        let parts: Vec<String> =
            worked.sources_of_doubt.iter().map(|(n, s)| format!("{n} {:.0} %", s * 100.0)).collect();
        line("± comes from", &parts.join(", "));
    }
    for remark in &worked.remarks {
        line("note", remark);
    }
    out.push_str(&format!(
        "\n{}\n",
        styled(FAINT, &table::wrap("± is one standard uncertainty. Planning figures, not an approval.", 0))
    ));
    out
}
