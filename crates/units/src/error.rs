//! What can be wrong with a written quantity, where in the text, and what to write instead.

use std::ops::Range;

use thiserror::Error;

use crate::Dimension;
use crate::table;

/// Why a text is not a quantity. Every variant knows its place, see [`ParseError::at`].
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ParseError {
    /// There is nothing but white space.
    #[error("nothing is written here")]
    Empty {
        /// Bytes of the text.
        at: Range<usize>,
    },
    /// A `±` has no number on one of its sides.
    #[error("a number is missing beside `±`")]
    MissingNumber {
        /// The `±`.
        at: Range<usize>,
    },
    /// A number was expected.
    #[error("`{found}` is not a number")]
    NotANumber {
        /// What is there instead.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// `1,250` may be 1250 or 1.25.
    #[error("the comma in `{found}` may part thousands or decimals")]
    AmbiguousComma {
        /// The number.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// More than one dot or comma in a number, as in `1,250.5`.
    #[error("`{found}` has more than one dot or comma")]
    Separators {
        /// The number.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// The denominator of a fraction is zero.
    #[error("the fraction `{found}` divides by zero")]
    ZeroDenominator {
        /// The fraction.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// A fraction after a whole number is one or more, as in `24 5/2`.
    #[error("the fraction `{found}` after a whole number is not less than one")]
    ImproperFraction {
        /// The fraction.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// A fraction has, or follows, a number that is not whole, as in `1.5/2` or `24.5 1/2`.
    #[error("`{found}` mixes decimals and a fraction")]
    DecimalsInFraction {
        /// The number.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// Two or more signs in a row.
    #[error("`{found}` is more than one sign")]
    MoreThanOneSign {
        /// The signs.
        found: String,
        /// Their bytes.
        at: Range<usize>,
    },
    /// A sign stands inside a quantity.
    #[error("`{found}` is a sign inside the quantity")]
    MisplacedSign {
        /// The sign.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// No unit has this name.
    #[error("`{found}` is not a known unit")]
    UnknownUnit {
        /// The name as written.
        found: String,
        /// The known unit that it most resembles, if any does.
        nearest: Option<&'static str>,
        /// The dimension that was wanted.
        wanted: Dimension,
        /// Bytes of the name.
        at: Range<usize>,
    },
    /// The unit is known but measures something else.
    #[error("`{found}` is {}, {} is wanted here", .is.with_article(), .wanted.with_article())]
    WrongDimension {
        /// The unit as written.
        found: String,
        /// The dimension it has.
        is: Dimension,
        /// The dimension that was wanted.
        wanted: Dimension,
        /// Bytes of the unit.
        at: Range<usize>,
    },
    /// Something follows a complete quantity.
    #[error("`{found}` follows a complete quantity")]
    TrailingText {
        /// What follows.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// The number is infinite or not a number.
    #[error("the number is not finite")]
    NotFinite {
        /// Bytes of the number; `0..0` where it was not a text.
        at: Range<usize>,
    },
    /// The value in SI is larger than anything on a car.
    #[error("the value is absurdly large")]
    TooLarge {
        /// Bytes of the quantity; `0..0` where it was not a text.
        at: Range<usize>,
    },
    /// The part after `±` is less than zero.
    #[error("the uncertainty `{found}` is negative")]
    NegativeUncertainty {
        /// The uncertainty as written.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// `0.62 ± 3 %`: the per cent sign would make the value 0.0062.
    #[error("`%` after `±` leaves open whether `{found}` is per cent too")]
    UnclearPercent {
        /// The value as written.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
    /// A bare pitch of an inch or more where inches are in use is most likely a count of threads.
    #[error("a bare number of 1 or more is unclear as a thread pitch in inches")]
    UnclearPitch {
        /// Bytes of the number; `0..0` where it was not a text.
        at: Range<usize>,
    },
    /// A thread designation that makes no sense, or a size without a standard coarse pitch.
    #[error("`{found}` does not say a thread pitch")]
    UnknownThread {
        /// The designation.
        found: String,
        /// Its bytes.
        at: Range<usize>,
    },
}

impl ParseError {
    /// Place of the fault: bytes of the text, on character boundaries.
    pub fn at(&self) -> Range<usize> {
        match self {
            Self::Empty { at }
            | Self::MissingNumber { at }
            | Self::NotANumber { at, .. }
            | Self::AmbiguousComma { at, .. }
            | Self::Separators { at, .. }
            | Self::ZeroDenominator { at, .. }
            | Self::ImproperFraction { at, .. }
            | Self::DecimalsInFraction { at, .. }
            | Self::MoreThanOneSign { at, .. }
            | Self::MisplacedSign { at, .. }
            | Self::UnknownUnit { at, .. }
            | Self::WrongDimension { at, .. }
            | Self::TrailingText { at, .. }
            | Self::NotFinite { at }
            | Self::TooLarge { at }
            | Self::NegativeUncertainty { at, .. }
            | Self::UnclearPercent { at, .. }
            | Self::UnclearPitch { at }
            | Self::UnknownThread { at, .. } => at.clone(),
        }
    }

    /// What to write instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Empty { .. } => Some("write a number, as in `622` or `24 1/2 in`".into()),
            Self::MissingNumber { .. } => Some("write value and uncertainty, as in `480 ± 15 mm`".into()),
            Self::NotANumber { .. } => Some("begin with a number, as in `622 mm`".into()),
            Self::AmbiguousComma { found, .. } => {
                Some(format!("write `{}` or `{}`", found.replace(',', ""), found.replace(',', ".")))
            }
            Self::Separators { .. } => Some("write one decimal point and no thousands separators".into()),
            Self::ZeroDenominator { .. } => None,
            Self::ImproperFraction { .. } => Some("write a fraction less than one, as in `24 1/2`".into()),
            Self::DecimalsInFraction { .. } => Some("write `24.5` or `24 1/2`".into()),
            Self::MoreThanOneSign { .. } => {
                Some("write one sign; for an uncertainty write `±` or `+/-`".into())
            }
            Self::MisplacedSign { .. } => Some(
                "one sign at the front holds for the whole; for an uncertainty write `±` or `+/-`".into(),
            ),
            Self::UnknownUnit { nearest: Some(nearest), .. } => Some(format!("did you mean `{nearest}`?")),
            Self::UnknownUnit { nearest: None, wanted, .. } => Some(usual_units(*wanted)),
            Self::WrongDimension { is: Dimension::Mass, wanted: Dimension::Force, .. } => {
                Some("for the weight of a mass write `kgf`, `lbf` or `N`".into())
            }
            Self::WrongDimension { wanted, .. } => Some(usual_units(*wanted)),
            Self::TrailingText { .. } => Some("remove it, or write it as a comment".into()),
            Self::NotFinite { .. } => None,
            Self::TooLarge { .. } => Some("check the number and its unit".into()),
            Self::NegativeUncertainty { .. } => Some("write it without the sign".into()),
            Self::UnclearPercent { .. } => Some("write `62 % ± 3 %` or `0.62 ± 0.03`".into()),
            Self::UnclearPitch { .. } => Some("write `20 tpi` for threads per inch, or `0.05 in`".into()),
            Self::UnknownThread { .. } => {
                Some("write it as in `M12x1.5`, `1/2-20`, `20 tpi` or `1.5 mm`".into())
            }
        }
    }
}

/// `a length is written in mm, cm, m, in or ft`, with the units of the table that are meant to be offered.
fn usual_units(dimension: Dimension) -> String {
    let subject = dimension.with_article();
    let symbols = table::usual(dimension);
    match symbols.split_last() {
        None => format!("{subject} has no unit"),
        Some((only, [])) => format!("{subject} is a plain number, or one in `{only}`"),
        Some((last, others)) => {
            let others: Vec<String> = others.iter().map(|symbol| format!("`{symbol}`")).collect();
            format!("{subject} is written in {} or `{last}`", others.join(", "))
        }
    }
}

/// Longest part of a text that a message repeats \[characters\].
const EXCERPT: usize = 40;

/// The text as a message shows it: cut where it is long.
pub(crate) fn excerpt(text: &str) -> String {
    match text.char_indices().nth(EXCERPT) {
        Some((cut, _)) => format!("{}…", text.get(..cut).unwrap_or_default()),
        None => text.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_what_is_wrong_and_what_is_right() {
        let error = ParseError::WrongDimension {
            found: "kg".into(),
            is: Dimension::Mass,
            wanted: Dimension::Length,
            at: 4..6,
        };
        assert_eq!(error.to_string(), "`kg` is a mass, a length is wanted here");
        assert_eq!(error.hint().unwrap(), "a length is written in `mm`, `cm`, `m`, `in` or `ft`");
        assert_eq!(error.at(), 4..6);
    }

    #[test]
    fn long_texts_are_cut_between_characters() {
        assert_eq!(excerpt("622 mn"), "622 mn");
        assert_eq!(excerpt(&"½".repeat(100)), format!("{}…", "½".repeat(40)));
    }
}
