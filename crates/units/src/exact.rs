//! Conversion figures that hold by definition, so that no crate types them twice.
//!
//! Sources: the international yard and pound agreement of 1959 (inch, pound); the third General Conference on
//! Weights and Measures, 1901 (standard gravity); NIST SP 811 (2008), appendix B, for what follows from them.

/// One inch \[m\].
pub const INCH: f64 = 0.0254;

/// One foot, twelve inches \[m\].
pub const FOOT: f64 = 0.3048;

/// One avoirdupois pound \[kg\].
pub const POUND: f64 = 0.453_592_37;

/// Standard gravity \[m/s^2\]; it turns a mass unit into the force unit named after it, nothing else.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// One pound-force, a pound under standard gravity \[N\].
pub const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// One degree \[rad\].
pub const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// One statute mile, 5280 ft \[m\].
pub const MILE: f64 = 1_609.344;

/// 0 deg C \[K\] (BIPM, SI Brochure, 9th ed., 2.3.1; remembered).
pub const CELSIUS_ZERO: f64 = 273.15;

/// 0 deg F \[K\]: 32 deg F is 0 deg C, and 1.8 deg F make one kelvin.
pub const FAHRENHEIT_ZERO: f64 = 273.15 - 32.0 / 1.8;
