//! A value together with what each uncertain input contributes to its ±.

/// A result with its first-order uncertainty (JCGM 100:2008, eq. 10: independent inputs).
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// Best estimate, SI.
    pub value: f64,
    /// For every parameter of the subject: derivative times standard uncertainty, in the value's unit.
    pub contributions: Vec<f64>,
}

/// Two results are told apart when their difference exceeds this many standard uncertainties of it: about 95 %
/// for a normal distribution (JCGM 100:2008, 6.3.3).
pub const COVERAGE: f64 = 2.0;

impl Estimate {
    /// Standard uncertainty.
    pub fn uncertainty(&self) -> f64 {
        self.contributions.iter().map(|c| c * c).sum::<f64>().sqrt()
    }

    /// Difference to another result and the standard uncertainty of that difference: errors that both share
    /// cancel. An input that one of them does not list contributes nothing to it.
    pub fn difference(&self, other: &Self) -> (f64, f64) {
        let (a, b) = (&self.contributions, &other.contributions);
        let square: f64 = (0..a.len().max(b.len()))
            .map(|i| a.get(i).copied().unwrap_or(0.0) - b.get(i).copied().unwrap_or(0.0))
            .map(|d| d * d)
            .sum();
        (self.value - other.value, square.sqrt())
    }

    /// Whether the survey cannot tell the two results apart.
    pub fn ties_with(&self, other: &Self) -> bool {
        let (difference, uncertainty) = self.difference(other);
        difference.abs() <= COVERAGE * uncertainty
    }

    /// The parameter that contributes most, with its share of the variance.
    pub fn main_contribution(&self) -> Option<(usize, f64)> {
        let total: f64 = self.contributions.iter().map(|c| c * c).sum();
        let (index, largest) =
            self.contributions.iter().map(|c| c * c).enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
        (total > 0.0).then(|| (index, largest / total))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_errors_cancel_in_a_difference() {
        let a = Estimate { value: 60.0, contributions: vec![7.0, 0.3, 0.0] };
        let b = Estimate { value: 62.0, contributions: vec![7.0, 0.0, 0.4] };
        assert!((a.uncertainty() - (49.09f64).sqrt()).abs() < 1e-12);
        assert_eq!(a.difference(&b), (-2.0, 0.5));
        assert!(!a.ties_with(&b));
        let c = Estimate { value: 60.9, ..b };
        assert!(a.ties_with(&c));
        assert_eq!(a.main_contribution().map(|m| m.0), Some(0));
    }
}
