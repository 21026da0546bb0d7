//! `[survey]`: the frame in which the points were taken.

mod sentence;

use std::ops::Range;

use nalgebra::Vector3;
use units::Dimension;

use crate::diagnostic::Sink;
use crate::frame::SurveyFrame;
use crate::point;
use crate::reader::Section;
use crate::slips;
use sentence::Zero;

/// Standard uncertainty of a coordinate where the file states none \[m\]: a careful tape and plumb-bob survey.
const DEFAULT_ACCURACY: f64 = 2e-3;

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
        if !root.has("survey") && root.misspelt("survey") {
            root.sink.give_up();
        } else if !root.has("survey") {
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
    let names: Vec<&str> = datums.iter().map(|datum| datum.name.as_str()).collect();
    let x = sentence::axis(&section, "x", &names);
    let y = sentence::axis(&section, "y", &names);
    let z = sentence::axis(&section, "z", &names);
    let accuracy = if section.has("accuracy") {
        point::accuracy(&section)
    } else {
        let shown = slips::length(&section.units, DEFAULT_ACCURACY);
        sink.note(
            &section.span,
            format!("`survey.accuracy` is not given, so each coordinate is taken to be sure to ± {shown}"),
            "say how well you measured: a tape gives about 2 mm, a plumb-bob and steel rule about 1 mm"
                .to_string(),
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
        let x = section.entry("x").and_then(|x| Some((x.quantity(Dimension::Length)?.value, x.span)));
        let z = section.quantity("z", Dimension::Length).map(|z| z.value);
        found.push(Datum { name, x, z, span: section.span.clone() });
        section.finish(None);
    }
    found
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
                            format!(
                                "`[survey.datum.{}]` needs `x`: its distance from the front axle",
                                datum.name
                            ),
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
