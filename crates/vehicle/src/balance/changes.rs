//! What single changes do to the balance: how to free a car that was made stable, or the other way about.
//!
//! Each change is made by itself and the whole is worked out anew; nothing is linearised, and effects do not add up
//! exactly.

use crate::AxleEnd;
use crate::balance::cornering::CorneringCar;
use crate::error::{VehicleError, finite, within};

/// One change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Roll stiffness of an axle (bar or springs) times a factor.
    RollStiffness(AxleEnd, f64),
    /// Roll centre of an axle raised [m].
    RollCentre(AxleEnd, f64),
    /// Friction of an axle's tyres times a factor: compound.
    Friction(AxleEnd, f64),
    /// Stiffness of an axle's tyres times a factor: pressure, width, construction.
    TyreStiffness(AxleEnd, f64),
}

/// What it does: new less old.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// The change.
    pub change: Change,
    /// Understeer gradient about the stated lateral acceleration [rad/(m/s^2)]; negative: freer.
    pub gradient: f64,
    /// Lateral limit of the front axle [m/s^2].
    pub front_limit: f64,
    /// Lateral limit of the rear axle [m/s^2].
    pub rear_limit: f64,
    /// Whether the changed car leaves a tyre's load range or lifts a wheel before its limit.
    pub outside: bool,
}

impl Effect {
    /// Change of the limit's balance [m/s^2]: positive frees the car (the front holds on longer than the rear).
    pub fn freed(&self) -> f64 {
        self.front_limit - self.rear_limit
    }
}

/// Effects of changes, one by one, on a car about a lateral acceleration [m/s^2].
///
/// # Errors
/// Figures that no car has, before or after a change; a factor outside 0.1 to 10.
pub fn effects(
    car: &CorneringCar<'_>,
    lateral: f64,
    changes: &[Change],
) -> Result<Vec<Effect>, VehicleError> {
    finite("lateral acceleration", lateral)?;
    let (gradient, limit) = (car.understeer_gradient(lateral)?, car.limit()?);
    changes
        .iter()
        .map(|&change| {
            let mut rolling = *car.rolling;
            let (mut front, mut rear) = (car.front.clone(), car.rear.clone());
            match change {
                Change::RollStiffness(end, factor) => {
                    within("roll stiffness factor", factor, 0.1, 10.0)?;
                    let axle = if end == AxleEnd::Front { &mut rolling.front } else { &mut rolling.rear };
                    axle.roll_stiffness *= factor;
                }
                Change::RollCentre(end, rise) => {
                    within("rise of the roll centre", rise, -1.0, 1.0)?;
                    let axle = if end == AxleEnd::Front { &mut rolling.front } else { &mut rolling.rear };
                    axle.roll_centre += rise;
                }
                Change::Friction(end, factor) | Change::TyreStiffness(end, factor) => {
                    within("tyre factor", factor, 0.1, 10.0)?;
                    let tyre = if end == AxleEnd::Front { &mut front } else { &mut rear };
                    let friction = matches!(change, Change::Friction(..));
                    *tyre = if friction { tyre.scaled(factor, 1.0) } else { tyre.scaled(1.0, factor) };
                }
            }
            let changed = CorneringCar { rolling: &rolling, front: &front, rear: &rear };
            let new = changed.limit()?;
            Ok(Effect {
                change,
                gradient: changed.understeer_gradient(lateral)? - gradient,
                front_limit: new.front - limit.front,
                rear_limit: new.rear - limit.rear,
                outside: new.outside,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::balance::transfer::tests::barton;
    use crate::common::tyres;
    use crate::tyre::{SimpleTyre, Tyre};

    fn tyre() -> Tyre {
        Tyre::Simple(SimpleTyre {
            friction_x: 1.1,
            friction_y: 1.1,
            load_sensitivity: 0.2,
            ..tyres::simple()
        })
    }

    /// Directions that every text gives (W. Milliken & D. Milliken (1995), ch. 7 and 12, remembered): rear roll stiffness
    /// frees, front roll stiffness pushes, front friction frees at the limit only, front tyre stiffness frees below it
    /// only; no change, no effect.
    #[test]
    fn directions() {
        let (t, rolling) = (tyre(), barton());
        let car = CorneringCar { rolling: &rolling, front: &t, rear: &t };
        let (f, r) = (AxleEnd::Front, AxleEnd::Rear);
        let e = effects(
            &car,
            5.0,
            &[
                Change::RollStiffness(r, 1.3),
                Change::RollStiffness(f, 1.3),
                Change::Friction(f, 1.05),
                Change::TyreStiffness(f, 1.1),
                Change::RollCentre(r, 0.05),
                Change::RollStiffness(r, 1.0),
            ],
        )
        .unwrap();
        assert!(e[0].freed() > 0.0 && e[0].gradient < 0.0);
        assert!(e[1].freed() < 0.0 && e[1].gradient > 0.0);
        assert!(e[2].freed() > 0.0 && e[2].gradient == 0.0);
        assert!(e[3].freed() == 0.0 && e[3].gradient < 0.0);
        assert!(e[4].freed() > 0.0);
        assert!(e[5].freed() == 0.0 && e[5].gradient == 0.0);
    }

    /// Without lateral acceleration the gradient is the single-track model's with the tyres' own stiffness (limit).
    #[test]
    fn gradient_of_the_plain_model() {
        let (t, rolling) = (tyre(), barton());
        let car = CorneringCar { rolling: &rolling, front: &t, rear: &t };
        let (mf, mr) = (1280.0 * 0.54 + 140.0, 1280.0 * 0.46 + 180.0);
        let each = |m: f64| 2.0 * t.cornering_stiffness(0.5 * m * crate::GRAVITY);
        let expected: f64 = mf / each(mf) - mr / each(mr);
        assert!((car.understeer_gradient(0.0).unwrap() - expected).abs() < 1e-15);
        let track = crate::balance::SingleTrack {
            mass: mf + mr,
            yaw_inertia: 1000.0,
            front: 2.5 * mr / (mf + mr),
            rear: 2.5 * mf / (mf + mr),
            front_stiffness: each(mf),
            rear_stiffness: each(mr),
        };
        assert!((track.understeer_gradient() - expected).abs() < 1e-15);
    }

    #[test]
    fn absurd_changes_are_refused() {
        let (t, rolling) = (tyre(), barton());
        let car = CorneringCar { rolling: &rolling, front: &t, rear: &t };
        assert!(effects(&car, 5.0, &[Change::Friction(AxleEnd::Front, f64::NAN)]).is_err());
        assert!(effects(&car, 5.0, &[Change::RollStiffness(AxleEnd::Front, 0.0)]).is_err());
    }
}
