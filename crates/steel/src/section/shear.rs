//! How much of a section's area carries shear: the coefficients of G. R. Cowper, "The shear coefficient in Timoshenko's
//! beam theory", Journal of Applied Mechanics 33 (1966), pp. 335-340 (remembered). At Poisson's ratio 0 those of thin
//! walls and of the rectangle are the coefficients by energy, `I^2 / (A int (Q/b)^2 dA)`, which the tests integrate.

/// Poisson's ratio of steel (EN 1993-1-1 3.2.6; remembered).
pub(super) const POISSON: f64 = 0.3;

/// A round tube or bar; `ratio`: inner over outer diameter, 0 for a bar.
pub(super) fn round(ratio: f64, poisson: f64) -> f64 {
    let square = ratio * ratio;
    let sum = (1.0 + square).powi(2);
    6.0 * (1.0 + poisson) * sum / ((7.0 + 6.0 * poisson) * sum + (20.0 + 12.0 * poisson) * square)
}

/// A rectangle.
pub(super) fn rectangle(poisson: f64) -> f64 {
    10.0 * (1.0 + poisson) / (12.0 + 11.0 * poisson)
}

/// A thin-walled box; `ratio`: middle-line size across the shear over that along it. One wall all round, so that
/// Cowper's `m = b t_1/(h t)` is his `n = b/h`.
pub(super) fn thin_box(ratio: f64, poisson: f64) -> f64 {
    let m = ratio;
    let n = ratio;
    10.0 * (1.0 + poisson) * (1.0 + 3.0 * m).powi(2)
        / (12.0
            + 72.0 * m
            + 150.0 * m * m
            + 90.0 * m.powi(3)
            + poisson * (11.0 + 66.0 * m + 135.0 * m * m + 90.0 * m.powi(3))
            + 10.0 * n * n * ((3.0 + poisson) * m + 3.0 * m * m))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `I^2 / (A int (Q/b)^2 dA)` of a thin-walled box `b` wide, 1 high, wall 1 on the middle line: the shear flow is
    /// nought in the middle of a flange, `s/2` at `s` from there, `b/4 + (1/4 - z^2)/2` at `z` in a web.
    fn by_energy(b: f64) -> f64 {
        let steps = 2000;
        let mean = |f: &dyn Fn(f64) -> f64| {
            (0..steps).map(|k| f((f64::from(k) + 0.5) / f64::from(steps))).sum::<f64>() / f64::from(steps)
        };
        let second = 2.0 * b / 4.0 + 2.0 / 12.0;
        let area = 2.0 * b + 2.0;
        let flange = 4.0 * (b / 2.0) * mean(&|u| (u * b / 2.0 / 2.0).powi(2));
        let web = 2.0 * mean(&|u| (b / 4.0 + (0.25 - (u - 0.5).powi(2)) / 2.0).powi(2));
        second * second / (area * (flange + web))
    }

    #[test]
    fn thin_boxes_without_lateral_contraction_are_those_by_energy() {
        for ratio in [0.4, 0.5, 1.0, 2.0, 2.5] {
            assert!((thin_box(ratio, 0.0) / by_energy(ratio) - 1.0).abs() < 1e-6, "{ratio}");
        }
    }

    #[test]
    fn known_ends_of_the_range() {
        // Rectangle 5/6 and thin tube 1/2 by energy; Cowper's printed special case of the thin square tube.
        assert!((rectangle(0.0) - 5.0 / 6.0).abs() < 1e-15);
        assert!((round(1.0, 0.0) - 0.5).abs() < 1e-15);
        assert!((thin_box(1.0, 0.3) - 20.0 * 1.3 / (48.0 + 39.0 * 0.3)).abs() < 1e-15);
        assert!((round(0.0, 0.3) - 7.8 / 8.8).abs() < 1e-15);
    }
}
