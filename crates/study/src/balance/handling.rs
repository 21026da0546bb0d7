//! Understeer and the limits of the axles.

use suspension::AxleEnd;
use vehicle::balance::SingleTrack;

use super::table::{Table, columns};
use super::{Asked, Case, ENDS, limit_of, roll, texts_turn as texts, wrong};
use crate::estimate::COVERAGE;
use crate::explain::Term;
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group, Stage};
use crate::whole::{Whole, end_name};

/// Single track at standing loads, without air; the yaw inertia does not enter what is asked of it where it is missing.
fn standing(whole: &Whole) -> Option<SingleTrack<f64>> {
    let car = whole.stopping();
    let loads = car.loads(0.0, 0.0);
    let stiffness = |end, load: f64| Some(2.0 * whole.tyre(end).ok()?.cornering_stiffness(0.5 * load));
    Some(SingleTrack {
        mass: car.mass,
        yaw_inertia: whole.loads.yaw.unwrap_or(1.0),
        front: car.cg_behind_front,
        rear: car.wheelbase - car.cg_behind_front,
        front_stiffness: stiffness(AxleEnd::Front, loads.front)?,
        rear_stiffness: stiffness(AxleEnd::Rear, loads.rear)?,
    })
    .filter(|track| track.check().is_ok())
}

/// Roll steer's part of the understeer gradient [rad/(m/s^2)]: `(e_r q_r - e_f q_f) d(roll)/d(a_y)`, e the roll steer of each
/// axle and q the share of the lean that is in its springs rather than its tyres.
pub(super) fn roll_steer(whole: &Whole) -> Option<f64> {
    let (gradient, rolling) = (roll::gradient(whole)?, whole.rolling().ok()?);
    let part = |end: AxleEnd, with_tyres: f64| {
        let (springs, bar) = whole.roll_stiffness(end).ok()?;
        Some(whole.axle(end).measures.roll_steer() * with_tyres / (springs + bar))
    };
    let front = part(AxleEnd::Front, rolling.front.roll_stiffness)?;
    Some((part(AxleEnd::Rear, rolling.rear.roll_stiffness)? - front) * gradient)
}

pub(super) fn figures(whole: &Whole, asked: &Asked) -> Vec<Option<f64>> {
    let track = standing(whole);
    let stated = || {
        let rolling = whole.rolling().ok()?;
        whole.cornering(&rolling).ok()?.understeer_gradient(asked.lateral).ok()
    };
    let limit = limit_of(whole).map(|(limit, _)| limit);
    vec![
        track.map(|t| t.understeer_gradient()),
        stated(),
        roll_steer(whole),
        track.map(|t| t.static_margin()),
        track.and_then(|t| t.characteristic_speed()),
        track.and_then(|t| t.critical_speed()),
        limit.map(|l| l.front),
        limit.map(|l| l.rear),
        limit.map(|l| l.front - l.rear),
    ]
}

pub(super) fn groups(case: &Case<'_>, table: &mut Table<'_>, stage: &mut Stage) {
    for end in ENDS {
        if let Err(lack) = case.whole.tyre(end) {
            stage.lack(lack);
        }
    }
    let mut rows: Vec<Finding> = [
        ("understeer", texts::UNDERSTEER, Scale::AnglePerAcceleration),
        ("understeer-in-turn", texts::UNDERSTEER_STATED, Scale::AnglePerAcceleration),
        ("understeer-roll-steer", texts::ROLL_STEER, Scale::AnglePerAcceleration),
        ("static-margin", texts::MARGIN, Scale::Percent),
        ("characteristic-speed", texts::CHARACTERISTIC, Scale::Speed),
        ("critical-speed", texts::CRITICAL, Scale::Speed),
    ]
    .into_iter()
    .map(|row| table.row(row, 1))
    .collect();
    let limits = table.row(("lateral-limit", texts::LIMIT, Scale::Acceleration), 3);
    if let Some(track) = standing(case.whole) {
        for row in rows.iter_mut().filter(|row| ["understeer", "static-margin"].contains(&row.key)) {
            row.terms = terms(case, &track);
        }
        let words = understeer_words(case, &mut rows);
        stage.groups.push(Group { title: "Understeer".into(), columns: columns(&[""]), rows, words });
    }
    limit_group(case, limits, stage);
}

/// What goes into the single track.
fn terms(case: &Case<'_>, track: &SingleTrack<f64>) -> Vec<Term> {
    vec![
        case.term("m", "mass, ready to run", track.mass, Scale::Mass),
        case.term("L", "wheelbase", track.wheelbase(), Scale::Length),
        case.term("a", "centre of gravity behind the front axle", track.front, Scale::Length),
        case.term("b", "centre of gravity before the rear axle", track.rear, Scale::Length),
        case.term("C_f", "front axle, both tyres", track.front_stiffness, Scale::CorneringStiffness),
        case.term("C_r", "rear axle, both tyres", track.rear_stiffness, Scale::CorneringStiffness),
    ]
}

/// What the figures mean, and marks where they mean little.
fn understeer_words(case: &Case<'_>, rows: &mut [Finding]) -> Vec<String> {
    let of = |key: &str, rows: &[Finding]| {
        rows.iter().find(|row| row.key == key).and_then(|row| row.cells.first()?.estimate.clone())
    };
    let Some(gradient) = of("understeer", rows) else { return Vec::new() };
    let neutral = gradient.value.abs() <= COVERAGE * gradient.uncertainty();
    for row in rows.iter_mut().filter(|row| ["characteristic-speed", "critical-speed"].contains(&row.key)) {
        row.cells = std::mem::take(&mut row.cells)
            .into_iter()
            .map(|cell| match cell.estimate {
                Some(_) => cell.marked(neutral, "the gradient may be zero within its ±"),
                None => Cell::word("none"),
            })
            .collect();
    }
    let mut words = vec![if neutral {
        "Neutral as far as the ± can tell: the car needs the same steering angle for a bend at any speed."
            .to_string()
    } else if gradient.value > 0.0 {
        "Understeer: the faster a bend is taken, the more steering it needs; a car left alone steadies itself at any speed."
            .to_string()
    } else {
        "Oversteer: the faster a bend is taken, the less steering it needs, and beyond the critical speed the car turns \
         round unless it is steered against."
            .to_string()
    }];
    if let Some(part) = of("understeer-roll-steer", rows) {
        let sense = if part.value > 0.0 { "steadies" } else { "frees" };
        words.push(format!(
            "Roll steer of the links {sense} by {} on top of that; the model of the tyres does not have it. Give of \
             bushes and steering is in neither.",
            case.text(part.value.abs(), Scale::AnglePerAcceleration)
        ));
    }
    words
}

fn limit_group(case: &Case<'_>, mut limits: Finding, stage: &mut Stage) {
    let whole = case.whole;
    let limit = whole.rolling().and_then(|rolling| whole.cornering(&rolling)?.limit().map_err(wrong));
    let limit = match limit {
        Ok(limit) => limit,
        Err(lack) => return stage.lack(lack),
    };
    let apart = limits.cells.get(2).and_then(|cell| cell.estimate.as_ref());
    let alike = apart.is_some_and(|e| e.value.abs() <= COVERAGE * e.uncertainty());
    let (word, words) = match limit.first {
        None => ("both", "Both axles give up together.".to_string()),
        Some(AxleEnd::Front) => (
            "front",
            "The front gives up first: past the limit the car runs wide, and slowing brings it back."
                .to_string(),
        ),
        Some(AxleEnd::Rear) => (
            "rear",
            "The rear gives up first: past the limit the car turns round unless it is caught.".to_string(),
        ),
    };
    limits.cells = std::mem::take(&mut limits.cells)
        .into_iter()
        .map(|cell| {
            cell.marked(
                limit.outside,
                "an inner wheel lifts, or a load leaves the range of the tyre's figures, before this",
            )
        })
        .collect();
    let first = Finding::new(
        "gives-up-first",
        texts::FIRST,
        Scale::Ratio,
        vec![Cell::default(), Cell::default(), Cell::word(word)],
    );
    let mut words = vec![words];
    if alike && limit.first.is_some() {
        let name = limit.first.map_or("", end_name);
        words.push(format!(
            "But the two limits are closer than their ± can tell apart: the {name} is a guess until the tyres are better \
             known. Their friction is the least sure figure."
        ));
    }
    stage.groups.push(Group {
        title: "Limit in a steady turn".into(),
        columns: columns(&["front", "rear", "front less rear"]),
        rows: vec![limits, first],
        words,
    });
}
