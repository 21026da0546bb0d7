//! Which axle, which holes, which values: what the arguments say, checked against the car.

use project::model::{Car, End, Setup};
use study::Subject;
use units::Dimension;

use super::Failure;
use super::args::{AxleName, PlaceArgs};

/// The axle to look at: as given, else as the file's `[choose]` says, else the one with holes or plates, else
/// the only one, else the rear.
pub(crate) fn axle(car: &Car, given: Option<AxleName>) -> Result<End, Failure> {
    let end = match given {
        Some(AxleName::Front) => End::Front,
        Some(AxleName::Rear) => End::Rear,
        None => car.choose.axle.unwrap_or_else(|| likely_axle(car)),
    };
    if car.axle(end).is_none() {
        let other = if end == End::Front { "rear" } else { "front" };
        return Err(Failure::with_hint(
            format!("the file has no `[{}]` axle", end.name()),
            format!("it has `[{other}]`: try `--axle {other}`"),
        ));
    }
    Ok(end)
}

/// The axle with holes or plates, else the only one, else the rear.
pub(crate) fn likely_axle(car: &Car) -> End {
    let has = |end: End| car.axle(end).is_some_and(|a| !a.holes.is_empty() || !a.plates.is_empty());
    match (has(End::Front), has(End::Rear), car.rear.is_some()) {
        (true, false, _) | (false, false, false) => End::Front,
        _ => End::Rear,
    }
}

/// The setup that `--setup` names.
fn setup<'a>(car: &'a Car, place: &PlaceArgs) -> Result<Option<&'a Setup>, Failure> {
    let Some(name) = &place.setup else { return Ok(None) };
    car.setup(name).map(Some).ok_or_else(|| {
        let known: Vec<&str> = car.setups.iter().map(|s| s.name.as_str()).collect();
        Failure::with_hint(format!("the file has no setup `{name}`"), one_of(&known, "`[setup.NAME]`"))
    })
}

/// The car with what `--setup` changes beside holes.
pub(crate) fn set_up<'a>(car: &'a Car, place: &PlaceArgs) -> Result<&'a Car, Failure> {
    Ok(setup(car, place)?.and_then(|setup| setup.car.as_deref()).unwrap_or(car))
}

/// The holes of `--setup`, one of `car`, and of `--at`.
pub(crate) fn holes(car: &Car, subject: &Subject<'_>, place: &PlaceArgs) -> Result<Vec<usize>, Failure> {
    let end = subject.axle().end;
    let mut chosen: Vec<usize> = Vec::new();
    if let Some(setup) = setup(car, place)? {
        chosen.extend(setup.holes.iter().filter(|(e, _)| *e == end).map(|(_, h)| *h));
    }
    for at in &place.at {
        add_hole(subject, at, &mut chosen)?;
    }
    Ok(chosen)
}

/// Adds the hole of one END=HOLE; a later one for the same end replaces an earlier one.
pub(crate) fn add_hole(subject: &Subject<'_>, at: &str, chosen: &mut Vec<usize>) -> Result<(), Failure> {
    let axle = subject.axle();
    let (end, name) = at.rsplit_once('=').ok_or_else(|| {
        Failure::with_hint(format!("`{at}` names no hole"), "write END=HOLE, such as link.lower-fore.body=B")
    })?;
    let end = end.trim().strip_prefix(&format!("{}.", axle.end.name())).unwrap_or(end.trim());
    let with_holes: std::collections::BTreeSet<&str> =
        axle.holes.iter().filter_map(|h| axle.scheme.points.get(h.point)).map(String::as_str).collect();
    let names: Vec<&str> = with_holes.into_iter().collect();
    if !names.contains(&end) {
        return Err(Failure::with_hint(
            format!("`{end}` has no holes in the file"),
            one_of(&names, &format!("`[[{}.holes]]`", axle.end.name())),
        ));
    }
    let own: Vec<(usize, &str)> = axle
        .holes
        .iter()
        .enumerate()
        .filter(|(_, h)| axle.scheme.points.get(h.point).is_some_and(|p| p == end))
        .map(|(i, h)| (i, h.name.as_str()))
        .collect();
    let (index, _) = own.iter().find(|(_, n)| *n == name.trim()).ok_or_else(|| {
        let known: Vec<&str> = own.iter().map(|(_, n)| *n).collect();
        Failure::with_hint(format!("`{end}` has no hole `{}`", name.trim()), one_of(&known, "the file"))
    })?;
    chosen.retain(|h| axle.holes.get(*h).map(|h| h.point) != axle.holes.get(*index).map(|h| h.point));
    chosen.push(*index);
    Ok(())
}

fn one_of(known: &[&str], place: &str) -> String {
    if known.is_empty() {
        format!("there is none; write one in {place}")
    } else {
        format!("there is {}", known.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(", "))
    }
}

/// A length in the file's unit, or with a unit of its own [m].
pub(crate) fn length(car: &Car, text: &str, what: &str) -> Result<f64, Failure> {
    quantity(car, text, Dimension::Length, what)
}

/// A value of some dimension, SI.
pub(crate) fn quantity(car: &Car, text: &str, dimension: Dimension, what: &str) -> Result<f64, Failure> {
    units::parse(text.trim(), dimension, &car.units)
        .map(|r| r.value)
        .map_err(|e| Failure::Input { message: format!("{what} `{text}`: {e}"), hint: e.hint() })
}

/// Most stations that a range may ask for.
const MOST_STATIONS: usize = 100_000;

/// FROM:TO:STEP, in a dimension, as its stations; a single value is one station.
pub(crate) fn range(car: &Car, text: &str, dimension: Dimension, what: &str) -> Result<Vec<f64>, Failure> {
    let parts: Vec<&str> = text.split(':').collect();
    let value = |part: &str| quantity(car, part, dimension, what);
    match parts.as_slice() {
        [one] => Ok(vec![value(one)?]),
        [from, to, step] => {
            let (from, to, step) = (value(from)?, value(to)?, value(step)?);
            if step <= 0.0 {
                return Err(Failure::with_hint(
                    format!("{what} `{text}`: the step must be more than zero"),
                    "write FROM:TO:STEP, such as -60:60:20",
                ));
            }
            if from > to {
                return Err(Failure::with_hint(
                    format!("{what} `{text}`: it starts after its end"),
                    "write the lower value first, such as -60:60:20",
                ));
            }
            let count = ((to - from) / step + 1e-9).floor();
            if count >= MOST_STATIONS as f64 {
                return Err(Failure::with_hint(
                    format!("{what} `{text}`: that is more than {MOST_STATIONS} stations"),
                    "take a longer step",
                ));
            }
            // Rounding 0.1 + 0.2 to the grid keeps zero at zero.
            Ok((0..=count as usize)
                .map(|i| from + i as f64 * step)
                .map(|v| if v.abs() < 1e-9 * step.max(1e-3) { 0.0 } else { v })
                .collect())
        }
        _ => Err(Failure::with_hint(
            format!("{what} `{text}` is not a range"),
            "write FROM:TO:STEP, such as -60:60:20",
        )),
    }
}
