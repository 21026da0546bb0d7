//! What other holes do to the balance, one at a time.

use project::model::{Axle, End};
use vehicle::balance::CorneringLimit;

use super::{Case, handling, texts_turn as texts};
use crate::quantity::{About, Scale};
use crate::stage::{Cell, Finding, Group, Stage};
use crate::whole::Whole;

/// What a hole changes: roll centre, roll steer's part, gradient in the turn, limit's balance.
struct Now {
    roll_centres: [f64; 2],
    roll_steer: Option<f64>,
    gradient: Option<f64>,
    limit: Option<CorneringLimit>,
}

fn now(whole: &Whole, lateral: f64) -> Now {
    let rolling = whole.rolling().ok();
    let car = rolling.as_ref().and_then(|rolling| whole.cornering(rolling).ok());
    Now {
        roll_centres: whole.axles.each_ref().map(|axle| axle.measures.roll_centre_height()),
        roll_steer: handling::roll_steer(whole),
        gradient: car.and_then(|car| car.understeer_gradient(lateral).ok()),
        limit: car.and_then(|car| car.limit().ok()),
    }
}

/// A hole that is not in use, and the choice with it.
fn others(axle: &Axle, chosen: &[(End, usize)]) -> Vec<(String, Vec<(End, usize)>)> {
    let point_of = |(end, hole): &(End, usize)| {
        (*end == axle.end).then(|| axle.holes.get(*hole).map(|hole| hole.point)).flatten()
    };
    let mut out = Vec::new();
    for (index, hole) in axle.holes.iter().enumerate() {
        let in_use = chosen.iter().find(|choice| point_of(choice) == Some(hole.point));
        let same = match in_use {
            Some((_, used)) => *used == index,
            None => axle.points.get(hole.point).is_some_and(|point| point.at == hole.at.at),
        };
        if same {
            continue;
        }
        let mut choice: Vec<_> =
            chosen.iter().copied().filter(|choice| point_of(choice) != Some(hole.point)).collect();
        choice.push((axle.end, index));
        let point = axle.scheme.points.get(hole.point).map_or("?", String::as_str);
        out.push((format!("{} {point} in {}", axle.end.name(), hole.name), choice));
    }
    out
}

/// Adds the group of other holes, where the file has any.
pub(super) fn all(case: &Case<'_>, stage: &mut Stage) {
    let lateral = case.asked.lateral;
    let before = now(case.whole, lateral);
    let limit = before.limit;
    let mut columns = Vec::new();
    let mut after = Vec::new();
    for end in [End::Front, End::Rear] {
        let Some(axle) = case.car.car().axle(end) else { continue };
        for (name, choice) in others(axle, case.holes) {
            // A hole that no link reaches is the choice table's to tell.
            if let Ok(whole) = case.car.at(&choice) {
                columns.push(name);
                after.push(now(&whole, lateral));
            }
        }
    }
    if columns.is_empty() {
        return;
    }
    let difference = |of: &dyn Fn(&Now) -> Option<f64>| -> Vec<Cell> {
        let old = of(&before);
        after
            .iter()
            .map(|new| of(new).zip(old).map_or_else(Cell::default, |(new, old)| Cell::plain(new - old)))
            .collect()
    };
    let rows: [(&str, About, Scale, Vec<Cell>); 5] = [
        (
            "hole-front-roll-centre",
            texts::HOLE_FRONT,
            Scale::Length,
            difference(&|n| Some(n.roll_centres[0])),
        ),
        ("hole-rear-roll-centre", texts::HOLE_REAR, Scale::Length, difference(&|n| Some(n.roll_centres[1]))),
        (
            "hole-roll-steer",
            texts::HOLE_ROLL_STEER,
            Scale::AnglePerAcceleration,
            difference(&|n| n.roll_steer),
        ),
        ("hole-gradient", texts::HOLE_GRADIENT, Scale::AnglePerAcceleration, difference(&|n| n.gradient)),
        (
            "hole-balance",
            texts::HOLE_BALANCE,
            Scale::Percent,
            difference(&|n| Some(n.limit?.front / limit?.front - n.limit?.rear / limit?.rear)),
        ),
    ];
    stage.groups.push(Group {
        title: format!("Other holes: change against the holes in use, at {}", case.lateral_text()),
        columns,
        rows: rows
            .into_iter()
            .map(|(key, about, scale, cells)| Finding::new(key, about, scale, cells))
            .collect(),
        words: vec![
            "Springs, bars and toe stay as they are, and the ± of the survey is left out. Holes that raise one end of a \
             forward link change the attitude under the brakes far more than anything here."
                .into(),
        ],
    });
}
