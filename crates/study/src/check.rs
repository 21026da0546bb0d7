//! What a car file that reads well may still have wrong: joints that do not hold the wheel, holes that overlap.

use project::model::{Axle, Car, End};
use project::{Diagnostic, Severity};
use suspension::diagnose;
use suspension::scheme::JointKind;
use units::{Dimension, show};

use crate::search::overlaps;
use crate::subject::{StudyError, Subject};

/// Examines both axles of a car; each finding points at its place in the file.
pub fn check(car: &Car) -> Vec<Diagnostic> {
    let mut list = Vec::new();
    for end in [End::Front, End::Rear] {
        if let Ok(subject) = Subject::new(car, end) {
            check_joints(&subject, &mut list);
            check_holes(&subject, &mut list);
        }
    }
    list
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

fn check_holes(subject: &Subject<'_>, list: &mut Vec<Diagnostic>) {
    let axle = subject.axle();
    let units = &subject.car().units;
    let length = |v: f64| show::with_unit(v, Dimension::Length, units, 1);
    for overlap in overlaps(subject) {
        let (Some(a), Some(b)) = (axle.holes.get(overlap.holes.0), axle.holes.get(overlap.holes.1)) else {
            continue;
        };
        let places: Vec<String> = overlap
            .instead
            .iter()
            .filter_map(|(h, place)| {
                let name = &axle.holes.get(*h)?.name;
                let mut p = *place;
                if axle.mirrored {
                    p.y = -p.y;
                }
                let p = subject.car().frame.to_survey(p);
                let n = |v: f64| show::number(v, Dimension::Length, units, 1);
                Some(format!("{name} at [{}, {}, {}]", n(p.x), n(p.y), n(p.z)))
            })
            .collect();
        list.push(Diagnostic {
            severity: Severity::Error,
            message: format!(
                "holes `{}` and `{}` overlap: their centres are {} apart, the plate asks for {}",
                a.name,
                b.name,
                length(overlap.distance),
                length(overlap.least)
            ),
            span: Some(b.at.span.clone()),
            hint: Some(if places.is_empty() {
                "the plate has no room for all of them: fewer holes, a smaller bolt or a larger plate".into()
            } else {
                format!("nearest places that keep the plate's rules: {}", places.join(", "))
            }),
        });
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
