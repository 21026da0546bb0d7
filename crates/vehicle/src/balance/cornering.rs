//! Limit balance: which axle gives up first in a steady turn.
//!
//! Each axle must carry its share of the car's lateral inertia, `m_i a_y`, with what its two tyres give at their loads
//! after load transfer. Friction that falls with load makes an axle weaker, the more load it moves (W. Milliken & D.
//! Milliken (1995), ch. 7, remembered). No longitudinal force, no camber, no air.

use crate::balance::transfer::RollingCar;
use crate::error::{VehicleError, positive};
use crate::root::root;
use crate::tyre::Tyre;
use crate::{AxleEnd, GRAVITY};

/// Greatest lateral acceleration that is looked for [m/s^2].
pub const GREATEST_LATERAL: f64 = 50.0;

/// A car for a steady turn.
#[derive(Clone, Copy, Debug)]
pub struct CorneringCar<'a> {
    /// Masses, stiffnesses and roll centres.
    pub rolling: &'a RollingCar<f64>,
    /// Front tyres.
    pub front: &'a Tyre,
    /// Rear tyres.
    pub rear: &'a Tyre,
}

/// The limit in a steady turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CorneringLimit {
    /// Lateral acceleration that the front axle can carry [m/s^2].
    pub front: f64,
    /// Lateral acceleration that the rear axle can carry [m/s^2].
    pub rear: f64,
    /// The axle that gives up first; `None` where they are alike to a thousandth.
    pub first: Option<AxleEnd>,
    /// Whether an inner wheel leaves the road, or a load its tyre's range, before that.
    pub outside: bool,
}

impl CorneringCar<'_> {
    /// Limit of each axle.
    ///
    /// # Errors
    /// Figures that no car has.
    pub fn limit(&self) -> Result<CorneringLimit, VehicleError> {
        self.rolling.at(0.0)?;
        self.front.check()?;
        self.rear.check()?;
        let (front_mass, rear_mass) = self.axle_masses();
        let (front, front_outside) = self.axle(AxleEnd::Front, positive("front axle mass", front_mass)?);
        let (rear, rear_outside) = self.axle(AxleEnd::Rear, positive("rear axle mass", rear_mass)?);
        let first = if (front / rear - 1.0).abs() < 1e-3 {
            None
        } else if front < rear {
            Some(AxleEnd::Front)
        } else {
            Some(AxleEnd::Rear)
        };
        Ok(CorneringLimit { front, rear, first, outside: front_outside || rear_outside })
    }

    /// Mass that each axle carries [kg].
    fn axle_masses(&self) -> (f64, f64) {
        let c = self.rolling;
        let front = c.sprung_mass * c.front_share + c.front.unsprung_mass;
        (front, c.sprung_mass * (1.0 - c.front_share) + c.rear.unsprung_mass)
    }

    /// Understeer gradient about a lateral acceleration [rad/(m/s^2)]: `m_f/C_f - m_r/C_r`, each axle's stiffness the sum
    /// of its tyres' at their loads there. An axle that moves more load loses stiffness where stiffness bends over load.
    /// The tyres' own fall of slope with slip is left out: for the limit see [`Self::limit`].
    ///
    /// # Errors
    /// Figures that no car has.
    pub fn understeer_gradient(&self, lateral: f64) -> Result<f64, VehicleError> {
        let t = self.rolling.at(lateral)?;
        let (front_mass, rear_mass) = self.axle_masses();
        let stiffness = |tyre: &Tyre, mass: f64, moved: f64| {
            let half = 0.5 * mass * GRAVITY;
            let over = moved.clamp(-half, half);
            positive(
                "axle cornering stiffness",
                tyre.cornering_stiffness(half + over) + tyre.cornering_stiffness(half - over),
            )
        };
        let front = front_mass / stiffness(self.front, front_mass, t.front.total())?;
        Ok(front - rear_mass / stiffness(self.rear, rear_mass, t.rear.total())?)
    }

    fn axle(&self, end: AxleEnd, mass: f64) -> (f64, bool) {
        let tyre = if end == AxleEnd::Front { self.front } else { self.rear };
        let half = 0.5 * mass * GRAVITY;
        let moved = |a: f64| {
            self.rolling
                .at(a)
                .map_or(0.0, |t| if end == AxleEnd::Front { t.front.total() } else { t.rear.total() })
        };
        let spare = |a: f64| {
            // Once the inner wheel is off, the outer one has it all.
            let over = moved(a).clamp(-half, half);
            tyre.lateral_peak(half + over) + tyre.lateral_peak(half - over) - mass * a
        };
        let at = root(spare, 0.0, GREATEST_LATERAL);
        let over = moved(at);
        let outside = over.abs() > half || tyre.outside_load(half + over) || tyre.outside_load(half - over);
        (at, outside)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::balance::transfer::tests::barton;
    use crate::common::tyres;
    use crate::tyre::SimpleTyre;

    fn tyre(load_sensitivity: f64) -> Tyre {
        Tyre::Simple(SimpleTyre { friction_x: 1.1, friction_y: 1.1, load_sensitivity, ..tyres::simple() })
    }

    /// Without load sensitivity both axles reach mu g, however the load moves (limit, own).
    #[test]
    fn even_friction_gives_mu_g() {
        let t = tyre(0.0);
        let l = CorneringCar { rolling: &barton(), front: &t, rear: &t }.limit().unwrap();
        assert!((l.front - 1.1 * GRAVITY).abs() < 1e-9 && (l.rear - 1.1 * GRAVITY).abs() < 1e-9);
        assert_eq!(l.first, None);
    }

    /// A stiffer front bar takes grip from the front and gives it to the rear (own).
    #[test]
    fn a_stiffer_front_bar_understeers() {
        let t = tyre(0.2);
        let soft = barton();
        let mut stiff = soft;
        stiff.front.roll_stiffness += 10_000.0;
        let of = |c: &RollingCar<f64>| CorneringCar { rolling: c, front: &t, rear: &t }.limit().unwrap();
        assert!(of(&stiff).front < of(&soft).front && of(&stiff).rear > of(&soft).rear);
    }
}
