//! The car at a deceleration: loads, ideal share, utilisation, first lock.
//!
//! Axle loads under a deceleration a, with air:
//!
//! ```text
//! N_f = W_f + m a h/L + Z_f - D h_D/L        N_r = W_r - m a h/L + Z_r + D h_D/L
//! ```
//!
//! Brake forces sum to `m a - D`. Ideal: each in proportion to its load (R. Limpert (1992), ch. 7, remembered).
//! Utilisation `f_i = F_i/N_i`: UN R13-H, annex 5, whose curves are for no air (wording read in 71/320/EEC; the same in
//! D. Crolla (ed.), Automotive Engineering (2009), eqs 12.1.61-64, read). Rolling resistance is left out (it helps), and
//! so is the spin of wheels and driveline.

use crate::aero::{Aero, AirForces, FASTEST};
use crate::brake::hydraulics::{GREATEST_PEDAL, System};
use crate::error::{VehicleError, finite, positive, within};
use crate::root::root;
use crate::tyre::Tyre;
use crate::{AxleEnd, GRAVITY};

/// Greatest deceleration that is looked for [m/s^2]: ten g, which no tyre on a road gives.
pub const GREATEST_DECELERATION: f64 = 100.0;

/// Relative difference of both axles' use of grip below which they lock together.
pub const TOGETHER: f64 = 1e-6;

/// Stands for unbounded use of grip, where an axle carries no load.
const UNBOUNDED: f64 = 1e6;

/// What a stop needs of the car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StoppingCar {
    /// Mass [kg].
    pub mass: f64,
    /// Wheelbase [m].
    pub wheelbase: f64,
    /// Distance of the centre of gravity behind the front axle [m].
    pub cg_behind_front: f64,
    /// Height of the centre of gravity [m], at the attitude of the stop where that is known.
    pub cg_height: f64,
    /// Air.
    pub aero: Aero,
}

/// Loads on the axles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleLoads {
    /// Front axle [N].
    pub front: f64,
    /// Rear axle [N]; negative: it leaves the road.
    pub rear: f64,
    /// Drag [N].
    pub drag: f64,
}

/// Use of grip by each axle: force over load [-]; negative where the axle would have to pull at the road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Utilisation {
    /// Front axle.
    pub front: f64,
    /// Rear axle.
    pub rear: f64,
}

/// Grip of the axles when braking.
#[derive(Clone, Copy, Debug)]
pub enum Grip<'a> {
    /// The same friction at any load [-].
    Constant {
        /// Front.
        front: f64,
        /// Rear.
        rear: f64,
    },
    /// Peaks of the tyres, two an axle with equal loads.
    Tyres {
        /// Front.
        front: &'a Tyre,
        /// Rear.
        rear: &'a Tyre,
    },
}

impl Grip<'_> {
    /// Greatest braking force of an axle [N] at its load [N].
    pub fn force(&self, end: AxleEnd, load: f64) -> f64 {
        let load = load.max(0.0);
        match (self, end) {
            (Self::Constant { front, .. }, AxleEnd::Front) => front * load,
            (Self::Constant { rear, .. }, AxleEnd::Rear) => rear * load,
            (Self::Tyres { front, .. }, AxleEnd::Front) => 2.0 * front.braking_peak(load / 2.0).0,
            (Self::Tyres { rear, .. }, AxleEnd::Rear) => 2.0 * rear.braking_peak(load / 2.0).0,
        }
    }

    /// Whether a load is outside a tyre's range.
    pub fn outside(&self, loads: &AxleLoads) -> bool {
        match self {
            Self::Constant { .. } => false,
            Self::Tyres { front, rear } => {
                front.outside_load(loads.front / 2.0) || rear.outside_load(loads.rear / 2.0)
            }
        }
    }
}

/// What the brakes are asked by one number, the effort.
#[derive(Clone, Copy, Debug)]
pub enum Effort<'a> {
    /// A fixed front share of the force; the effort is the total brake force [N].
    Share(f64),
    /// A system at disc temperatures [K]; the effort is the pedal force [N].
    Pedal(&'a System, [f64; 2]),
}

impl Effort<'_> {
    /// Checks what is given here; a [`System`] has a check of its own.
    ///
    /// # Errors
    /// A share outside 0 to 1, or a temperature that no disc has.
    pub fn check(&self) -> Result<(), VehicleError> {
        match self {
            Self::Share(share) => within("front share of braking", *share, 0.0, 1.0).map(drop),
            Self::Pedal(_, temperatures) => {
                temperatures.iter().try_for_each(|t| within("disc temperature", *t, 1.0, 3000.0).map(drop))
            }
        }
    }

    /// Brake force of the front and of the rear axle [N].
    #[inline]
    pub fn forces(&self, effort: f64) -> (f64, f64) {
        match self {
            Self::Share(front) => (effort * front, effort * (1.0 - front)),
            Self::Pedal(system, temperatures) => {
                let a = system.apply(effort, *temperatures);
                (a.front_force, a.rear_force)
            }
        }
    }

    /// Effort for a total brake force [N]; `None` beyond the greatest pedal force.
    pub fn effort_for(&self, total: f64) -> Option<f64> {
        match self {
            Self::Share(_) => Some(total.max(0.0)),
            Self::Pedal(system, temperatures) => system.pedal_for(total, *temperatures),
        }
    }

    fn most(&self, car: &StoppingCar) -> f64 {
        match self {
            Self::Share(_) => car.mass * GREATEST_DECELERATION,
            Self::Pedal(..) => GREATEST_PEDAL,
        }
    }
}

/// The first lock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Deceleration [m/s^2], drag's part included.
    pub deceleration: f64,
    /// Which axle is first; `None` where both lock together.
    pub first: Option<AxleEnd>,
    /// Effort there: pedal force or total force [N].
    pub effort: f64,
    /// Front brake force [N].
    pub front_force: f64,
    /// Rear brake force [N].
    pub rear_force: f64,
    /// Share of each axle's grip in use [-].
    pub use_of_grip: Utilisation,
    /// Loads.
    pub loads: AxleLoads,
    /// False where the greatest pedal force locks nothing: the brakes are the limit.
    pub locks: bool,
    /// Whether a load is outside a tyre's range.
    pub outside: bool,
}

impl StoppingCar {
    /// # Errors
    /// Figures that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        positive("mass", self.mass)?;
        positive("wheelbase", self.wheelbase)?;
        within("distance behind the front axle", self.cg_behind_front, 0.0, self.wheelbase)?;
        positive("height of the centre of gravity", self.cg_height)?;
        self.aero.check()
    }

    fn checked(&self, speed: f64) -> Result<(), VehicleError> {
        self.check()?;
        within("speed", speed, 0.0, FASTEST).map(drop)
    }

    /// Loads at a speed [m/s] and deceleration [m/s^2].
    #[inline]
    pub fn loads(&self, speed: f64, deceleration: f64) -> AxleLoads {
        let AirForces { drag, front, rear, .. } = self.aero.forces(speed);
        let w = self.mass * GRAVITY;
        let moved =
            (self.mass * deceleration * self.cg_height - drag * self.aero.drag_height) / self.wheelbase;
        let rear_share = self.cg_behind_front / self.wheelbase;
        AxleLoads { front: w * (1.0 - rear_share) + moved + front, rear: w * rear_share - moved + rear, drag }
    }

    /// Front share of brake force that uses both axles alike [-].
    pub fn ideal_share(&self, speed: f64, deceleration: f64) -> f64 {
        let l = self.loads(speed, deceleration);
        l.front / (l.front + l.rear)
    }

    /// Use of grip by each axle at a deceleration; `None` where the brakes cannot give it.
    pub fn utilisation(&self, speed: f64, deceleration: f64, effort: &Effort<'_>) -> Option<Utilisation> {
        let l = self.loads(speed, deceleration);
        let total = self.mass * deceleration - l.drag;
        let (front, rear) = effort.forces(effort.effort_for(total)?);
        let over = |force: f64, load: f64| if force == 0.0 { 0.0 } else { force / load };
        Some(Utilisation { front: over(front, l.front), rear: over(rear, l.rear) })
    }

    /// Deceleration from brake forces [m/s^2].
    #[inline]
    pub fn deceleration(&self, speed: f64, front: f64, rear: f64) -> f64 {
        (front + rear + self.aero.forces(speed).drag) / self.mass
    }

    fn use_of_grip(&self, speed: f64, grip: &Grip<'_>, front: f64, rear: f64) -> (Utilisation, AxleLoads) {
        let loads = self.loads(speed, self.deceleration(speed, front, rear));
        let over = |end, force: f64, load: f64| {
            let most = grip.force(end, load);
            // A wheel in the air is locked whether it is braked or not.
            if load <= 0.0 || most <= 0.0 { UNBOUNDED } else { (force / most).min(UNBOUNDED) }
        };
        let front = over(AxleEnd::Front, front, loads.front);
        (Utilisation { front, rear: over(AxleEnd::Rear, rear, loads.rear) }, loads)
    }

    /// Greatest deceleration before a wheel locks (or the rear leaves the road) at a speed [m/s], and what locks.
    ///
    /// # Errors
    /// Figures that no car has, or no brake force.
    pub fn first_lock(
        &self,
        speed: f64,
        grip: &Grip<'_>,
        effort: &Effort<'_>,
    ) -> Result<Limit, VehicleError> {
        self.checked(speed)?;
        if let Grip::Constant { front, rear } = grip {
            within("friction", *front, 0.001, 10.0)?;
            within("friction", *rear, 0.001, 10.0)?;
        }
        effort.check()?;
        let most = effort.most(self);
        let over = |e: f64| {
            let (f, r) = effort.forces(e);
            let (u, _) = self.use_of_grip(speed, grip, f, r);
            u.front.max(u.rear) - 1.0
        };
        // Use of grip rises with effort, so the first crossing is found by doubling.
        let (mut lo, mut hi) = (0.0, most / 1024.0);
        while over(hi) < 0.0 && hi < most {
            lo = hi;
            hi = (2.0 * hi).min(most);
        }
        let locks = over(hi) >= 0.0;
        let at = if locks { root(over, lo, hi) } else { most };
        let (front_force, rear_force) = effort.forces(at);
        if front_force + rear_force <= 0.0 {
            return Err(VehicleError::NoBrakeForce);
        }
        let (u, loads) = self.use_of_grip(speed, grip, front_force, rear_force);
        let first = if (u.front - u.rear).abs() <= TOGETHER {
            None
        } else if u.front > u.rear {
            Some(AxleEnd::Front)
        } else {
            Some(AxleEnd::Rear)
        };
        let deceleration = finite("deceleration", self.deceleration(speed, front_force, rear_force))?;
        let outside = grip.outside(&loads);
        Ok(Limit {
            deceleration,
            first,
            effort: at,
            front_force,
            rear_force,
            use_of_grip: u,
            loads,
            locks,
            outside,
        })
    }
}

#[cfg(test)]
#[path = "limit_tests.rs"]
mod tests;
