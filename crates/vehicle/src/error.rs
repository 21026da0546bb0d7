//! What can be wrong with the figures of a car. Each message says what is wrong, [`VehicleError::hint`] what to do.

use thiserror::Error;

/// Largest magnitude that a figure may have [SI]: beyond it some unit was mistaken, and powers could overflow.
pub const LARGEST: f64 = 1e12;

/// Smallest value of a figure that must be positive [SI]: below it a division has no meaning.
pub const SMALLEST: f64 = 1e-12;

/// A figure, or a combination of figures, that no car can have.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum VehicleError {
    /// Not a number, infinite, or beyond [`LARGEST`].
    #[error("`{name}` is not a usable number ({value})")]
    NotUsable {
        /// The figure.
        name: &'static str,
        /// What was given.
        value: f64,
    },
    /// A figure that must be greater than zero.
    #[error("`{name}` must be greater than zero and is {value}")]
    NotPositive {
        /// The figure.
        name: &'static str,
        /// What was given [SI].
        value: f64,
    },
    /// A figure that must not be less than zero.
    #[error("`{name}` must not be negative and is {value}")]
    Negative {
        /// The figure.
        name: &'static str,
        /// What was given [SI].
        value: f64,
    },
    /// A figure outside the range in which it has a meaning.
    #[error("`{name}` must be from {least} to {most} and is {value}")]
    OutOfRange {
        /// The figure.
        name: &'static str,
        /// What was given [SI].
        value: f64,
        /// Least meaningful value.
        least: f64,
        /// Greatest meaningful value.
        most: f64,
    },
    /// Two weighings of the same car, or a weighing and the stated mass, differ too much.
    #[error("the scales add up to {found:.1} kg where {expected:.1} kg is expected")]
    ScalesDisagree {
        /// Mass expected [kg].
        expected: f64,
        /// Mass found [kg].
        found: f64,
    },
    /// The end was not raised enough to say anything about height.
    #[error("the car is tilted by {angle_deg:.2} deg, too little to find a height")]
    NoLift {
        /// Tilt [deg].
        angle_deg: f64,
    },
    /// The lift is higher than the wheelbase allows, or the tilt does not settle on such soft springs.
    #[error("a lift of {lift:.3} m gives no tilt with this wheelbase and these springs")]
    NoTilt {
        /// Lift [m].
        lift: f64,
    },
    /// All wheels held: an unknown horizontal force acts between the axles.
    #[error("with all wheels held the tyres push the scales sideways by an unknown force")]
    AllWheelsHeld,
    /// More was taken out than was there.
    #[error("taking out `{part}` leaves no mass")]
    NoMassLeft {
        /// The part.
        part: String,
    },
    /// An inertia that no distribution of mass can have.
    #[error("the inertia of `{part}` is not that of any body")]
    ImpossibleInertia {
        /// The part, or `car`.
        part: String,
    },
    /// A valve that lets no pressure through.
    #[error("the proportioning valve never opens: knee at zero pressure with slope zero")]
    ValveNeverOpens,
    /// A valve whose knee is never reached.
    #[error(
        "the proportioning valve never acts: knee at {knee:.0} Pa, and the pedal reaches {reached:.0} Pa"
    )]
    ValveNeverActs {
        /// Knee of the valve [Pa].
        knee: f64,
        /// Pressure at the greatest pedal force [Pa].
        reached: f64,
    },
    /// A table whose first column does not rise.
    #[error("`{name}` needs at least one row, in rising order")]
    TableOrder {
        /// The table.
        name: &'static str,
    },
    /// A tyre without the range of loads for which it was measured.
    #[error("the tyre has no load range (`FZMIN`, `FZMAX`)")]
    NoLoadRange,
    /// A Magic Formula parameter that the 2002-style set does not have.
    #[error("`{name}` is not a parameter of the 2002-style set")]
    UnknownParameter {
        /// The name.
        name: String,
    },
    /// A parameter set whose side force pushes with the slip instead of against it.
    #[error("with this sign of `PKY1` the side force acts with the slip, not against it")]
    WrongSlipSign,
    /// A disc that would glow away.
    #[error("the disc passes 1500 K in phase {phase} of the sequence")]
    DiscTooHot {
        /// Which phase, the first being 1.
        phase: usize,
    },
    /// Brakes that do not slow the car at all.
    #[error("the brakes give no force")]
    NoBrakeForce,
}

impl VehicleError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::NotUsable { .. } => "check the figure and its unit",
            Self::NotPositive { .. } | Self::Negative { .. } => "check the sign and the unit",
            Self::OutOfRange { .. } => "check the unit: shares are from 0 to 1, angles in radians",
            Self::ScalesDisagree { .. } => {
                "zero the scales, weigh again with the same fuel and driver, and keep the lifting gear off the scales"
            }
            Self::NoLift { .. } => "raise one end by a fifth of the wheelbase or more",
            Self::NoTilt { .. } => "check the lift height, the wheelbase and the axle rates",
            Self::AllWheelsHeld => "release the brakes and gearbox so that at least one axle can roll",
            Self::NoMassLeft { .. } => "check the masses of the parts taken out",
            Self::ImpossibleInertia { .. } => {
                "each moment of inertia is positive and at most the sum of the other two; check places and units"
            }
            Self::ValveNeverOpens => "give the knee pressure, or a slope greater than zero",
            Self::ValveNeverActs { .. } => "lower the knee pressure, or leave the valve out",
            Self::TableOrder { .. } => "sort the rows by their first column and give no value twice",
            Self::NoLoadRange => "give the least and the greatest load of the tyre's test",
            Self::UnknownParameter { .. } => "see the list of names in the documentation of the tyre",
            Self::WrongSlipSign => "choose the sign convention in which the set was fitted",
            Self::DiscTooHot { .. } => {
                "take a heavier disc, more cooling or fewer stops; check masses and shares"
            }
            Self::NoBrakeForce => "check pistons, pads, master cylinders and bias",
        }
    }
}

/// Refuses what is not a number of usable size.
pub(crate) fn finite(name: &'static str, value: f64) -> Result<f64, VehicleError> {
    if value.is_finite() && value.abs() <= LARGEST {
        Ok(value)
    } else {
        Err(VehicleError::NotUsable { name, value })
    }
}

/// Refuses what is not greater than zero.
pub(crate) fn positive(name: &'static str, value: f64) -> Result<f64, VehicleError> {
    let value = finite(name, value)?;
    if value >= SMALLEST { Ok(value) } else { Err(VehicleError::NotPositive { name, value }) }
}

/// Refuses what is less than zero.
pub(crate) fn not_negative(name: &'static str, value: f64) -> Result<f64, VehicleError> {
    let value = finite(name, value)?;
    if value >= 0.0 { Ok(value) } else { Err(VehicleError::Negative { name, value }) }
}

/// Refuses what is outside `[least, most]`.
pub(crate) fn within(name: &'static str, value: f64, least: f64, most: f64) -> Result<f64, VehicleError> {
    let value = finite(name, value)?;
    if least <= value && value <= most {
        Ok(value)
    } else {
        Err(VehicleError::OutOfRange { name, value, least, most })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usable_figures_pass_and_others_name_themselves() {
        assert_eq!(positive("mass", 3.0), Ok(3.0));
        assert!(finite("mass", f64::NAN).is_err());
        assert!(finite("mass", 2.0 * LARGEST).is_err());
        let e = positive("mass", -1.0).unwrap_err();
        assert_eq!(e.to_string(), "`mass` must be greater than zero and is -1");
        assert!(!e.hint().is_empty());
    }
}
