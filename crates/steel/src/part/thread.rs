//! Screw threads of 60 degrees, metric and inch.

use std::f64::consts::{FRAC_PI_4, PI};

use super::figure::positive;
use crate::error::SteelError;

/// A thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Outer diameter [m].
    pub diameter: f64,
    /// Pitch [m].
    pub pitch: f64,
    /// Pitches taken off the diameter for the stress area [-].
    stress_depth: f64,
}

impl Thread {
    /// A metric thread (ISO 261) by diameter and pitch [m].
    pub fn metric(diameter: f64, pitch: f64) -> Self {
        Self { diameter, pitch, stress_depth: 0.938_194 }
    }

    /// An inch thread (ASME B1.1) by diameter [m] and threads an inch.
    pub fn unified(diameter: f64, threads_per_inch: f64) -> Self {
        Self { diameter, pitch: 0.0254 / threads_per_inch, stress_depth: 0.9743 }
    }

    /// Stress area [m^2]: `pi/4 (d - 0.938194 p)^2` (ISO 898-1; read) or `0.7854 (D - 0.9743/n)^2` (ASME B1.1; remembered).
    pub fn stress_area(&self) -> f64 {
        FRAC_PI_4 * (self.diameter - self.stress_depth * self.pitch).powi(2)
    }

    /// Diameter at the root [m]: `d - 1.226869 p` (ISO 724; read). Inch threads have the same profile; their rounded roots
    /// are a little shallower.
    pub fn core(&self) -> f64 {
        self.diameter - 1.226_869 * self.pitch
    }

    /// Area at the root [m^2].
    pub fn core_area(&self) -> f64 {
        FRAC_PI_4 * self.core().powi(2)
    }

    /// Section modulus at the root [m^3].
    pub fn core_modulus(&self) -> f64 {
        PI * self.core().powi(3) / 32.0
    }

    /// Refuses a thread without a core.
    pub(super) fn sane(&self) -> Result<(), SteelError> {
        positive("the diameter of the thread", self.diameter)?;
        positive("the pitch of the thread", self.pitch)?;
        positive("the core of the thread", self.core())?;
        Ok(())
    }
}
