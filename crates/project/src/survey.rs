//! `[survey]`: the sentences that say where a survey's axes point and where its tapes were hooked.

use std::ops::Range;

use nalgebra::Vector3;
use units::Dimension;

use crate::diagnostic::Sink;
use crate::frame::SurveyFrame;
use crate::point;
use crate::reader::Section;
use crate::slips;
use crate::suggest;

/// Standard uncertainty of a coordinate where the file states none \[m\]: a careful tape and plumb-bob survey.
const DEFAULT_ACCURACY: f64 = 2e-3;

/// Where the tape for x or z was hooked.
#[derive(Clone, Debug, PartialEq)]
enum Zero {
    FrontAxle,
    RearAxle,
    Centreline,
    Ground,
    /// Index into the named datums.
    Named(usize),
}

/// What `[survey]` says, before the wheels tell where the axles are.
pub(crate) struct Survey {
    along: [bool; 3],
    zeros: [Zero; 3],
    datums: Vec<Datum>,
    description: String,
    /// Standard uncertainty of a coordinate that states none \[m\].
    pub(crate) accuracy: f64,
    span: Range<usize>,
}

/// `[survey.datum.NAME]`.
struct Datum {
    name: String,
    /// Along the survey's x from the front axle \[m\].
    x: Option<(f64, Range<usize>)>,
    /// Height above ground \[m\].
    z: Option<f64>,
    span: Range<usize>,
}

/// Reads `[survey]`. `None`, with a fatal error, where the frame is not known.
pub(crate) fn read(root: &Section<'_>) -> Option<Survey> {
    let sink = root.sink;
    let Some(section) = root.section("survey") else {
        if !root.has("survey") {
            sink.fatal(
                &(0..0),
                "the file needs `[survey]`: the frame in which the points were taken".to_string(),
                "for example: x = \"rearward from front axle\", y = \"left from centreline\", z = \"up from ground\""
                    .to_string(),
            );
        }
        return None;
    };
    let datums = datums(&section);
    let x = axis(&section, "x", &datums);
    let y = axis(&section, "y", &datums);
    let z = axis(&section, "z", &datums);
    let accuracy = if section.has("accuracy") {
        point::accuracy(&section)
    } else {
        let shown = units::show::with_unit(DEFAULT_ACCURACY, Dimension::Length, &section.units, 3);
        sink.note(
            &section.span,
            format!("`survey.accuracy` is not given, so each coordinate is taken to be sure to ± {shown}"),
            "say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm".to_string(),
        );
        None
    };
    let span = section.span.clone();
    section.finish(None);
    let (Some(x), Some(y), Some(z)) = (x, y, z) else {
        return None;
    };
    let description = format!("x {}, y {}, z {}", x.words, y.words, z.words);
    Some(Survey {
        along: [x.along, y.along, z.along],
        zeros: [x.zero, y.zero, z.zero],
        datums,
        description,
        accuracy: accuracy.unwrap_or(DEFAULT_ACCURACY),
        span,
    })
}

fn datums(survey: &Section<'_>) -> Vec<Datum> {
    let mut found = Vec::new();
    for (name, section) in survey.named_sections("datum") {
        let x = section.entry("x").and_then(|x| Some((x.quantity(Dimension::Length)?.value, x.span.clone())));
        let z = section.quantity("z", Dimension::Length).map(|z| z.value);
        found.push(Datum { name, x, z, span: section.span.clone() });
        section.finish(None);
    }
    found
}

/// One sentence, understood.
struct Axis {
    along: bool,
    zero: Zero,
    words: String,
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

fn axis(section: &Section<'_>, name: &'static str, datums: &[Datum]) -> Option<Axis> {
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
        return fatal(format!("`survey.{name}` is {}, where a sentence is wanted", entry.found()), forms(name));
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
                format!("`survey.{name}` does not understand `{}`", crate::entry::shorten(&direction)),
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
            let datum = datums.iter().position(|datum| spelt(&datum.name) == other);
            match datum.filter(|_| name != "y") {
                Some(index) => Zero::Named(index),
                None => {
                    let names = datums.iter().map(|datum| datum.name.as_str()).filter(|_| name != "y");
                    let near = suggest::nearest(other, places(name).iter().copied().chain(names));
                    let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
                    return fatal(
                        format!("`survey.{name}` measures from `{}`, which is not known", crate::entry::shorten(other)),
                        format!("{near}{}", forms(name)),
                    );
                }
            }
        }
    };
    let shown = match zero {
        Zero::Named(index) => datums.get(index).map_or("", |datum| datum.name.as_str()).to_string(),
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

/// What is known about the axles when the frame is settled \[m\].
pub(crate) struct Axles {
    /// x of the front wheel's centre as written.
    pub(crate) front: Option<f64>,
    /// x of the rear wheel's centre as written.
    pub(crate) rear: Option<f64>,
    /// The wheelbase stated in `[car]`.
    pub(crate) wheelbase: Option<f64>,
}

/// Disagreement between a datum and a wheel above which the user is told \[m\].
const DISAGREEMENT: f64 = 0.010;

impl Survey {
    /// The named datum that heights are measured from, where it is not the ground.
    pub(crate) fn height_datum(&self) -> Option<&str> {
        match &self.zeros[2] {
            Zero::Named(index) => self.datums.get(*index).map(|datum| datum.name.as_str()),
            _ => None,
        }
    }

    /// The frame, now that the wheels' places are known. `None`, with a fatal error, where they do not say enough.
    ///
    /// The origin is under the front wheels' centres whenever the file has them; a distance from an axle or a
    /// datum then only has to be the same for every point.
    pub(crate) fn frame(&self, axles: &Axles, root: &Section<'_>) -> Option<SurveyFrame> {
        let sign = if self.along[0] { 1.0 } else { -1.0 };
        let x = match axles.front {
            Some(front) => -sign * front,
            None => self.x_without_front(sign, axles, root.sink)?,
        };
        if let (Some(front), Zero::Named(index)) = (axles.front, &self.zeros[0])
            && let Some((stated, span)) = self.datums.get(*index).and_then(|datum| datum.x.as_ref())
            && (stated + front).abs() > DISAGREEMENT
        {
            let off = slips::length(&root.units, (stated + front).abs());
            root.sink.warning(
                span,
                format!("this and the front wheel's centre disagree by {off} about where the front axle is"),
                "the wheel's centre is used; measure again, or leave `x` of the datum out".to_string(),
            );
        }
        let z = match &self.zeros[2] {
            Zero::Named(index) => {
                let datum = self.datums.get(*index)?;
                let Some(height) = datum.z else {
                    root.sink.fatal(
                        &datum.span,
                        format!("`[survey.datum.{}]` needs `z`: its height above ground", datum.name),
                        None,
                    );
                    return None;
                };
                height
            }
            _ => 0.0,
        };
        Some(SurveyFrame::new(self.along, Vector3::new(x, 0.0, z), self.description.clone()))
    }

    /// x of the survey's zero in the car's axes, when only a rear axle is there.
    fn x_without_front(&self, sign: f64, axles: &Axles, sink: &Sink<'_>) -> Option<f64> {
        let rear = axles.rear.unwrap_or(0.0);
        match &self.zeros[0] {
            Zero::RearAxle => Some(match axles.wheelbase {
                Some(wheelbase) => -wheelbase - sign * rear,
                None => {
                    sink.note(
                        &self.span,
                        "without `wheelbase`, x is counted from the rear axle in all results".to_string(),
                        "nothing else changes; anti-features need `wheelbase` in `[car]`".to_string(),
                    );
                    -sign * rear
                }
            }),
            Zero::Named(index) => {
                let datum = self.datums.get(*index)?;
                match (&datum.x, axles.wheelbase) {
                    (Some((x, _)), _) => Some(sign * x),
                    (None, Some(wheelbase)) => Some(-wheelbase - sign * rear),
                    (None, None) => {
                        sink.fatal(
                            &datum.span,
                            format!("`[survey.datum.{}]` needs `x`: its distance from the front axle", datum.name),
                            "or give `wheelbase` in `[car]`".to_string(),
                        );
                        None
                    }
                }
            }
            _ => Some(0.0),
        }
    }
}
