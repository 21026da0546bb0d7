//! One curve of the Magic Formula at a load, pure slip, and its peak.

use linkage::scalar::{Real, constant};

use super::parameters::Parameters;
use crate::root::root;

/// Greatest exponent of the growth of stiffness with load: keeps absurd sets finite; published ones stay below 1.
const MOST_GROWTH: f64 = 20.0;

/// Greatest friction that a polynomial may reach, and least [-]; beyond, the set is used outside its sense.
const FRICTION: (f64, f64) = (0.01, 10.0);

/// `D sin(C atan(B x - E (B x - atan(B x))))`: the formula itself. Slope at zero BCD, peak D where C > 1.
#[inline]
pub fn shape<T: Real>(b: T, c: T, d: T, e: T, x: T) -> T {
    let bx = b * x;
    d * (c * (bx - e * (bx - bx.atan())).atan()).sin()
}

pub(super) fn clamp<T: Real>(x: T, least: f64, most: f64) -> T {
    if x.re() < least {
        constant(least)
    } else if x.re() > most {
        constant(most)
    } else {
        x
    }
}

/// Sign that is zero at zero: there the shifted slip has no side, and E's asymmetry has no say.
fn side<T: Real>(x: T) -> f64 {
    if x.re() > 0.0 {
        1.0
    } else if x.re() < 0.0 {
        -1.0
    } else {
        0.0
    }
}

/// |x| with the derivative of its side.
pub(super) fn size<T: Real>(x: T) -> T {
    if x.re() < 0.0 { -x } else { x }
}

/// One pure-slip curve at a load: its figures before a slip is put in.
pub(super) struct Curve<T> {
    pub b: T,
    pub c: f64,
    pub d: T,
    /// E, and its asymmetry: `E (1 - skew side)`.
    e: T,
    skew: T,
    pub sh: T,
    pub sv: T,
    pub stiffness: T,
}

impl<T: Real> Curve<T> {
    fn curvature(&self, side: f64) -> T {
        // Above 1 the curve would turn back (Pacejka demands E <= 1).
        clamp(self.e * (constant::<T>(1.0) - self.skew * side), f64::MIN, 1.0)
    }

    pub fn at(&self, slip: T) -> T {
        let x = slip + self.sh;
        shape(self.b, constant(self.c), self.d, self.curvature(side(x)), x) + self.sv
    }
}

impl Curve<f64> {
    /// Greatest force on one side (`sign` of the slip) within a slip: (size of the slip, force in that sense). The sine
    /// is at its top where `B x - E (B x - atan(B x)) = tan(pi/(2 C))`, which rises in x.
    pub fn peak(&self, sign: f64, most: f64) -> (f64, f64) {
        let e = self.curvature(sign);
        // A negative B C D (ISO side force) mirrors the curve; the sizes are the same.
        let b = self.b.abs();
        let reach = |x: f64| {
            let bx = b * x;
            bx - e * (bx - bx.atan())
        };
        let far = (most + sign * self.sh).max(0.0);
        let c = self.c.abs();
        let top = if c > 1.0 { (std::f64::consts::FRAC_PI_2 / c).tan() } else { f64::INFINITY };
        let x = if reach(far) <= top { far } else { root(|x| reach(x) - top, 0.0, far) };
        let sense = sign * (self.b * self.d * self.c).signum();
        let force = self.d.abs() * (c * reach(x).atan()).sin();
        ((x - sign * self.sh).max(0.0), force + sense * self.sv)
    }
}

pub(super) fn curve_x<T: Real>(p: &Parameters, gamma: T, fz: T, df: T) -> Curve<T> {
    let one = constant::<T>(1.0);
    let mu = clamp((df * p.pdx2 + p.pdx1) * (one - gamma * gamma * p.pdx3) * p.lmux, FRICTION.0, FRICTION.1);
    let (c, d) = (p.pcx1 * p.lcx, mu * fz);
    let growth = clamp(df * p.pkx3, -MOST_GROWTH, MOST_GROWTH).exp();
    let stiffness = fz * (df * p.pkx2 + p.pkx1) * growth * p.lkx;
    Curve {
        b: stiffness / (d * c),
        c,
        d,
        e: (df * p.pex2 + df * df * p.pex3 + p.pex1) * p.lex,
        skew: constant(p.pex4),
        sh: (df * p.phx2 + p.phx1) * p.lhx,
        sv: fz * (df * p.pvx2 + p.pvx1) * (p.lvx * p.lmux),
        stiffness,
    }
}

pub(super) fn stiffness_y<T: Real>(p: &Parameters, gamma: T, fz: T) -> T {
    let nominal = p.fnomin * p.lfzo;
    let q = fz / (p.pky2 * nominal);
    // sin(2 atan q)
    let rise = q * 2.0 / (q * q + 1.0);
    rise * (constant::<T>(1.0) - size(gamma) * p.pky3) * (p.pky1 * nominal * p.lky)
}

pub(super) fn curve_y<T: Real>(p: &Parameters, gamma: T, fz: T, df: T) -> Curve<T> {
    let one = constant::<T>(1.0);
    let sign = if p.pdy1 < 0.0 { -1.0 } else { 1.0 };
    let raw = (df * p.pdy2 + p.pdy1) * (one - gamma * gamma * p.pdy3) * p.lmuy;
    let mu = clamp(raw * sign, FRICTION.0, FRICTION.1) * sign;
    let (c, d) = (p.pcy1 * p.lcy, mu * fz);
    let stiffness = stiffness_y(p, gamma, fz);
    Curve {
        b: stiffness / (d * c),
        c,
        d,
        e: (df * p.pey2 + p.pey1) * p.ley,
        skew: gamma * p.pey4 + p.pey3,
        sh: (df * p.phy2 + p.phy1) * p.lhy + gamma * p.phy3,
        sv: fz * ((df * p.pvy2 + p.pvy1) * p.lvy + gamma * (df * p.pvy4 + p.pvy3)) * p.lmuy,
        stiffness,
    }
}

#[cfg(test)]
mod tests {
    use super::shape;

    /// E. Bakker, L. Nyborg, H. Pacejka, SAE 870421 (1987): coefficients read in two open programs (one misprints
    /// -21.3 as -22.3) and equal to memory; forces worked out independently. Loads in kN, slip in deg or %.
    #[test]
    fn the_formula_of_1987() {
        let side = |f: f64, x: f64| {
            let (c, d, e) = (1.30, (-22.1 * f + 1011.0) * f, -0.354 * f + 0.707);
            let bcd = 1078.0 * (1.82 * (0.208 * f).atan()).sin();
            shape(bcd / (c * d), c, d, e, x)
        };
        let along = |f: f64, x: f64| {
            let (c, d, e) = (1.65, (-21.3 * f + 1144.0) * f, (-0.006 * f + 0.056) * f + 0.486);
            let bcd = (49.6 * f + 226.0) * f * (-0.069 * f).exp();
            shape(bcd / (c * d), c, d, e, x)
        };
        let moment = |f: f64, x: f64| {
            let (c, d, e) = (2.40, (-2.72 * f - 2.28) * f, (-0.070 * f + 0.643) * f - 4.04);
            let bcd = (-1.86 * f - 2.73) * f * (-0.110 * f).exp();
            shape(bcd / (c * d), c, d, e, x)
        };
        let row = |name: &str, f: &dyn Fn(f64, f64) -> f64, load: f64, expected: [f64; 4]| {
            for (x, y) in [1.0, 2.0, 5.0, 10.0].into_iter().zip(expected) {
                assert!((f(load, x) - y).abs() < 0.006, "{name} {load} {x}: {} {y}", f(load, x));
            }
        };
        row("side", &side, 2.0, [676.25, 1197.06, 1828.90, 1932.82]);
        row("side", &side, 4.0, [1009.38, 1911.06, 3389.60, 3688.35]);
        row("side", &side, 6.0, [1071.95, 2110.43, 4409.00, 5264.56]);
        row("side", &side, 8.0, [1029.93, 2061.02, 4821.91, 6576.22]);
        row("along", &along, 2.0, [553.51, 1037.45, 1878.13, 2191.82]);
        row("along", &along, 4.0, [1246.63, 2281.77, 3823.68, 4234.44]);
        row("along", &along, 6.0, [1993.76, 3580.85, 5687.15, 6090.57]);
        row("along", &along, 8.0, [2738.51, 4852.87, 7429.81, 7736.34]);
        // Coefficients of the moment remembered only.
        row("moment", &moment, 4.0, [-25.61, -45.81, -33.31, 5.66]);
    }
}
