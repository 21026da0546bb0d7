//! Says in plain words whether the joints of a corner leave the wheel exactly one way to move.

mod cause;
mod words;

use linkage::{FreeMotion, Freedoms, NEAR_TOLERANCE, freedoms};

use crate::corner::Corner;
use crate::scheme::UPRIGHT;
use cause::Cause;
use words::{Way, list};

/// A free motion that lifts the wheel by less than this share of its size does not lift it.
const NO_LIFT: f64 = 1e-6;

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
    match count.motions.as_slice() {
        [] => vec![locked(corner, &count)],
        [only] => {
            let mut findings = Vec::new();
            if lift(only) < NO_LIFT {
                findings.push(stuck_at_its_height(corner, only));
            } else if count.leverage < NEAR_TOLERANCE {
                findings.push(weak(&count, only));
            }
            if count.redundant > 0 {
                findings.push(repeated(corner, &count));
            }
            findings
        }
        motions => vec![loose(corner, &count, motions)],
    }
}

/// Share of a motion that lifts the wheel centre.
fn lift(motion: &FreeMotion) -> f64 {
    let t = &motion.twists[UPRIGHT];
    t.v.z.abs() / (t.v.norm() + words::LEVER * t.w.norm()).max(f64::MIN_POSITIVE)
}

fn locked(corner: &Corner<f64>, count: &Freedoms) -> Finding {
    let rods = cause::rods_alone(corner);
    let message = match &rods {
        Some(rods) if count.redundant == 0 && rods.len() > 5 => {
            format!("the wheel cannot move: {} rods hold it, and 5 would leave it its travel", rods.len())
        }
        _ => "the wheel cannot move: its joints hold it in every direction".into(),
    };
    let hint = match (&rods, count.repeated.as_slice()) {
        (Some(_), []) => "take one rod away".into(),
        (_, []) => "take one rod away, or let one joint turn or slide".into(),
        (_, repeated) => format!("take one of these away: {}", list(repeated)),
    };
    Finding { fatal: true, message, hint: Some(hint), joints: count.repeated.clone() }
}

fn stuck_at_its_height(corner: &Corner<f64>, only: &FreeMotion) -> Finding {
    if let Some(rods) = cause::rods_alone(corner)
        && let Some(line) = cause::common_line(corner, &rods, std::slice::from_ref(only))
    {
        let names: Vec<String> = rods.into_iter().map(|r| r.name).collect();
        return Finding {
            fatal: true,
            message: format!("all rods aim at one line, which {line}: all the wheel can do is turn about it"),
            hint: Some(off_the_line(&names)),
            joints: names,
        };
    }
    let way = Way::of(&only.twists[UPRIGHT]);
    let upright = cause::steepest_rod(corner);
    Finding {
        fatal: true,
        message: format!("the wheel cannot go up and down: all it can do is {}", way.words()),
        hint: Some(match &upright {
            Some(name) => format!("`{name}` stands upright and holds the wheel's height: lay it down"),
            None => "check the ends of the links against the car".into(),
        }),
        joints: upright.into_iter().collect(),
    }
}

fn off_the_line(names: &[String]) -> String {
    format!(
        "move an end of one rod, say `{}`, so that it passes that line at some distance: 50 mm is little, 150 mm \
         is good",
        names.last().map_or("", String::as_str)
    )
}

fn weak(count: &Freedoms, travel: &FreeMotion) -> Finding {
    let way = count.weakest.as_ref().map_or(Way::UpDown, |m| at_its_height(m, travel));
    Finding {
        fatal: false,
        message: format!(
            "the links have next to no leverage against the wheel's wish to {}: a millimetre of error or of bush \
             gives many at the tyre",
            way.words()
        ),
        hint: Some(format!(
            "spread these further apart, so that they do not all aim at one line: {}",
            list(&count.weak)
        )),
        joints: count.weak.clone(),
    }
}

/// What the wheel does in a motion, less as much travel as takes out the lift.
fn at_its_height(motion: &FreeMotion, travel: &FreeMotion) -> Way {
    let (t, up) = (&motion.twists[UPRIGHT], &travel.twists[UPRIGHT]);
    let share = if up.v.z.abs() > 1e-9 { t.v.z / up.v.z } else { 0.0 };
    Way::of(&linkage::Twist { v: t.v - up.v * share, w: t.w - up.w * share })
}

fn repeated(corner: &Corner<f64>, count: &Freedoms) -> Finding {
    let pair = cause::pair(corner);
    let message = match (&pair, count.repeated.as_slice()) {
        (Some(pair), _) => format!("{}: it moves only if both are exactly true", pair.words()),
        (None, [one]) => {
            format!("`{one}` repeats what the other joints hold: it moves only if it is exactly true")
        }
        (None, several) => {
            format!(
                "{} repeat part of what each other hold: the wheel moves only if they are exactly true",
                list(several)
            )
        }
    };
    Finding {
        fatal: false,
        message,
        hint: Some("expect them to bind in steel unless one has slack or rubber".into()),
        joints: count.repeated.clone(),
    }
}

fn loose(corner: &Corner<f64>, count: &Freedoms, motions: &[FreeMotion]) -> Finding {
    let extra = extra_ways(motions);
    let can =
        format!("the wheel can {} freely", extra.iter().map(Way::words).collect::<Vec<_>>().join(" and "));
    let missing = motions.len() - 1;
    let (cause, hint, joints) = match Cause::find(corner, count, motions) {
        Cause::Pair(pair) => {
            let hint = pair.hint();
            (format!("{}, so that one of them holds nothing", pair.words()), hint, pair.names())
        }
        Cause::Parallel(names) => (
            "all rods run parallel".to_string(),
            format!("turn {} of them to other directions", missing.min(names.len())),
            names,
        ),
        Cause::OneLine { line, names } => {
            (format!("all rods aim at one line, which {line}"), off_the_line(&names), names)
        }
        Cause::TooFew(rods) => (
            match rods {
                Some(n) => format!(
                    "{n} {} the wheel, and it takes 5",
                    if n == 1 { "rod holds" } else { "rods hold" }
                ),
                None => "too little holds the wheel".into(),
            },
            format!(
                "add {missing} rod{}: {}",
                if missing == 1 { "" } else { "s" },
                extra.iter().map(Way::remedy).collect::<Vec<_>>().join("; ")
            ),
            Vec::new(),
        ),
        Cause::Repeated(names) => (
            format!("{} hold part of the same thing", list(&names)),
            format!(
                "move an end of one of them: {}",
                extra.iter().map(Way::remedy).collect::<Vec<_>>().join("; ")
            ),
            names,
        ),
    };
    Finding { fatal: true, message: format!("{cause}: {can}"), hint: Some(hint), joints }
}

/// What the wheel can do beside its travel: the free motion that lifts it most stands for that.
fn extra_ways(motions: &[FreeMotion]) -> Vec<Way> {
    let height = |m: &FreeMotion| m.twists[UPRIGHT].v.z.abs();
    let lifting =
        motions.iter().enumerate().max_by(|a, b| height(a.1).total_cmp(&height(b.1))).map_or(0, |(i, _)| i);
    let mut ways: Vec<Way> = motions
        .iter()
        .enumerate()
        .filter(|(i, _)| *i != lifting)
        .map(|(_, m)| at_its_height(m, &motions[lifting]))
        .collect();
    ways.sort();
    ways.dedup();
    ways
}
