//! The walls of the frame's tubes under the tabs of the pickups that hang from them. A thin beam gives way there long before
//! its section does.
//!
//! A pickup hangs from a node. Of the tubes that end there its tabs stand on the one that runs most nearly along their weld.

use nalgebra::Vector3;
use project::model::{Axle, AxleBuild, BracketReading};
use steel::frame::Response;
use steel::grade::Grade;
use steel::part::{Internal, TubeWall, WallLoad};
use steel::section::{Section, Shape};

use super::bracket::{Stance, force_on, offset, stance};
use super::cut::{CutPiece, Plate};
use super::forces::{AxleForces, Loaded};
use super::frame::{Ready, ends};
use super::part::{Made, Part, PartKind};

/// A share of the force along the hole beyond which a single tab is told to tip the wall, which no formula here covers.
const BARE_PUSH: f64 = 0.05;

/// What is said of that.
const TIPS: &str = "a push along the hole of a single tab tips the wall, which is not in it: gusset it";

/// Beyond this sine the weld does not run along the tube.
const ASKEW: f64 = 0.5;

/// What is said of that.
const ACROSS: &str = "the tab stands across the tube: reckoned as if along it";

/// The wall under one pickup, both sides of the car.
pub(super) struct Wall<'a> {
    part: Part,
    reading: &'a BracketReading,
    /// Steel of tabs and doubler.
    plates: &'a Grade,
    /// Length of the weld and thickness of a tab [m].
    plate: f64,
    tab: f64,
    /// Tube and its end (0, 1) on the left and on the right.
    on: [(usize, usize); 2],
    askew: bool,
    /// By case: what the tabs do to the wall, and whether a single one tips it.
    loads: Vec<[(WallLoad, bool); 2]>,
}

/// The walls under the pickups of an axle that hang from the frame and whose tabs and welds are known.
pub(super) fn walls<'a>(
    made: &Made<'a>,
    loaded: &Loaded<'_>,
    cases: &[AxleForces],
    ready: &Ready,
) -> Vec<Wall<'a>> {
    let end = made.axle.end;
    ready.carried(end).filter_map(|(point, nodes)| one(made, loaded, cases, ready, point, nodes)).collect()
}

fn one<'a>(
    made: &Made<'a>,
    loaded: &Loaded<'_>,
    cases: &[AxleForces],
    ready: &Ready,
    point: usize,
    nodes: [usize; 2],
) -> Option<Wall<'a>> {
    let (reading, _) = made.parts.bracket(point);
    let (plate, tab, reach) = (reading.weld_length?, reading.tab?, reading.reach?);
    let stance = stance(made.axle, loaded.points(), point, reading)?;
    let name = made.axle.scheme.points.get(point)?;
    let along = stance.across().normalize();
    let sides = [along, Vector3::new(along.x, -along.y, along.z)];
    let [left, right] = [ready.tube_along(nodes[0], &sides[0])?, ready.tube_along(nodes[1], &sides[1])?];
    let loads = cases
        .iter()
        .map(|forces| [0, 1].map(|side| load(reading, &stance, &force_on(forces, point, side), tab, reach)));
    Some(Wall {
        part: Part::new(PartKind::Wall, Some(made.axle.end), name, ""),
        reading,
        plates: reading.grade.as_ref().unwrap_or(made.grade),
        plate,
        tab,
        on: [left.0, right.0],
        askew: left.1 > ASKEW,
        loads: loads.collect(),
    })
}

/// What the tabs of a bracket do to the wall that they stand on. Two tabs count as one in the middle of the face, which is on
/// the safe side; a push along the hole presses one of them in and pulls the other.
fn load(
    reading: &BracketReading,
    stance: &Stance,
    force: &Vector3<f64>,
    tab: f64,
    reach: f64,
) -> (WallLoad, bool) {
    let through = force.dot(&stance.bolt).abs();
    let single = reading.double == Some(false);
    let pair = if single { 0.0 } else { through * reach / offset(reading, tab) };
    let square = force.dot(&stance.tab).abs() + pair;
    let moment = force.dot(&stance.across()) * reach;
    (WallLoad { square, moment }, single && through > BARE_PUSH * force.norm())
}

impl Wall<'_> {
    /// The tubes that it is about.
    pub fn tubes(&self) -> [usize; 2] {
        self.on.map(|(tube, _)| tube)
    }

    /// Its checks; with `section` as if its tubes had that one.
    pub fn part(&self, ready: &Ready, responses: &[Response], section: Option<&Section>) -> Part {
        let mut part = self.part.clone();
        for (case, (response, loads)) in responses.iter().zip(&self.loads).enumerate() {
            for (side, ((tube, at), (load, tips))) in self.on.iter().zip(loads).enumerate() {
                let Some(own) = ready.frame.tubes.get(*tube) else { continue };
                let section = section.unwrap_or(&own.section);
                let Some((face, wall, round)) = outline(&section.shape) else { continue };
                // A doubler as wide as the face takes the place of the wall, as strong as the weaker steel of both; the
                // tube's own stress is taken to go on in it.
                let (wall, steel) = match self.reading.doubler {
                    Some(doubler) if doubler > wall && self.plates.yields < own.grade.yields => {
                        (doubler, self.plates)
                    }
                    Some(doubler) => (doubler.max(wall), &own.grade),
                    None => (wall, &own.grade),
                };
                if part.made_of.is_empty() {
                    part.made_of = self.words(ready, *tube);
                }
                let used = ends(response, *tube).nth(*at).map_or(0.0, |inner| pressed(section, &inner));
                let used = (used / own.grade.yields).min(1.0);
                let wall = TubeWall {
                    face,
                    wall,
                    round,
                    plate: self.plate,
                    thickness: self.tab,
                    used,
                    grade: steel,
                };
                match wall.checks(load) {
                    Ok(mut checks) => {
                        for check in &mut checks {
                            let more = if *tips { Some(TIPS) } else { self.askew.then_some(ACROSS) };
                            check.outside = check.outside.or(more);
                        }
                        part.take(checks, case, side == 1);
                    }
                    Err(e) => part.lacks.push(e.to_string()),
                }
            }
        }
        part.lacks.sort();
        part.lacks.dedup();
        part.sorted()
    }

    fn words(&self, ready: &Ready, tube: usize) -> String {
        let (name, section) = ready.tube_words(tube).unwrap_or_default();
        match self.reading.doubler {
            Some(doubler) => format!("{name}, {section}, doubler of {:.1} mm", doubler * 1e3),
            None => format!("{name}, {section}"),
        }
    }
}

/// Doublers of an axle's brackets on the frame, both sides, those alike counted. As wide as the face and by as much longer
/// than the weld, which is somewhat more than EN 1993-1-8 table 7.18 asks of a plate on a face (remembered).
pub(super) fn doublers(axle: &Axle, parts: &AxleBuild, grade: &Grade, ready: &Ready) -> Vec<CutPiece> {
    let places: Vec<Vector3<f64>> = axle.points.iter().map(|point| point.at).collect();
    let mut pieces: Vec<CutPiece> = Vec::new();
    for (point, [node, _]) in ready.carried(axle.end) {
        let (reading, _) = parts.bracket(point);
        let found = || {
            let stance = stance(axle, &places, point, reading)?;
            let ((tube, _), _) = ready.tube_along(node, &stance.across().normalize())?;
            let (face, ..) = outline(&ready.frame.tubes.get(tube)?.section.shape)?;
            Some((reading.doubler?, face, reading.weld_length? + face))
        };
        let Some((thick, width, length)) = found() else { continue };
        let steel = reading.grade.as_ref().unwrap_or(grade);
        let name = format!("{} doublers", axle.end.name());
        Plate { name, size: [thick, width, length], to_hole: 0.0, steel }.among(&mut pieces, 2);
    }
    pieces
}

/// Width of the face, wall, whether round [m]; the wider face of a box, whose wall is the softer. `None` for solid bars.
fn outline(shape: &Shape) -> Option<(f64, f64, bool)> {
    match *shape {
        Shape::Box { height, width, wall, .. } => Some((height.max(width), wall, false)),
        Shape::Round { diameter, wall } => Some((diameter, wall, true)),
        Shape::Bar { .. } | Shape::Flat { .. } => None,
    }
}

/// Greatest pressure stress of a tube's own forces at a place [Pa].
fn pressed(section: &Section, inner: &Internal) -> f64 {
    (-inner.axial).max(0.0) / section.area
        + inner.bending_y.abs() / section.modulus_y
        + inner.bending_z.abs() / section.modulus_z
}
