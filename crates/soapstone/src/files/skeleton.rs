//! The lines of both axles in space, to draw a frame around.

use draw::Scene;
use draw::scene::{LineKind, Side};
use exchange::{Drawing, Layer, Shape, StepHead, dxf, step};
use nalgebra::Vector3;
use project::model::{Car, End};
use study::Subject;

use super::{FileError, Kind};

/// Height of the names in space [mm].
const LETTERS: f64 = 8.0;

/// The axles at ride height with their candidate holes as drawn; those that cannot be built are left out.
pub(super) fn scenes(car: &Car) -> Result<Vec<Scene>, FileError> {
    let mut scenes = Vec::new();
    let mut wrong = None;
    for end in [End::Front, End::Rear].into_iter().filter(|end| car.axle(*end).is_some()) {
        match Subject::new(car, end).and_then(|subject| paper::scene::as_drawn(&subject)) {
            Ok(scene) => scenes.push(scene),
            Err(error) => wrong = Some(error),
        }
    }
    match (scenes.is_empty(), wrong) {
        (true, Some(error)) => Err(error.into()),
        _ => Ok(scenes),
    }
}

/// The skeleton as DXF or STEP, in the car's axes and millimetres.
pub(crate) fn skeleton_file(car: &Car, kind: Kind) -> Result<Vec<u8>, FileError> {
    let mut drawing = Drawing::default();
    for scene in scenes(car)? {
        for (word, side) in [("left", &scene.left), ("right", &scene.right)] {
            lines(&mut drawing, &scene, side, word)?;
            wheel(&mut drawing, &scene, side, word)?;
        }
    }
    match kind {
        Kind::Dxf => Ok(dxf(&drawing)?.into_bytes()),
        Kind::Step => {
            let head =
                StepHead { title: car.name.clone(), written: crate::print::today(), author: String::new() };
            Ok(step(&drawing, &head)?.into_bytes())
        }
        _ => Err(FileError::Kind(kind)),
    }
}

/// Name and colour of a line's layer.
fn layer(kind: LineKind) -> (&'static str, u8) {
    match kind {
        LineKind::Link => ("links", 7),
        LineKind::Strut => ("struts", 4),
        LineKind::Hinge => ("axes", 3),
        LineKind::Spring => ("springs", 6),
        LineKind::Damper => ("dampers", 6),
        LineKind::BarLink => ("bar links", 6),
        LineKind::Member => ("arms and uprights", 8),
    }
}

fn mm(at: &Vector3<f64>) -> [f64; 3] {
    [1e3 * at.x, 1e3 * at.y, 1e3 * at.z]
}

fn lines(drawing: &mut Drawing, scene: &Scene, side: &Side, word: &str) -> Result<(), FileError> {
    let end = scene.end.name();
    for line in &scene.lines {
        let Some((from, to)) = scene.ends(line, side) else { continue };
        if (to - from).norm() < 1e-6 {
            continue;
        }
        let (name, colour) = layer(line.kind);
        let shape = Shape::Line { from: mm(&from), to: mm(&to) };
        drawing.add(Layer::new(name, colour)?, format!("{end} {word} {}", line.name), shape);
    }
    for (point, at) in scene.points.iter().zip(&side.at) {
        let name = format!("{end} {word} {}", point.key);
        drawing.add(Layer::new("points", 1)?, name.clone(), Shape::Point { at: mm(at) });
        let text = Shape::Text { at: mm(at), height: LETTERS, rotation_deg: 0.0, text: name.clone() };
        drawing.add(Layer::NOTE, name, text);
    }
    Ok(())
}

/// The wheel's circles at both faces of the tyre, its rim, its axis, and where it touches the ground.
fn wheel(drawing: &mut Drawing, scene: &Scene, side: &Side, word: &str) -> Result<(), FileError> {
    let end = scene.end.name();
    let layer = Layer::new("wheels", 5)?;
    let wheel = &side.wheel;
    let normal = [wheel.spin.x, wheel.spin.y, wheel.spin.z];
    let mut circle = |name: &str, centre: Vector3<f64>, radius: f64| {
        let shape = Shape::Circle { centre: mm(&centre), normal, radius: 1e3 * radius };
        drawing.add(layer.clone(), format!("{end} {word} {name}"), shape);
    };
    circle("wheel at its middle", wheel.centre, wheel.radius);
    if let Some(rim) = wheel.rim {
        circle("rim at its middle", wheel.centre, rim);
    }
    let half = wheel.spin * (wheel.width / 2.0);
    let axis = Shape::Line { from: mm(&(wheel.centre - half)), to: mm(&(wheel.centre + half)) };
    drawing.add(Layer::new("axes", 3)?, format!("{end} {word} wheel axis"), axis);
    let contact = Shape::Point { at: mm(&side.contact) };
    drawing.add(Layer::new("points", 1)?, format!("{end} {word} where the tyre touches"), contact);
    Ok(())
}
