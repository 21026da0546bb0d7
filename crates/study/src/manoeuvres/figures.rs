//! The figures of the manoeuvres, side by side.

use units::UnitSystem;
use vehicle::motion::{BrakedTurn, Limit, Response, Stop, Summary, Turn};

use super::plan::Plan;
use super::{Choice, Driven, Followed, of, texts};
use crate::drive::estimate;
use crate::estimate::{COVERAGE, Estimate};
use crate::present::shown;
use crate::quantity::{About, Scale};
use crate::stage::{Cell, Finding, Group, Stage};
use crate::stop::speed_words;

/// A figure of a car's manoeuvres.
type Pick<'p> = &'p dyn Fn(&Driven) -> Option<f64>;

/// What is out of the model's range in a run.
type Past<'p> = &'p dyn Fn(&Driven) -> Option<String>;

pub(super) fn groups(units: &UnitSystem, plan: &Plan, list: &[Choice], stage: &mut Stage) {
    stage.groups.extend([
        stop(units, plan, list),
        braked(units, plan, list),
        step(units, plan, list),
        turn(units, plan, list),
    ]);
}

/// An acceleration in a title.
pub(super) fn in_g(acceleration: f64) -> String {
    format!("{:.2} g", acceleration / vehicle::GRAVITY)
}

/// A row: a figure of every choice with its ±.
fn row(
    list: &[Choice],
    (key, about, scale): (&'static str, About, Scale),
    pick: Pick<'_>,
    why: &dyn Fn(&Driven) -> Option<&Followed>,
    past: Past<'_>,
) -> Finding {
    let cells = list.iter().map(|choice| match pick(&choice.driven) {
        Some(value) => {
            let samples: Vec<Option<f64>> = choice.samples.iter().map(|s| pick(s.as_ref()?)).collect();
            Cell {
                estimate: Some(estimate(value, &samples)),
                outside: past(&choice.driven),
                ..Cell::default()
            }
        }
        None => {
            let why = why(&choice.driven).and_then(|run| run.as_ref().err().cloned());
            Cell { word: Some("–".into()), outside: why, ..Cell::default() }
        }
    });
    Finding::new(key, about, scale, cells.collect())
}

fn names(list: &[Choice]) -> Vec<String> {
    list.iter().map(|choice| choice.name.clone()).collect()
}

/// What befell the wheels of a run that its figures hang on.
fn past(run: &Followed) -> Option<String> {
    let flags = &run.as_ref().ok()?.flags;
    let any = |flags: [bool; 4]| flags.iter().any(|f| *f);
    let all = [
        (
            any(flags.locked),
            "a wheel locks on the way: its tyre slides, and the figures after that are a guess",
        ),
        (any(flags.left_road), "a wheel leaves the road on the way"),
        (any(flags.beyond), "a wheel goes farther than its linkage could be followed"),
        (any(flags.outside_load), "a tyre's load is outside the range for which its figures hold"),
        (flags.rack_beyond, "the rack goes farther than it was followed"),
    ];
    let said: Vec<&str> = all.into_iter().filter_map(|(befell, words)| befell.then_some(words)).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

fn stop(units: &UnitSystem, plan: &Plan, list: &[Choice]) -> Group {
    let figure = |pick: fn(&Stop) -> f64| {
        move |d: &Driven| {
            of(&d.stop, |s| match s {
                Summary::Stop(s) => Some(pick(s)),
                _ => None,
            })
        }
    };
    let said = |d: &Driven| past(&d.stop);
    let make = |what, pick: Pick<'_>| row(list, what, pick, &|d| Some(&d.stop), &said);
    let rows = vec![
        make(("manoeuvre-pitch", texts::PITCH, Scale::Angle), &figure(|s| s.pitch)),
        make(("manoeuvre-rear-least", texts::REAR_LEAST, Scale::Force), &figure(|s| s.rear_least)),
        make(("manoeuvre-mean", texts::MEAN, Scale::Acceleration), &figure(|s| s.mean)),
        make(("manoeuvre-greatest", texts::GREATEST, Scale::Acceleration), &figure(|s| s.greatest)),
    ];
    Group {
        title: format!(
            "Straight stop: from {}, brakes for {}",
            speed_words(plan.stop.speed, units),
            in_g(plan.stop.deceleration)
        ),
        columns: names(list),
        rows,
        words: vec!["The figures are of the first seconds of the stop, the pedal held as it is for that deceleration.".into()],
    }
}

/// What the braked turn comes to for one of its decelerations.
fn of_braked(d: &Driven, i: usize, pick: impl Fn(&BrakedTurn) -> f64) -> Option<f64> {
    of(d.braked.get(i)?, |s| match s {
        Summary::BrakedTurn(b) => Some(pick(b)),
        _ => None,
    })
}

fn braked(units: &UnitSystem, plan: &Plan, list: &[Choice]) -> Group {
    let mut rows = Vec::new();
    let mut words = Vec::new();
    for (i, m) in plan.braked.iter().enumerate() {
        let hard = in_g(m.deceleration);
        let said = |d: &Driven| d.braked.get(i).and_then(past);
        let mut add = |what: (&'static str, About, Scale), pick: Pick<'_>| {
            let title = what.1.title;
            rows.push(row(list, what, pick, &|d| d.braked.get(i), &said).named(format!("{title}, {hard}")));
        };
        add(("braked-yaw", texts::YAW_RATIO, Scale::Ratio), &|d| of_braked(d, i, |b| b.yaw_ratio));
        add(("braked-slip", texts::SIDE_SLIP, Scale::Angle), &|d| of_braked(d, i, |b| b.side_slip_most));
        add(("braked-outside", texts::OUTSIDE, Scale::Distance), &|d| of_braked(d, i, |b| b.outside));
    }
    // The hardest brakes tell the choices apart.
    if let Some(hardest) = plan.braked.len().checked_sub(1) {
        words.extend(steadier(units, list, hardest));
    }
    let (radius, across, speed) =
        plan.braked.first().map_or((0.0, 0.0, 0.0), |m| (m.speed * m.speed / m.across, m.across, m.speed));
    Group {
        title: format!(
            "Brakes in a turn: {} radius, {}, {}, the steering held",
            Scale::Distance.whole(radius, units),
            in_g(across),
            speed_words(speed, units)
        ),
        columns: names(list),
        rows,
        words,
    }
}

/// Which choices hold their line better than the first one, by the yaw rate's distance from the circle's.
fn steadier(units: &UnitSystem, list: &[Choice], hardest: usize) -> Vec<String> {
    let turned = |d: &Driven| of_braked(d, hardest, |b| b.yaw_ratio);
    let all = |choice: &Choice| -> Option<Estimate> {
        let samples: Vec<Option<f64>> = choice.samples.iter().map(|s| turned(s.as_ref()?)).collect();
        Some(estimate(turned(&choice.driven)?, &samples))
    };
    let Some((first, rest)) = list.split_first() else { return Vec::new() };
    let Some(base) = all(first) else { return Vec::new() };
    let (mut more, mut less, mut alike) = (Vec::new(), Vec::new(), Vec::new());
    for choice in rest {
        let Some(own) = all(choice) else { continue };
        let (by, doubt) = own.difference(&base);
        let size = Estimate { value: by.abs(), contributions: vec![doubt] };
        let words = format!("{} by {}", choice.name, shown(&size, Scale::Ratio, units).text());
        if doubt > 0.0 && by.abs() <= COVERAGE * doubt {
            alike.push(choice.name.clone());
        } else if by > 0.0 {
            more.push(words);
        } else {
            less.push(words);
        }
    }
    let mut out = Vec::new();
    if !more.is_empty() {
        out.push(format!(
            "Under the hardest brakes these turn in more than {}: {}.",
            first.name,
            more.join("; ")
        ));
    }
    if !less.is_empty() {
        out.push(format!(
            "Under the hardest brakes these turn in less than {}: {}.",
            first.name,
            less.join("; ")
        ));
    }
    if !alike.is_empty() {
        out.push(format!(
            "What is known of the car does not tell {} from {} here.",
            alike.join(", "),
            first.name
        ));
    }
    out
}

fn step(units: &UnitSystem, plan: &Plan, list: &[Choice]) -> Group {
    let figure = |pick: fn(&Response) -> Option<f64>| {
        move |d: &Driven| {
            of(&d.step, |s| match s {
                Summary::Response(r) => pick(r),
                _ => None,
            })
        }
    };
    let said = |d: &Driven| past(&d.step);
    let make = |what, pick: Pick<'_>| row(list, what, pick, &|d| Some(&d.step), &said);
    Group {
        title: format!(
            "Step of the steering: {}, to {}",
            speed_words(plan.step.speed, units),
            in_g(plan.step.across)
        ),
        columns: names(list),
        rows: vec![
            make(("step-rise", texts::RISE, Scale::Time), &figure(|r| r.rise)),
            make(("step-across-rise", texts::ACROSS_RISE, Scale::Time), &figure(|r| r.across_rise)),
            make(("step-overshoot", texts::OVERSHOOT, Scale::Percent), &figure(|r| Some(r.overshoot))),
            make(("step-side-slip", texts::STEP_SLIP, Scale::Angle), &figure(|r| Some(r.side_slip))),
        ],
        words: Vec::new(),
    }
}

fn turn(units: &UnitSystem, plan: &Plan, list: &[Choice]) -> Group {
    let slope = |i: usize| move |d: &Driven| d.slopes.as_ref().ok().and_then(|s| s.get(i).copied());
    let growing = |d: &Driven| -> Option<Turn> {
        of(d.turn.as_ref()?, |s| match s {
            Summary::Turn(t) => Some(*t),
            _ => None,
        })
    };
    let none = |_: &Driven| None;
    let make = |what, pick: Pick<'_>| row(list, what, pick, &|_| None, &none);
    let said = |d: &Driven| d.turn.as_ref().and_then(past);
    let mut rows = vec![
        make(("turn-understeer", texts::UNDERSTEER, Scale::AnglePerAcceleration), &slope(0)),
        make(("turn-roll", texts::ROLL, Scale::AnglePerAcceleration), &slope(1)),
        make(("turn-side-slip", texts::TURN_SLIP, Scale::AnglePerAcceleration), &slope(2)),
        row(
            list,
            ("turn-most", texts::MOST, Scale::Acceleration),
            &|d| growing(d).map(|t| t.greatest),
            &|d| d.turn.as_ref(),
            &said,
        ),
    ];
    let ends = list.iter().map(|choice| {
        Cell::word(match growing(&choice.driven).map(|t| t.limit) {
            Some(Limit::Wide) => "the front",
            Some(Limit::Spins) => "the rear",
            Some(Limit::Tips) => "it tips",
            Some(Limit::None) => "neither yet",
            None => "–",
        })
    });
    rows.push(Finding::new("turn-ends", texts::ENDS, Scale::Ratio, ends.collect()));
    Group {
        title: format!(
            "Steady turn: slopes on a circle of {}, the limit at {}",
            Scale::Distance.whole(plan.circle, units),
            speed_words(plan.step.speed, units)
        ),
        columns: names(list),
        rows,
        words: Vec::new(),
    }
}
