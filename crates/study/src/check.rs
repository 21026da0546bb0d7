//! What a car file that reads well may still have wrong: joints that do not hold the wheel, holes that overlap, scales that
//! cannot be true, a valve that never acts, a stop that no tyre gives.

mod brakes;

use std::collections::{BTreeMap, BTreeSet};

use project::model::{Axle, Car, End};
use project::{Diagnostic, Severity};
use suspension::diagnose;
use suspension::scheme::JointKind;
use units::{Dimension, show};

use crate::search::{Overlap, overlaps};
use crate::subject::{StudyError, Subject};
use crate::weigh::{WeighError, weigh};

/// Examines both axles of a car; each finding points at its place in the file.
pub fn check(car: &Car) -> Vec<Diagnostic> {
    let mut list = Vec::new();
    for end in [End::Front, End::Rear] {
        if let Ok(subject) = Subject::new(car, end) {
            check_joints(&subject, &mut list);
            check_holes(&subject, &mut list);
        }
    }
    check_weights(car, &mut list);
    brakes::check(car, &mut list);
    list
}

/// Scales and ledgers that cannot be true; a file without scales has none.
fn check_weights(car: &Car, list: &mut Vec<Diagnostic>) {
    match weigh(car) {
        Ok(_) | Err(WeighError::NoScales) => {}
        Err(error) => list.push(Diagnostic {
            severity: Severity::Error,
            message: error.to_string(),
            span: error.span(),
            hint: Some(error.hint()),
        }),
    }
}

fn check_joints(subject: &Subject<'_>, list: &mut Vec<Diagnostic>) {
    let axle = subject.axle();
    let end = axle.end.name();
    match subject.corner(&subject.nominal(&[])) {
        Err(e) => list.push(Diagnostic {
            severity: Severity::Error,
            message: format!("`[{end}]`: {e}"),
            span: Some(span_of_error(axle, &StudyError::from(e))),
            hint: Some("give the points of the joint different places, in the units of the file".into()),
        }),
        Ok(corner) => {
            for finding in diagnose(&corner) {
                let span = finding.joints.first().and_then(|j| joint_span(axle, j));
                list.push(Diagnostic {
                    severity: if finding.fatal { Severity::Error } else { Severity::Warning },
                    message: format!("`[{end}]`: {}", finding.message),
                    span: Some(span.unwrap_or_else(|| axle.span.clone())),
                    hint: finding.hint,
                });
            }
        }
    }
}

/// One error a hole that overlaps earlier ones; the way out is said with the first of its plate.
fn check_holes(subject: &Subject<'_>, list: &mut Vec<Diagnostic>) {
    let axle = subject.axle();
    let length = |v: f64| show::with_unit(v, Dimension::Length, &subject.car().units, 1);
    let mut by_hole: BTreeMap<usize, Vec<Overlap>> = BTreeMap::new();
    for overlap in overlaps(subject) {
        by_hole.entry(overlap.holes.1).or_default().push(overlap);
    }
    let mut plates_told = BTreeSet::new();
    for (hole, mut group) in by_hole {
        // Two plates for one end give a pair twice: the stricter one counts.
        group.sort_by(|a, b| a.holes.0.cmp(&b.holes.0).then(b.least.total_cmp(&a.least)));
        group.dedup_by_key(|o| o.holes.0);
        group.sort_by(|a, b| a.distance.total_cmp(&b.distance));
        let Some((nearest, hole)) = group.first().zip(axle.holes.get(hole)) else { continue };
        let name = |o: &Overlap| axle.holes.get(o.holes.0).map_or("?", |h| h.name.as_str());
        let (apart, least) = (length(nearest.distance), length(nearest.least));
        let message = match group.len() - 1 {
            0 => format!(
                "holes `{}` and `{}` overlap: their centres are {apart} apart, the plate asks for {least}",
                name(nearest),
                hole.name
            ),
            more => format!(
                "hole `{}` overlaps `{}` and {more} other{}: the nearest centre is {apart} away, the plate asks for \
                 {least}",
                hole.name,
                name(nearest),
                if more == 1 { "" } else { "s" }
            ),
        };
        list.push(Diagnostic {
            severity: Severity::Error,
            message,
            span: Some(hole.at.span.clone()),
            hint: plates_told.insert(hole.point).then(|| way_out(subject, nearest)),
        });
    }
}

/// Where the holes of an overlap's plate could go.
fn way_out(subject: &Subject<'_>, overlap: &Overlap) -> String {
    let (car, axle) = (subject.car(), subject.axle());
    let n = |v: f64| show::number(v, Dimension::Length, &car.units, 1);
    let places: Vec<String> = overlap
        .instead
        .iter()
        .filter_map(|(h, place)| {
            let mut p = *place;
            if axle.mirrored {
                p.y = -p.y;
            }
            let p = car.frame.to_survey(p);
            Some(format!("{} at [{}, {}, {}]", axle.holes.get(*h)?.name, n(p.x), n(p.y), n(p.z)))
        })
        .collect();
    if places.is_empty() {
        "the plate has no room for all of them: fewer holes, a smaller bolt or a larger plate".into()
    } else {
        format!("nearest places that keep the plate's rules: {}", places.join(", "))
    }
}

/// Place in the file of a joint: that of its first point.
fn joint_span(axle: &Axle, joint: &str) -> Option<std::ops::Range<usize>> {
    let joint = axle.scheme.joints.iter().find(|j| j.name == joint)?;
    let point = match joint.kind {
        JointKind::Rod { b, .. } => b.point,
        JointKind::Ball { point, .. } => point,
        JointKind::Hinge { from, .. } | JointKind::OnLine { from, .. } | JointKind::Level { from, .. } => {
            from
        }
        JointKind::InPlane { point, .. } => point.point,
    };
    axle.points.get(point).map(|p| p.span.clone())
}

fn span_of_error(axle: &Axle, error: &StudyError) -> std::ops::Range<usize> {
    let joint = match error {
        StudyError::Build(
            linkage::BuildError::NotFinite { joint }
            | linkage::BuildError::Coincident { joint }
            | linkage::BuildError::SameBody { joint }
            | linkage::BuildError::UnknownFrame { joint },
        ) => Some(joint.as_str()),
        StudyError::NoAxle(_) | StudyError::Held { .. } => None,
    };
    joint.and_then(|j| joint_span(axle, j)).unwrap_or_else(|| axle.span.clone())
}
