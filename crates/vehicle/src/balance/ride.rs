//! One corner: wheel rate, ride rate, frequencies, damping.
//!
//! `k_w = k MR^2 + F dMR/dz`, `k_r = k_w k_t/(k_w + k_t)`, `f = sqrt(k/m)/(2 pi)`, `zeta = c/(2 sqrt(k m))` (any text;
//! T. Gillespie (1992), ch. 5, remembered).

use linkage::scalar::{Real, constant};

use crate::error::{VehicleError, finite, not_negative, positive};

/// What one corner is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RideCorner<T> {
    /// Spring rate [N/m].
    pub spring_rate: T,
    /// Spring force at ride height [N], compression positive.
    pub spring_force: T,
    /// Spring travel per wheel travel [-].
    pub spring_ratio: T,
    /// Its change per wheel travel [1/m].
    pub spring_ratio_rate: T,
    /// Damper coefficient [N s/m].
    pub damping: T,
    /// Damper travel per wheel travel [-].
    pub damper_ratio: T,
    /// Vertical rate of the tyre [N/m].
    pub tyre_rate: T,
    /// Sprung mass on the corner [kg].
    pub sprung_mass: T,
    /// Unsprung mass [kg].
    pub unsprung_mass: T,
}

/// Rates, frequencies and damping of the corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ride<T> {
    /// Spring's part of the wheel rate, `k MR^2` [N/m].
    pub spring_part: T,
    /// Geometry's part, `F dMR/dz` [N/m].
    pub geometry_part: T,
    /// Wheel rate, their sum [N/m].
    pub wheel_rate: T,
    /// With the tyre in series [N/m].
    pub ride_rate: T,
    /// Body on springs and tyre [Hz].
    pub frequency: T,
    /// Damping of the body on its springs, tyre rigid [-].
    pub damping_ratio: T,
    /// Wheel between spring and tyre, body at rest [Hz].
    pub hop_frequency: T,
    /// Damping of that motion [-].
    pub hop_damping: T,
    /// Sag of the ride spring under the sprung mass, `g/(2 pi f)^2` [m]: a measure of softness.
    pub static_deflection: T,
}

impl<T: Real> RideCorner<T> {
    /// Rates and frequencies.
    ///
    /// # Errors
    /// Figures that no corner has; a geometry part that makes the wheel rate negative.
    pub fn ride(&self) -> Result<Ride<T>, VehicleError> {
        positive("spring rate", self.spring_rate.re())?;
        finite("spring force", self.spring_force.re())?;
        positive("spring motion ratio", self.spring_ratio.re())?;
        finite("change of motion ratio", self.spring_ratio_rate.re())?;
        not_negative("damping", self.damping.re())?;
        not_negative("damper motion ratio", self.damper_ratio.re())?;
        positive("tyre rate", self.tyre_rate.re())?;
        positive("sprung mass", self.sprung_mass.re())?;
        positive("unsprung mass", self.unsprung_mass.re())?;
        let spring_part = self.spring_rate * self.spring_ratio * self.spring_ratio;
        let geometry_part = self.spring_force * self.spring_ratio_rate;
        let wheel_rate = spring_part + geometry_part;
        positive("wheel rate", wheel_rate.re())?;
        let ride_rate = wheel_rate * self.tyre_rate / (wheel_rate + self.tyre_rate);
        let damping = self.damping * self.damper_ratio * self.damper_ratio;
        let hertz = |k: T, m: T| (k / m).sqrt() / std::f64::consts::TAU;
        let ratio = |k: T, m: T| damping / ((k * m).sqrt() * 2.0);
        let both = wheel_rate + self.tyre_rate;
        Ok(Ride {
            spring_part,
            geometry_part,
            wheel_rate,
            ride_rate,
            frequency: hertz(ride_rate, self.sprung_mass),
            damping_ratio: ratio(wheel_rate, self.sprung_mass),
            hop_frequency: hertz(both, self.unsprung_mass),
            hop_damping: ratio(both, self.unsprung_mass),
            static_deflection: self.sprung_mass * crate::GRAVITY / ride_rate,
        })
    }
}

/// Both undamped frequencies of the quarter car [Hz], body and wheel, exactly: roots of
/// `m_s m_u w^4 - ((k_w + k_t) m_s + k_w m_u) w^2 + k_w k_t = 0`.
pub fn quarter_car<T: Real>(corner: &RideCorner<T>) -> Result<(T, T), VehicleError> {
    let ride = corner.ride()?;
    let (k, t, ms, mu) = (ride.wheel_rate, corner.tyre_rate, corner.sprung_mass, corner.unsprung_mass);
    let b = (k + t) * ms + k * mu;
    let product = ms * mu;
    let root = (b * b - product * k * t * 4.0).sqrt();
    let high = (b + root) / (product * 2.0);
    // Product of the roots, not their difference: no cancellation.
    let low = k * t / (product * high);
    let hertz = |w2: T| w2.sqrt() / constant::<T>(std::f64::consts::TAU);
    Ok((hertz(low), hertz(high)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corner() -> RideCorner<f64> {
        RideCorner {
            spring_rate: 60_000.0,
            spring_force: 4000.0,
            spring_ratio: 0.8,
            spring_ratio_rate: 0.5,
            damping: 4000.0,
            damper_ratio: 0.75,
            tyre_rate: 220_000.0,
            sprung_mass: 260.0,
            unsprung_mass: 38.0,
        }
    }

    /// Static deflection over frequency, g = 9.80665 (worked out independently; the relation in T. Gillespie (1992),
    /// ch. 5, remembered): 1 Hz 248.405 mm, 1.5 Hz 110.402, 2 Hz 62.101, 3 Hz 27.601.
    #[test]
    fn deflection_and_frequency() {
        for (hz, mm) in [(1.0f64, 248.405), (1.5, 110.402), (2.0, 62.101), (3.0, 27.601)] {
            // A tyre so stiff that the ride rate is the spring's.
            let rate = 260.0 * (std::f64::consts::TAU * hz).powi(2);
            let c = RideCorner {
                spring_rate: rate,
                spring_ratio: 1.0,
                spring_ratio_rate: 0.0,
                tyre_rate: 1e12,
                ..corner()
            };
            let r = c.ride().unwrap();
            assert!((r.static_deflection * 1e3 - mm).abs() < 6e-4 && (r.frequency - hz).abs() < 1e-6);
        }
    }

    /// By hand (own): both parts of the wheel rate, series with the tyre, damping.
    #[test]
    fn rates_by_hand() {
        let r = corner().ride().unwrap();
        assert!((r.spring_part - 38_400.0).abs() < 1e-9 && (r.geometry_part - 2000.0).abs() < 1e-9);
        assert!((r.ride_rate - 40_400.0 * 220_000.0 / 260_400.0).abs() < 1e-6);
        assert!((r.damping_ratio - 2250.0 / (2.0 * (40_400.0f64 * 260.0).sqrt())).abs() < 1e-12);
    }

    /// The exact quarter car lies just outside the two simple figures and tends to them (limits, own).
    #[test]
    fn quarter_car_against_simple_figures() {
        let (c, r) = (corner(), corner().ride().unwrap());
        let (low, high) = quarter_car(&c).unwrap();
        assert!(low < r.frequency && (low / r.frequency - 1.0).abs() < 0.03);
        assert!(high > r.hop_frequency && (high / r.hop_frequency - 1.0).abs() < 0.03);
        let heavy = RideCorner { sprung_mass: 1e7, ..c };
        assert!((quarter_car(&heavy).unwrap().1 / r.hop_frequency - 1.0).abs() < 1e-5);
    }

    #[test]
    fn a_negative_rate_is_refused() {
        assert!(RideCorner { spring_ratio_rate: -50.0, ..corner() }.ride().is_err());
    }
}
