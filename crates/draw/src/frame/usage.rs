//! How much of what a tube can take is in use: the number as written, and its class.

/// A class of use. It goes by the whole per cent as written, so that number and line never disagree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Class {
    /// Under a quarter.
    Low,
    /// A quarter to a half.
    Quarter,
    /// A half to three quarters.
    Half,
    /// From three quarters up to all that is allowed.
    High,
    /// Not a number: it must not look safe, so it comes above all that holds.
    Unknown,
    /// More than is allowed.
    Over,
}

/// What rounding noise of the arithmetic may add before the next whole per cent is written \[%\].
const NOISE: f64 = 1e-6;

/// The largest number written out \[%\].
const MOST: f64 = 999.0;

impl Class {
    /// In the order of the legend.
    pub const KNOWN: [Self; 5] = [Self::Low, Self::Quarter, Self::Half, Self::High, Self::Over];

    /// The class of a share in use (1: just holds what is wanted).
    pub fn of(uses: f64) -> Self {
        match percent(uses) {
            None => Self::Unknown,
            Some(p) if p < 25.0 => Self::Low,
            Some(p) if p < 50.0 => Self::Quarter,
            Some(p) if p < 75.0 => Self::Half,
            Some(p) if p <= 100.0 => Self::High,
            Some(_) => Self::Over,
        }
    }

    /// Class of its line in the stylesheet.
    pub fn name(self) -> &'static str {
        match self {
            Self::Low => "use-0",
            Self::Quarter => "use-1",
            Self::Half => "use-2",
            Self::High => "use-3",
            Self::Over => "use-4",
            Self::Unknown => "use-unknown",
        }
    }

    /// Words of the legend.
    pub fn words(self) -> &'static str {
        match self {
            Self::Low => "under 25 %",
            Self::Quarter => "25 to 49 %",
            Self::Half => "50 to 74 %",
            Self::High => "75 to 100 %",
            Self::Over => "over 100 %: too weak",
            Self::Unknown => "not known",
        }
    }

    /// Radius of a tube seen from its end \[px\].
    pub fn radius(self) -> f64 {
        match self {
            Self::Low => 2.5,
            Self::Quarter => 3.0,
            Self::Half => 3.5,
            Self::High | Self::Unknown => 4.25,
            Self::Over => 5.5,
        }
    }
}

/// Whole per cent, rounded up: a tube is never said to have more in hand than it has. `None` for what is no share.
pub(crate) fn percent(uses: f64) -> Option<f64> {
    (uses >= 0.0).then(|| (uses * 100.0 - NOISE).ceil().max(0.0))
}

/// `83 %`.
pub(crate) fn text(uses: f64) -> String {
    match percent(uses) {
        Some(p) if p > MOST => format!("over {MOST:.0} %"),
        Some(p) => format!("{p:.0} %"),
        None => "not known".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(uses: f64, class: Class, words: &str) {
        assert_eq!((Class::of(uses), text(uses).as_str()), (class, words), "{uses}");
    }

    #[test]
    fn classes_at_their_borders() {
        check(0.0, Class::Low, "0 %");
        check(-0.0, Class::Low, "0 %");
        check(1e-12, Class::Low, "0 %");
        check(0.07, Class::Low, "7 %");
        check(0.24, Class::Low, "24 %");
        check(0.2401, Class::Quarter, "25 %");
        check(0.25, Class::Quarter, "25 %");
        check(0.49, Class::Quarter, "49 %");
        check(0.499, Class::Half, "50 %");
        check(0.5, Class::Half, "50 %");
        check(0.74, Class::Half, "74 %");
        check(0.75, Class::High, "75 %");
        check(0.993, Class::High, "100 %");
        check(1.0, Class::High, "100 %");
        check(1.0 + 1e-12, Class::High, "100 %");
        check(1.0001, Class::Over, "101 %");
        check(9.99, Class::Over, "999 %");
        check(9.991, Class::Over, "over 999 %");
        check(f64::INFINITY, Class::Over, "over 999 %");
        check(f64::MAX, Class::Over, "over 999 %");
    }

    #[test]
    fn what_is_no_share_does_not_look_safe() {
        check(f64::NAN, Class::Unknown, "not known");
        check(-0.1, Class::Unknown, "not known");
        assert!(Class::Unknown > Class::High && Class::Over > Class::Unknown);
    }
}
