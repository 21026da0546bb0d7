//! What frees a car that was made stable: single changes, each with its effect below the limit and at it.

use suspension::AxleEnd::{self, Front, Rear};
use vehicle::balance::{Change, Effect, effects, with_tyres};

use super::table::{Table, columns};
use super::texts_turn::{freeing, limits};
use super::{Asked, Case};
use crate::estimate::Estimate;
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};
use crate::whole::Whole;

/// Part of the largest effect below which a change is said to do nothing [-] (own, for the words alone).
const NOTHING: f64 = 0.02;

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    /// Rate of the bar times a factor.
    Bar(AxleEnd, f64),
    /// Rate of the springs times a factor.
    Springs(AxleEnd, f64),
    /// What `vehicle` knows as it is.
    Plain(Change),
}

/// A change by name.
struct Single {
    /// Keys of its effects below and at the limit.
    keys: [&'static str; 2],
    title: &'static str,
    part: Part,
}

macro_rules! single {
    ($key:literal, $title:literal, $part:expr) => {
        Single {
            keys: [concat!("frees-below-", $key), concat!("frees-at-limit-", $key)],
            title: $title,
            part: $part,
        }
    };
}

/// Those that are tried: most free a car, some do so only below or only at its limit.
const SINGLES: [Single; 15] = [
    single!("front-bar-softer", "front bar 25 % softer", Part::Bar(Front, 0.75)),
    single!("front-bar-off", "front bar unhooked", Part::Bar(Front, 0.0)),
    single!("rear-bar-stiffer", "rear bar 25 % stiffer", Part::Bar(Rear, 1.25)),
    single!("rear-bar-double", "rear bar twice as stiff", Part::Bar(Rear, 2.0)),
    single!("rear-bar-off", "rear bar unhooked", Part::Bar(Rear, 0.0)),
    single!("front-springs-softer", "front springs 10 % softer", Part::Springs(Front, 0.9)),
    single!("rear-springs-stiffer", "rear springs 10 % stiffer", Part::Springs(Rear, 1.1)),
    single!(
        "rear-roll-centre-up",
        "rear roll centre 10 mm higher",
        Part::Plain(Change::RollCentre(Rear, 0.010))
    ),
    single!(
        "rear-roll-centre-down",
        "rear roll centre 10 mm lower",
        Part::Plain(Change::RollCentre(Rear, -0.010))
    ),
    single!(
        "front-roll-centre-down",
        "front roll centre 10 mm lower",
        Part::Plain(Change::RollCentre(Front, -0.010))
    ),
    single!(
        "rear-tyres-softer",
        "rear tyres 10 % less stiff (stands for pressure)",
        Part::Plain(Change::TyreStiffness(Rear, 0.9))
    ),
    single!(
        "front-tyres-stiffer",
        "front tyres 10 % stiffer (stands for pressure)",
        Part::Plain(Change::TyreStiffness(Front, 1.1))
    ),
    single!(
        "front-grip-more",
        "front tyres 5 % more grip (compound)",
        Part::Plain(Change::Friction(Front, 1.05))
    ),
    single!(
        "rear-grip-less",
        "rear tyres 5 % less grip (compound)",
        Part::Plain(Change::Friction(Rear, 0.95))
    ),
    single!("front-bar-stiffer", "front bar 25 % stiffer", Part::Bar(Front, 1.25)),
];

/// Figures of one change.
const EACH: usize = 4;

/// The change of an axle's roll stiffness that this is, `None` where the car has no such part.
fn change(whole: &Whole, part: Part) -> Option<Change> {
    let (end, of_springs, of_bar) = match part {
        Part::Plain(change) => return Some(change),
        Part::Bar(end, factor) => (end, 1.0, factor),
        Part::Springs(end, factor) => (end, factor, 1.0),
    };
    let axle = whole.axle(end);
    if matches!(part, Part::Bar(..)) && axle.bar.is_none() {
        return None;
    }
    let (springs, bar) = whole.roll_stiffness(end).ok()?;
    let (track, rate) = (2.0 * axle.measures.contact.y, axle.tyre_rate?);
    let new = with_tyres(of_springs * springs + of_bar * bar, rate, track);
    Some(Change::RollStiffness(end, new / with_tyres(springs + bar, rate, track)))
}

/// Effects of all, in their order: gradient, then limits as shares of each axle's own, and their difference.
fn done(whole: &Whole, asked: &Asked) -> Vec<Option<([f64; EACH], bool)>> {
    let nothing = || vec![None; SINGLES.len()];
    let Ok(rolling) = whole.rolling() else { return nothing() };
    let Ok(car) = whole.cornering(&rolling) else { return nothing() };
    let Ok(limit) = car.limit() else { return nothing() };
    let changes = SINGLES.each_ref().map(|single| change(whole, single.part));
    let asked_for: Vec<Change> = changes.iter().flatten().copied().collect();
    let Ok(effects) = effects(&car, asked.lateral, &asked_for) else { return nothing() };
    let mut effects = effects.into_iter().map(|e: Effect| {
        let [front, rear] = [e.front_limit / limit.front, e.rear_limit / limit.rear];
        ([e.gradient, front, rear, front - rear], e.outside)
    });
    changes.iter().map(|change| change.and_then(|_| effects.next())).collect()
}

pub(super) fn figures(whole: &Whole, asked: &Asked) -> Vec<Option<f64>> {
    let list = |effect: Option<([f64; EACH], bool)>| match effect {
        Some((figures, _)) => figures.map(Some),
        None => [None; EACH],
    };
    done(whole, asked).into_iter().flat_map(list).collect()
}

/// A change with what it does.
struct Done {
    single: &'static Single,
    below: Cell,
    limits: Vec<Cell>,
}

impl Done {
    /// How far it frees below the limit: less understeer is freer.
    fn frees_below(&self) -> f64 {
        -value(&self.below)
    }

    fn frees_at_limit(&self) -> f64 {
        self.limits.last().map_or(0.0, value)
    }
}

fn value(cell: &Cell) -> f64 {
    cell.estimate.as_ref().map_or(0.0, |e: &Estimate| e.value)
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    static LIST: [Single; SINGLES.len()] = SINGLES;
    let effects = done(case.whole, &case.asked);
    let mut list = Vec::new();
    for (single, effect) in LIST.iter().zip(effects) {
        let (below, limits) = (table.cells(1), table.cells(EACH - 1));
        if let (Some((_, outside)), Some(below)) = (effect, below.into_iter().next()) {
            let why = "a wheel lifts, or a load leaves the tyre's range, before the limit";
            let limits = limits.into_iter().map(|cell| cell.marked(outside, why)).collect();
            list.push(Done { single, below, limits });
        }
    }
    // What it needs is told by roll and handling.
    if list.is_empty() {
        return;
    }
    list.sort_by(|a, b| b.frees_below().total_cmp(&a.frees_below()));
    let words = words(&list);
    let below = list
        .iter()
        .map(|d| {
            let about = freeing(d.single.title);
            Finding::new(d.single.keys[0], about, Scale::AnglePerAcceleration, vec![d.below.clone()])
        })
        .collect();
    stage.groups.push(Group {
        title: format!(
            "What frees it below the limit: change of the understeer gradient at {}, freest first",
            case.lateral_text()
        ),
        columns: columns(&[""]),
        rows: below,
        words: vec![
            "Negative: less steering for the same bend. Each change is made by itself; together they do not quite add up."
                .into(),
        ],
    });
    list.sort_by(|a, b| b.frees_at_limit().total_cmp(&a.frees_at_limit()));
    let at_limit = list
        .into_iter()
        .map(|d| Finding::new(d.single.keys[1], limits(d.single.title), Scale::Percent, d.limits))
        .collect();
    stage.groups.push(Group {
        title: "What frees it at the limit: change of each axle's limit in percent of it, freest first"
            .into(),
        columns: columns(&["front", "rear", "front less rear"]),
        rows: at_limit,
        words,
    });
}

fn words(list: &[Done]) -> Vec<String> {
    let most = |of: fn(&Done) -> f64| list.iter().map(|d| of(d).abs()).fold(0.0, f64::max);
    let (below, limit) = (most(Done::frees_below), most(Done::frees_at_limit));
    let does = |d: &Done| (d.frees_below() > NOTHING * below, d.frees_at_limit() > NOTHING * limit);
    let titles = |wanted: (bool, bool)| {
        let names: Vec<_> = list.iter().filter(|d| does(d) == wanted).map(|d| d.single.title).collect();
        names.join("; ")
    };
    let mut words = Vec::new();
    for (wanted, head) in [
        ((true, true), "Free it everywhere"),
        ((true, false), "Free it below the limit only"),
        ((false, true), "Free it at the limit only"),
        ((false, false), "Do not free it"),
    ] {
        let names = titles(wanted);
        if !names.is_empty() {
            words.push(format!("{head}: {names}."));
        }
    }
    words.push(
        "Front less rear, positive: the front holds on longer than it did, so the tail comes sooner. A car that is freed for \
         a tight course is less steady at speed and under the brakes: look at the maps again, and undo it for a fast one. \
         What takes grip from the rear makes the whole car slower; what gives it to the front does not."
            .into(),
    );
    words.push(
        "Tyre stiffness stands in for pressure; the model does not know which way a pressure change moves your tyre, nor what \
         it does to grip: measure it."
            .into(),
    );
    words
}
