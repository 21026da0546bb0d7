//! The Magic Formula with the 2002-style parameters: pure and combined slip, aligning moment.
//!
//! H. Pacejka, Tyre and Vehicle Dynamics, 2nd ed. (2006), section 4.3 and appendix 3, and the 2002-style equations
//! that go with the published names (both remembered; the coefficients used in tests were read). Where they differ
//! the 2002 style is used:
//! - cornering stiffness has `(1 - PKY3 |gamma|)`; some printings have `gamma^2`;
//! - the longitudinal stiffness has `exp(+PKX3 df)` in both; the relaxation along has `exp(-PTX3 df)` (remembered,
//!   not seen);
//! - the horizontal shift of the side force has `PHY3 gamma` beside the scale factor, not under it.
//!
//! Loads outside `FZMIN`..`FZMAX` are computed with the nearest load of the range and scaled in proportion, so that no
//! polynomial runs away, and are marked.

use linkage::scalar::{Real, constant};

use super::curve::{Curve, clamp, curve_x, curve_y, size, stiffness_y};
use super::parameters::{Parameters, SlipConvention};
use super::{Outside, Slip, TyreForce};

/// Least size of a cornering stiffness that is divided by [N/rad].
const LEAST_STIFFNESS: f64 = 1e-6;

/// The cosine form, for pneumatic trail and for the weights of combined slip.
#[inline]
fn hill<T: Real>(b: T, c: T, e: T, x: T) -> T {
    let bx = b * x;
    (c * (bx - e * (bx - bx.atan())).atan()).cos()
}

/// Load used in the formulas, and the factor on what they give.
fn settle_load<T: Real>(p: &Parameters, load: T) -> (T, T) {
    let used = clamp(load, p.fzmin.max(1e-3 * p.fnomin), p.fzmax);
    (used, load / used)
}

/// Weight of combined slip: a hill over the other slip, 1 where that slip is zero. A set without it (B or C zero) has
/// weight 1. With C above 1 the hill goes below zero far out, which would turn the force round: there it is zero (the
/// book demands a positive weight).
fn weight<T: Real>(b: T, c: f64, e: T, x: T, shift: T) -> T {
    let bottom = hill(b, constant(c), e, shift);
    if bottom.re().abs() < 1e-3 {
        return constant(1.0);
    }
    clamp(hill(b, constant(c), e, x + shift) / bottom, 0.0, f64::MAX)
}

/// Slope of the side force at nominal load against the slip, in the ISO sense: positive for a real tyre.
pub(super) fn raw_stiffness(p: &Parameters) -> f64 {
    let k = stiffness_y(p, 0.0, p.fnomin);
    match p.convention {
        SlipConvention::Iso => -k,
        SlipConvention::ReversedSlip | SlipConvention::BookAxes => k,
    }
}

/// Pure longitudinal force, wheel upright and straight [N].
pub fn longitudinal<T: Real>(p: &Parameters, kappa: T, load: T) -> T {
    if load.re().is_nan() || load.re() <= 0.0 {
        return constant(0.0);
    }
    let (fz, factor) = settle_load(p, load);
    curve_x(p, constant(0.0), fz, fz / (p.fnomin * p.lfzo) - 1.0).at(kappa) * factor
}

/// Greatest braking force of the upright, straight wheel within a slip: (slip as a positive number, force) [-, N].
pub(super) fn braking_peak(p: &Parameters, load: f64, most: f64) -> (f64, f64) {
    if load.is_nan() || load <= 0.0 {
        return (0.0, 0.0);
    }
    let (fz, factor) = settle_load(p, load);
    let (slip, force) = curve_x(p, 0.0, fz, fz / (p.fnomin * p.lfzo) - 1.0).peak(-1.0, most);
    (slip, (force * factor).max(0.0))
}

/// Greatest side force of the upright wheel without longitudinal slip [N], mean of both sides, within a slip angle.
pub(super) fn lateral_peak(p: &Parameters, load: f64, most: f64) -> f64 {
    if load.is_nan() || load <= 0.0 {
        return 0.0;
    }
    let (fz, factor) = settle_load(p, load);
    let curve = curve_y(p, 0.0, fz, fz / (p.fnomin * p.lfzo) - 1.0);
    (0.5 * factor * (curve.peak(1.0, most).1 + curve.peak(-1.0, most).1)).max(0.0)
}

/// Greatest side force to the left [N] of a wheel at an inclination, without longitudinal slip, within a slip angle, and
/// the size of the slip angle where it stands: the mean of this wheel and of its mirror image, so that a set whose shifts
/// push to one side does not make a car that turns better to one side.
pub(super) fn side_peak(p: &Parameters, load: f64, inclination: f64, most: f64) -> (f64, f64) {
    if load.is_nan() || load <= 0.0 {
        return (0.0, 0.0);
    }
    let (fz, factor) = settle_load(p, load);
    let df = fz / (p.fnomin * p.lfzo) - 1.0;
    let (here, left) = curve_y(p, inclination, fz, df).peak(-1.0, most);
    let (there, right) = curve_y(p, -inclination, fz, df).peak(1.0, most);
    ((0.5 * factor * (left + right)).max(0.0), 0.5 * (here + there))
}

/// Pure side force, wheel upright, without longitudinal slip [N], ISO signs.
pub fn lateral<T: Real>(p: &Parameters, alpha: T, load: T) -> T {
    force(p, &Slip { alpha, ..Slip::rolling(load) }).fy
}

/// Forces and moment at a state.
pub fn force<T: Real>(p: &Parameters, slip: &Slip<T>) -> TyreForce<T> {
    let zero = constant::<T>(0.0);
    let within = |x: T, least: f64, most: f64| least <= x.re() && x.re() <= most;
    let outside = Outside {
        load: !within(slip.load, p.fzmin, p.fzmax),
        slip: !within(slip.kappa, p.kpumin, p.kpumax) || !within(slip.alpha, p.alpmin, p.alpmax),
        inclination: !within(slip.inclination, p.cammin, p.cammax),
    };
    let moment = |m| if p.has_moment() { Some(m) } else { None };
    if slip.load.re().is_nan() || slip.load.re() <= 0.0 {
        return TyreForce { fx: zero, fy: zero, mz: moment(zero), outside };
    }
    let (fz, factor) = settle_load(p, slip.load);
    let nominal = p.fnomin * p.lfzo;
    let df = fz / nominal - 1.0;
    // To the set's own sense. The book's axes keep slip angle and inclination (both axes of y and z turn over).
    let alpha = if p.convention == SlipConvention::ReversedSlip { -slip.alpha } else { slip.alpha };
    let (kappa, gamma) = (slip.kappa, slip.inclination);
    let (gx, gy, gz) = (gamma * p.lgax, gamma * p.lgay, gamma * p.lgaz);

    let x = curve_x(p, gx, fz, df);
    let y = curve_y(p, gy, fz, df);

    let bx = (kappa * p.rbx2).atan().cos() * (p.rbx1 * p.lxal);
    let gxa = weight(bx, p.rcx1, clamp(df * p.rex2 + p.rex1, f64::MIN, 1.0), alpha, constant(p.rhx1));
    let fx = x.at(kappa) * gxa;

    let by = ((alpha - p.rby3) * p.rby2).atan().cos() * (p.rby1 * p.lyka);
    let gyk = weight(by, p.rcy1, clamp(df * p.rey2 + p.rey1, f64::MIN, 1.0), kappa, df * p.rhy2 + p.rhy1);
    let dv = y.d * (df * p.rvy2 + gamma * p.rvy3 + p.rvy1) * (alpha * p.rvy4).atan().cos();
    let sv = dv * ((kappa * p.rvy6).atan() * p.rvy5).sin() * p.lvyka;
    let fy = y.at(alpha) * gyk + sv;

    let mz =
        if p.has_moment() { aligning(p, &x, &y, [kappa, alpha, gz], fz, df, [fx, fy, sv]) } else { zero };
    let flip = if p.convention == SlipConvention::BookAxes { -1.0 } else { 1.0 };
    // A reversed slip angle leaves the axes alone: force and moment are already in ISO axes.
    TyreForce { fx: fx * factor, fy: fy * (factor * flip), mz: moment(mz * (factor * flip)), outside }
}

/// `M_z = -t F_y' + M_zr + s F_x`, with the equivalent slip angles of combined slip.
fn aligning<T: Real>(
    p: &Parameters,
    x: &Curve<T>,
    y: &Curve<T>,
    [kappa, alpha, gamma]: [T; 3],
    fz: T,
    df: T,
    [fx, fy, sv]: [T; 3],
) -> T {
    let one = constant::<T>(1.0);
    let nominal = p.fnomin * p.lfzo;
    let r0 = p.unloaded_radius;
    let at = alpha + (df * p.qhz2 + p.qhz1) + gamma * (df * p.qhz4 + p.qhz3);
    let ky = if y.stiffness.re().abs() < LEAST_STIFFNESS { constant(LEAST_STIFFNESS) } else { y.stiffness };
    let ar = alpha + y.sh + y.sv / ky;
    let along = kappa * x.stiffness / ky;
    let equivalent = |a: T| {
        if along.re() == 0.0 {
            return a;
        }
        let t = a.tan();
        (t * t + along * along).sqrt().atan() * if a.re() < 0.0 { -1.0 } else { 1.0 }
    };
    let (at, ar) = (equivalent(at), equivalent(ar));

    let stiff = p.lky / p.lmuy;
    let bt =
        (df * p.qbz2 + df * df * p.qbz3 + p.qbz1) * (one + gamma * p.qbz4 + size(gamma) * p.qbz5) * stiff;
    let dt = fz
        * (df * p.qdz2 + p.qdz1)
        * (one + gamma * p.qdz3 + gamma * gamma * p.qdz4)
        * (r0 / nominal * p.ltr);
    let lean = (bt * at * p.qcz1).atan() * std::f64::consts::FRAC_2_PI;
    let et = (df * p.qez2 + df * df * p.qez3 + p.qez1) * (one + (gamma * p.qez5 + p.qez4) * lean);
    let trail = dt * hill(bt, constant(p.qcz1), clamp(et, f64::MIN, 1.0), at) * alpha.cos();

    let br = y.b * (y.c * p.qbz10) + p.qbz9 * stiff;
    let dr = fz * ((df * p.qdz7 + p.qdz6) * p.lres + gamma * (df * p.qdz9 + p.qdz8)) * (r0 * p.lmuy);
    let residual = dr * (br * ar).atan().cos() * alpha.cos();
    let arm = (fy * (p.ssz2 / nominal) + gamma * (df * p.ssz4 + p.ssz3) + p.ssz1) * (r0 * p.ls);
    -trail * (fy - sv) + residual + arm * fx
}

/// `PTY1 R_0 sin(2 atan(F_z/(PTY2 F_z0)))` [m]; `None` where the set has none.
pub(super) fn relaxation_length(p: &Parameters, load: f64) -> Option<f64> {
    if p.pty1 == 0.0 || p.pty2.abs() < crate::SMALLEST {
        return None;
    }
    let q = load / (p.pty2 * p.fnomin * p.lfzo);
    Some(p.pty1 * 2.0 * q / (1.0 + q * q) * p.unloaded_radius * p.lsgal)
}

/// Relaxation along [m]: `F_z (PTX1 + PTX2 df) exp(-PTX3 df) R_0/F_z0`; `None` where the set has none.
pub fn relaxation_length_along(p: &Parameters, load: f64) -> Option<f64> {
    if p.ptx1 == 0.0 {
        return None;
    }
    let nominal = p.fnomin * p.lfzo;
    let df = load / nominal - 1.0;
    Some(load * (p.ptx1 + p.ptx2 * df) * (-p.ptx3 * df).exp() * p.unloaded_radius / nominal * p.lsgkp)
}

#[cfg(test)]
#[path = "magic_tests.rs"]
pub(crate) mod tests;
