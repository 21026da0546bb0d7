//! The sentences of `[survey]`: `rearward from front axle`, `up from sill rail`.

use crate::entry::shorten;
use crate::reader::Section;
use crate::suggest;

/// Where the tape for an axis was hooked.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Zero {
    FrontAxle,
    RearAxle,
    Centreline,
    Ground,
    /// Index into the named datums.
    Named(usize),
}

/// One sentence, understood.
pub(crate) struct Axis {
    /// Whether it runs along the car's axis, not against it.
    pub(crate) along: bool,
    pub(crate) zero: Zero,
    /// The sentence in one spelling.
    pub(crate) words: String,
}

/// The directions of an axis: (word, whether it runs along the car's axis). Others are slips.
fn directions(axis: &str) -> [(&'static str, bool); 2] {
    match axis {
        "x" => [("rearward", false), ("forward", true)],
        "y" => [("left", true), ("right", false)],
        _ => [("up", true), ("down", false)],
    }
}

/// The places that an axis may start from without a datum of one's own.
fn places(axis: &str) -> &'static [&'static str] {
    match axis {
        "x" => &["front axle", "rear axle"],
        "y" => &["centreline"],
        _ => &["ground"],
    }
}

fn forms(axis: &str) -> String {
    let [(first, _), (second, _)] = directions(axis);
    let mut places: Vec<&str> = places(axis).to_vec();
    if axis != "y" {
        places.push("NAME");
    }
    let mut all = Vec::new();
    for direction in [first, second] {
        all.extend(places.iter().map(|place| format!("\"{direction} from {place}\"")));
    }
    let named = if axis == "y" { "" } else { ", where NAME is a `[survey.datum.NAME]`" };
    format!("write {}{named}", all.join(", "))
}

/// Reads the sentence of one axis, `x`, `y` or `z`; `datums` are the named ones. `None` with a fatal error.
pub(crate) fn axis(section: &Section<'_>, name: &'static str, datums: &[&str]) -> Option<Axis> {
    let Some(entry) = section.entry(name) else {
        section.sink.fatal(
            &section.span,
            format!("`[survey]` needs `{name}`: which way it points, and from where"),
            forms(name),
        );
        return None;
    };
    let fatal = |message: String, hint: String| {
        entry.sink.fatal(&entry.span, message, hint);
        None
    };
    let Some(text) = entry.text_if_any() else {
        return fatal(
            format!("`survey.{name}` is {}, where a sentence is wanted", entry.found()),
            forms(name),
        );
    };
    let words: Vec<String> = text.to_lowercase().split_whitespace().map(spelling).collect();
    let (direction, place) = match words.iter().position(|word| word == "from") {
        Some(at) => (words.get(..at).unwrap_or_default(), words.get(at + 1..).unwrap_or_default()),
        None => (words.get(..1).unwrap_or_default(), words.get(1..).unwrap_or_default()),
    };
    let (direction, mut place) = (direction.join(" "), place.join(" "));
    if let Some(rest) = place.strip_prefix("the ") {
        place = rest.to_string();
    }
    if place == "centre line" {
        place = "centreline".to_string();
    }
    let known = directions(name);
    let Some((word, along)) = known.iter().find(|(word, _)| *word == direction) else {
        let near = suggest::nearest(&direction, known.map(|(word, _)| word));
        let other = ["x", "y", "z"].into_iter().find(|a| directions(a).iter().any(|(w, _)| *w == direction));
        return match (near, other) {
            (_, Some(other)) => fatal(
                format!("`survey.{name}` cannot point {direction}: that is a direction of `{other}`"),
                forms(name),
            ),
            (Some(near), _) if !direction.is_empty() => fatal(
                format!("`survey.{name}` does not understand `{}`", shorten(&direction)),
                format!("did you mean \"{near}\"? {}", forms(name)),
            ),
            _ => fatal(format!("`survey.{name}` does not say which way it points"), forms(name)),
        };
    };
    let zero = match place.as_str() {
        "" => return fatal(format!("`survey.{name}` does not say from where"), forms(name)),
        "front axle" if name == "x" => Zero::FrontAxle,
        "rear axle" if name == "x" => Zero::RearAxle,
        "centreline" if name == "y" => Zero::Centreline,
        "ground" if name == "z" => Zero::Ground,
        other => {
            let datum = datums.iter().position(|datum| spelt(datum) == other);
            match datum.filter(|_| name != "y") {
                Some(index) => Zero::Named(index),
                None => {
                    let names = datums.iter().copied().filter(|_| name != "y");
                    let near = suggest::nearest(other, places(name).iter().copied().chain(names));
                    let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
                    return fatal(
                        format!("`survey.{name}` measures from `{}`, which is not known", shorten(other)),
                        format!("{near}{}", forms(name)),
                    );
                }
            }
        }
    };
    let shown = match zero {
        Zero::Named(index) => datums.get(index).copied().unwrap_or_default().to_string(),
        _ => place,
    };
    Some(Axis { along: *along, zero, words: format!("{word} from {shown}") })
}

/// A datum's name as a sentence would have it.
fn spelt(name: &str) -> String {
    name.to_lowercase().split_whitespace().map(spelling).collect::<Vec<_>>().join(" ")
}

/// Spellings that mean the same, in one of them.
fn spelling(word: &str) -> String {
    match word {
        "rearwards" | "backward" | "backwards" | "aft" => "rearward",
        "forwards" => "forward",
        "leftward" | "leftwards" => "left",
        "rightward" | "rightwards" => "right",
        "upward" | "upwards" => "up",
        "downward" | "downwards" => "down",
        "centerline" | "center-line" | "centre-line" => "centreline",
        "center" => "centre",
        "front-axle" => "front axle",
        "rear-axle" => "rear axle",
        _ => word,
    }
    .to_string()
}
