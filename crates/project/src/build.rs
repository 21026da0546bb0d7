//! `[build]`: load cases, what links and brackets are made of, and the frame that they hang from.

mod case;
mod frame;
mod part;

use steel::grade::Grade;
use steel::section::Shape;
use steel::stock;
use units::Dimension;

use crate::axle::Context;
use crate::entry::{Entry, shorten};
use crate::model::{Axle, BuildReading, End};
use crate::reader::Section;
use crate::suggest;

/// The axles that names may be about.
#[derive(Clone, Copy)]
struct Axles<'a> {
    front: Option<&'a Axle>,
    rear: Option<&'a Axle>,
}

impl<'a> Axles<'a> {
    fn get(&self, end: End) -> Option<&'a Axle> {
        match end {
            End::Front => self.front,
            End::Rear => self.rear,
        }
    }

    /// The point that `rear.link.NAME.body` names, or an error.
    fn point(&self, entry: &Entry<'_>, name: &str) -> Option<(End, usize)> {
        let name = name.trim();
        let (end, point) = match name.split_once('.') {
            Some(("front", point)) => (End::Front, point),
            Some(("rear", point)) => (End::Rear, point),
            _ => {
                entry.error(
                    format!("`{}` does not say which axle it is about", shorten(name)),
                    "write it as \"rear.link.NAME.body\"".to_string(),
                );
                return None;
            }
        };
        let Some(axle) = self.get(end) else {
            entry.error(format!("the file has no `[{}]` that could be read", end.name()), None);
            return None;
        };
        let found = axle.scheme.point(point);
        if found.is_none() {
            entry.error(
                format!("there is no point `{}` on the {} axle", shorten(point), end.name()),
                suggest::hint(point, axle.scheme.points.iter().map(String::as_str)),
            );
        }
        Some((end, found?))
    }
}

/// Reads `[build]`, if it is there.
pub(crate) fn read(
    root: &Section<'_>,
    context: &Context<'_>,
    front: Option<&Axle>,
    rear: Option<&Axle>,
) -> Option<BuildReading> {
    let section = root.section("build")?;
    let axles = Axles { front, rear };
    let wanted = section.entry("wanted").and_then(|entry| {
        let wanted = entry.positive(Dimension::Ratio)?.value;
        if wanted < 1.0 {
            entry.error(
                format!("`{}` is {wanted}: the parts would not hold their own loads", entry.path),
                "1.5 is common practice; never less than 1".to_string(),
            );
            return None;
        }
        Some(wanted)
    });
    let grade = section.entry("grade").and_then(|entry| grade(&entry));
    let in_ledger = section.entry("in-ledger").and_then(|entry| entry.truth()).unwrap_or(false);
    let cases = case::read(&section, axles);
    let [front_parts, rear_parts] =
        [End::Front, End::Rear].map(|end| part::read(&section, end, axles.get(end), context));
    let frame = section.section("frame").and_then(|section| frame::read(section, context, axles));
    let span = section.span.clone();
    section.finish(None);
    let usual = BuildReading::usual()?;
    Some(BuildReading {
        wanted: wanted.unwrap_or(usual.wanted),
        grade: grade.unwrap_or(usual.grade),
        in_ledger,
        cases,
        front: front_parts,
        rear: rear_parts,
        frame,
        span,
    })
}

/// A steel by its name, or with its strengths: `{ yield = "420 MPa", ultimate = "550 MPa" }`.
fn grade(entry: &Entry<'_>) -> Option<Grade> {
    if let Some(name) = entry.text_if_any() {
        let found = Grade::named(name.trim()).ok();
        if found.is_none() {
            let names = steel::grade::grades().iter().map(|g| g.name.as_str());
            let near = suggest::nearest(name, names).map(|near| format!("did you mean \"{near}\"? or "));
            entry.error(
                format!("`{}` does not know the steel `{}`", entry.path, shorten(name)),
                format!(
                    "{}state it: {{ yield = \"420 MPa\", ultimate = \"550 MPa\" }}",
                    near.unwrap_or_default()
                ),
            );
        }
        return found.cloned();
    }
    let section = entry.table()?;
    let strength = |key: &str, what: &str| {
        let entry = section.need(key, what)?;
        entry.positive(Dimension::Pressure)
    };
    let (yields, breaks) = (
        strength("yield", "its yield strength, such as \"420 MPa\""),
        strength("ultimate", "its tensile strength, such as \"550 MPa\""),
    );
    section.finish(None);
    let (yields, breaks) = (yields?.value, breaks?.value);
    if breaks < yields {
        entry.error(
            "the tensile strength is less than the yield strength".to_string(),
            "`ultimate` is where it breaks".to_string(),
        );
        return None;
    }
    Some(Grade {
        name: "own steel".into(),
        yields,
        breaks,
        young: steel::grade::YOUNG,
        shear: steel::grade::SHEAR,
        density: steel::grade::DENSITY,
        source: "stated in the file".into(),
    })
}

/// A section as people write it: `box 60x40x3`, `tube 25x2.5`.
fn section(entry: &Entry<'_>) -> Option<(String, Shape)> {
    let text = entry.text("a section, such as \"box 60x40x3\" or \"tube 25x2.5\",")?;
    match stock::shape(text) {
        Ok(shape) => Some((text.trim().to_string(), shape)),
        Err(error) => {
            entry.error(
                format!("`{}`: {error}", entry.path),
                "for example \"box 60x40x3\", \"tube 25x2.5\", \"tube 1 x 0.095 in\", \"bar 16\"".to_string(),
            );
            None
        }
    }
}
