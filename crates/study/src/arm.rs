//! When the length of a side-view arm says something, and what.

use units::{Dimension, LengthUnit, UnitSystem, show};

use crate::estimate::Estimate;

/// A long side-view arm, beyond which its length says nothing but "long" [m].
pub const LONG_ARM: f64 = 20.0;

/// A ± above this share of the side-view arm makes it "long" too: the inverse of a slope that may as well be zero
/// has no standard deviation, so neither figure can be trusted. Own choice: the next term of the series makes the
/// ± greater by sqrt(1 + 8 u^2/arm^2) for normal errors, which is a third at 0.3.
pub const MOST_ARM_DOUBT: f64 = 0.3;

/// A short side-view arm, below which caster wind-up and brake hop are to be expected [m]. Common practice.
pub const SHORT_ARM: f64 = 0.5;

/// Whether a side-view arm is shown as "long": beyond 20 m, or with a ± of more than 0.3 of it.
pub fn arm_is_long(arm: &Estimate) -> bool {
    let length = arm.value.abs();
    // Written so that a value that is no number counts as long.
    !(length <= LONG_ARM && arm.uncertainty() <= MOST_ARM_DOUBT * length)
}

/// What "long" means, in the units of the file.
pub fn long_arm_words(system: &UnitSystem) -> String {
    format!(
        "\"long\": a side-view arm beyond {}, or one whose ± is more than {MOST_ARM_DOUBT} of it; the links run so \
         nearly parallel that its length says no more than that. The side-view angle is good",
        length(LONG_ARM, system)
    )
}

/// What a short side-view arm [m] brings; `None` where it is not short.
pub fn short_arm_words(arm: f64, system: &UnitSystem) -> Option<String> {
    (arm.abs() < SHORT_ARM).then(|| {
        format!(
            "the side-view arm is shorter than {}: expect caster wind-up, harshness over bumps under the brakes, and \
             brake hop (common practice)",
            length(SHORT_ARM, system)
        )
    })
}

/// A round limit without decimals that would make it look exact.
fn length(metres: f64, system: &UnitSystem) -> String {
    let decimals = match system.length {
        LengthUnit::Millimetre | LengthUnit::Inch => 0,
        LengthUnit::Metre | LengthUnit::Foot => 1,
    };
    show::with_unit(metres, Dimension::Length, system, decimals)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(value: f64, uncertainty: f64, long: bool, short: bool) {
        let arm = Estimate { value, contributions: vec![uncertainty] };
        assert_eq!(
            (arm_is_long(&arm), short_arm_words(value, &UnitSystem::default()).is_some()),
            (long, short)
        );
    }

    #[test]
    fn arms_that_say_nothing_and_arms_that_warn() {
        check(0.445, 0.004, false, true);
        check(-0.445, 0.004, false, true);
        check(1.2, 0.35, false, false);
        check(1.2, 0.37, true, false);
        check(-4.0, 1.3, true, false);
        check(21.0, 0.0, true, false);
        check(f64::INFINITY, f64::NAN, true, false);
    }

    #[test]
    fn limits_are_round_in_every_unit() {
        let inch = UnitSystem { length: LengthUnit::Inch, ..UnitSystem::default() };
        let foot = UnitSystem { length: LengthUnit::Foot, ..UnitSystem::default() };
        assert!(long_arm_words(&UnitSystem::default()).contains("20000 mm"));
        assert!(short_arm_words(0.4, &inch).is_some_and(|w| w.contains("shorter than 20 in")));
        assert!(short_arm_words(0.4, &foot).is_some_and(|w| w.contains("shorter than 1.6 ft")));
    }
}
