//! Height of the centre of gravity from scales with one end raised.
//!
//! Statics of the tilted car. X counts from the low axle toward the raised one, Z up, in the car's own axes; a tilt
//! `theta` takes (X, Z) to the horizontal distance `X cos - Z sin`. A wheel that can roll, on a level pad, presses
//! straight down through its own centre, whatever its radius. Moments about the low wheel centre:
//!
//! ```text
//! W (a cos - (h' - Z_l) sin) = N_r (L cos - (Z_r - Z_l) sin)
//! ```
//!
//! with a the distance of the centre of gravity from the low axle, `Z_l`, `Z_r` the heights of the wheel centres in
//! the car's axes, `N_r` the load under the raised end. With equal radii and locked suspension this is the trade's
//! `h = R + (dN/W) L cot(theta)`. For unequal radii W. Milliken & D. Milliken (1995), ch. 18 (remembered) take the
//! axle line's height at the centre of gravity, `R_f b/L + R_r a/L`; the exact term has the share under the raised
//! end *when raised* instead of level: millimetres apart at most.
//!
//! Assumes: level floor; fuel and driver do not move; axle readings are of both wheels; links pass the along-car part
//! of the load straight through (no anti-dive or anti-lift jacking; it vanishes with locked suspension).

use linkage::scalar::{Real, constant};

use super::raised::{Lift, Raised, RaisedReading, Springing, Squash};
use crate::GRAVITY;
use crate::error::{VehicleError, not_negative, within};
use suspension::AxleEnd;

/// Least tilt [rad], half a degree: below it a scale's last digit moves the height by decimetres (own).
pub const LEAST_TILT: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// Greatest tilt [rad]: 45 deg, beyond which no workshop lifts a car and fluids are elsewhere (own).
pub const GREATEST_TILT: f64 = std::f64::consts::FRAC_PI_4;

/// Iterations for a tilt that depends on spring travel that depends on the tilt. Each gains one to two digits on any
/// real spring.
pub const MOST_ITERATIONS: usize = 60;

/// Change of tilt at which the iteration ends [rad].
pub const TILT_TOLERANCE: f64 = 1e-13;

/// What the raised weighing says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilted<T> {
    /// Height of the centre of gravity above the ground, car level [m].
    pub height: T,
    /// Tilt of the body [rad].
    pub tilt: T,
    /// Mass that moved onto the low end [kg].
    pub moved: T,
    /// Rise of the low wheels in the body (jounce positive) [m].
    pub low_travel: T,
    /// Rise of the raised wheels in the body [m].
    pub raised_travel: T,
}

/// One end of the car as the formula sees it.
struct Side<T> {
    level: T,
    now: T,
    radius: T,
    tyre: Option<T>,
    spring: Option<(T, T)>,
}

impl<T: Real> Side<T> {
    /// Loss of loaded radius by the changed load [m].
    fn squash(&self) -> T {
        self.tyre.map_or(constant(0.0), |rate| (self.now - self.level) * GRAVITY / (rate * 2.0))
    }

    /// Travel of the wheels in the body at a tilt [m]: the spring carries the sprung load's part along the body's z.
    fn travel(&self, cos: T) -> T {
        self.spring.map_or(constant(0.0), |(rate, unsprung)| {
            ((self.now - unsprung) * cos - (self.level - unsprung)) * GRAVITY / rate
        })
    }
}

impl<T: Real> Raised<T> {
    fn sides(&self) -> (Side<T>, Side<T>) {
        let mass = self.front_mass + self.rear_mass;
        let low_now = match self.reading {
            RaisedReading::Low(low) => low,
            RaisedReading::Raised(raised) => mass - raised,
            RaisedReading::Both { low, raised } => (low + mass - raised) / 2.0,
        };
        let (tyre_f, tyre_r) = match self.squash {
            Squash::Rigid => (None, None),
            Squash::Rates { front, rear } => (Some(front), Some(rear)),
        };
        let (spring_f, spring_r) = match self.springing {
            Springing::Locked => (None, None),
            Springing::Free { front_rate, rear_rate, front_unsprung, rear_unsprung } => {
                (Some((front_rate, front_unsprung)), Some((rear_rate, rear_unsprung)))
            }
        };
        let front_low = self.end == AxleEnd::Rear;
        let side = |is_low: bool, level, radius, tyre, spring| Side {
            level,
            now: if is_low { low_now } else { mass - low_now },
            radius,
            tyre,
            spring,
        };
        let front = side(front_low, self.front_mass, self.front_radius, tyre_f, spring_f);
        let rear = side(!front_low, self.rear_mass, self.rear_radius, tyre_r, spring_r);
        if front_low { (front, rear) } else { (rear, front) }
    }

    /// The height.
    ///
    /// # Errors
    /// Figures that no car has; readings that disagree with the level mass; all wheels held; less than
    /// [`LEAST_TILT`]; a lift that the wheelbase does not allow.
    pub fn solve(&self) -> Result<Tilted<T>, VehicleError> {
        self.check()?;
        let (low, raised) = self.sides();
        let tilt = self.tilt(&low, &raised)?;
        if tilt.re() < LEAST_TILT {
            return Err(VehicleError::NoLift { angle_deg: tilt.re().to_degrees() });
        }
        within("tilt", tilt.re(), LEAST_TILT, GREATEST_TILT)?;

        let (sin, cos) = tilt.sin_cos();
        let (c_low, c_raised) = (low.travel(cos), raised.travel(cos));
        let (z_low, z_raised) = (low.radius + c_low, raised.radius + c_raised);
        let mass = low.level + raised.level;
        let a = self.wheelbase * raised.level / mass;
        // W (a cos - (h' - z_low) sin) = N_r (L cos - (z_raised - z_low) sin), solved for h'.
        let share = raised.now / mass;
        let tilted_height = z_low + (a - share * self.wheelbase) * cos / sin + share * (z_raised - z_low);
        // h' holds the wheels where they are now; put them back to level: unsprung masses move by their travel.
        let shift = self.unsprung(&low) * c_low + self.unsprung(&raised) * c_raised;
        Ok(Tilted {
            height: tilted_height - shift / mass,
            tilt,
            moved: low.now - low.level,
            low_travel: c_low,
            raised_travel: c_raised,
        })
    }

    fn unsprung(&self, side: &Side<T>) -> T {
        side.spring.map_or(constant(0.0), |(_, unsprung)| unsprung)
    }

    /// Tilt of the body: the raised wheel centre is `c` above the low one,
    /// `L sin + (Z_r - Z_l) cos = c`, so `theta = asin(c/sqrt(L^2 + dZ^2)) - atan(dZ/L)`.
    fn tilt(&self, low: &Side<T>, raised: &Side<T>) -> Result<T, VehicleError> {
        let (lift, on_pads) = match self.lift {
            Lift::Angle(angle) => {
                within("tilt", angle.re(), 0.0, GREATEST_TILT)?;
                return Ok(angle);
            }
            Lift::Pads(lift) => (lift, true),
            Lift::Hubs(lift) => (lift, false),
        };
        not_negative("lift", lift.re())?;
        let sunk = if on_pads { raised.squash() } else { constant(0.0) };
        let rise = raised.radius - low.radius + lift - sunk + low.squash();
        let no_tilt = VehicleError::NoTilt { lift: lift.re() };
        let mut tilt = constant::<T>(0.0);
        let mut settled = false;
        for _ in 0..MOST_ITERATIONS {
            let cos = tilt.cos();
            let dz = raised.radius + raised.travel(cos) - low.radius - low.travel(cos);
            let sine = rise / (self.wheelbase * self.wheelbase + dz * dz).sqrt();
            if !sine.re().is_finite() || sine.re().abs() >= 1.0 {
                return Err(no_tilt);
            }
            let next = sine.asin() - dz.atan2(self.wheelbase);
            let step = (next - tilt).re().abs();
            tilt = next;
            // One round more once settled: the derivative follows the value one round behind.
            if settled {
                return Ok(tilt);
            }
            settled = step <= TILT_TOLERANCE;
        }
        Err(no_tilt)
    }
}

#[cfg(test)]
#[path = "height_tests.rs"]
mod tests;
