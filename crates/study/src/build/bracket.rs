//! Brackets of the pickups: bolt, tabs and their welds under the forces that the links put on them.
//!
//! Where the file states no directions, the bolt of a link lies level and square to the link as drawn, that of a hinge along
//! the hinge; the tab stands from its weld toward the part that it holds.

use linkage::scalar::perpendiculars;
use nalgebra::Vector3;
use project::model::{Axle, BracketReading, End};
use steel::grade::Grade;
use steel::part::{Bolt, BoltLoad, Clamp, Planes, Root, Spread, Tab, TabLoad, WeldGroup, WeldLine, WeldLoad};

use super::forces::{AxleForces, Loaded};
use super::part::{Made, Part, PartKind};

/// Friction of a torqued joint as rolled and cleaned (EN 1993-1-8 table 3.7, class D; remembered).
const FRICTION: f64 = 0.2;

/// Below this sine a direction square to a link is not to be told from its own.
const SQUARE: f64 = 1e-3;

/// Which way a bracket stands, left side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stance {
    /// Along the bolt.
    pub bolt: Vector3<f64>,
    /// From the weld to the hole.
    pub tab: Vector3<f64>,
}

impl Stance {
    /// In the plane of the tab, across it.
    pub fn across(&self) -> Vector3<f64> {
        self.bolt.cross(&self.tab)
    }
}

/// Direction of the hole at one end of a link (0 at the body, 1 at the wheel) on a side of the car.
pub(super) fn hole_axis(made: &Made<'_>, name: &str, which: usize, right: bool) -> Vector3<f64> {
    let axle = made.axle;
    let found = axle.scheme.lengths().find(|(own, ..)| *own == name);
    let axis = match found {
        Some((_, inner, _)) if which == 0 => {
            let drawn: Vec<Vector3<f64>> = axle.points.iter().map(|p| p.at).collect();
            stance(axle, &drawn, inner, made.parts.bracket(inner).0).map(|s| s.bolt)
        }
        Some((_, inner, outer)) => {
            let at = |i: usize| axle.points.get(i).map(|p| p.at);
            at(inner).zip(at(outer)).and_then(|(a, b)| level(&(b - a)))
        }
        None => None,
    };
    let mut axis = axis.unwrap_or_else(Vector3::x);
    if right {
        axis.y = -axis.y;
    }
    axis
}

/// Level and square to a direction; square to it anyhow where that stands upright.
fn level(along: &Vector3<f64>) -> Option<Vector3<f64>> {
    let along = along.try_normalize(1e-9)?;
    let level = along.cross(&Vector3::z());
    Some(level.try_normalize(SQUARE).unwrap_or_else(|| perpendiculars(&along).0))
}

/// Which way the bracket at a point stands; `None` where nothing tells.
pub(super) fn stance(
    axle: &Axle,
    places: &[Vector3<f64>],
    point: usize,
    reading: &BracketReading,
) -> Option<Stance> {
    let scheme = &axle.scheme;
    let at = |i: usize| places.get(i).copied();
    let here = at(point)?;
    let name = scheme.points.get(point)?;
    let twin = [("body-fore", "body-aft"), ("pivot-inner", "pivot-outer")].iter().find_map(|(a, b)| {
        let (part, own) = name.rsplit_once('.')?;
        let other = if own == *a {
            b
        } else if own == *b {
            a
        } else {
            return None;
        };
        at(scheme.point(&format!("{part}.{other}"))?)
    });
    let far = scheme.legs_at(point).find_map(|(_, other)| at(other)).unwrap_or(axle.wheel.centre.at);
    let toward = far - here;
    let bolt = match (reading.bolt_along, twin) {
        (Some(stated), _) => stated.try_normalize(1e-9)?,
        (None, Some(twin)) => (twin - here).try_normalize(1e-9)?,
        (None, None) => level(&toward)?,
    };
    let tab = reading.tab_along.unwrap_or(toward);
    let tab = (tab - bolt * bolt.dot(&tab)).try_normalize(1e-9)?;
    Some(Stance { bolt, tab })
}

/// Bolts, tabs and welds of all pickups of an axle. Springs, dampers and bars have theirs checked where the file gives their
/// bracket a table of its own.
pub(super) fn brackets(made: &Made<'_>, loaded: &Loaded<'_>, cases: &[AxleForces]) -> Vec<Part> {
    let axle = made.axle;
    let Some(first) = cases.first() else { return Vec::new() };
    let mut points: Vec<usize> = first.sides[0].pickups.iter().map(|p| p.point).collect();
    points.sort_unstable();
    points.dedup();
    let mounts: Vec<usize> =
        axle.scheme.elements.iter().flat_map(|e| [e.inner.point, e.outer.point]).collect();
    let wanted = |point: &usize| made.parts.bracket(*point).1 || !mounts.contains(point);
    let pickups = points.into_iter().filter(wanted);
    pickups.flat_map(|point| one(made, loaded, point, cases)).collect()
}

/// Bolt, tabs and welds of one pickup.
pub(super) fn named(made: &Made<'_>, loaded: &Loaded<'_>, name: &str, cases: &[AxleForces]) -> Vec<Part> {
    let point = made.axle.scheme.point(name);
    point.map_or_else(Vec::new, |point| one(made, loaded, point, cases))
}

fn one(made: &Made<'_>, loaded: &Loaded<'_>, point: usize, cases: &[AxleForces]) -> Vec<Part> {
    let (axle, end) = (made.axle, made.axle.end);
    let name = axle.scheme.points.get(point).map_or("", String::as_str);
    let (reading, _) = made.parts.bracket(point);
    let path = format!("`[build.{0}.{name}]` or `[build.{0}.brackets]`", end.name());
    let bracket = Bracket { grade: made.grade, reading, path };
    let mut parts = bracket.parts(end, name);
    let Some(stance) = stance(axle, loaded.points(), point, reading) else {
        for part in &mut parts {
            part.lacks.push(format!("no `bolt-along` and `tab-along` in {}", bracket.path));
        }
        return parts.into();
    };
    for (case, forces) in cases.iter().enumerate() {
        for side in 0..forces.sides.len() {
            let force = force_on(forces, point, side);
            let [bolt, tab, weld] = &mut parts;
            bracket.bolt(bolt, &stance, &force, (case, side == 1));
            bracket.tab(tab, &stance, &force, (case, side == 1));
            bracket.weld(weld, &stance, &force, (case, side == 1));
        }
    }
    parts
        .map(|mut part| {
            part.lacks.sort();
            part.lacks.dedup();
            part.sorted()
        })
        .into()
}

/// Force on the bracket at a point on a side (0 left), that of the right in its mirror [N].
pub(super) fn force_on(forces: &AxleForces, point: usize, side: usize) -> Vector3<f64> {
    let mirrored = |v: Vector3<f64>| if side == 1 { Vector3::new(v.x, -v.y, v.z) } else { v };
    let pickups = forces.sides.get(side).map_or(&[][..], |side| &side.pickups);
    pickups.iter().filter(|p| p.point == point).map(|p| mirrored(p.force)).sum()
}

/// From the middle of a tab to the line of the force [m].
pub(super) fn offset(reading: &BracketReading, tab: f64) -> f64 {
    reading.grip.unwrap_or(0.0) / 2.0 + reading.gap.unwrap_or(0.0) + tab / 2.0
}

/// One bracket with what it is made of.
struct Bracket<'a> {
    grade: &'a Grade,
    reading: &'a BracketReading,
    path: String,
}

impl Bracket<'_> {
    fn parts(&self, end: End, name: &str) -> [Part; 3] {
        let r = self.reading;
        let mm = |v: f64| v * 1e3;
        let bolt = match (r.bolt, r.class) {
            (Some(bolt), Some(class)) => {
                let shear = if self.planes() == Planes::Two { "double" } else { "single" };
                format!("{} {}, {shear} shear", bolt.name, class.name)
            }
            _ => String::new(),
        };
        let tab = r.tab.map_or_else(String::new, |t| {
            let count = if self.planes() == Planes::Two { "two tabs" } else { "one tab" };
            format!("{count} {:.1} mm thick", mm(t))
        });
        let weld = r.weld.zip(r.weld_length).map_or_else(String::new, |(leg, length)| {
            format!("fillets of {:.1} mm leg, {:.0} mm on each face of a tab", mm(leg), mm(length))
        });
        [
            Part::new(PartKind::Bolt, Some(end), name, bolt),
            Part::new(PartKind::Tab, Some(end), name, tab),
            Part::new(PartKind::Weld, Some(end), name, weld),
        ]
    }

    fn planes(&self) -> Planes {
        if self.reading.double == Some(false) { Planes::One } else { Planes::Two }
    }

    fn lack(&self, part: &mut Part, keys: &str) {
        part.lacks.push(format!("no {keys} in {}", self.path));
    }

    fn bolt(&self, part: &mut Part, stance: &Stance, force: &Vector3<f64>, (case, right): (usize, bool)) {
        let r = self.reading;
        let (Some(size), Some(class)) = (r.bolt, r.class) else {
            return self.lack(part, "`bolt` and `class`");
        };
        let planes = self.planes();
        let through = force.dot(&stance.bolt);
        let bolt = Bolt {
            thread: size.thread,
            class: class.clone(),
            planes,
            thread_in_plane: r.thread_in_shear.unwrap_or(true),
            spread: r.grip.zip(r.tab).map(|(inner, outer)| Spread {
                outer,
                gap: r.gap.unwrap_or(0.0),
                inner,
            }),
            clamp: r.torqued.filter(|t| *t).map(|_| Clamp {
                force: None,
                friction: FRICTION,
                surfaces: if planes == Planes::Two { 2 } else { 1 },
            }),
        };
        // Between two tabs what pushes along the bolt is taken by a tab, not by the bolt.
        let tension = if planes == Planes::One { through.abs() } else { 0.0 };
        let load = BoltLoad { shear: (force - stance.bolt * through).norm(), tension };
        match bolt.checks(&load) {
            Ok(checks) => part.take(checks, case, right),
            Err(e) => part.lacks.push(e.to_string()),
        }
    }

    fn tab(&self, part: &mut Part, stance: &Stance, force: &Vector3<f64>, (case, right): (usize, bool)) {
        let r = self.reading;
        let (Some(thickness), Some(width), Some(edge), Some(size), Some(class)) =
            (r.tab, r.width, r.edge, r.bolt, r.class)
        else {
            return self.lack(part, "`tab`, `width` and `edge`, or bolt");
        };
        let planes = self.planes();
        let grade = r.grade.as_ref().unwrap_or(self.grade);
        let tab = Tab {
            thickness,
            width,
            edge,
            hole: r.hole.unwrap_or(size.hole),
            bolt: size.thread.diameter,
            bolt_breaks: class.breaks,
            plates: planes,
            offset: if planes == Planes::One { offset(r, thickness) } else { 0.0 },
            grade,
            root: r.reach.map(|height| Root { width: r.weld_length.unwrap_or(width), height }),
        };
        let load = TabLoad {
            along: force.dot(&stance.tab),
            across: force.dot(&stance.across()),
            through: force.dot(&stance.bolt),
        };
        match tab.checks(&load) {
            Ok(checks) => part.take(checks, case, right),
            Err(e) => part.lacks.push(e.to_string()),
        }
    }

    fn weld(&self, part: &mut Part, stance: &Stance, force: &Vector3<f64>, (case, right): (usize, bool)) {
        let r = self.reading;
        let (Some(leg), Some(length), Some(reach), Some(tab)) = (r.weld, r.weld_length, r.reach, r.tab)
        else {
            return self.lack(part, "`weld`, `weld-length`, `reach` and `tab`");
        };
        let grade = r.grade.as_ref().unwrap_or(self.grade);
        let sides: &[f64] = if self.planes() == Planes::Two { &[-1.0, 1.0] } else { &[1.0] };
        let mut lines = Vec::new();
        for side in sides {
            let middle = stance.tab * -reach + stance.bolt * (side * offset(r, tab));
            for face in [-1.0, 1.0] {
                let at = middle + stance.bolt * (face * tab / 2.0);
                let half = stance.across() * (length / 2.0);
                // The tab's face looks along the bolt, the wall that it stands on looks the way the tab stands.
                let throat = WeldLine::throat_of_leg(leg);
                match WeldLine::straight(at - half, at + half, throat, Some(stance.bolt * face + stance.tab))
                {
                    Ok(line) => lines.push(line),
                    Err(e) => return part.lacks.push(e.to_string()),
                }
            }
        }
        let group = WeldGroup { lines, grade, filler: None, thinnest: tab };
        // The place is the hole's middle; the welds lie about it.
        let load = WeldLoad { force: *force, at: Vector3::zeros(), moment: Vector3::zeros() };
        match group.checks(&load) {
            Ok(checks) => part.take(checks, case, right),
            Err(e) => part.lacks.push(e.to_string()),
        }
    }
}
