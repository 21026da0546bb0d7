//! `soapstone.weigh/1`: mass, centre of gravity, inertia and corner weights, as found and after the ledger.

use project::model::Car;
use serde::Serialize;
use study::{Estimate, LoadState, PerchAdvice, Weighed, Weight};

use super::{CAUTION, Doubtful, unit};

#[derive(Serialize)]
struct WeighOut {
    schema: &'static str,
    car: String,
    /// Index of the state by which the car is judged.
    ready: usize,
    states: Vec<StateOut>,
    raised: Option<RaisedOut>,
    perches: Option<PerchOut>,
    notes: Vec<String>,
    caution: &'static str,
}

#[derive(Serialize)]
struct StateOut {
    name: String,
    inertia_estimated: bool,
    results: Vec<ResultOut>,
}

#[derive(Serialize)]
struct ResultOut {
    name: &'static str,
    unit: &'static str,
    found: Option<Doubtful>,
    after: Option<Doubtful>,
    change: Option<Doubtful>,
    /// Which figures the ± of `after` comes from, with their share of the variance.
    sources_of_doubt: Vec<DoubtOut>,
}

#[derive(Serialize)]
struct DoubtOut {
    name: String,
    share: f64,
}

#[derive(Serialize)]
struct RaisedOut {
    tilt_deg: f64,
    moved_kg: f64,
    cg_height_m: f64,
}

/// Corners in the order front left, front right, rear left, rear right.
#[derive(Serialize)]
struct PerchOut {
    now_kg: Option<[f64; 4]>,
    wish_kg: Option<[f64; 4]>,
    turns: Option<[f64; 4]>,
    single_turns: Option<[f64; 4]>,
    reached_kg: Option<[f64; 4]>,
    missed_kg: Option<[f64; 4]>,
    lacks: Vec<String>,
}

/// A weighing.
pub(crate) fn weighed(car: &Car, weighed: &Weighed) -> impl Serialize {
    WeighOut {
        schema: "soapstone.weigh/1",
        car: car.name.clone(),
        ready: weighed.states.len().saturating_sub(1),
        states: weighed.states.iter().map(|s| state(weighed, s)).collect(),
        raised: weighed.raised.map(|r| RaisedOut {
            tilt_deg: r.tilt.to_degrees(),
            moved_kg: r.moved,
            cg_height_m: r.height,
        }),
        perches: weighed.perches.as_ref().map(perches),
        notes: weighed.notes.clone(),
        caution: CAUTION,
    }
}

fn state(weighed: &Weighed, state: &LoadState) -> StateOut {
    let results = Weight::ALL
        .into_iter()
        .filter(|w| state.found(*w).is_some() || state.after(*w).is_some())
        .map(|w| {
            let (unit, factor) = unit(w.scale());
            let of = |e: Option<&Estimate>| e.map(|e| Doubtful::new(e, factor));
            let doubts = state.after(w).map(|e| weighed.sources_of_doubt(e)).unwrap_or_default();
            ResultOut {
                name: w.key(),
                unit,
                found: of(state.found(w)),
                after: of(state.after(w)),
                change: of(state.change(w).as_ref()),
                sources_of_doubt: doubts
                    .into_iter()
                    .map(|(name, share)| DoubtOut { name: name.into(), share })
                    .collect(),
            }
        })
        .collect();
    StateOut { name: state.name.clone(), inertia_estimated: state.estimated, results }
}

fn perches(advice: &PerchAdvice) -> PerchOut {
    match advice {
        PerchAdvice::Turn { present, wish, plan } => PerchOut {
            now_kg: Some(present.to_array()),
            wish_kg: Some(wish.to_array()),
            turns: Some(plan.turns.to_array()),
            single_turns: Some(plan.single.to_array()),
            reached_kg: Some(plan.reached.to_array()),
            missed_kg: Some(plan.missed.to_array()),
            lacks: Vec::new(),
        },
        PerchAdvice::Lacks(_) | PerchAdvice::Wrong(_) => PerchOut {
            now_kg: None,
            wish_kg: None,
            turns: None,
            single_turns: None,
            reached_kg: None,
            missed_kg: None,
            lacks: match advice {
                PerchAdvice::Lacks(lacks) => lacks.clone(),
                PerchAdvice::Wrong(error) => vec![error.to_string()],
                PerchAdvice::Turn { .. } => Vec::new(),
            },
        },
    }
}
