//! `soapstone.explain/1` and `soapstone.quantities/1`: worked numbers, and what can be worked.

use project::model::Car;
use serde::Serialize;
use study::{Quantity, Scale, Subject, Weight, Worked};
use suspension::AxleEnd;

use super::{Doubtful, unit};

#[derive(Serialize)]
struct WorkedOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    quantity: &'static str,
    title: &'static str,
    travel_m: f64,
    unit: &'static str,
    result: Option<Doubtful>,
    definition: &'static str,
    formula: &'static str,
    substituted: String,
    terms: Vec<TermOut>,
    source: &'static str,
    does: &'static str,
    does_not: &'static str,
    uncertainty_from: Vec<ShareOut>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct TermOut {
    symbol: String,
    meaning: String,
    value: String,
}

#[derive(Serialize)]
struct ShareOut {
    input: String,
    share_of_variance: f64,
}

/// A worked number.
pub(crate) fn worked(
    subject: &Subject<'_>,
    quantity: Quantity,
    travel: f64,
    worked: &Worked,
) -> impl Serialize {
    let (axle, key) = (subject.axle().end.name(), quantity.key(subject.end()));
    out(subject.car(), axle, key, quantity.scale(), travel, worked)
}

/// A result of the weighing; its `axle` is `car`.
pub(crate) fn worked_weight(car: &Car, weight: Weight, worked: &Worked) -> impl Serialize {
    out(car, "car", weight.key(), weight.scale(), 0.0, worked)
}

fn out(
    car: &Car,
    axle: &'static str,
    quantity: &'static str,
    scale: Scale,
    travel: f64,
    worked: &Worked,
) -> WorkedOut {
    let (name, factor) = unit(scale);
    let about = worked.about;
    WorkedOut {
        schema: "soapstone.explain/1",
        car: car.name.clone(),
        axle,
        quantity,
        title: about.title,
        travel_m: travel,
        unit: name,
        result: worked.result.as_ref().map(|r| Doubtful::new(r, factor)),
        definition: about.definition,
        formula: about.formula,
        substituted: worked.substituted.clone(),
        terms: worked
            .terms
            .iter()
            .map(|t| TermOut { symbol: t.symbol.clone(), meaning: t.meaning.clone(), value: t.value.clone() })
            .collect(),
        source: about.source,
        does: about.does,
        does_not: about.does_not,
        uncertainty_from: worked
            .sources_of_doubt
            .iter()
            .map(|(input, share)| ShareOut { input: input.clone(), share_of_variance: *share })
            .collect(),
        remarks: worked.remarks.clone(),
    }
}

#[derive(Serialize)]
struct QuantitiesOut {
    schema: &'static str,
    front: Vec<QuantityOut>,
    rear: Vec<QuantityOut>,
    /// Of the car as a whole.
    car: Vec<QuantityOut>,
}

#[derive(Serialize)]
struct QuantityOut {
    quantity: &'static str,
    title: &'static str,
    unit: &'static str,
    definition: &'static str,
}

/// All quantities that can be explained.
pub(crate) fn quantities() -> impl Serialize {
    let all = |end: AxleEnd| {
        Quantity::ALL
            .into_iter()
            .chain([Quantity::MotionRatio(0), Quantity::WheelRate(0)])
            .map(|q| {
                let about = q.about(end);
                QuantityOut {
                    quantity: q.key(end),
                    title: about.title,
                    unit: unit(q.scale()).0,
                    definition: about.definition,
                }
            })
            .collect()
    };
    let weights = study::EXPLAINED.into_iter().filter_map(|w| {
        let about = study::about_weight(w)?;
        let (unit, definition) = (unit(w.scale()).0, about.definition);
        Some(QuantityOut { quantity: w.key(), title: about.title, unit, definition })
    });
    QuantitiesOut {
        schema: "soapstone.quantities/1",
        front: all(AxleEnd::Front),
        rear: all(AxleEnd::Rear),
        car: weights.collect(),
    }
}
