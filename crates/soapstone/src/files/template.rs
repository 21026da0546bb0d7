//! Drilling templates of a car's plates.

use draw::Rect;
use exchange::{Drawing as Plan, Layer, Shape, dxf};
use paper::Fonts;
use paper::pdf::pdf;
use paper::sheet::{Align, Paper, Spot};
use paper::template::{Clearance, Drawing, Mark, Pattern, Ring, drawing, of_plate, sheets};
use project::model::{Car, End};

use super::{FileError, Kind, document};

/// Which sides of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SideWanted {
    Left,
    Right,
    Both,
}

/// Between two plates of one drawing [mm].
const APART: f64 = 20.0;

/// Height of a capital letter as a share of the size of the face of the pages: DejaVu Sans, 0.729 (remembered).
const CAPITALS: f64 = 0.729;

/// The patterns of the plates that are asked for.
///
/// # Errors
/// Where the car has no plate, or none of that name on that axle; what there is is told.
pub(crate) fn patterns(
    car: &Car,
    end: Option<End>,
    plate: Option<&str>,
    side: SideWanted,
) -> Result<Vec<Pattern>, FileError> {
    let ends = [End::Front, End::Rear].into_iter().filter(|own| end.is_none_or(|end| end == *own));
    let axles: Vec<_> = ends.filter_map(|end| car.axle(end)).collect();
    let known: Vec<&str> = axles.iter().flat_map(|axle| &axle.plates).map(|p| p.name.as_str()).collect();
    let mut found = Vec::new();
    for axle in &axles {
        for own in axle.plates.iter().filter(|own| plate.is_none_or(|name| own.name == name)) {
            let [left, right] = of_plate(axle.end, own, &axle.holes, &Clearance::default())?;
            if side != SideWanted::Right {
                found.push(left);
            }
            if side != SideWanted::Left {
                found.push(right);
            }
        }
    }
    if !found.is_empty() {
        return Ok(found);
    }
    let of = end.map_or_else(|| "the file".to_string(), |end| format!("the {} axle", end.name()));
    Err(match plate {
        Some(name) if !known.is_empty() => FileError::Nothing {
            what: format!("{of} has no plate `{name}`"),
            hint: format!(
                "there is {}",
                known.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(", ")
            ),
        },
        _ => FileError::Nothing {
            what: format!("{of} has no plate, so that there is no template"),
            hint: "write one in `[rear.plate.NAME]`, with its corners and its bolt".into(),
        },
    })
}

/// The patterns as a file.
pub(crate) fn template_file(
    car: &Car,
    patterns: &[Pattern],
    kind: Kind,
    paper: Paper,
) -> Result<Vec<u8>, FileError> {
    let fonts = crate::print::fonts();
    if kind == Kind::Pdf {
        let mut document = document(car, "templates at 1:1", paper);
        for pattern in patterns {
            sheets(&mut document, fonts, pattern, &car.units)?;
        }
        return Ok(pdf(&document, fonts)?);
    }
    let whole = beside(patterns.iter().map(|pattern| drawing(fonts, pattern)));
    match kind {
        Kind::Svg => Ok(whole.svg(fonts).into_bytes()),
        Kind::Dxf => Ok(dxf(&plan(fonts, &whole))?.into_bytes()),
        _ => Err(FileError::Kind(kind)),
    }
}

/// Drawings side by side, in one.
fn beside(drawings: impl Iterator<Item = Drawing>) -> Drawing {
    let mut whole = Drawing::default();
    let mut begun = false;
    for drawing in drawings {
        let own = drawing.bounds;
        if !begun {
            whole = drawing;
            begun = true;
            continue;
        }
        let by = whole.bounds.right + APART - own.left;
        let spot = |(x, y): Spot| (x + by, y);
        let ring = |ring: Ring| Ring { centre: spot(ring.centre), ..ring };
        whole.cut.extend(drawing.cut.into_iter().map(|outline| outline.into_iter().map(spot).collect()));
        whole.drill.extend(drawing.drill.into_iter().map(ring));
        whole.mark.extend(drawing.mark.into_iter().map(|mark| match mark {
            Mark::Line { from, to } => Mark::Line { from: spot(from), to: spot(to) },
            Mark::Datum { from, to } => Mark::Datum { from: spot(from), to: spot(to) },
            Mark::Ring(own) => Mark::Ring(ring(own)),
            Mark::Text { at, height, words, align } => Mark::Text { at: spot(at), height, words, align },
        }));
        whole.bounds = Rect {
            left: whole.bounds.left,
            top: whole.bounds.top.min(own.top),
            right: own.right + by,
            bottom: whole.bounds.bottom.max(own.bottom),
        };
    }
    whole
}

/// A drawing for a machine: what is cut, drilled and marked on a layer each.
fn plan(fonts: &Fonts, drawing: &Drawing) -> Plan {
    let flat = |(x, y): Spot| [x, y, 0.0];
    let circle = |ring: &Ring| Shape::Circle {
        centre: flat(ring.centre),
        normal: [0.0, 0.0, 1.0],
        radius: ring.diameter / 2.0,
    };
    let mut plan = Plan::default();
    for outline in &drawing.cut {
        let points = outline.iter().map(|at| flat(*at)).collect();
        plan.add(Layer::CUT, "outline", Shape::Polyline { points, closed: true });
    }
    for ring in &drawing.drill {
        plan.add(Layer::DRILL, "hole", circle(ring));
    }
    for mark in &drawing.mark {
        let shape = match mark {
            Mark::Line { from, to } | Mark::Datum { from, to } => {
                Shape::Line { from: flat(*from), to: flat(*to) }
            }
            Mark::Ring(ring) => circle(ring),
            Mark::Text { at, height, words, align } => {
                let width = fonts.width(words, false) * height;
                let shift = match align {
                    Align::Left => 0.0,
                    Align::Middle => width / 2.0,
                    Align::Right => width,
                };
                Shape::Text {
                    at: [at.0 - shift, at.1, 0.0],
                    height: height * CAPITALS,
                    rotation_deg: 0.0,
                    text: words.clone(),
                }
            }
        };
        plan.add(Layer::MARK, "mark", shape);
    }
    plan
}
