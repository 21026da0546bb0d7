//! One root of a continuous function in a bracket.

/// Steps of [`root`]: the Illinois rule needs about ten on smooth functions; on the worst it still halves every other
/// step.
const MOST_STEPS: usize = 80;

/// Relative width of the bracket at which the search ends: three digits above rounding.
const WIDTH: f64 = 1e-13;

/// A zero of `f` between `lo` and `hi`, where it changes sign: regula falsi with the Illinois rule, halving where that
/// does not narrow (remembered). Without a sign change: the end with the smaller size.
pub(crate) fn root(mut f: impl FnMut(f64) -> f64, lo: f64, hi: f64) -> f64 {
    let (mut a, mut b) = (lo, hi);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return a;
    }
    if fb == 0.0 || (fa > 0.0) == (fb > 0.0) {
        return if fb.abs() < fa.abs() { b } else { a };
    }
    let mut side = 0i8;
    for step in 0..MOST_STEPS {
        if (b - a).abs() <= WIDTH * (a.abs() + b.abs()) {
            break;
        }
        let slant = b - fb * (b - a) / (fb - fa);
        let inside = a.min(b) < slant && slant < a.max(b);
        let x = if inside && step % 3 != 2 { slant } else { 0.5 * (a + b) };
        let fx = f(x);
        if fx == 0.0 {
            return x;
        }
        if (fx > 0.0) == (fb > 0.0) {
            (b, fb) = (x, fx);
            if side == -1 {
                fa *= 0.5;
            }
            side = -1;
        } else {
            (a, fa) = (x, fx);
            if side == 1 {
                fb *= 0.5;
            }
            side = 1;
        }
    }
    if fb.abs() < fa.abs() { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::root;

    #[test]
    fn roots() {
        assert!((root(|x| x * x - 2.0, 0.0, 2.0) - 2f64.sqrt()).abs() < 1e-12);
        assert!((root(|x| if x < 0.3 { -1e6 } else { 1.0 }, 0.0, 1.0) - 0.3).abs() < 1e-7);
        assert!((root(|x| x.powi(9), -1.0, 1.7)).abs() < 1e-2);
    }
}
