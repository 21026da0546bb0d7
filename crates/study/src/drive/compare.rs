//! Choices against each other: laps, sections, top speed.

use project::model::Car;
use units::UnitSystem;

use super::course::Venue;
use super::texts;
use super::variant::{Driven, OfRacer, Sample, Variant, estimate};
use crate::estimate::{COVERAGE, Estimate};
use crate::present::shown;
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};

fn cell(estimate: Estimate) -> Cell {
    Cell { estimate: Some(estimate), ..Cell::default() }
}

fn names(variants: &[Variant]) -> Vec<String> {
    variants.iter().map(|v| v.name.clone()).collect()
}

/// Top speed on the level.
pub(super) fn top(variants: &[Variant], driven: &[Driven], stage: &mut Stage) {
    let cells = driven.iter().map(|d| {
        let samples: Vec<Option<f64>> = d.samples.iter().map(|s| Some(s.as_ref()?.top)).collect();
        cell(estimate(d.top, &samples))
    });
    stage.groups.push(Group {
        title: "On a long straight".into(),
        columns: names(variants),
        rows: vec![Finding::new("top-speed", texts::TOP_SPEED, Scale::Speed, cells.collect())],
        words: Vec::new(),
    });
}

/// The lap times of a venue.
pub(super) fn lap_times(driven: &Driven, venue: usize) -> Estimate {
    let of = |s: &Option<Sample>| Some(s.as_ref()?.venues.get(venue)?.time);
    let samples: Vec<Option<f64>> = driven.samples.iter().map(of).collect();
    estimate(driven.laps.get(venue).map_or(f64::NAN, |lap| lap.time), &samples)
}

/// A difference with its own ±.
pub(super) fn difference(a: &Estimate, b: &Estimate) -> Estimate {
    let count = a.contributions.len().max(b.contributions.len());
    let get = |e: &Estimate, i: usize| e.contributions.get(i).copied().unwrap_or(0.0);
    Estimate { value: a.value - b.value, contributions: (0..count).map(|i| get(a, i) - get(b, i)).collect() }
}

/// Laps and sections on one venue.
pub(super) fn laps(
    car: &Car,
    venue: &Venue,
    index: usize,
    variants: &[Variant],
    driven: &[Driven],
    cores: usize,
    stage: &mut Stage,
) {
    let times: Vec<Estimate> = driven.iter().map(|d| lap_times(d, index)).collect();
    let Some(first) = times.first() else { return };
    let mut rows =
        vec![Finding::new("lap-time", texts::LAP, Scale::Time, times.iter().cloned().map(cell).collect())];
    if times.len() > 1 {
        let cells = times
            .iter()
            .enumerate()
            .map(|(i, t)| if i == 0 { Cell::word("–") } else { cell(difference(t, first)) });
        let label = format!("against {}", variants.first().map_or("the first", |v| v.name.as_str()));
        rows.push(
            Finding::new("lap-difference", texts::DIFFERENCE, Scale::Time, cells.collect()).named(label),
        );
    }
    if car.in_hand.is_some() {
        let cells = variants.iter().zip(driven).map(|(variant, own)| {
            let free: OfRacer = std::sync::Arc::new(|racer| racer.driver = None);
            let bold = Variant {
                name: variant.name.clone(),
                car: variant.car.clone(),
                holes: variant.holes.clone(),
                file: None,
                racer: Some(free),
            };
            // In detail: a driver who lets go changes more than few places can tell.
            match bold.drive(std::slice::from_ref(venue), None, cores) {
                Ok(bold) => Cell::plain(
                    own.laps.get(index).map_or(f64::NAN, |l| l.time)
                        - bold.laps.first().map_or(f64::NAN, |l| l.time),
                ),
                Err(_) => Cell::default(),
            }
        });
        rows.push(Finding::new("in-hand-costs", texts::IN_HAND, Scale::Time, cells.collect()));
    }
    let speeds = driven.iter().map(|d| {
        let of = |s: &Option<Sample>| Some(s.as_ref()?.venues.get(index)?.greatest);
        let samples: Vec<Option<f64>> = d.samples.iter().map(of).collect();
        cell(estimate(d.laps.get(index).map_or(f64::NAN, |l| l.greatest), &samples))
    });
    rows.push(Finding::new("greatest-speed", texts::GREATEST, Scale::Speed, speeds.collect()));
    let changes = driven
        .iter()
        .map(|d| Cell::word(d.laps.get(index).map_or_else(|| "–".into(), |l| l.changes.to_string())));
    rows.push(Finding::new("gear-changes", texts::CHANGES, Scale::Times, changes.collect()));
    let mut words = words(variants, &times, &car.units);
    words.extend(venue.words.iter().cloned());
    stage.groups.push(Group {
        title: format!(
            "{}: {}{}",
            venue.name,
            Scale::Distance.whole(venue.course.length(), &car.units),
            way(venue)
        ),
        columns: names(variants),
        rows,
        words,
    });
    sections(venue, index, variants, driven, stage);
}

fn way(venue: &Venue) -> &'static str {
    match (venue.course.closed, venue.standing) {
        (true, false) => ", a flying lap",
        (true, true) => ", a lap from a standing start",
        (false, true) => ", from a standing start",
        (false, false) => ", with a rolling start",
    }
}

fn sections(venue: &Venue, index: usize, variants: &[Variant], driven: &[Driven], stage: &mut Stage) {
    if venue.course.sections.len() < 2 {
        return;
    }
    let rows = venue.course.sections.iter().enumerate().map(|(k, section)| {
        let cells = driven.iter().map(|d| {
            let of = |s: &Option<Sample>| s.as_ref()?.venues.get(index)?.sections.get(k).copied();
            let samples: Vec<Option<f64>> = d.samples.iter().map(of).collect();
            let value = d.laps.get(index).and_then(|l| l.sections.get(k)).copied().unwrap_or(f64::NAN);
            cell(estimate(value, &samples))
        });
        Finding::new("section-time", texts::SECTION, Scale::Time, cells.collect()).named(section.name.clone())
    });
    stage.groups.push(Group {
        title: format!("{}: by sections", venue.name),
        columns: names(variants),
        rows: rows.collect(),
        words: Vec::new(),
    });
}

/// Which choices differ, and which only seem to.
fn words(variants: &[Variant], times: &[Estimate], units: &UnitSystem) -> Vec<String> {
    let Some((first, rest)) = times.split_first() else { return Vec::new() };
    let Some((base, others)) = variants.split_first() else { return Vec::new() };
    let (mut apart, mut alike) = (Vec::new(), Vec::new());
    for (time, variant) in rest.iter().zip(others) {
        let (by, doubt) = time.difference(first);
        if doubt > 0.0 && by.abs() > COVERAGE * doubt {
            let side = if by < 0.0 { "quicker" } else { "slower" };
            let size = Estimate { value: by.abs(), contributions: vec![doubt] };
            apart.push(format!("{} is {} {side}", variant.name, shown(&size, Scale::Time, units).text()));
        } else if doubt > 0.0 {
            alike.push(variant.name.as_str());
        }
    }
    let mut out = Vec::new();
    if !apart.is_empty() {
        out.push(format!("Against {}: {}.", base.name, apart.join("; ")));
    }
    if !alike.is_empty() {
        out.push(format!(
            "What is known of the car does not tell {} from {} here: the difference is less than twice its ±.",
            alike.join(", "),
            base.name
        ));
    }
    out
}
