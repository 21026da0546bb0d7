//! What to set the bar to: rows for a chart and a table.

use crate::AxleEnd;
use crate::aero::FASTEST;
use crate::brake::hydraulics::System;
use crate::brake::limit::{Effort, Grip, Limit, StoppingCar, Utilisation};
use crate::error::{VehicleError, within};
use crate::root::root;

/// One setting of the bar at one speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BiasRow {
    /// Speed [m/s].
    pub speed: f64,
    /// Share of the rod force on the front cylinder [-].
    pub bar_share: f64,
    /// First lock there; its effort is the pedal force [N].
    pub limit: Limit,
}

/// One deceleration of the utilisation curves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Deceleration [m/s^2].
    pub deceleration: f64,
    /// Use of grip, force over load [-]; `None` where the brakes cannot give the deceleration.
    pub utilisation: Option<Utilisation>,
    /// Front share that would use both axles alike [-].
    pub ideal_share: f64,
    /// Front share that the brakes give [-].
    pub actual_share: Option<f64>,
}

/// First lock over settings and speeds, speed by speed.
///
/// # Errors
/// Figures that no car has.
pub fn bias_chart(
    car: &StoppingCar,
    system: &System,
    temperatures: [f64; 2],
    grip: &Grip<'_>,
    speeds: &[f64],
    bar_shares: &[f64],
) -> Result<Vec<BiasRow>, VehicleError> {
    let mut rows = Vec::with_capacity(speeds.len() * bar_shares.len());
    for &speed in speeds {
        for &bar_share in bar_shares {
            within("bias bar share", bar_share, 0.0, 1.0)?;
            let set = system.with_bias(bar_share);
            let limit = car.first_lock(speed, grip, &Effort::Pedal(&set, temperatures))?;
            rows.push(BiasRow { speed, bar_share, limit });
        }
    }
    Ok(rows)
}

/// The bar setting at which both axles lock together at a speed, with its limit; a little more to the front keeps the
/// front first. `None` where one axle is first at every setting, or where the brakes lock nothing.
///
/// # Errors
/// Figures that no car has.
pub fn locks_together(
    car: &StoppingCar,
    system: &System,
    temperatures: [f64; 2],
    grip: &Grip<'_>,
    speed: f64,
) -> Result<Option<BiasRow>, VehicleError> {
    // Not quite the ends: there one circuit is empty.
    const ENDS: (f64, f64) = (0.01, 0.99);
    let limit = |share: f64| {
        let set = system.with_bias(share);
        car.first_lock(speed, grip, &Effort::Pedal(&set, temperatures))
    };
    let lead = |l: &Limit| l.use_of_grip.front - l.use_of_grip.rear;
    let (low, high) = (limit(ENDS.0)?, limit(ENDS.1)?);
    if lead(&low) >= 0.0 || lead(&high) <= 0.0 {
        return Ok(None);
    }
    let mut fault = None;
    let bar_share = root(
        |share| match limit(share) {
            Ok(l) => lead(&l),
            Err(e) => {
                fault = Some(e);
                0.0
            }
        },
        ENDS.0,
        ENDS.1,
    );
    if let Some(e) = fault {
        return Err(e);
    }
    let limit = limit(bar_share)?;
    Ok(if limit.locks { Some(BiasRow { speed, bar_share, limit }) } else { None })
}

/// Utilisation and shares at decelerations [m/s^2].
///
/// # Errors
/// Figures that no car has.
pub fn curves(
    car: &StoppingCar,
    effort: &Effort<'_>,
    speed: f64,
    decelerations: &[f64],
) -> Result<Vec<CurvePoint>, VehicleError> {
    car.check()?;
    within("speed", speed, 0.0, FASTEST)?;
    effort.check()?;
    decelerations
        .iter()
        .map(|&deceleration| {
            within("deceleration", deceleration, 0.0, super::limit::GREATEST_DECELERATION)?;
            let total = car.mass * deceleration - car.aero.forces(speed).drag;
            let share = |(f, r): (f64, f64)| if f + r > 0.0 { Some(f / (f + r)) } else { None };
            Ok(CurvePoint {
                deceleration,
                utilisation: car.utilisation(speed, deceleration, effort),
                ideal_share: car.ideal_share(speed, deceleration),
                actual_share: effort.effort_for(total).and_then(|e| share(effort.forces(e))),
            })
        })
        .collect()
}

/// First deceleration of the curves at which the rear uses more grip than the front: from there the rear locks first.
pub fn rear_first_from(points: &[CurvePoint]) -> Option<f64> {
    let rear_leads = |u: Utilisation| u.rear > u.front || u.rear < 0.0;
    points.iter().find(|p| p.utilisation.is_some_and(rear_leads)).map(|p| p.deceleration)
}

/// Front share of the force over pedal forces [N].
pub fn share_by_pedal(system: &System, temperatures: [f64; 2], pedals: &[f64]) -> Vec<(f64, Option<f64>)> {
    pedals.iter().map(|&p| (p, system.apply(p, temperatures).front_share())).collect()
}

/// Which axle locks first at each speed, driver at the verge.
///
/// # Errors
/// Figures that no car has.
pub fn lock_order(
    car: &StoppingCar,
    grip: &Grip<'_>,
    effort: &Effort<'_>,
    speeds: &[f64],
) -> Result<Vec<(f64, Option<AxleEnd>, f64)>, VehicleError> {
    speeds.iter().map(|&v| car.first_lock(v, grip, effort).map(|l| (v, l.first, l.deceleration))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::GRAVITY;
    use crate::aero::Aero;
    use crate::brake::hydraulics::tests::system;

    fn car(aero: Aero) -> StoppingCar {
        StoppingCar { mass: 1000.0, wheelbase: 2.5, cg_behind_front: 1.2, cg_height: 0.5, aero }
    }

    /// Where both lock together the front share is the ideal one, and no other setting stops shorter (own).
    #[test]
    fn the_best_setting() {
        let (c, s) = (car(Aero::NONE), system());
        let grip = Grip::Constant { front: 1.1, rear: 1.1 };
        let best = locks_together(&c, &s, [300.0; 2], &grip, 30.0).unwrap().unwrap();
        let l = best.limit;
        assert!((l.deceleration - 1.1 * GRAVITY).abs() < 1e-6);
        let share = l.front_force / (l.front_force + l.rear_force);
        assert!((share - c.ideal_share(30.0, l.deceleration)).abs() < 1e-9);
        let shares: Vec<f64> = (1..20).map(|i| f64::from(i) / 20.0).collect();
        for row in bias_chart(&c, &s, [300.0; 2], &grip, &[30.0], &shares).unwrap() {
            assert!(row.limit.deceleration <= l.deceleration + 1e-9);
            let expect = if row.bar_share < best.bar_share { AxleEnd::Rear } else { AxleEnd::Front };
            if row.limit.locks {
                assert_eq!(row.limit.first, Some(expect));
            }
        }
    }

    /// Rear downforce moves the lock order over speed: rear first when slow, front first when fast (own).
    #[test]
    fn order_over_speed() {
        let c = car(Aero { density: 1.2, drag_area: 0.0, drag_height: 0.0, front_area: 0.0, rear_area: 2.5 });
        let grip = Grip::Constant { front: 1.0, rear: 1.0 };
        let order = lock_order(&c, &grip, &Effort::Share(0.66), &[5.0, 70.0]).unwrap();
        assert_eq!((order[0].1, order[1].1), (Some(AxleEnd::Rear), Some(AxleEnd::Front)));
    }

    #[test]
    fn curves_cross_at_the_ideal() {
        let c = car(Aero::NONE);
        let z: Vec<f64> = (1..=100).map(|i| f64::from(i) * 0.01 * GRAVITY).collect();
        let points = curves(&c, &Effort::Share(0.7), 0.0, &z).unwrap();
        // Equal use at z0 = (x_f - P1/P)/(h/E) = (0.7 - 0.52)/0.2.
        let from = rear_first_from(&points).unwrap() / GRAVITY;
        assert!((from - 0.9).abs() < 0.0101, "{from}");
    }
}
