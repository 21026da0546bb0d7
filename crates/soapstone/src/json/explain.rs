//! `soapstone.explain/1` and `soapstone.quantities/1`: worked numbers, and what can be worked.

use project::model::Car;
use serde::Serialize;
use study::{Finding, Quantity, Scale, Subject, Worked};
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

/// A result of the whole car; its `axle` is `car`.
pub(crate) fn worked_car(car: &Car, key: &'static str, scale: Scale, worked: &Worked) -> impl Serialize {
    out(car, "car", key, scale, 0.0, worked)
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
struct ColumnsOut {
    schema: &'static str,
    /// One for each column of the stage's table.
    columns: Vec<ColumnOut>,
}

#[derive(Serialize)]
struct ColumnOut {
    column: String,
    #[serde(flatten)]
    worked: WorkedOut,
}

/// A result of a stage, column by column.
pub(crate) fn worked_columns<'c>(
    car: &Car,
    finding: &Finding,
    columns: impl Iterator<Item = (&'c String, Worked)>,
) -> impl Serialize {
    let columns = columns.map(|(column, worked)| ColumnOut {
        column: column.clone(),
        worked: out(car, "car", finding.key, finding.scale, 0.0, &worked),
    });
    ColumnsOut { schema: "soapstone.explain-columns/1", columns: columns.collect() }
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

/// All quantities that can be explained; `results` are those of the stages.
pub(crate) fn quantities(results: &[Finding]) -> impl Serialize {
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
    let results = results.iter().map(|finding| QuantityOut {
        quantity: finding.key,
        title: finding.about.title,
        unit: unit(finding.scale).0,
        definition: finding.about.definition,
    });
    QuantitiesOut {
        schema: "soapstone.quantities/1",
        front: all(AxleEnd::Front),
        rear: all(AxleEnd::Rear),
        car: weights.chain(results).collect(),
    }
}
