//! One step of Dormand and Prince's embedded pair of orders 5 and 4, with its interpolant.
//!
//! J. Dormand and P. Prince, J. Comp. Appl. Math. 6 (1980) 19; the interpolant of order 4 and the controller as in
//! E. Hairer, S. Norsett and G. Wanner, Solving Ordinary Differential Equations I (1993), II.4 and II.6 (remembered; a
//! test holds the orders).

/// A step that was taken: where it ends, and what the interpolant needs.
pub(crate) struct Step<const N: usize> {
    pub y: [f64; N],
    /// Error against the scales; accepted up to 1.
    pub error: f64,
    parts: [[f64; N]; 5],
}

const A: [[f64; 5]; 5] = [
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0],
    [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0, 0.0],
    [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0],
];
const C: [f64; 5] = [1.0 / 5.0, 3.0 / 10.0, 4.0 / 5.0, 8.0 / 9.0, 1.0];
const B: [f64; 6] = [35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0];
const E: [f64; 7] =
    [71.0 / 57600.0, 0.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];
const D: [f64; 7] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// From `y` with derivative `rate` over `h`; the last call of `f` is at the end of the step; `scale` gives the error allowed in each state for a relative tolerance.
pub(crate) fn step<const N: usize>(
    mut f: impl FnMut(f64, &[f64; N]) -> [f64; N],
    (t, y, rate): (f64, &[f64; N], &[f64; N]),
    h: f64,
    scale: &[f64; N],
    tolerance: f64,
) -> Step<N> {
    let mut k = [[0.0; N]; 7];
    k[0] = *rate;
    for stage in 0..5 {
        let mut at = *y;
        for (i, a) in at.iter_mut().enumerate() {
            let mut sum = 0.0;
            for (j, kj) in k.iter().enumerate().take(stage + 1) {
                sum += A[stage][j] * kj[i];
            }
            *a += h * sum;
        }
        k[stage + 1] = f(t + C[stage] * h, &at);
    }
    let mut end = *y;
    for (i, a) in end.iter_mut().enumerate() {
        let mut sum = 0.0;
        for (j, b) in B.iter().enumerate() {
            sum += b * k[j][i];
        }
        *a += h * sum;
    }
    k[6] = f(t + h, &end);
    let mut error = 0.0;
    let mut parts = [[0.0; N]; 5];
    for i in 0..N {
        let (mut e, mut d) = (0.0, 0.0);
        for j in 0..7 {
            e += E[j] * k[j][i];
            d += D[j] * k[j][i];
        }
        let allowed = tolerance * scale[i].max(y[i].abs()).max(end[i].abs());
        error += (h * e / allowed).powi(2);
        let change = end[i] - y[i];
        let bend = h * k[0][i] - change;
        parts[0][i] = y[i];
        parts[1][i] = change;
        parts[2][i] = bend;
        parts[3][i] = change - h * k[6][i] - bend;
        parts[4][i] = h * d;
    }
    Step { y: end, error: (error / N as f64).sqrt(), parts }
}

impl<const N: usize> Step<N> {
    /// The state at a share of the step.
    pub fn within(&self, share: f64) -> [f64; N] {
        let (s, r) = (share, 1.0 - share);
        let p = &self.parts;
        std::array::from_fn(|i| p[0][i] + s * (p[1][i] + r * (p[2][i] + s * (p[3][i] + r * p[4][i]))))
    }

    /// Factor for the next step by this one's error.
    pub fn factor(&self) -> f64 {
        if self.error.is_nan() { 0.1 } else { (0.9 * self.error.max(1e-10).powf(-0.2)).clamp(0.2, 5.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An oscillator whose solution is known: halving the step divides the end's error by 2^5 at least and that of the
    /// middle by 2^4 and more (orders of the pair).
    #[test]
    fn it_has_its_orders() {
        let f = |t: f64, y: &[f64; 2]| [y[1], -y[0] + 0.0 * t];
        let errors = |h: f64| {
            let y = [1.0, 0.0];
            let s = step(f, (0.0, &y, &f(0.0, &y)), h, &[1.0; 2], 1e-6);
            let mid = s.within(0.37);
            ((s.y[0] - h.cos()).abs(), (mid[0] - (0.37 * h).cos()).abs())
        };
        let (a, b) = (errors(0.4), errors(0.2));
        assert!(a.0 / b.0 > 30.0 && a.1 / b.1 > 15.0, "{a:?} {b:?}");
        assert!(b.0 < 1e-6 && b.1 < 1e-6);
    }
}
