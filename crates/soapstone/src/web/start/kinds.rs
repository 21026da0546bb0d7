//! The kinds of suspension as a person chooses them: a picture, and what it is in plain words.

use std::sync::LazyLock;

use maud::{Markup, html};
use project::KINDS;
use project::model::End;
use units::UnitSystem;

use crate::web::measure::pictures::of_kind;

/// Name in the file, name for people, what it is.
const WORDS: [(&str, &str, &str); 6] = [
    (
        "five-link",
        "Five links",
        "Five separate links, each with a ball or bush at both ends, hold the upright.",
    ),
    (
        "double-wishbone",
        "Two arms",
        "An upper and a lower arm, each on two bushes at the body, and a tie rod or toe link.",
    ),
    (
        "strut",
        "Strut",
        "A strut that hangs from its top mount carries the upright; one lower arm and a tie rod hold it.",
    ),
    (
        "trailing-blade",
        "Trailing blade",
        "A blade, stiff up and down and soft sideways, reaches forward to a bush; three links across the car hold it.",
    ),
    (
        "semi-trailing-arm",
        "Slanted or trailing arm",
        "One arm on a hinge carries the wheel. With the hinge straight across the car it is a trailing arm.",
    ),
    (
        "links",
        "Something else",
        "Bodies and joints of your own, such as push rods and rockers: for what has no name here.",
    ),
];

/// The pictures, in the order of [`WORDS`]: each kind's own example, drawn once.
static PICTURES: LazyLock<Vec<String>> = LazyLock::new(|| {
    let draw = |kind: &str| {
        let text = project::starter(kind, &UnitSystem::default())?;
        let car = project::read(&text).car?;
        let end = if car.rear.is_some() { End::Rear } else { End::Front };
        Some(of_kind(&car, end).into_string())
    };
    WORDS.iter().map(|(kind, ..)| draw(kind).unwrap_or_default()).collect()
});

/// Whether a word is a kind.
pub(crate) fn is_kind(kind: &str) -> bool {
    KINDS.contains(&kind)
}

/// Name of a kind for people.
pub(crate) fn words(kind: &str) -> &'static str {
    WORDS.iter().find(|(own, ..)| *own == kind).map_or("", |(_, words, _)| words)
}

/// One choice of a kind for an end of the car.
pub(crate) fn choice(end: End, chosen: &str, none: Option<&str>) -> Markup {
    html! {
        fieldset.kinds {
            legend { (end.name()) " axle" }
            @if let Some(none) = none {
                label.kind.none {
                    input type="radio" name=(end.name()) value="" checked[!is_kind(chosen)];
                    span { b { (none) } }
                }
            }
            @for ((kind, name, what), picture) in WORDS.iter().zip(PICTURES.iter()) {
                label.kind {
                    input type="radio" name=(end.name()) value=(kind) checked[*kind == chosen] required[none.is_none()];
                    span { b { (name) } " " span.small { (kind) } br; (what) }
                    span.picture aria-hidden="true" { (maud::PreEscaped(picture)) }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_picture_and_words() {
        for ((kind, ..), picture) in WORDS.iter().zip(PICTURES.iter()) {
            assert!(is_kind(kind), "{kind}");
            assert_eq!(picture.matches("<svg").count(), 2, "{kind}");
        }
        assert_eq!(WORDS.len(), KINDS.len());
        assert_eq!(words("strut"), "Strut");
        assert!(!is_kind("teapot"));
    }
}
