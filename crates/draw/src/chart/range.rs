//! The range of an axis and its round numbers.

/// Where there is no spread at all, the range is this share of the value on both sides.
const SPREAD: f64 = 0.1;

/// A spread below this share of the values is rounding noise, and is not blown up to fill the page.
const NOISE: f64 = 1e-9;

/// An axis: from, to, and its steps, all in shown units.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Range {
    pub from: f64,
    pub to: f64,
    pub step: f64,
    decimals: usize,
    scientific: bool,
}

impl Range {
    /// Covers the finite ones of some values with about `count` steps. `tight` ends at the values, else at steps.
    pub fn new(values: impl Iterator<Item = f64>, count: f64, tight: bool) -> Self {
        // Half of the largest number, so that differences stay finite.
        let most = f64::MAX / 4.0;
        let (mut lo, mut hi) = values
            .filter(|v| v.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
        if lo > hi {
            (lo, hi) = (0.0, 1.0);
        }
        (lo, hi) = (lo.clamp(-most, most), hi.clamp(-most, most));
        let size = lo.abs().max(hi.abs());
        if hi - lo <= size * NOISE || size < f64::MIN_POSITIVE * 1e20 {
            let half = if size < f64::MIN_POSITIVE * 1e20 { 1.0 } else { size * SPREAD };
            let middle = lo + (hi - lo) / 2.0;
            (lo, hi) = (middle - half, middle + half);
        }
        let step = round_step((hi - lo) / count.max(1.0));
        let (from, to) = if tight {
            (lo, hi)
        } else {
            // A curve on the frame is hard to see: it keeps a little off.
            let air = (hi - lo) * 0.04;
            (((lo - air) / step).floor() * step, ((hi + air) / step).ceil() * step)
        };
        let power = step.log10().floor();
        let decimals = if power < 0.0 { (-power) as usize } else { 0 };
        let scientific = from.abs().max(to.abs()) >= 1e6 || power < -5.0;
        Self { from, to, step, decimals, scientific }
    }

    /// The round values inside.
    pub fn ticks(&self) -> impl Iterator<Item = f64> + '_ {
        let slack = 1e-6;
        let first = (self.from / self.step - slack).ceil();
        let last = (self.to / self.step + slack).floor();
        let count = (last - first).clamp(0.0, 200.0) as usize;
        (0..=count).map(move |i| (first + i as f64) * self.step).filter(|v| v.is_finite())
    }

    /// Whether a value is inside.
    pub fn has(&self, value: f64) -> bool {
        let slack = (self.to - self.from) * 1e-9;
        self.from - slack <= value && value <= self.to + slack
    }

    /// Where a value is, 0 at the beginning and 1 at the end.
    pub fn share(&self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from)
    }

    /// A value in words, with some digits more than the steps need.
    pub fn text(&self, value: f64, more: usize) -> String {
        let value = if value.abs() < self.step * 1e-6 { 0.0 } else { value };
        if self.scientific {
            return if value == 0.0 { "0".into() } else { format!("{value:.*e}", 1 + more) };
        }
        let text = format!("{value:.*}", self.decimals + more);
        match text.strip_prefix('-') {
            Some(rest) if !rest.bytes().any(|b| b.is_ascii_digit() && b != b'0') => rest.to_string(),
            _ => text,
        }
    }
}

/// The round number (1, 2 or 5 times a power of ten) that is not less than `raw`.
fn round_step(raw: f64) -> f64 {
    let power = 10f64.powf(raw.log10().floor());
    [1.0, 2.0, 5.0].into_iter().map(|s| s * power).find(|s| *s >= raw * (1.0 - 1e-9)).unwrap_or(10.0 * power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(values: &[f64], count: f64, expect: &str) {
        let range = Range::new(values.iter().copied(), count, false);
        let ticks: Vec<String> = range.ticks().map(|t| range.text(t, 0)).collect();
        assert_eq!(ticks.join(" "), expect);
    }

    #[test]
    fn ticks_are_round() {
        check(&[0.0, 1.0], 5.0, "-0.2 0.0 0.2 0.4 0.6 0.8 1.0 1.2");
        check(&[-52.0, 47.0], 5.0, "-60 -40 -20 0 20 40 60");
        check(&[], 2.0, "-0.5 0.0 0.5 1.0 1.5");
        check(&[3.0, 3.0, f64::NAN], 2.0, "2.5 3.0 3.5");
        check(&[0.0], 2.0, "-2 -1 0 1 2");
        check(&[1e9, 3e9], 2.0, "0 1.0e9 2.0e9 3.0e9 4.0e9");
        check(&[1e-8, 3e-8], 2.0, "0 1.0e-8 2.0e-8 3.0e-8 4.0e-8");
    }

    #[test]
    fn any_values_give_a_sound_range() {
        let values = [
            0.0,
            -0.0,
            1.0,
            1e-300,
            f64::MIN_POSITIVE,
            1e300,
            f64::MAX,
            -f64::MAX,
            f64::NAN,
            f64::INFINITY,
            5.0 + 1e-14,
        ];
        for a in values {
            for b in values {
                for tight in [true, false] {
                    let range = Range::new([a, b].into_iter(), 4.0, tight);
                    assert!(range.from < range.to && range.step > 0.0, "{a} {b} {range:?}");
                    assert!(range.ticks().count() <= 12, "{a} {b} {range:?}");
                    for tick in range.ticks() {
                        assert!((-0.01..=1.01).contains(&range.share(tick)), "{a} {b} {tick} {range:?}");
                    }
                }
            }
        }
    }
}
