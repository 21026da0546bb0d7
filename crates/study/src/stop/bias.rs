//! Where to set the bias bar.

use project::model::End;
use vehicle::brake::bias::locks_together;

use super::limit::{SLOWEST, speed_words};
use super::{LOAD_RANGE, parts, texts};
use crate::quantity::Scale;
use crate::stage::{Cell, Finding, Group};
use crate::whole::{Lack, Scope, Whole, WholeCar, wrong};

/// The setting at which both axles lock together at a speed.
fn together(whole: &Whole, speed: f64) -> Option<vehicle::brake::bias::BiasRow> {
    let (grip, effort) = (whole.grip().ok()?, whole.effort().ok()?);
    let (system, temperatures) = parts(&effort)?;
    locks_together(&whole.stopping(), system, temperatures, &grip, speed).ok().flatten()
}

pub(super) fn group(car: &WholeCar, whole: &Whole, holes: &[(End, usize)]) -> Result<Group, Lack> {
    let stop = &car.car().stop;
    let (grip, effort) = (whole.grip()?, whole.effort()?);
    let Some((system, temperatures)) = parts(&effort) else {
        return Err(Lack {
            what: "there is no bias bar to set: the file has the share of braking alone".into(),
            hint: "write `[pedal]`, `[front.disc]` and `[rear.disc]`".into(),
        });
    };
    let vehicle::brake::Split::BiasBar { front_share } = system.split else {
        return Err(Lack {
            what: "there is no bias bar to set: the cylinder is a tandem one".into(),
            hint: "write `front-master`, `rear-master` and `bias` in `[pedal]` if there is a bar".into(),
        });
    };
    let speeds = [stop.from, stop.to.max(SLOWEST)];
    let mut cells = Vec::new();
    let mut nominal = Vec::new();
    for speed in speeds {
        let found =
            car.estimates(holes, Scope::Figures, |whole| [together(whole, speed).map(|row| row.bar_share)])?;
        let row = locks_together(&whole.stopping(), system, temperatures, &grip, speed).map_err(wrong)?;
        let [estimate] = found;
        cells.push(match row {
            Some(row) => Cell::of(car, estimate.clone()).marked(row.limit.outside, LOAD_RANGE),
            None => Cell::word("one axle is first at every setting"),
        });
        nominal.extend(row.and(estimate));
    }
    let units = &car.car().units;
    let words = nominal
        .iter()
        .max_by(|a, b| a.value.total_cmp(&b.value))
        .map(|most| {
            let (settle, doubt) = (100.0 * most.value, 100.0 * most.uncertainty());
            let safe = settle + 2.0 * doubt;
            let now = 100.0 * front_share;
            let verdict = if now >= safe {
                "The bar stands on the safe side of it"
            } else if now >= settle {
                "The bar stands on the right side, by less than twice the ±"
            } else {
                "The bar stands too far to the rear"
            };
            format!(
                "So that the front locks first at both speeds the bar wants more than {settle:.1} %; with twice the ±, \
                 {safe:.1} %. {verdict}, at {now:.1} %. Begin there, on an empty place, and go toward the rear in small \
                 steps until it locks no sooner."
            )
        })
        .into_iter()
        .collect();
    Ok(Group {
        title: format!("Bias bar, now {:.1} % on the front cylinder", 100.0 * front_share),
        columns: speeds.iter().map(|speed| format!("at {}", speed_words(*speed, units))).collect(),
        rows: vec![Finding::new("bias-together", texts::TOGETHER, Scale::Percent, cells)],
        words,
    })
}
