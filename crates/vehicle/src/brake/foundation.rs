//! What makes torque at a wheel: pads, calipers, discs, or a measured gain.
//!
//! Clamp `p A` of one side's pistons, torque `2 mu p A r_e` a caliper (R. Limpert, Brake Design and Safety (1992), ch. 5;
//! remembered).

use crate::error::{VehicleError, not_negative, positive, within};

/// Friction of a pad over temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Pad {
    /// Temperature [K] and friction [-], temperature rising.
    rows: Vec<(f64, f64)>,
}

/// Friction at a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PadState {
    /// Friction [-].
    pub friction: f64,
    /// Whether the temperature is outside the table: the nearest row is used.
    pub outside: bool,
}

impl Pad {
    /// From rows of temperature [K] and friction [-].
    ///
    /// # Errors
    /// No rows, rows out of order, or friction outside 0.01 to 2.
    pub fn new(rows: Vec<(f64, f64)>) -> Result<Self, VehicleError> {
        let rising = rows.iter().zip(rows.iter().skip(1)).all(|(a, b)| a.0 < b.0);
        if rows.is_empty() || !rising {
            return Err(VehicleError::TableOrder { name: "pad friction" });
        }
        for (t, mu) in &rows {
            within("pad temperature", *t, 1.0, 3000.0)?;
            within("pad friction", *mu, 0.01, 2.0)?;
        }
        Ok(Self { rows })
    }

    /// The same friction at every temperature.
    ///
    /// # Errors
    /// Friction outside 0.01 to 2.
    pub fn steady(friction: f64) -> Result<Self, VehicleError> {
        within("pad friction", friction, 0.01, 2.0)?;
        Ok(Self { rows: vec![(1.0, friction), (3000.0, friction)] })
    }

    /// Straight lines between rows.
    pub fn friction(&self, temperature: f64) -> PadState {
        let mut before: Option<(f64, f64)> = None;
        for &(t, mu) in &self.rows {
            if temperature <= t {
                return match before {
                    Some((t0, mu0)) => PadState {
                        friction: mu0 + (mu - mu0) * (temperature - t0) / (t - t0),
                        outside: false,
                    },
                    None => PadState { friction: mu, outside: temperature < t },
                };
            }
            before = Some((t, mu));
        }
        PadState { friction: before.map_or(0.0, |(_, mu)| mu), outside: true }
    }
}

/// How a caliper takes its reaction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CaliperKind {
    /// Fixed, pistons on both sides.
    Opposed,
    /// Floating, pistons on one side.
    Floating,
}

/// A caliper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caliper {
    /// Area of all its pistons [m^2].
    pub piston_area: f64,
    /// Kind.
    pub kind: CaliperKind,
}

impl Caliper {
    /// From the bores of all its pistons [m].
    pub fn from_bores(bores: &[f64], kind: CaliperKind) -> Self {
        Self { piston_area: bores.iter().map(|d| std::f64::consts::FRAC_PI_4 * d * d).sum(), kind }
    }

    /// Area that presses one pad [m^2].
    pub fn one_side(&self) -> f64 {
        match self.kind {
            CaliperKind::Opposed => self.piston_area / 2.0,
            CaliperKind::Floating => self.piston_area,
        }
    }
}

/// Effective radius of a pad's swept ring [m]: the mean radius of a bedded pad (even wear). A new pad with even
/// pressure has `2/3 (r_o^3 - r_i^3)/(r_o^2 - r_i^2)`, 1 to 2 % more (clutch theory, any machine-design text).
pub fn effective_radius(outer: f64, inner: f64) -> f64 {
    0.5 * (outer + inner)
}

/// What makes the torque at one wheel.
#[derive(Clone, Debug, PartialEq)]
pub enum Foundation {
    /// Disc brake.
    Disc {
        /// Caliper.
        caliper: Caliper,
        /// Calipers a wheel.
        calipers: u8,
        /// Effective radius of the pads [m].
        radius: f64,
        /// Pads.
        pad: Pad,
    },
    /// Torque per pressure, measured or of a drum brake [Nm/Pa].
    Gain(f64),
}

/// The brake of one wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelBrake {
    /// What makes the torque.
    pub foundation: Foundation,
    /// Pressure below which nothing moves (seals, springs) [Pa].
    pub threshold: f64,
    /// Loaded radius of the tyre [m].
    pub loaded_radius: f64,
}

impl WheelBrake {
    /// Torque [Nm] at a pressure [Pa] and disc temperature [K], and whether the pad table was left.
    pub fn torque(&self, pressure: f64, temperature: f64) -> (f64, bool) {
        let p = (pressure - self.threshold).max(0.0);
        match &self.foundation {
            Foundation::Disc { caliper, calipers, radius, pad } => {
                let state = pad.friction(temperature);
                let torque = 2.0 * state.friction * p * caliper.one_side() * radius * f64::from(*calipers);
                (torque, state.outside)
            }
            Foundation::Gain(gain) => (gain * p, false),
        }
    }

    pub(super) fn check(&self) -> Result<(), VehicleError> {
        not_negative("brake threshold pressure", self.threshold)?;
        positive("loaded radius", self.loaded_radius)?;
        match &self.foundation {
            Foundation::Disc { caliper, radius, calipers, .. } => {
                not_negative("piston area", caliper.piston_area)?;
                within("calipers a wheel", f64::from(*calipers), 1.0, 4.0)?;
                positive("effective radius", *radius).map(drop)
            }
            Foundation::Gain(gain) => not_negative("brake gain", *gain).map(drop),
        }
    }
}
