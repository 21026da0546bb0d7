//! Pedal, master cylinders, bias bar, proportioning valve: pedal force to pressure, torque and force at the road.
//!
//! `p = F_pedal ratio efficiency share/A_master`; valve `p_out = min(p, knee) + slope (p - knee)` (R. Limpert, Brake Design
//! and Safety (1992), ch. 5; remembered). No booster.

use crate::brake::foundation::WheelBrake;
use crate::error::{VehicleError, finite, not_negative, positive, within};
use crate::root::root;

/// Greatest pedal force that a driver can be asked for [N]: a strong leg's 1500 N and a margin (own).
pub const GREATEST_PEDAL: f64 = 2000.0;

/// Proportioning valve in the rear line: full pressure up to the knee, then a slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Valve {
    /// Knee [Pa].
    pub knee: f64,
    /// Outlet rise per inlet rise beyond the knee [-].
    pub slope: f64,
}

impl Valve {
    /// Outlet pressure [Pa].
    #[inline]
    pub fn outlet(&self, inlet: f64) -> f64 {
        inlet.min(self.knee) + self.slope * (inlet - self.knee).max(0.0)
    }
}

/// How the pedal's force is shared between the circuits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Split {
    /// Two cylinders on a bias bar; the share of the rod force on the front one [-].
    BiasBar {
        /// Front share.
        front_share: f64,
    },
    /// Tandem cylinder: the same pressure in both circuits, of the front bore.
    Tandem,
}

/// The system.
#[derive(Clone, Debug, PartialEq)]
pub struct System {
    /// Rod force per pedal force [-].
    pub pedal_ratio: f64,
    /// Share that friction leaves [-].
    pub efficiency: f64,
    /// Area of the front master cylinder [m^2].
    pub master_front: f64,
    /// Area of the rear master cylinder [m^2].
    pub master_rear: f64,
    /// Bar or tandem.
    pub split: Split,
    /// One front brake.
    pub front: WheelBrake,
    /// One rear brake.
    pub rear: WheelBrake,
    /// Valve in the rear line.
    pub valve: Option<Valve>,
}

/// What a pedal force does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Applied {
    /// Front line pressure [Pa].
    pub front_pressure: f64,
    /// Rear line pressure before the valve [Pa].
    pub rear_pressure: f64,
    /// Rear pressure at the brakes [Pa].
    pub rear_outlet: f64,
    /// Torque of one front brake [Nm].
    pub front_torque: f64,
    /// Torque of one rear brake [Nm].
    pub rear_torque: f64,
    /// Force of both front tyres if they grip [N].
    pub front_force: f64,
    /// Force of both rear tyres if they grip [N].
    pub rear_force: f64,
    /// Whether a pad left its table.
    pub outside: bool,
}

impl Applied {
    /// Front share of the force [-]; `None` where there is none.
    pub fn front_share(&self) -> Option<f64> {
        let total = self.front_force + self.rear_force;
        if total > 0.0 { Some(self.front_force / total) } else { None }
    }
}

impl System {
    /// # Errors
    /// Parts that no car has; a valve that never opens, or whose knee the greatest pedal force [N] does not reach;
    /// brakes without force.
    pub fn check(&self, greatest_pedal: f64) -> Result<(), VehicleError> {
        within("greatest pedal force", greatest_pedal, 1.0, GREATEST_PEDAL)?;
        positive("pedal ratio", self.pedal_ratio)?;
        within("pedal efficiency", self.efficiency, 0.1, 1.0)?;
        positive("front master cylinder area", self.master_front)?;
        positive("rear master cylinder area", self.master_rear)?;
        if let Split::BiasBar { front_share } = self.split {
            within("bias bar share", front_share, 0.0, 1.0)?;
        }
        self.front.check()?;
        self.rear.check()?;
        let most = self.apply(greatest_pedal, [300.0; 2]);
        finite("brake force", most.front_force + most.rear_force)?;
        if most.front_force + most.rear_force <= 0.0 {
            return Err(VehicleError::NoBrakeForce);
        }
        let Some(valve) = self.valve else { return Ok(()) };
        not_negative("valve knee", valve.knee)?;
        within("valve slope", valve.slope, 0.0, 1.0)?;
        if valve.knee == 0.0 && valve.slope == 0.0 {
            return Err(VehicleError::ValveNeverOpens);
        }
        if valve.knee >= most.rear_pressure {
            return Err(VehicleError::ValveNeverActs { knee: valve.knee, reached: most.rear_pressure });
        }
        Ok(())
    }

    /// From a pedal force [N] and disc temperatures [K] front and rear.
    pub fn apply(&self, pedal: f64, [front_kelvin, rear_kelvin]: [f64; 2]) -> Applied {
        let rod = pedal.max(0.0) * self.pedal_ratio * self.efficiency;
        let (front_pressure, rear_pressure) = match self.split {
            Split::BiasBar { front_share } => {
                (rod * front_share / self.master_front, rod * (1.0 - front_share) / self.master_rear)
            }
            Split::Tandem => (rod / self.master_front, rod / self.master_front),
        };
        self.with_pressures(front_pressure, rear_pressure, [front_kelvin, rear_kelvin])
    }

    /// From line pressures [Pa], the rear one before the valve.
    pub fn with_pressures(&self, front: f64, rear: f64, [front_kelvin, rear_kelvin]: [f64; 2]) -> Applied {
        let rear_outlet = self.valve.map_or(rear, |v| v.outlet(rear));
        let (front_torque, a) = self.front.torque(front, front_kelvin);
        let (rear_torque, b) = self.rear.torque(rear_outlet, rear_kelvin);
        Applied {
            front_pressure: front,
            rear_pressure: rear,
            rear_outlet,
            front_torque,
            rear_torque,
            front_force: 2.0 * front_torque / self.front.loaded_radius,
            rear_force: 2.0 * rear_torque / self.rear.loaded_radius,
            outside: a || b,
        }
    }

    /// Pedal force [N] for a total brake force [N]; `None` beyond [`GREATEST_PEDAL`].
    pub fn pedal_for(&self, total: f64, temperatures: [f64; 2]) -> Option<f64> {
        let miss = |pedal: f64| {
            let a = self.apply(pedal, temperatures);
            a.front_force + a.rear_force - total
        };
        if total <= 0.0 {
            return Some(0.0);
        }
        if miss(GREATEST_PEDAL) < 0.0 { None } else { Some(root(miss, 0.0, GREATEST_PEDAL)) }
    }

    /// The same system with the bar at another share; a tandem cylinder is left as it is.
    #[must_use]
    pub fn with_bias(&self, share: f64) -> Self {
        let split = match self.split {
            Split::BiasBar { .. } => Split::BiasBar { front_share: share },
            Split::Tandem => Split::Tandem,
        };
        Self { split, ..self.clone() }
    }
}

#[cfg(test)]
#[path = "hydraulics_tests.rs"]
pub(crate) mod tests;
