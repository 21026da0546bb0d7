//! The front between venues: one setting for all of them, and what is gained by changing in the paddock.

use std::sync::atomic::Ordering;

use super::super::sample::{Way, spread};
use super::polish::{Aim, SAME, polish};
use super::{Search, Setting, Tried};

/// A setting with its times.
pub(super) type Timed = (Setting, Vec<f64>);

/// What was found.
pub(super) struct Found {
    /// As the file has it, in its own hole.
    pub own: Timed,
    /// One setting for all venues: the front, from the best on the first venue to the best on the last.
    pub same: Vec<Timed>,
    /// The welded parts of each weight with the best setting that they allow on each venue.
    pub changed: Vec<Vec<Timed>>,
    /// From how many weights it was searched.
    pub polished: usize,
}

/// Weights from one venue to the other; each venue alone and all alike where there are more than two.
fn weights(venues: usize) -> Vec<Vec<f64>> {
    let alone = |v: usize| (0..venues).map(|i| if i == v { 1.0 } else { 0.0 }).collect::<Vec<f64>>();
    match venues {
        0 | 1 => vec![vec![1.0; venues]],
        2 => [1.0, 0.75, 0.5, 0.25, 0.0].map(|w| vec![w, 1.0 - w]).to_vec(),
        _ => (0..venues).map(alone).chain([vec![1.0 / venues as f64; venues]]).collect(),
    }
}

/// A weight of nothing still leaves this much, so that of two alike on one venue the better on the other is taken.
const LITTLE: f64 = 0.02;

/// Weighted time: each venue's over its own, in seconds of the mean venue.
fn cost(times: &[f64], own: &[f64], weights: &[f64]) -> f64 {
    let mean = own.iter().sum::<f64>() / own.len().max(1) as f64;
    let one = |((t, o), w): ((&f64, &f64), &f64)| (w + LITTLE) * (t / o) * mean;
    let sum: f64 = times.iter().zip(own).zip(weights).map(one).sum();
    if sum.is_finite() { sum } else { f64::INFINITY }
}

pub(super) fn find(search: &Search, tried: &[Tried], way: &Way<'_>) -> Found {
    let own = search.space.own(0);
    let own = (own.clone(), search.times(&own));
    let all: Vec<usize> = (0..search.space.axes.len()).collect();
    let weights = weights(search.venues.len());
    let tick = way.counted(2 * weights.len());
    let start = |weight: &[f64]| best(tried, &own, &|times: &[f64]| cost(times, &own.1, weight));
    let polished = spread(weights.len(), way, |k| {
        let weight = weights.get(k)?;
        let of = |times: &[f64]| cost(times, &own.1, weight);
        let found = polish(search, start(weight), &Aim { cost: &of, axes: &all, hole: true }, way);
        tick();
        Some(found)
    });
    // Where it was stopped before: the best of the samples.
    let polished: Vec<Timed> = polished
        .into_iter()
        .zip(&weights)
        .map(|(found, weight)| found.flatten().unwrap_or_else(|| start(weight)))
        .collect();
    let changed = changed(search, &weights, &polished, &own, way, &tick);
    Found { own, same: front(polished, |t| t.1.clone(), SAME), changed, polished: weights.len() }
}

/// The best of the samples, or the file's own.
fn best(tried: &[Tried], own: &Timed, of: &dyn Fn(&[f64]) -> f64) -> Timed {
    let found = tried.iter().min_by(|a, b| of(&a.times).total_cmp(&of(&b.times)));
    match found {
        Some(t) if of(&t.times) < of(&own.1) => (t.setting.clone(), t.times.clone()),
        _ => own.clone(),
    }
}

/// Whether times are quicker than others somewhere and slower nowhere, by more than a margin [s].
pub(super) fn beats(times: &[f64], others: &[f64], margin: f64) -> bool {
    let pairs = || times.iter().zip(others);
    pairs().all(|(t, o)| *t <= o + margin) && pairs().any(|(t, o)| *t < o - margin)
}

/// Those that no other one beats, one of each that are alike, by the time on the first venue.
pub(super) fn front<T>(list: Vec<T>, times: impl Fn(&T) -> Vec<f64>, margin: f64) -> Vec<T> {
    let mut list: Vec<(Vec<f64>, T)> = list.into_iter().map(|one| (times(&one), one)).collect();
    let first = |times: &[f64]| times.first().copied().unwrap_or(f64::INFINITY);
    list.sort_by(|a, b| first(&a.0).total_cmp(&first(&b.0)));
    let all: Vec<Vec<f64>> = list.iter().map(|(times, _)| times.clone()).collect();
    let alike = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= margin);
    let mut out: Vec<(Vec<f64>, T)> = Vec::new();
    for (own, one) in list {
        if !all.iter().any(|other| beats(other, &own, margin))
            && !out.iter().any(|(kept, _)| alike(kept, &own))
        {
            out.push((own, one));
        }
    }
    out.into_iter().map(|(_, one)| one).collect()
}

/// Of settings, one for each venue, the time of each on its own.
pub(super) fn own_times(list: &[Timed]) -> Vec<f64> {
    list.iter().enumerate().map(|(v, t)| t.1.get(v).copied().unwrap_or(f64::INFINITY)).collect()
}

/// With what is quick to change set anew for each venue.
fn changed(
    search: &Search,
    weights: &[Vec<f64>],
    polished: &[Timed],
    own: &Timed,
    way: &Way<'_>,
    tick: &(dyn Fn() + Sync),
) -> Vec<Vec<Timed>> {
    let venues = search.venues.len();
    let (welded, quick): (Vec<usize>, Vec<usize>) =
        (0..search.space.axes.len()).partition(|i| search.space.axes.get(*i).is_some_and(|a| a.welded));
    let hole_welded = search.space.hole_welded;
    let any_welded = hole_welded || !welded.is_empty();
    let any_quick = !quick.is_empty() || (!hole_welded && search.bases.len() > 1);
    if venues < 2 || !any_quick {
        return Vec::new();
    }
    let own_way = |list: &mut Vec<Timed>| {
        for (v, slot) in list.iter_mut().enumerate() {
            let of = |times: &[f64]| times.get(v).copied().filter(|t| t.is_finite()).unwrap_or(f64::INFINITY);
            let aim = Aim { cost: &of, axes: &quick, hole: !hole_welded };
            *slot = polish(search, slot.clone(), &aim, way);
        }
    };
    // With nothing welded every weight would come to the same.
    let count = if any_welded { weights.len() } else { 1 };
    let found = spread(count, way, |k| {
        let start = polished.get(k).cloned()?;
        // What is free on each venue starts from the best that is known there with the same welded parts.
        let mut list: Vec<Timed> = (0..venues)
            .map(|v| alone(polished, v).filter(|_| !any_welded).unwrap_or_else(|| start.clone()))
            .collect();
        own_way(&mut list);
        let weight = weights.get(k)?;
        for _ in 0..2 {
            if !any_welded || !weld(search, &mut list, &welded, &own.1, weight, way) {
                break;
            }
            own_way(&mut list);
        }
        tick();
        Some(list)
    });
    found.into_iter().flatten().flatten().collect()
}

/// The polished one that is quickest on a venue.
fn alone(polished: &[Timed], venue: usize) -> Option<Timed> {
    let time = |t: &Timed| t.1.get(venue).copied().filter(|t| t.is_finite()).unwrap_or(f64::INFINITY);
    polished.iter().min_by(|a, b| time(a).total_cmp(&time(b))).cloned()
}

/// Moves what is welded by a step, the same for all venues, the quick changes as they are; whether any step was a gain.
fn weld(
    search: &Search,
    list: &mut Vec<Timed>,
    welded: &[usize],
    own: &[f64],
    weight: &[f64],
    way: &Way<'_>,
) -> bool {
    let mut gained = false;
    let mut take = |list: &mut Vec<Timed>, alter: &dyn Fn(&mut Setting)| {
        if way.stop.load(Ordering::Relaxed) {
            return;
        }
        let other: Vec<Timed> = list
            .iter()
            .map(|(setting, _)| {
                let mut setting = setting.clone();
                alter(&mut setting);
                let times = search.times(&setting);
                (setting, times)
            })
            .collect();
        let cost = |list: &[Timed]| cost(&own_times(list), own, weight);
        if cost(&other) < cost(list) - SAME {
            *list = other;
            gained = true;
        }
    };
    for i in welded {
        let Some(axis) = search.space.axes.get(*i) else { continue };
        let at = list.first().and_then(|(s, _)| s.values.get(*i)).copied().unwrap_or(axis.own);
        let range = axis.to - axis.from;
        let places: Vec<f64> = if axis.smooth() {
            [0.1, -0.1, 0.03, -0.03].map(|s: f64| (at + s * range).clamp(axis.from, axis.to)).to_vec()
        } else {
            vec![1.0 - at]
        };
        for place in places {
            take(list, &|s| {
                if let Some(value) = s.values.get_mut(*i) {
                    *value = place;
                }
            });
        }
    }
    if search.space.hole_welded {
        for h in 0..search.bases.len() {
            take(list, &|s| s.hole = h);
        }
    }
    gained
}
