//! Stability at a speed and a longitudinal acceleration, and maps of it.
//!
//! The car runs straight at (v, a_x). Axle loads by statics with air; tyre forces by the brakes' distribution (or the
//! drive's); each axle's cornering stiffness from the tyre at its load, lowered by the longitudinal slip in use; then
//! the single-track model of that instant. A locked axle still resists side slip, for its sliding force turns with the
//! sliding: `C = F` per radian. Straight running: no lateral load transfer, no toe, camber or roll steer.

use crate::AxleEnd;
use crate::aero::FASTEST;
use crate::balance::handling::{LEAST_SPEED, Modes, SingleTrack};
use crate::brake::limit::{AxleLoads, Effort, GREATEST_DECELERATION, Grip, StoppingCar};
use crate::error::{VehicleError, positive, within};
use crate::tyre::Tyre;

/// What the map asks of the car.
#[derive(Clone, Copy, Debug)]
pub struct TrimCar<'a> {
    /// Masses and air.
    pub car: &'a StoppingCar,
    /// Yaw inertia [kg m^2].
    pub yaw_inertia: f64,
    /// Front tyres.
    pub front: &'a Tyre,
    /// Rear tyres.
    pub rear: &'a Tyre,
    /// Brakes.
    pub brakes: Effort<'a>,
    /// Share of the drive at the front [-].
    pub front_drive: f64,
}

/// One point of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trim {
    /// Speed [m/s].
    pub speed: f64,
    /// Longitudinal acceleration [m/s^2], negative when slowing.
    pub acceleration: f64,
    /// Axle loads.
    pub loads: AxleLoads,
    /// Longitudinal force of the front tyres [N], negative when braking.
    pub front_force: f64,
    /// Longitudinal force of the rear tyres [N].
    pub rear_force: f64,
    /// Share of the longitudinal grip in use, front [-]; above 1 it locks or spins.
    pub front_use: f64,
    /// The same at the rear.
    pub rear_use: f64,
    /// Cornering stiffness of the front axle in use [N/rad].
    pub front_stiffness: f64,
    /// Cornering stiffness of the rear axle in use [N/rad].
    pub rear_stiffness: f64,
    /// Rear axle's reserve: side force that it can still make, by the friction ellipse [N].
    pub rear_reserve: f64,
    /// The same as a share of what it could make without longitudinal force [-].
    pub rear_reserve_share: f64,
    /// Understeer gradient [rad/(m/s^2)].
    pub understeer_gradient: f64,
    /// Static margin [-].
    pub static_margin: f64,
    /// Yaw modes.
    pub modes: Modes<f64>,
    /// Axle that locks or spins, the rear if both.
    pub slides: Option<AxleEnd>,
    /// Whether the rear leaves the road, or a load its tyre's range.
    pub outside: bool,
}

/// One axle's answer.
struct AxleState {
    use_of_grip: f64,
    stiffness: f64,
    reserve: f64,
    reserve_share: f64,
}

/// Least cornering stiffness of an axle [N/rad]: of one in the air, so that the model stays defined.
const LEAST_STIFFNESS: f64 = 1.0;

fn axle(tyre: &Tyre, load: f64, force: f64) -> AxleState {
    let each = 0.5 * load.max(0.0);
    let (ask, (most, at)) = (0.5 * force.abs(), tyre.braking_peak(each));
    let side = tyre.lateral_peak(each);
    let use_of_grip = if most > 0.0 {
        ask / most
    } else if ask > 0.0 {
        f64::from(u16::MAX)
    } else {
        0.0
    };
    let stiffness = tyre.stiffness_below_peak(each, ask, (most, at)).unwrap_or(most);
    let share = (1.0 - use_of_grip * use_of_grip).max(0.0).sqrt();
    AxleState {
        use_of_grip,
        stiffness: (2.0 * stiffness).max(LEAST_STIFFNESS),
        reserve: 2.0 * side * share,
        reserve_share: share,
    }
}

impl TrimCar<'_> {
    /// # Errors
    /// Figures that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        self.car.check()?;
        self.brakes.check()?;
        positive("yaw inertia", self.yaw_inertia)?;
        within("front share of the drive", self.front_drive, 0.0, 1.0)?;
        positive("distance behind the front axle", self.car.cg_behind_front)?;
        positive("distance before the rear axle", self.car.wheelbase - self.car.cg_behind_front)?;
        self.front.check()?;
        self.rear.check()
    }

    /// The trimmed state.
    ///
    /// # Errors
    /// Figures that no car has; a deceleration that the brakes cannot give at the greatest pedal force.
    pub fn at(&self, speed: f64, acceleration: f64) -> Result<Trim, VehicleError> {
        self.check()?;
        self.trimmed(speed, acceleration)
    }

    fn trimmed(&self, speed: f64, acceleration: f64) -> Result<Trim, VehicleError> {
        within("speed", speed, LEAST_SPEED, FASTEST)?;
        within("longitudinal acceleration", acceleration, -GREATEST_DECELERATION, GREATEST_DECELERATION)?;
        let car = self.car;
        let loads = car.loads(speed, -acceleration);
        let total = car.mass * acceleration + loads.drag;
        let (front_force, rear_force) = if total < 0.0 {
            let effort = self.brakes.effort_for(-total).ok_or(VehicleError::NoBrakeForce)?;
            let (f, r) = self.brakes.forces(effort);
            (-f, -r)
        } else {
            (total * self.front_drive, total * (1.0 - self.front_drive))
        };
        let front = axle(self.front, loads.front, front_force);
        let rear = axle(self.rear, loads.rear, rear_force);
        let track = SingleTrack {
            mass: car.mass,
            yaw_inertia: self.yaw_inertia,
            front: car.cg_behind_front,
            rear: car.wheelbase - car.cg_behind_front,
            front_stiffness: front.stiffness,
            rear_stiffness: rear.stiffness,
        };
        let grip = Grip::Tyres { front: self.front, rear: self.rear };
        let slides = if rear.use_of_grip > 1.0 {
            Some(AxleEnd::Rear)
        } else if front.use_of_grip > 1.0 {
            Some(AxleEnd::Front)
        } else {
            None
        };
        Ok(Trim {
            speed,
            acceleration,
            loads,
            front_force,
            rear_force,
            front_use: front.use_of_grip,
            rear_use: rear.use_of_grip,
            front_stiffness: front.stiffness,
            rear_stiffness: rear.stiffness,
            rear_reserve: rear.reserve,
            rear_reserve_share: rear.reserve_share,
            understeer_gradient: track.understeer_gradient(),
            static_margin: track.static_margin(),
            modes: track.modes(speed, acceleration)?,
            slides,
            outside: grip.outside(&loads),
        })
    }
}

/// Trimmed states over speeds and longitudinal accelerations, speed by speed; `None` where the brakes cannot give the
/// deceleration.
///
/// # Errors
/// Figures that no car has.
pub fn map(
    car: &TrimCar<'_>,
    speeds: &[f64],
    accelerations: &[f64],
) -> Result<Vec<Option<Trim>>, VehicleError> {
    car.check()?;
    let mut out = Vec::with_capacity(speeds.len() * accelerations.len());
    for &speed in speeds {
        for &acceleration in accelerations {
            out.push(match car.trimmed(speed, acceleration) {
                Ok(trim) => Some(trim),
                Err(VehicleError::NoBrakeForce) => None,
                Err(e) => return Err(e),
            });
        }
    }
    Ok(out)
}

#[cfg(test)]
#[path = "trim_tests.rs"]
mod tests;
