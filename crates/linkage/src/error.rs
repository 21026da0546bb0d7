//! What can be wrong with a linkage or with a place asked of it.

use thiserror::Error;

/// A linkage that cannot be built.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum BuildError {
    /// A coordinate, direction or length is not a finite number, or is absurdly large.
    #[error("`{joint}` has a coordinate that is not a usable number")]
    NotFinite {
        /// The joint.
        joint: String,
    },
    /// The two points of a rod, hinge or line coincide.
    #[error("the two points of `{joint}` coincide")]
    Coincident {
        /// The joint.
        joint: String,
    },
    /// A joint between a thing and itself holds nothing.
    #[error("`{joint}` joins a body to itself")]
    SameBody {
        /// The joint.
        joint: String,
    },
    /// A joint names a body, carriage or input that the linkage does not have.
    #[error("`{joint}` is joined to something that the linkage does not have")]
    UnknownFrame {
        /// The joint.
        joint: String,
    },
}

/// A position that the linkage cannot take, with the last one that it could.
#[derive(Clone, Debug, Error, PartialEq)]
#[error("{}", unreachable_words(*share, *reason, binding))]
pub struct Unreachable {
    /// Inputs at the last position reached.
    pub reached: Vec<f64>,
    /// Share of the way from the start to the target that was covered [0..1].
    pub share: f64,
    /// Why it stops.
    pub reason: StopReason,
    /// The joints that carry most there, largest first: what binds.
    pub binding: Vec<String>,
}

/// Why a linkage stops short.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopReason {
    /// The drive loses its hold: links come into line (a toggle or dead point).
    Toggle,
    /// No position nearby satisfies all joints.
    NoPosition,
    /// The start itself satisfies the joints only with more than one assembly or with none.
    Assembly,
    /// Rates were asked for that are not one for each input.
    Rates {
        /// Inputs of the linkage.
        expected: usize,
        /// Rates given.
        found: usize,
    },
}

fn unreachable_words(share: f64, reason: StopReason, binding: &[String]) -> String {
    match reason {
        StopReason::Rates { expected, found } => {
            format!("{found} rates are given, and the linkage has {expected} inputs")
        }
        _ => {
            format!(
                "the linkage stops at {:.1} % of the way asked; {}",
                100.0 * share,
                binding_words(binding)
            )
        }
    }
}

fn binding_words(binding: &[String]) -> String {
    match binding {
        [] => "no single joint binds".into(),
        [one] => format!("`{one}` binds"),
        [one, rest @ ..] => {
            format!(
                "`{one}` binds with {}",
                rest.iter().map(|b| format!("`{b}`")).collect::<Vec<_>>().join(", ")
            )
        }
    }
}
