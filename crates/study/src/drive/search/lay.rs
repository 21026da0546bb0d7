//! What a search found, confirmed in detail and laid out.

use units::UnitSystem;

use super::super::compare::{difference, lap_times};
use super::super::variant::{Driven, Variant, samples};
use super::super::{Way, texts};
use super::front::{Found, Timed, beats, front, own_times};
use super::space::Space;
use super::{Search, Setting, Tried};
use crate::estimate::{COVERAGE, Estimate};
use crate::present::shown;
use crate::quantity::Scale;
use crate::stage::{Cell, Chart, ChartAxis, Curve, Finding, Group, Stage};

/// A setting worked out in detail.
struct Confirmed {
    name: String,
    setting: Setting,
    variant: Variant,
    driven: Driven,
    /// Where it is driven; everywhere where none.
    venue: Option<usize>,
}

impl Confirmed {
    fn time(&self, venue: usize) -> Estimate {
        lap_times(&self.driven, venue)
    }
}

pub(super) fn out(
    search: &Search,
    tried: &[Tried],
    found: &Found,
    draws: usize,
    way: &Way<'_>,
    stage: &mut Stage,
) {
    let units = &search.bases.first().map(|(v, _)| v.car.car().units).unwrap_or_default();
    let mut wanted: Vec<(String, Timed, Option<usize>)> =
        vec![("as in the file".into(), found.own.clone(), None)];
    wanted.extend(found.same.iter().map(|t| (String::new(), t.clone(), None)));
    let mut changed = front(found.changed.clone(), |list| own_times(list), MATTERS);
    changed.truncate(MOST_WELDS);
    for (i, list) in changed.iter().enumerate() {
        for (v, timed) in list.iter().enumerate() {
            let venue = search.venues.get(v).map_or("", |venue| venue.name.as_str());
            let name =
                if changed.len() > 1 { format!("weld {} at {venue}", i + 1) } else { format!("at {venue}") };
            wanted.push((name, timed.clone(), Some(v)));
        }
    }
    let mut list = Vec::new();
    for (name, (setting, _), venue) in wanted {
        let Some((base, _)) = search.bases.get(setting.hole) else { continue };
        let variant = search.space.variant(base, &setting);
        match variant.drive(&search.venues, None, way.cores) {
            Ok(driven) => list.push(Confirmed { name, setting, variant, driven, venue }),
            Err(lack) => stage.lack(lack),
        }
    }
    only_front(search, &mut list);
    draw(search, &mut list, draws, way);
    let (same, apart): (Vec<&Confirmed>, Vec<&Confirmed>) = list.iter().partition(|c| c.venue.is_none());
    let Some(own) = same.first() else { return };
    let mut words = said(search, &same, units);
    words.extend(at_ends(search, &same));
    words.push(format!(
        "From {} settings tried and {} polished. A set is on the front where no other one beats it on every venue.",
        tried.iter().filter(|t| t.times.iter().all(|t| t.is_finite())).count(),
        found.polished
    ));
    stage.groups.push(group(search, "One setting for all venues", &same, own, draws, words));
    if !apart.is_empty() {
        let title = if search.space.axes.iter().any(|a| a.welded) || search.space.hole_welded {
            "Welded once, the rest changed in the paddock"
        } else {
            "All of it changed in the paddock"
        };
        let words = paddock(search, &same, &apart, units);
        stage.groups.push(group(search, title, &apart, own, 0, words));
    }
    if let [first, second] = search.venues.as_slice() {
        stage.charts.push(chart([&first.name, &second.name], &same, &apart, tried));
    }
    stage.notes = texts::notes(own.variant.car.car());
    stage.notes.push(format!(
        "± is the spread of {draws} samples of everything uncertain in the file, the same ones for every set. What was searched is \
         the nominal car: a set that is better by less than twice the ± of the difference is not known to be better."
    ));
    stage.notes.push(
        "A ride height is set at the spring perches: toe and camber are what the linkage makes of it, and are set anew on the \
         car. Clearance to the road, bump travel left and the bar's strength are not in the search: look at them before you \
         drive it."
            .into(),
    );
}

/// Of the sets for all venues those that none beats in detail either, numbered.
fn only_front(search: &Search, list: &mut Vec<Confirmed>) {
    let times = |c: &Confirmed| -> Vec<f64> { (0..search.venues.len()).map(|v| c.time(v).value).collect() };
    let sets: Vec<Vec<f64>> = list.iter().skip(1).filter(|c| c.venue.is_none()).map(times).collect();
    let mut first = true;
    list.retain(|c| {
        let own = std::mem::take(&mut first);
        own || c.venue.is_some() || !sets.iter().any(|set| beats(set, &times(c), 0.0))
    });
    for (i, set) in list.iter_mut().skip(1).filter(|c| c.venue.is_none()).enumerate() {
        set.name = format!("set {}", i + 1);
    }
}

/// Samples of what is uncertain, alike for all.
fn draw(search: &Search, list: &mut [Confirmed], draws: usize, way: &Way<'_>) {
    let tick = way.counted(draws * list.len());
    let drawn = {
        let pairs: Vec<(&Variant, &mut Driven)> =
            list.iter_mut().map(|c| (&c.variant, &mut c.driven)).collect();
        samples(&pairs, &search.venues, draws, way, &tick)
    };
    for (confirmed, drawn) in list.iter_mut().zip(drawn) {
        confirmed.driven.samples = drawn;
    }
}

/// Sets of welded parts nearer to each other than this are shown as one [s] (own).
const MATTERS: f64 = 5e-3;

/// Sets of welded parts shown at most.
const MOST_WELDS: usize = 3;

/// Settings side by side with their times.
fn group(
    search: &Search,
    title: &str,
    list: &[&Confirmed],
    own: &Confirmed,
    draws: usize,
    words: Vec<String>,
) -> Group {
    let mut rows = settings(search, list);
    for (v, venue) in search.venues.iter().enumerate() {
        let here = |c: &&Confirmed| c.venue.is_none_or(|at| at == v);
        let cell = |estimate: Estimate| Cell { estimate: Some(estimate), ..Cell::default() };
        let cells = list.iter().map(|c| if here(c) { cell(c.time(v)) } else { Cell::word("–") });
        rows.push(
            Finding::new("lap-time", texts::LAP, Scale::Time, cells.collect())
                .named(format!("time, {}", venue.name)),
        );
        let cells = list.iter().map(|c| {
            if here(c) && !std::ptr::eq(*c, own) {
                cell(difference(&c.time(v), &own.time(v)))
            } else {
                Cell::word("–")
            }
        });
        rows.push(
            Finding::new("against-file", texts::AGAINST_FILE, Scale::Time, cells.collect())
                .named(format!("against the file, {}", venue.name)),
        );
    }
    if draws > 1 && search.venues.len() > 1 {
        let cells = list.iter().map(|c| sureness(search, c, list).map_or_else(Cell::default, Cell::plain));
        rows.push(Finding::new("on-front", texts::ON_FRONT, Scale::Percent, cells.collect()));
    }
    let columns = list.iter().map(|c| c.name.clone()).collect();
    Group { title: title.into(), columns, rows, words }
}

/// What is set.
fn settings(search: &Search, list: &[&Confirmed]) -> Vec<Finding> {
    let Space { axes, hole_welded } = &search.space;
    let name = |name: &str, welded: bool| if welded { format!("{name} (welded)") } else { name.to_string() };
    let mut rows = Vec::new();
    if search.bases.len() > 1 {
        let cells = list.iter().map(|c| Cell::word(c.variant.name.clone())).collect();
        rows.push(
            Finding::new("setting", texts::SETTING, Scale::Ratio, cells).named(name("hole", *hole_welded)),
        );
    }
    for (i, axis) in axes.iter().enumerate() {
        let cells = list.iter().map(|c| {
            let value = c.setting.values.get(i).copied().unwrap_or(axis.own);
            match axis.smooth() {
                true => Cell::plain(value),
                false => Cell::word(if value > 0.5 { "on" } else { "off" }),
            }
        });
        rows.push(
            Finding::new("setting", texts::SETTING, axis.scale(), cells.collect())
                .named(name(&axis.label(), axis.welded)),
        );
    }
    rows
}

/// In which share of the samples no other set beats it on every venue.
fn sureness(search: &Search, one: &Confirmed, list: &[&Confirmed]) -> Option<f64> {
    let count = one.driven.samples.len();
    let times = |c: &Confirmed, s: usize| -> Option<Vec<f64>> {
        let sample = c.driven.samples.get(s)?.as_ref()?;
        (0..search.venues.len()).map(|v| Some(sample.venues.get(v)?.time)).collect()
    };
    let (mut on, mut of) = (0usize, 0usize);
    for s in 0..count {
        let Some(own) = times(one, s) else { continue };
        of += 1;
        let beaten = list
            .iter()
            .filter(|other| !std::ptr::eq(**other, one))
            .filter_map(|other| times(other, s))
            .any(|its| its.iter().zip(&own).all(|(o, t)| o < t));
        on += usize::from(!beaten);
    }
    (of > 0).then(|| on as f64 / of as f64)
}

/// A time with its ±, as a gain.
fn by(estimate: &Estimate, units: &UnitSystem) -> String {
    let (value, doubt) = (estimate.value, estimate.uncertainty());
    let size = Estimate { value: value.abs(), contributions: vec![doubt] };
    let side = if value < 0.0 { "quicker" } else { "slower" };
    format!("{} {side}", shown(&size, Scale::Time, units).text())
}

fn known(estimate: &Estimate) -> bool {
    estimate.value.abs() > COVERAGE * estimate.uncertainty()
}

/// What the sets are worth on each venue, and against each other.
fn said(search: &Search, same: &[&Confirmed], units: &UnitSystem) -> Vec<String> {
    let Some((own, sets)) = same.split_first() else { return Vec::new() };
    let mut out = Vec::new();
    for (v, venue) in search.venues.iter().enumerate() {
        let quickest = sets.iter().min_by(|a, b| a.time(v).value.total_cmp(&b.time(v).value));
        let Some(best) = quickest else {
            out.push(format!("On {} nothing was found that is quicker than the file.", venue.name));
            continue;
        };
        let gain = difference(&best.time(v), &own.time(v));
        if known(&gain) {
            out.push(format!("On {} {} is {} than the file.", venue.name, best.name, by(&gain, units)));
        } else {
            out.push(format!(
                "On {} no set is known to be quicker than the file: {} is {}, less than twice the ±.",
                venue.name,
                best.name,
                by(&gain, units)
            ));
        }
    }
    if let (Some(first), Some(last), [a, b]) = (sets.first(), sets.last(), search.venues.as_slice())
        && sets.len() > 1
    {
        let (lost, won) =
            (difference(&last.time(0), &first.time(0)), difference(&last.time(1), &first.time(1)));
        let sure = if known(&lost) && known(&won) {
            ""
        } else {
            " What is known of the car does not tell them apart on both."
        };
        out.push(format!(
            "From {} to {}: {} on {}, {} on {}.{sure}",
            first.name,
            last.name,
            by(&lost, units),
            a.name,
            by(&won, units),
            b.name
        ));
    }
    out
}

/// What every set has at the end of its range: more of it may be better still.
fn at_ends(search: &Search, same: &[&Confirmed]) -> Option<String> {
    let sets = same.get(1..).filter(|sets| !sets.is_empty())?;
    let at_end = |i: usize| {
        let axis = search.space.axes.get(i)?;
        let near = |end: f64| {
            let reach = 0.02 * (axis.to - axis.from);
            sets.iter().all(|c| c.setting.values.get(i).is_some_and(|v| (v - end).abs() <= reach))
        };
        (axis.smooth() && (near(axis.from) || near(axis.to))).then(|| axis.label())
    };
    let names: Vec<String> = (0..search.space.axes.len()).filter_map(at_end).collect();
    (!names.is_empty()).then(|| {
        format!(
            "Every set has these at the end of their range: {}. Where it may be wider (`[search]`), so may be the gain; where it \
             may not, that end is what holds the car back.",
            names.join(", ")
        )
    })
}

/// What changing in the paddock is worth against the one setting that is best for all venues together.
fn paddock(search: &Search, same: &[&Confirmed], apart: &[&Confirmed], units: &UnitSystem) -> Vec<String> {
    let share = |c: &Confirmed| -> f64 {
        let own = same.first().copied().unwrap_or(c);
        (0..search.venues.len()).map(|v| c.time(v).value / own.time(v).value).sum()
    };
    let Some(one) = same.iter().min_by(|a, b| share(a).total_cmp(&share(b))) else { return Vec::new() };
    let parts: Vec<String> = search
        .venues
        .iter()
        .enumerate()
        .filter_map(|(v, venue)| {
            let best = apart
                .iter()
                .filter(|c| c.venue == Some(v))
                .min_by(|a, b| a.time(v).value.total_cmp(&b.time(v).value))?;
            let gain = difference(&best.time(v), &one.time(v));
            let doubt = if known(&gain) { "" } else { " (less than twice its ±)" };
            Some(format!("{} on {}{doubt}", by(&gain, units), venue.name))
        })
        .collect();
    vec![format!(
        "Against {}, the one setting that is best for all venues together, changing in the paddock is {}.",
        one.name,
        parts.join(", ")
    )]
}

/// Time on one venue over that on the other.
fn chart(names: [&String; 2], same: &[&Confirmed], apart: &[&Confirmed], tried: &[Tried]) -> Chart {
    let axis = |name: &str| ChartAxis { label: format!("time, {name}"), scale: Scale::Time };
    let [x, y] = names;
    let place = |c: &Confirmed| (c.time(0).value, c.time(1).value);
    let mut sets: Vec<(f64, f64)> = same.iter().skip(1).map(|c| place(c)).collect();
    sets.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut series = vec![
        Curve { name: "one setting: the front".into(), points: sets },
        Curve { name: "as in the file".into(), points: same.first().map(|c| place(c)).into_iter().collect() },
    ];
    let welds: Vec<(f64, f64)> = apart
        .chunks(2)
        .filter_map(|pair| match pair {
            [a, b] => Some((a.time(0).value, b.time(1).value)),
            _ => None,
        })
        .collect();
    if !welds.is_empty() {
        series.push(Curve { name: "changed in the paddock".into(), points: apart_by_gaps(&welds) });
    }
    // The cloud's lower left edge alone: where samples are nearest to the front.
    let cloud = edge(tried);
    if !cloud.is_empty() {
        series.push(Curve { name: "best of the samples".into(), points: apart_by_gaps(&cloud) });
    }
    Chart {
        key: "front".into(),
        title: format!("{x} against {y}"),
        words: "Each place is one car: to the left it is quicker on the one, lower down on the other. The sets are worked out in \
                detail, the samples by what they change."
            .into(),
        x: axis(x),
        y: axis(y),
        series,
        marks: Vec::new(),
    }
}

/// Places one by one, without a line between.
fn apart_by_gaps(places: &[(f64, f64)]) -> Vec<(f64, f64)> {
    places.iter().flat_map(|p| [*p, (p.0, f64::NAN)]).collect()
}

/// The samples that no other one beats on both venues.
fn edge(tried: &[Tried]) -> Vec<(f64, f64)> {
    let mut list: Vec<(f64, f64)> = tried
        .iter()
        .filter_map(|t| match t.times.as_slice() {
            [a, b] if a.is_finite() && b.is_finite() => Some((*a, *b)),
            _ => None,
        })
        .collect();
    list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut least = f64::INFINITY;
    list.retain(|(_, b)| {
        let lower = *b < least;
        least = least.min(*b);
        lower
    });
    list
}
