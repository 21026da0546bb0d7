//! A tyre from a handful of figures.
//!
//! - Friction falls with load: `mu = mu_0 (1 - s (F_z/F_z0 - 1))`, never below a quarter of `mu_0`.
//! - Cornering stiffness over load: `C = C_0 sin(2 atan(F_z/F_p))/sin(2 atan(F_z0/F_p))`, the shape of the published
//!   Magic Formula sets (H. Pacejka, Tyre and Vehicle Dynamics, 2nd ed. (2006), remembered); greatest at `F_p`.
//! - Slip stiffness in proportion to load.
//! - Force over slip: the brush model's cubic with even friction (Pacejka, ch. 3, remembered), `f(s) = s - s^2/3 +
//!   s^3/27` for s < 3, then 1. Combined slip by similarity: `s = |(kappa K/(mu_x F_z), tan(alpha) C/(mu_y F_z))|`,
//!   force along that vector. The greatest forces of all directions form the ellipse of `mu_x F_z` and `mu_y F_z`.
//! - Relaxation length `C/k_y`, k_y the side rate of the carcass.

use linkage::scalar::{Real, constant};

use super::{Outside, Slip, TyreForce};
use crate::error::{VehicleError, positive, within};

/// Least share of the nominal friction that load sensitivity may leave [-] (own: a tyre never loses all grip).
pub const LEAST_FRICTION_SHARE: f64 = 0.25;

/// Normalised slip at which the brush slides as a whole [-] (exact for the cubic).
pub const FULL_SLIDE: f64 = 3.0;

/// Slip angle beyond which the figures are an extrapolation [rad]: 15 deg (own).
pub const WIDEST_SLIP: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// The figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SimpleTyre {
    /// Load at which the following hold [N].
    pub nominal_load: f64,
    /// Peak friction along [-].
    pub friction_x: f64,
    /// Peak friction across [-].
    pub friction_y: f64,
    /// Share of friction lost when the load doubles [-].
    pub load_sensitivity: f64,
    /// Cornering stiffness [N/rad].
    pub cornering_stiffness: f64,
    /// Load at which cornering stiffness is greatest [N].
    pub stiffest_load: f64,
    /// Slip stiffness [N].
    pub slip_stiffness: f64,
    /// Side rate of the carcass at the contact [N/m].
    pub lateral_rate: f64,
    /// Vertical rate [N/m].
    pub vertical_rate: f64,
    /// Least load for which the figures hold [N].
    pub least_load: f64,
    /// Greatest load for which the figures hold [N].
    pub most_load: f64,
}

/// The brush cubic and its value over slip, `f(s)/s`, which is 1 at no slip.
#[inline]
fn brush<T: Real>(s: T) -> (T, T) {
    if s.re() >= FULL_SLIDE {
        return (constant(1.0), s.recip());
    }
    let over = constant::<T>(1.0) - s / 3.0 + s * s / 27.0;
    (s * over, over)
}

impl SimpleTyre {
    /// # Errors
    /// Figures that no tyre has; no load range.
    pub fn check(&self) -> Result<(), VehicleError> {
        positive("nominal load", self.nominal_load)?;
        within("friction along", self.friction_x, 0.01, 5.0)?;
        within("friction across", self.friction_y, 0.01, 5.0)?;
        within("load sensitivity", self.load_sensitivity, 0.0, 1.0)?;
        positive("cornering stiffness", self.cornering_stiffness)?;
        positive("stiffest load", self.stiffest_load)?;
        positive("slip stiffness", self.slip_stiffness)?;
        positive("lateral rate", self.lateral_rate)?;
        positive("vertical rate", self.vertical_rate)?;
        if self.most_load > self.least_load && self.least_load >= 0.0 && self.most_load.is_finite() {
            Ok(())
        } else {
            Err(VehicleError::NoLoadRange)
        }
    }

    fn fade<T: Real>(&self, load: T) -> T {
        let share = constant::<T>(1.0) - (load / self.nominal_load - 1.0) * self.load_sensitivity;
        if share.re() < LEAST_FRICTION_SHARE { constant(LEAST_FRICTION_SHARE) } else { share }
    }

    /// Peak friction across at a load [-].
    pub fn friction_y(&self, load: f64) -> f64 {
        self.friction_y * self.fade(load)
    }

    /// Peak friction along at a load [-].
    pub fn friction_x(&self, load: f64) -> f64 {
        self.friction_x * self.fade(load)
    }

    /// `sin(2 atan(q)) = 2 q/(1 + q^2)`.
    fn stiffness<T: Real>(&self, load: T) -> T {
        let rise = |q: T| q * 2.0 / (q * q + 1.0);
        let nominal = rise(constant(self.nominal_load / self.stiffest_load));
        rise(load / self.stiffest_load) / nominal * self.cornering_stiffness
    }

    /// Force at a state; the moment is not in the model.
    pub fn force<T: Real>(&self, slip: &Slip<T>) -> TyreForce<T> {
        let load = slip.load;
        let outside = Outside {
            load: !(self.least_load <= load.re() && load.re() <= self.most_load),
            slip: slip.alpha.re().abs() > WIDEST_SLIP,
            inclination: slip.inclination.re() != 0.0,
        };
        let zero = constant::<T>(0.0);
        if load.re().is_nan() || load.re() <= 0.0 {
            return TyreForce { fx: zero, fy: zero, mz: None, outside };
        }
        let fade = self.fade(load) * load;
        let (most_x, most_y) = (fade * self.friction_x, fade * self.friction_y);
        let (kx, ky) = (load * (self.slip_stiffness / self.nominal_load), self.stiffness(load));
        let (sx, sy) = (slip.kappa * kx / most_x, slip.alpha.tan() * ky / most_y);
        // The norm has no derivative at zero; there f(s)/s is 1 with slope -1/3 |ds|, and its product with s is
        // smooth to first order, so a constant does.
        let square = sx * sx + sy * sy;
        let over = if square.re() == 0.0 { constant(1.0) } else { brush(square.sqrt()).1 };
        TyreForce { fx: most_x * sx * over, fy: -most_y * sy * over, mz: None, outside }
    }

    /// Greatest braking force [N] and the least slip that gives it.
    pub fn braking_peak(&self, load: f64) -> (f64, f64) {
        let most = self.friction_x(load) * load.max(0.0);
        let stiffness = load.max(0.0) * self.slip_stiffness / self.nominal_load;
        (most, if stiffness > 0.0 { FULL_SLIDE * most / stiffness } else { 0.0 })
    }

    /// Greatest side force [N] and the least slip angle [rad] that gives it: where the brush slides as a whole.
    pub fn side_peak(&self, load: f64) -> (f64, f64) {
        let most = self.friction_y(load) * load.max(0.0);
        let stiffness = self.stiffness(load.max(0.0));
        (most, if stiffness > 0.0 { (FULL_SLIDE * most / stiffness).atan() } else { 0.0 })
    }

    /// Slip for a braking force up to the peak: `1 - f = (1 - s/3)^3` solved.
    pub(super) fn braking_slip(&self, load: f64, braking: f64) -> f64 {
        let (most, at) = self.braking_peak(load);
        if most <= 0.0 {
            return 0.0;
        }
        at * (1.0 - (1.0 - (braking / most).clamp(0.0, 1.0)).cbrt())
    }

    /// `C/k_y` [m].
    pub fn relaxation_length(&self, load: f64) -> f64 {
        self.stiffness(load.max(0.0)) / self.lateral_rate
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tyre::{Question, Tyre};

    pub(crate) fn tyre() -> SimpleTyre {
        SimpleTyre {
            friction_y: 1.15,
            load_sensitivity: 0.15,
            least_load: 500.0,
            most_load: 8000.0,
            ..crate::common::tyres::simple()
        }
    }

    fn at(kappa: f64, alpha: f64, load: f64) -> TyreForce<f64> {
        tyre().force(&Slip { kappa, alpha, inclination: 0.0, load })
    }

    /// What was put in comes out (own): stiffness, friction, sensitivity at the nominal load.
    #[test]
    fn the_figures_come_back() {
        let t = Tyre::Simple(tyre());
        assert!((t.cornering_stiffness(4000.0) - 70_000.0).abs() < 1e-6);
        assert!((t.slip_stiffness(4000.0) - 90_000.0).abs() < 1e-6);
        assert!((at(-1.0, 0.0, 4000.0).fx + 4800.0).abs() < 1e-9);
        assert!((t.lateral_peak(8000.0) - 1.15 * 0.85 * 8000.0).abs() < 1e-9);
        assert!((t.relaxation_length(4000.0).unwrap() - 70.0 / 150.0).abs() < 1e-12);
        assert!(t.cornering_stiffness(8000.0) > t.cornering_stiffness(7000.0));
        assert!(t.cornering_stiffness(9000.0) < t.cornering_stiffness(8000.0));
    }

    /// No force is outside the friction ellipse, full slide is on it, and force opposes slip (invariants).
    #[test]
    fn the_friction_ellipse() {
        for i in -40..=40 {
            for j in -40..=40 {
                let (kappa, alpha) = (f64::from(i) / 40.0, f64::from(j) / 60.0);
                let f = at(kappa, alpha, 4000.0);
                let r = (f.fx / 4800.0).hypot(f.fy / 4600.0);
                assert!(r <= 1.0 + 1e-12);
                assert!(f.fx * kappa >= 0.0 && f.fy * alpha <= 0.0);
                if kappa.abs() > 0.2 {
                    assert!((r - 1.0).abs() < 1e-12);
                }
            }
        }
    }

    /// Cornering stiffness under braking against the derivative of the force itself, and the friction-ellipse formula
    /// `C sqrt(1 - (F_x/mu F_z)^2)` (T. Gillespie (1992), ch. 10, remembered) as a neighbour. The two
    /// differ: the brush has less stiffness in mid range, where the slip in use softens it, and more at the limit,
    /// where a sliding wheel still turns its force against the sliding, and the ellipse gives nothing.
    #[test]
    fn stiffness_falls_under_braking() {
        let t = Tyre::Simple(tyre());
        for braking in [0.0, 1000.0, 3000.0, 4500.0] {
            let c = t.stiffness_while_braking(4000.0, braking).unwrap();
            let slip = t.braking_slip(4000.0, braking).unwrap();
            assert!((at(-slip, 0.0, 4000.0).fx + braking).abs() < 1e-6);
            let d = 1e-6;
            let slope = -(at(-slip, d, 4000.0).fy - at(-slip, -d, 4000.0).fy) / (2.0 * d);
            assert!((c - slope).abs() < 1e-3 * slope);
            let ellipse = 70_000.0 * (1.0 - (braking / 4800.0f64).powi(2)).sqrt();
            assert!(if braking < 3500.0 { c <= ellipse } else { c > ellipse }, "{braking} {c} {ellipse}");
        }
        assert_eq!(t.stiffness_while_braking(4000.0, 4900.0), None);
    }

    #[test]
    fn it_says_what_it_cannot_answer() {
        let t = Tyre::Simple(tyre());
        assert!(t.cannot_answer(Question::Camber).is_some());
        assert!(t.cannot_answer(Question::PastThePeak).is_some());
        assert!(t.cannot_answer(Question::Transient).is_none());
        assert!(at(0.0, 0.0, 9000.0).outside.load);
        let bad = SimpleTyre { most_load: 0.0, ..tyre() };
        assert_eq!(bad.check(), Err(VehicleError::NoLoadRange));
    }
}
