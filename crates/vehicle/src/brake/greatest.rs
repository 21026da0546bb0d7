//! The greatest deceleration that the tyres could give, whatever the brakes.
//!
//! With both axles at their peaks `P_f(N_f)`, `P_r(N_r)`, and loads as in [`super::limit`]:
//!
//! ```text
//! m a = P_f(N_f(a)) + P_r(N_r(a)) + D
//! ```
//!
//! With the same friction at any load this is `a = mu (g + Z/m) + D/m`. It ends where the rear leaves the road, at
//! `a = N_r(0) L/(m h)`.

use crate::AxleEnd;
use crate::aero::FASTEST;
use crate::brake::limit::{GREATEST_DECELERATION, Grip, StoppingCar};
use crate::error::{VehicleError, within};
use crate::root::root;

impl StoppingCar {
    /// Greatest deceleration \[m/s^2\] at a speed \[m/s\] with both axles at their peaks, drag's part included: what brakes
    /// shared as well as can be would give. No more than that at which the rear leaves the road.
    ///
    /// # Errors
    /// Figures that no car has.
    pub fn greatest_deceleration(&self, speed: f64, grip: &Grip<'_>) -> Result<f64, VehicleError> {
        self.check()?;
        within("speed", speed, 0.0, FASTEST)?;
        let left = |a: f64| {
            let loads = self.loads(speed, a);
            let most = grip.force(AxleEnd::Front, loads.front) + grip.force(AxleEnd::Rear, loads.rear);
            self.deceleration(speed, most, 0.0) - a
        };
        let lifts = self.loads(speed, 0.0).rear * self.wheelbase / (self.mass * self.cg_height);
        let most = lifts.clamp(0.0, GREATEST_DECELERATION);
        Ok(if left(most) >= 0.0 { most } else { root(left, 0.0, most) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::GRAVITY;
    use crate::aero::Aero;
    use crate::brake::limit::Effort;

    const CAR: StoppingCar = StoppingCar {
        mass: 1100.0,
        wheelbase: 2.6,
        cg_behind_front: 1.2,
        cg_height: 0.45,
        aero: Aero { density: 1.225, drag_area: 0.8, drag_height: 0.5, front_area: 0.3, rear_area: 0.6 },
    };
    const SPEED: f64 = 50.0;
    const GRIP: Grip<'static> = Grip::Constant { front: 1.2, rear: 1.2 };

    /// The closed form, and brakes of the ideal share, which reach it; every other share reaches less.
    #[test]
    fn what_ideal_brakes_reach() {
        let air = CAR.aero.forces(SPEED);
        let expect = 1.2 * (GRAVITY + (air.front + air.rear) / CAR.mass) + air.drag / CAR.mass;
        let found = CAR.greatest_deceleration(SPEED, &GRIP).unwrap();
        assert!((found - expect).abs() < 1e-9 * expect, "{found} {expect}");
        let reached = |share: f64| CAR.first_lock(SPEED, &GRIP, &Effort::Share(share)).unwrap().deceleration;
        let ideal = CAR.ideal_share(SPEED, found);
        assert!((reached(ideal) - found).abs() < 1e-6 * found);
        for share in [ideal - 0.1, ideal + 0.1] {
            assert!(reached(share) < found, "{share}");
        }
    }

    /// High and sticky: it ends where the rear carries nothing, `g b/h` without air.
    #[test]
    fn the_rear_leaves_the_road() {
        let high = StoppingCar { cg_height: 1.2, aero: Aero::NONE, ..CAR };
        let found = high.greatest_deceleration(0.0, &GRIP).unwrap();
        assert!((found - GRAVITY * 1.2 / 1.2).abs() < 1e-9, "{found}");
        assert!(high.greatest_deceleration(-1.0, &GRIP).is_err());
    }
}
