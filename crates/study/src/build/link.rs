//! Links and their ends under the forces of every case.

use nalgebra::Vector3;
use project::model::LinkReading;
use steel::Failure;
use steel::load::{Carried, Forces, Leg};
use steel::part::{EndLoad, Internal, Member, RodEnd};
use steel::section::Section;

use super::bracket;
use super::forces::AxleForces;
use super::part::{Made, Part, PartKind};

/// From the middle of a ball to the nut that holds its shank, in diameters of the thread, where the file states none (common
/// practice).
const BALL_TO_NUT: f64 = 2.0;

/// Every link of an axle, and its rod ends.
pub(super) fn links(made: &Made<'_>, cases: &[AxleForces]) -> Vec<Part> {
    let Some(first) = cases.first() else { return Vec::new() };
    let [left, _] = &first.sides;
    let plain = left.legs.iter().map(|leg| leg.name.clone());
    let carrying = left.carried.iter().map(|carried| carried.name.clone());
    plain.chain(carrying).flat_map(|name| one(made, &name, cases)).collect()
}

/// A link and its rod ends.
pub(super) fn one(made: &Made<'_>, name: &str, cases: &[AxleForces]) -> Vec<Part> {
    let end = made.axle.end;
    let reading = made.parts.link(name);
    let made_of = reading.section.as_ref().map_or("", |(text, _)| text.as_str());
    let grade = reading.grade.as_ref().unwrap_or(made.grade);
    let mut tube = Part::new(PartKind::Link, Some(end), name, format!("{made_of}, {}", grade.name));
    let mut ends = Part::new(PartKind::RodEnd, Some(end), name, ends_words(reading));
    let path = format!("[build.{}.{}]", end.name(), name.split(' ').next().unwrap_or(name));
    let section = match &reading.section {
        Some((_, shape)) => Section::of(*shape).map_err(|e| tube.lacks.push(e.to_string())).ok(),
        None => {
            tube.lacks.push(format!("no `section` in `{path}` or `[build.{}.links]`", end.name()));
            None
        }
    };
    let rod_end = match (reading.thread, reading.radial) {
        (Some(bolt), Some(radial)) => Some(RodEnd {
            thread: bolt.thread,
            radial,
            axial: reading.axial,
            shank: reading.shank.cloned(),
            fatigue: String::new(),
        }),
        _ => {
            ends.lacks.push(format!(
                "no `thread` and `radial-rating` in `{path}` or `[build.{}.links]`: the ratings stand in the maker's sheet",
                end.name()
            ));
            None
        }
    };
    let arm = reading
        .ball_to_nut
        .or_else(|| reading.thread.map(|bolt| BALL_TO_NUT * bolt.thread.diameter))
        .unwrap_or(0.0);
    for (case, forces) in cases.iter().enumerate() {
        for (side, forces) in forces.sides.iter().enumerate() {
            let Some(load) = Load::of(forces, name) else { continue };
            if let Some(section) = &section {
                let member = Member::new(section, grade, load.length());
                for internal in load.stations(section) {
                    match member.checks(&internal) {
                        Ok(checks) => tube.take(checks, case, side == 1),
                        Err(e) => tube.lacks.push(e.to_string()),
                    }
                }
            }
            let Some(rod_end) = &rod_end else { continue };
            for (which, (force, shank)) in load.balls().into_iter().enumerate() {
                let hole = bracket::hole_axis(made, name, which, side == 1);
                match rod_end.checks(&EndLoad { force, hole, shank }, arm) {
                    Ok(mut checks) => {
                        let on_shank = [Failure::ThreadTension, Failure::EndShank];
                        checks.retain(|c| reading.housed != Some(true) || !on_shank.contains(&c.failure));
                        ends.take(checks, case, side == 1);
                    }
                    Err(e) => ends.lacks.push(e.to_string()),
                }
            }
        }
    }
    if cases.iter().any(|c| c.sides.iter().any(|s| is_arm(s, name))) && tube.checks.is_empty() {
        tube.lacks.push(
            "an arm that carries a spring is bent out of its plane: its forces are listed, judge it as a beam".into(),
        );
    }
    [tube, ends]
        .into_iter()
        .map(|mut part| {
            part.lacks.sort();
            part.lacks.dedup();
            part.sorted()
        })
        .collect()
}

fn ends_words(reading: &LinkReading) -> String {
    let thread = reading.thread.map_or("", |bolt| bolt.name.as_str());
    let thread = if reading.housed == Some(true) { "bearing in a housing" } else { thread };
    match reading.radial {
        Some(radial) => format!("{thread}, rated {:.1} kN", radial * 1e-3),
        None => thread.to_string(),
    }
}

/// Whether a part with something on it has two ends at the body.
fn is_arm(forces: &Forces, name: &str) -> bool {
    forces.carried.iter().any(|c| c.name == name && bodies(c) > 1)
}

/// Joints at the body's end of a part that carries something: what lies within a tenth of its length from there.
fn bodies(carried: &Carried) -> usize {
    let [from, to] = carried.axis;
    let way = (to - from) / carried.length().max(1e-9);
    let near = |at: &steel::load::At| way.dot(&(at.place - from)) < 0.1 * carried.length();
    carried.forces.iter().filter(|at| near(at) && at.force.norm() > 0.0).count()
}

/// What a link has to bear.
enum Load<'a> {
    Leg(&'a Leg),
    Carried(&'a Carried),
}

impl<'a> Load<'a> {
    /// `None` for an arm that carries something: one leg of it is no beam.
    fn of(forces: &'a Forces, name: &str) -> Option<Self> {
        let leg = forces.legs.iter().find(|leg| leg.name == name).map(Load::Leg);
        let carried = || forces.carried.iter().find(|c| c.name == name && bodies(c) == 1).map(Load::Carried);
        leg.or_else(carried)
    }

    fn length(&self) -> f64 {
        match self {
            Self::Leg(leg) => (leg.ends[1] - leg.ends[0]).norm(),
            Self::Carried(carried) => carried.length(),
        }
    }

    /// Forces at every station where they change. Bending goes about the weaker axis of the section, whatever way it is
    /// turned: on the safe side, since the file does not say how a link is turned.
    fn stations(&self, section: &Section) -> Vec<Internal> {
        match self {
            Self::Leg(leg) => vec![Internal { axial: leg.tension, ..Internal::default() }],
            Self::Carried(carried) => carried
                .cuts
                .iter()
                .map(|cut| {
                    let weak_y = section.modulus_y <= section.modulus_z;
                    Internal {
                        axial: cut.axial,
                        shear_y: if weak_y { 0.0 } else { cut.shear },
                        shear_z: if weak_y { cut.shear } else { 0.0 },
                        torque: cut.torque,
                        bending_y: if weak_y { cut.bending } else { 0.0 },
                        bending_z: if weak_y { 0.0 } else { cut.bending },
                    }
                })
                .collect(),
        }
    }

    /// Force of the bracket on the ball of each end, and the direction from there into the link.
    fn balls(&self) -> [(Vector3<f64>, Vector3<f64>); 2] {
        match self {
            Self::Leg(leg) => {
                let way = (leg.ends[1] - leg.ends[0]) / self.length();
                // A link in tension is pulled away from its middle at both ends.
                [(-way * leg.tension, way), (way * leg.tension, -way)]
            }
            Self::Carried(carried) => {
                let way = (carried.axis[1] - carried.axis[0]) / self.length();
                let force = |end: usize| {
                    let at = |p: &Vector3<f64>| (p - carried.axis[end]).norm() < 1e-6;
                    carried.forces.iter().filter(|f| at(&f.place)).map(|f| f.force).sum::<Vector3<f64>>()
                };
                [(force(0), way), (force(1), -way)]
            }
        }
    }
}
