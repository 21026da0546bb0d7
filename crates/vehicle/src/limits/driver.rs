//! What a driver keeps in hand while braking.
//!
//! A car's own limit uses all that the rear axle has. No driver brakes so: he keeps some side grip at the rear for the
//! moment when the road or his hand is not as expected, and slows less where the tail answers loosely. Two shares, declared
//! in the file, say how much; steadiness under the brakes pays in time through these alone:
//!
//! ```text
//! (Y_m(X) - |Y|) / Y_m(0)  >=  rear reserve           side force that the rear could still make, of what it could
//!                                                     make at these loads without braking
//! (a^2 C_f + b^2 C_r) / (a^2 C_f0 + b^2 C_r0)  >=  yaw damping     against straight running at the same speed
//! ```
//!
//! `C` are the axles' cornering stiffnesses at the slip in use, `C_0` those of straight free running; both dampings have
//! the same `I_z v` under them (single-track model: [`crate::balance::SingleTrack`]), so it falls out of the share. The two
//! rules are ours; how large a driver's shares are is his own affair: calibrate them with a logger.

use crate::error::{VehicleError, within};

/// The shares that a driver keeps in hand while braking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driver {
    /// Share of the rear axle's side grip that is kept [-].
    pub rear_reserve: f64,
    /// Share of the yaw damping of free running that is kept [-].
    pub yaw_damping: f64,
}

/// Which of the two ends the braking first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// The rear axle's reserve.
    RearReserve,
    /// The yaw damping.
    YawDamping,
}

impl Driver {
    /// # Errors
    /// Shares that are none, or that leave nothing to brake with.
    pub fn check(&self) -> Result<(), VehicleError> {
        within("share of the rear reserve kept in hand", self.rear_reserve, 0.0, 0.95)?;
        within("share of the yaw damping kept in hand", self.yaw_damping, 0.0, 0.95)?;
        Ok(())
    }
}
