//! What the car can do: greatest lateral acceleration, and greatest and least longitudinal acceleration while turning,
//! over speed.
//!
//! For a speed and a pair of accelerations the platform gives the load and inclination of every tyre, with the air at the
//! attitude that the car takes. The yaw moment is in balance: the axles' side forces hold the car on its line and leave no
//! moment, that of unequal longitudinal forces left and right included,
//!
//! ```text
//! Y_f L = m a_y b - M_x        Y_r L = m a_y a + M_x        M_x = sum -y_i X_i
//! ```
//!
//! with `a`, `b` the distances of the centre of gravity from the axles, so this is a steady turn on the verge of what the
//! tyres give, not a spin. Each tyre's greatest forces together form an ellipse of its peaks along and across,
//! `(X/X_m)^2 + (Y/Y_m)^2 = 1` (exact for the simple tyre; H. Pacejka, Tyre and Vehicle Dynamics, 2nd ed. (2006), ch. 1,
//! remembered). Brakes press left and right alike: where the inner wheel cannot take its half, it slides and the outer one
//! must give the rest. What slip angles cost along is taken off: `sum Y_i sin(alpha_i)`.
//!
//! Where a wheel leaves the road its tyre gives nothing and the others carry the car. Where the car would tip over before
//! its tyres slide, tipping is the limit. The lateral limit is that of a turn at constant speed.
//!
//! Left out: rise of forces in time (the run is quasi-steady), toe (both wheels of an axle are taken at their best slip
//! angle together), the engine's own inertia and braking. Left and right turns are mirror images.

#![allow(
    clippy::indexing_slicing,
    reason = "four wheels, two axles, grids of known size: indices run over arrays of that length"
)]

mod attitude;
mod axle;
mod cores;
mod driver;
mod edge;
mod surface;

use thiserror::Error;

use crate::brake::Effort;
use crate::error::{VehicleError, not_negative, within};
use crate::platform::{Car, PlatformError};
use crate::power::Power;
use crate::tyre::Tyre;

pub use attitude::Detail;
pub use driver::{Driver, Held};
pub use edge::{Edge, Look};
pub use surface::{Limits, Surface};

/// Rolling resistance of a road tyre on good asphalt, per load [-] (T. Gillespie (1992), ch. 4: 0.01 to 0.015;
/// remembered).
pub const ROLLING: f64 = 0.015;

/// Greatest change of ride height that is taken for one [m] (own).
const HIGHEST: f64 = 0.2;

/// A car whose limits are looked for.
#[derive(Clone, Debug)]
pub struct LimitCar<'c> {
    /// The car on its wheels; its front share of braking is set by the brakes below.
    pub car: Car<'c>,
    /// Front and rear tyres.
    pub tyres: [&'c Tyre; 2],
    /// What the pedal asks of the axles.
    pub brakes: Effort<'c>,
    /// What pushes; without it nothing but the tyres limits the drive.
    pub power: Option<&'c Power>,
    /// Rolling resistance per load [-].
    pub rolling: f64,
    /// Yaw inertia [kg m^2].
    pub yaw_inertia: f64,
    /// Inertia of one wheel of each axle about its axis [kg m^2]: it has to be spun up too.
    pub spin_inertia: [f64; 2],
    /// What the driver keeps in hand under braking; `None` for the car's own limit.
    pub driver: Option<Driver>,
    /// How much higher than at ride height the body stands at rest, front and rear [m].
    pub ride: [f64; 2],
}

/// Why limits cannot be found.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LimitError {
    /// The car does not stand.
    #[error(transparent)]
    Platform(#[from] PlatformError),
    /// A figure that no car has.
    #[error(transparent)]
    Figure(#[from] VehicleError),
    /// There is no speed at which it can run.
    #[error("the tyres and brakes give no limit: the car slides or tips where it stands")]
    Nothing,
}

impl LimitCar<'_> {
    /// # Errors
    /// Figures that no car has.
    pub fn check(&self) -> Result<(), LimitError> {
        self.brakes.check()?;
        for tyre in self.tyres {
            tyre.check()?;
        }
        if let Some(power) = self.power {
            power.check()?;
        }
        within("rolling resistance", self.rolling, 0.0, 0.5)?;
        not_negative("yaw inertia", self.yaw_inertia)?;
        for inertia in self.spin_inertia {
            not_negative("spin inertia of a wheel", inertia)?;
        }
        if let Some(driver) = &self.driver {
            driver.check()?;
        }
        for rise in self.ride {
            within("change of ride height", rise, -HIGHEST, HIGHEST)?;
        }
        Ok(())
    }
}
