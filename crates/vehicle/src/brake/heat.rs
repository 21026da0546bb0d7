//! Disc temperature, lumped: one temperature a disc.
//!
//! ```text
//! m c dT/dt = share heat - A h(v) (T - T_air) - A eps sigma (T^4 - T_air^4)
//! ```
//!
//! Convection of a solid disc (R. Limpert, Brake Design and Safety (1992), ch. 3; remembered): `h = 0.04 (k/D) Re^0.8`
//! above Re = 2.4e5, `0.70 (k/D) Re^0.55` below, `Re = v D rho/mu`; the two do not quite meet (a fifth apart). A vented
//! disc gets a stated multiple. *An estimate*: the surface is hotter than the lump during a stop by 100 K and more, and
//! airflow about a disc differs from car to car by a factor of two. Not modelled: conduction into hub, pad and fluid.

use crate::aero::{Aero, FASTEST};
use crate::error::{VehicleError, not_negative, positive, within};

/// Stefan-Boltzmann constant [W/(m^2 K^4)] (SI, remembered).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Conductivity of air [W/(m K)], its density [kg/m^3] and viscosity [Pa s] near 300 K (remembered tables).
const AIR: (f64, f64, f64) = (0.026, 1.18, 1.85e-5);

/// Reynolds number between Limpert's two formulas.
const TURBULENT: f64 = 2.4e5;

/// Longest step of the integration [s]: a tenth of a percent of any disc's time constant.
pub const LONGEST_STEP: f64 = 0.05;

/// Shortest time constant of a disc [s]; a lump that cools faster is no disc, and the steps would not be stable.
pub const SHORTEST_TIME_CONSTANT: f64 = 1.0;

/// Longest sequence [s]: a day's session.
pub const LONGEST_SEQUENCE: f64 = 20_000.0;

/// Hottest disc [K]: iron is about to melt, and no lump means anything.
pub const HOTTEST: f64 = 1500.0;

/// Heaviest car that a disc is asked to slow [kg].
const HEAVIEST: f64 = 1e5;

/// How a disc cools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cooling {
    /// Not at all.
    None,
    /// A heat transfer coefficient at rest [W/(m^2 K)] and its rise with speed [W/(m^2 K) per m/s], measured or wished.
    Linear {
        /// At rest.
        still: f64,
        /// Per speed.
        rise: f64,
    },
    /// Limpert's solid disc of an outer diameter [m], times a factor for vents (1 solid, about 2 vented: remembered).
    Rotating {
        /// Outer diameter.
        diameter: f64,
        /// Factor.
        vents: f64,
    },
}

impl Cooling {
    /// Heat transfer coefficient at a speed [W/(m^2 K)].
    pub fn coefficient(&self, speed: f64) -> f64 {
        match *self {
            Self::None => 0.0,
            Self::Linear { still, rise } => still + rise * speed,
            Self::Rotating { diameter, vents } => {
                let (conductivity, density, viscosity) = AIR;
                let reynolds = speed * diameter * density / viscosity;
                let nusselt =
                    if reynolds > TURBULENT { 0.04 * reynolds.powf(0.8) } else { 0.70 * reynolds.powf(0.55) };
                vents * nusselt * conductivity / diameter
            }
        }
    }
}

/// A disc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Mass [kg].
    pub mass: f64,
    /// Specific heat [J/(kg K)]; iron about 460.
    pub specific_heat: f64,
    /// Area that cools [m^2].
    pub area: f64,
    /// Emissivity [-].
    pub emissivity: f64,
    /// Convection.
    pub cooling: Cooling,
}

/// How much of the car's energy goes into this disc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heating {
    /// Mass that is slowed, with what spins [kg].
    pub mass: f64,
    /// Share of the brake force made at this disc [-]: half the axle's share.
    pub share: f64,
    /// Share of its heat that goes into the disc rather than the pads [-]; 0.9 to 0.99 for iron (remembered).
    pub into_disc: f64,
    /// Air: what drag takes does not heat the disc.
    pub aero: Aero,
    /// Temperature of the air [K].
    pub air: f64,
}

/// A piece of a sequence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Phase {
    /// A stop at a constant deceleration [m/s^2].
    Stop {
        /// Speed at its start [m/s].
        from: f64,
        /// Speed at its end [m/s].
        to: f64,
        /// Deceleration.
        deceleration: f64,
    },
    /// Off the brakes for a time [s], speed changing evenly [m/s].
    Run {
        /// Duration.
        time: f64,
        /// Speed at its start.
        from: f64,
        /// Speed at its end.
        to: f64,
    },
}

/// Temperature of a phase [K].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhaseHeat {
    /// At its start.
    pub start: f64,
    /// Highest.
    pub peak: f64,
    /// At its end.
    pub end: f64,
    /// Duration [s].
    pub time: f64,
    /// Heat put in [J].
    pub heat_in: f64,
    /// Heat given off [J].
    pub heat_out: f64,
}

impl Disc {
    fn check(&self, heating: &Heating) -> Result<(), VehicleError> {
        positive("disc mass", self.mass)?;
        positive("specific heat", self.specific_heat)?;
        not_negative("disc area", self.area)?;
        within("emissivity", self.emissivity, 0.0, 1.0)?;
        match self.cooling {
            Cooling::None => {}
            Cooling::Linear { still, rise } => {
                not_negative("cooling at rest", still)?;
                not_negative("cooling rise", rise)?;
            }
            Cooling::Rotating { diameter, vents } => {
                within("disc diameter", diameter, 0.05, 1.0)?;
                within("vent factor", vents, 0.1, 10.0)?;
            }
        }
        within("mass", heating.mass, 1.0, HEAVIEST)?;
        within("share of braking", heating.share, 0.0, 1.0)?;
        within("share into the disc", heating.into_disc, 0.0, 1.0)?;
        within("air temperature", heating.air, 200.0, 350.0)?;
        heating.aero.check()?;
        // Radiation is steepest at the hottest.
        let fastest = self.area
            * (self.cooling.coefficient(FASTEST)
                + 4.0 * self.emissivity * STEFAN_BOLTZMANN * HOTTEST.powi(3));
        let capacity = self.mass * self.specific_heat;
        if capacity < SHORTEST_TIME_CONSTANT * fastest {
            return Err(VehicleError::OutOfRange {
                name: "disc heat capacity",
                value: capacity,
                least: SHORTEST_TIME_CONSTANT * fastest,
                most: crate::LARGEST,
            });
        }
        Ok(())
    }

    /// Rise with all heat kept: `share m_eq (v1^2 - v2^2)/2 into / (m c)` [K], drag left out. The upper bound of a stop.
    pub fn adiabatic_rise(&self, heating: &Heating, from: f64, to: f64) -> f64 {
        heating.share * heating.into_disc * heating.mass * (from * from - to * to)
            / (2.0 * self.mass * self.specific_heat)
    }

    /// Heat given off [W].
    fn lost(&self, kelvin: f64, air: f64, speed: f64) -> f64 {
        let radiated = self.emissivity * STEFAN_BOLTZMANN * (kelvin.powi(4) - air.powi(4));
        self.area * (self.cooling.coefficient(speed) * (kelvin - air) + radiated)
    }

    /// Temperatures over a sequence, from a start [K].
    ///
    /// # Errors
    /// A disc, or a sequence, that is none; a disc that passes [`HOTTEST`].
    pub fn over(
        &self,
        heating: &Heating,
        start: f64,
        phases: &[Phase],
    ) -> Result<Vec<PhaseHeat>, VehicleError> {
        self.check(heating)?;
        within("start temperature", start, 200.0, HOTTEST)?;
        let mut kelvin = start;
        let mut total = 0.0;
        let mut out = Vec::with_capacity(phases.len());
        for (i, phase) in phases.iter().enumerate() {
            let (time, from, to, deceleration) = match *phase {
                Phase::Stop { from, to, deceleration } => {
                    within("deceleration", deceleration, 0.1, 100.0)?;
                    within("final speed", to, 0.0, from)?;
                    ((from - to) / deceleration, from, to, Some(deceleration))
                }
                Phase::Run { time, from, to } => {
                    within("final speed", to, 0.0, FASTEST)?;
                    (within("time", time, 0.0, LONGEST_SEQUENCE)?, from, to, None)
                }
            };
            within("speed", from, 0.0, FASTEST)?;
            total += time;
            within("length of the sequence", total, 0.0, LONGEST_SEQUENCE)?;
            let heat = self
                .phase(heating, kelvin, (time, from, to), deceleration)
                .ok_or(VehicleError::DiscTooHot { phase: i + 1 })?;
            kelvin = heat.end;
            out.push(heat);
        }
        Ok(out)
    }

    /// Classical Runge-Kutta of fourth order over one phase, of temperature and heat given off.
    fn phase(
        &self,
        heating: &Heating,
        start: f64,
        (time, from, to): (f64, f64, f64),
        deceleration: Option<f64>,
    ) -> Option<PhaseHeat> {
        let steps = (time / LONGEST_STEP).ceil().max(1.0);
        let dt = time / steps;
        let capacity = self.mass * self.specific_heat;
        let speed = |t: f64| if time > 0.0 { (from + (to - from) * t / time).max(0.0) } else { from };
        let power = |t: f64| {
            let v = speed(t);
            deceleration.map_or(0.0, |a| {
                let braking = (heating.mass * a - heating.aero.forces(v).drag).max(0.0);
                heating.share * heating.into_disc * braking * v
            })
        };
        let lost = |t: f64, kelvin: f64| self.lost(kelvin, heating.air, speed(t));
        let rate = |t: f64, kelvin: f64| (power(t) - lost(t, kelvin)) / capacity;
        let (mut kelvin, mut peak, mut heat_in) = (start, start, 0.0);
        for i in 0..steps as usize {
            let t = i as f64 * dt;
            let k1 = rate(t, kelvin);
            let k2 = rate(t + dt / 2.0, kelvin + dt / 2.0 * k1);
            let k3 = rate(t + dt / 2.0, kelvin + dt / 2.0 * k2);
            let k4 = rate(t + dt, kelvin + dt * k3);
            heat_in += dt / 6.0 * (power(t) + 4.0 * power(t + dt / 2.0) + power(t + dt));
            kelvin += dt / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
            peak = peak.max(kelvin);
            if kelvin.is_nan() || kelvin > HOTTEST {
                return None;
            }
        }
        let heat_out = heat_in - capacity * (kelvin - start);
        Some(PhaseHeat { start, peak, end: kelvin, time, heat_in, heat_out })
    }
}

#[cfg(test)]
#[path = "heat_tests.rs"]
mod tests;
