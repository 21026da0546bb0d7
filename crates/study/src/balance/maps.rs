//! Maps of stability over speed and deceleration, by the car's own brakes.

use vehicle::GRAVITY;
use vehicle::balance::{Trim, map};

use super::{Case, wrong};
use crate::quantity::Scale;
use crate::stage::{ChartAxis, Map, Stage};
use crate::whole::Lack;

/// Points along speed and along deceleration.
const SPEEDS: u32 = 24;
const DECELERATIONS: u32 = 16;

/// Slowest speed [m/s]: 40 km/h, below which no car is unsteady.
const SLOWEST: f64 = 40.0 / 3.6;

/// Fastest speed where the stop does not ask for more [m/s]: 200 km/h (own).
const FASTEST: f64 = 200.0 / 3.6;

/// Part of the stop's first speed up to which the map goes [-] (own).
const BEYOND: f64 = 1.25;

/// Greatest deceleration where the first lock is not known [m/s^2]: 1.2 g (own).
const HARDEST: f64 = 1.2 * GRAVITY;

/// Part of the deceleration of the first lock up to which the map goes [-]: what lies beyond it is to be seen (own).
const PAST_LOCK: f64 = 1.15;

/// Fastest speed of maps and curves [m/s].
pub(super) fn fastest(case: &Case<'_>) -> f64 {
    let wanted = (BEYOND * case.car.car().stop.from).max(FASTEST);
    wanted.min(vehicle::aero::FASTEST)
}

pub(super) fn all(case: &Case<'_>, stage: &mut Stage) {
    match both(case) {
        Ok(maps) => stage.maps.extend(maps),
        Err(lack) => stage.lack(lack),
    }
}

fn between(from: f64, to: f64, count: u32) -> Vec<f64> {
    (0..count).map(|i| from + (to - from) * f64::from(i) / f64::from(count - 1)).collect()
}

fn both(case: &Case<'_>) -> Result<[Map; 3], Lack> {
    let car = case.whole.stopping();
    let trim = case.whole.trim(&car)?;
    let lock =
        |speed: f64| Some(car.first_lock(speed, &case.whole.grip().ok()?, &trim.brakes).ok()?.deceleration);
    let speeds = between(SLOWEST, fastest(case), SPEEDS);
    let ends = [SLOWEST, fastest(case)].map(lock);
    let most = ends.into_iter().flatten().map(|a| PAST_LOCK * a).fold(f64::NAN, f64::max);
    let most = if most.is_finite() { most } else { HARDEST };
    let decelerations = between(0.0, most, DECELERATIONS);
    let slowing: Vec<_> = decelerations.iter().map(|a| -a).collect();
    let states = map(&trim, &speeds, &slowing).map_err(wrong)?;
    // From speed by speed to deceleration by deceleration.
    let values = |of: &dyn Fn(&Trim) -> Option<f64>| -> Vec<Option<f64>> {
        (0..decelerations.len())
            .flat_map(|row| (0..speeds.len()).map(move |column| column * DECELERATIONS as usize + row))
            .map(|index| states.get(index)?.as_ref().and_then(of))
            .collect()
    };
    let axis = |label: &str, scale| ChartAxis { label: label.into(), scale };
    let one = |key, title: &str, words: &str, of: ChartAxis, values, borders: &[(f64, &str)]| Map {
        key,
        title: title.into(),
        words: words.into(),
        x: axis("speed", Scale::Speed),
        y: axis("deceleration", Scale::Acceleration),
        of,
        xs: speeds.clone(),
        ys: decelerations.clone(),
        values,
        borders: borders.iter().map(|(at, word)| (*at, (*word).to_string())).collect(),
    };
    Ok([
        one(
            "stability",
            "static margin over speed and deceleration",
            "How far the neutral point lies behind the centre of gravity, in shares of the wheelbase: above zero a side push \
             at the centre of gravity turns the car away from it, and it comes back. Braking takes load and side stiffness \
             from the rear, so it falls as the car slows harder. Blank: the brakes cannot slow it so.",
            axis("static margin", Scale::Percent),
            values(&|t| Some(t.static_margin)),
            &[(0.0, "neutral")],
        ),
        one(
            "rear-reserve",
            "side grip left at the rear over speed and deceleration",
            "Share of the rear tyres' side grip that their braking leaves. At zero the rear is locked and steers nothing.",
            axis("side grip left", Scale::Percent),
            values(&|t| Some(t.rear_reserve_share)),
            &[(0.0, "rear locks"), (0.5, "half")],
        ),
        one(
            "divergence",
            "growth of a yaw disturbance over speed and deceleration",
            "Rate of the slower yaw mode (or of the swinging pair), per second: below zero a disturbance dies, above it \
             grows. Straight running, of the frozen instant: a rate of 1 is a factor of 2.7 in a second if the state lasted \
             that long.",
            axis("growth per second", Scale::Ratio),
            values(&|t| Some(t.modes.real[0])),
            &[(0.0, "unstable above")],
        ),
    ])
}
