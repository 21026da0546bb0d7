//! Motions of the wheel in the trade's words.

use linkage::Twist;

/// Lever at which a turn of the upright counts against a shift [m]: a wheel's radius.
pub const LEVER: f64 = 0.3;

/// What a wheel can do, by the largest part of its motion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    Steer,
    WindUp,
    Tip,
    ForeAft,
    Sideways,
    UpDown,
}

impl Way {
    pub fn of(t: &Twist<f64>) -> Self {
        let parts = [
            (t.w.z.abs() * LEVER, Self::Steer),
            (t.w.y.abs() * LEVER, Self::WindUp),
            (t.w.x.abs() * LEVER, Self::Tip),
            (t.v.x.abs(), Self::ForeAft),
            (t.v.y.abs(), Self::Sideways),
            (t.v.z.abs(), Self::UpDown),
        ];
        parts.iter().max_by(|a, b| a.0.total_cmp(&b.0)).map_or(Self::UpDown, |p| p.1)
    }

    pub fn words(&self) -> &'static str {
        match self {
            Self::Steer => "steer",
            Self::WindUp => "wind up about its axle",
            Self::Tip => "tip (camber)",
            Self::ForeAft => "move fore and aft",
            Self::Sideways => "move sideways",
            Self::UpDown => "move up and down by itself",
        }
    }

    /// The rod that would hold it.
    pub fn remedy(&self) -> &'static str {
        match self {
            Self::Steer => {
                "a tie rod or toe link that runs across the car, well ahead of or behind the others"
            }
            Self::WindUp => "a rod that runs fore and aft, well above or below the others",
            Self::Tip => "a rod that runs across the car, well above or below the others",
            Self::ForeAft => "a rod that runs fore and aft",
            Self::Sideways => "a rod that runs across the car",
            Self::UpDown => "look which two parts move against each other",
        }
    }
}

pub fn list(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("`{n}`")).collect();
    match quoted.as_slice() {
        [] => "none".into(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
