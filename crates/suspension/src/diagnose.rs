//! Says in plain words whether the joints of a corner leave the wheel exactly one way to move.

use linkage::{FreeMotion, NEAR_TOLERANCE, freedoms, rods_on_one_line};
use nalgebra::Vector3;

use crate::corner::Corner;
use crate::scheme::UPRIGHT;

/// What is wrong, or nearly wrong, with how a corner is held.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// True where the corner cannot be used.
    pub fatal: bool,
    /// What is wrong, lower case, without a full stop.
    pub message: String,
    /// What to do about it.
    pub hint: Option<String>,
    /// Joints that it is about.
    pub joints: Vec<String>,
}

/// Examines a corner at ride height. Empty where the wheel has exactly one freedom, up and down, and is held
/// well in all others.
pub fn diagnose(corner: &Corner<f64>) -> Vec<Finding> {
    let watched: Vec<_> = corner.elements().iter().flat_map(|e| [e.inner, e.outer]).collect();
    let Some(count) = freedoms(corner.linkage(), UPRIGHT, &watched) else {
        return vec![Finding {
            fatal: true,
            message: "the joints hold nothing that moves".into(),
            hint: Some("a corner needs an upright and joints between it and the body".into()),
            joints: Vec::new(),
        }];
    };
    let mut findings = Vec::new();
    match count.motions.as_slice() {
        [] => findings.push(locked(&count.repeated)),
        [only] => {
            let upright = &only.twists[UPRIGHT];
            if upright.v.z.abs() < 1e-6 * (upright.v.norm() + 0.2 * upright.w.norm()) {
                findings.push(Finding {
                    fatal: true,
                    message: format!(
                        "the wheel cannot go up and down: the only way it can move is to {}",
                        words(&upright.v, &upright.w)
                    ),
                    hint: Some("check the end points of the links against the car".into()),
                    joints: Vec::new(),
                });
            } else if count.leverage < NEAR_TOLERANCE {
                findings.push(Finding {
                    fatal: false,
                    message: "the links have next to no leverage over one motion of the wheel: a millimetre of \
                              error or of bush gives many at the tyre"
                        .into(),
                    hint: Some("spread the links so that no two lie nearly on one line".into()),
                    joints: Vec::new(),
                });
            }
            if count.redundant > 0 {
                findings.push(Finding {
                    fatal: false,
                    message: format!(
                        "{} of the joints' conditions repeat{} what the others hold: it moves only if the parts \
                         are exactly true",
                        count.redundant,
                        if count.redundant == 1 { "s" } else { "" }
                    ),
                    hint: Some("expect bushes to bind unless one joint is given slack".into()),
                    joints: count.repeated.clone(),
                });
            }
        }
        motions => findings.push(loose(corner, motions)),
    }
    findings
}

fn locked(repeated: &[String]) -> Finding {
    Finding {
        fatal: true,
        message: "the wheel cannot move: its joints hold it in every direction".into(),
        hint: Some(if repeated.is_empty() {
            "take one rod away: five rods leave the wheel its travel, six hold it".into()
        } else {
            format!("take one of these away: {}", list(repeated))
        }),
        joints: repeated.to_vec(),
    }
}

fn loose(corner: &Corner<f64>, motions: &[FreeMotion]) -> Finding {
    // Of the space of free motions, those that leave the wheel at its height are the ones too many.
    let lifting = motions
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.twists[UPRIGHT].v.z.abs().total_cmp(&b.1.twists[UPRIGHT].v.z.abs()))
        .map_or(0, |(i, _)| i);
    let up = &motions[lifting].twists[UPRIGHT];
    let extra: Vec<String> = motions
        .iter()
        .enumerate()
        .filter(|(i, _)| *i != lifting)
        .map(|(_, m)| {
            let t = &m.twists[UPRIGHT];
            let share = if up.v.z.abs() > 1e-9 { t.v.z / up.v.z } else { 0.0 };
            words(&(t.v - up.v * share), &(t.w - up.w * share))
        })
        .collect();
    let pairs = rods_on_one_line(corner.linkage());
    let (cause, joints) = match pairs.first() {
        Some((a, b)) => (format!("`{a}` and `{b}` lie on one line: "), vec![a.clone(), b.clone()]),
        None => (String::new(), Vec::new()),
    };
    let missing = extra.len();
    Finding {
        fatal: true,
        message: format!("{cause}the wheel can {} freely", extra.join(" and ")),
        hint: Some(if joints.is_empty() {
            format!(
                "{missing} more rod{} {} needed, or rods moved so that they do not all meet one line",
                if missing == 1 { "" } else { "s" },
                if missing == 1 { "is" } else { "are" }
            )
        } else {
            "move an end of one of them so that they hold in different directions".into()
        }),
        joints,
    }
}

/// A motion of the upright in the trade's words: the largest part of it, rotations at the lever of a wheel.
fn words(v: &Vector3<f64>, w: &Vector3<f64>) -> String {
    const LEVER: f64 = 0.3;
    let parts = [
        (w.z.abs() * LEVER, "steer"),
        (w.y.abs() * LEVER, "wind up about its axle"),
        (w.x.abs() * LEVER, "tip (camber)"),
        (v.x.abs(), "move fore and aft"),
        (v.y.abs(), "move sideways"),
        (v.z.abs(), "move up and down by itself"),
    ];
    parts.iter().max_by(|a, b| a.0.total_cmp(&b.0)).map_or("move", |p| p.1).to_string()
}

fn list(names: &[String]) -> String {
    names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ")
}
