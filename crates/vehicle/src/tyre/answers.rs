//! What a tyre model cannot say, in words.

use super::Tyre;

/// A question that a person may ask of a tyre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Question {
    /// Force of a locked or spinning wheel, past the peak.
    PastThePeak,
    /// What camber does to grip and side force.
    Camber,
    /// Self-aligning moment, steering weight.
    AligningMoment,
    /// What pressure does.
    Pressure,
    /// Warm-up, overheating, wear.
    Temperature,
    /// A wet, dusty or rough road.
    Road,
    /// How soon force follows slip.
    Transient,
    /// Manoeuvring at walking pace.
    Standstill,
}

impl Question {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::PastThePeak,
        Self::Camber,
        Self::AligningMoment,
        Self::Pressure,
        Self::Temperature,
        Self::Road,
        Self::Transient,
        Self::Standstill,
    ];
}

pub(super) fn cannot(tyre: &Tyre, question: Question) -> Option<&'static str> {
    let simple = matches!(tyre, Tyre::Simple(_));
    match question {
        Question::PastThePeak if simple => {
            Some("the simple tyre keeps its peak force however far it slides: a locked wheel really has less")
        }
        Question::Camber if simple => {
            Some("the simple tyre does not feel camber: neither thrust nor loss of grip")
        }
        Question::AligningMoment if simple => Some("the simple tyre has no aligning moment"),
        Question::Transient if tyre.relaxation_length(1000.0).is_none() => {
            Some("the set has no relaxation parameters (`PTX1`, `PTY1`): force follows slip at once")
        }
        Question::PastThePeak | Question::Camber | Question::AligningMoment | Question::Transient => None,
        Question::Pressure => Some("pressure is not in the model: give figures for the pressure you run"),
        Question::Temperature => Some("grip does not depend on heat or wear here"),
        Question::Road => {
            Some("the figures hold for the road they were measured on; scale the friction for another")
        }
        Question::Standstill => {
            Some("slip is undefined at standstill; below about 3 m/s the forces mean little")
        }
    }
}
