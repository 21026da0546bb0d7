//! What Build says in words: what it does not cover, what is lacking.

use super::work::Work;
use crate::whole::Lack;

/// What no margin of this stage covers: said beside them, always.
pub const NOT_COVERED: [&str; 7] = [
    "Fatigue: every figure is one load once. A race car breaks by many small ones; inspect, and replace by hours.",
    "The heat-affected zone: beside a weld cold-drawn and heat-treated steel falls to its soft state. State the strength \
     that is left there as the grade.",
    "Weld quality and distortion: a cold start, a pore or an undercut halves a weld, and no formula sees it.",
    "A crash, a wheel against a wall, a roll-over.",
    "The shell: what its feet hand to it is listed; whether the sheet there bears it has to be judged on the car.",
    "Local give at the joints of tubes: a joint is taken as stiff as the tubes in it, and whether a wall bears the tube \
     that is welded to it is not checked; of tabs the wall below them is, where they hang from a frame.",
    "Half-shafts, final-drive mounts, steering rack, uprights, hubs, springs and dampers themselves.",
];

/// What is assumed.
pub(super) fn notes() -> Vec<String> {
    vec![
        "Loads go through the linkage's own reactions, each wheel where it stands under its load, springs and stops as the \
         file has them; the left is the outer and the struck side, and the parts of both sides are alike."
            .into(),
        "Bumps and kerbs are still loads: neither the inertia of the wheel nor what the tyre swallows is in them.".into(),
        "A struck wheel is struck on both axles at once; a frame that carries both axles' pickups bears both.".into(),
        "The ± of the survey is not in the margins: the load cases are surer by habit than by measure, and the factors are \
         there for that."
            .into(),
    ]
}

/// Whether the frame is weighed with the car.
pub(super) fn ledger(in_ledger: bool, mass: f64) -> String {
    if in_ledger {
        format!("The frame's {mass:.1} kg are in the ledger, as a part put in.")
    } else {
        format!(
            "The frame's {mass:.1} kg are not in the ledger: `in-ledger = true` in `[build]` puts them there, unless it was \
             weighed or stands among the parts put in already."
        )
    }
}

pub(super) fn nothing_stated() -> Lack {
    Lack {
        what: "what links, brackets and frame are made of is not known".into(),
        hint: "write `[build]`: docs/build.md begins with an example; the loads are worked out all the same"
            .into(),
    }
}

pub(super) fn no_frame() -> Lack {
    Lack {
        what: "what the pickups hang from is not known".into(),
        hint: "write `[build.frame]` with its nodes, tubes and feet".into(),
    }
}

/// Wheels whose travel ends before springs and stops carry the load.
pub(super) fn bottomed(work: &Work<'_>) -> Vec<String> {
    let mut out = Vec::new();
    for (loaded, forces) in &work.axles {
        for (case, forces) in work.cases.iter().zip(forces) {
            if case.jack.is_none() && forces.bottomed.contains(&true) {
                out.push(format!(
                    "{}: the {} wheel's travel ends at {:.0} mm before its springs and stops carry it; what is left is laid \
                     on the stop, or on the spring where the file has no stop",
                    case.title,
                    loaded.end.name(),
                    forces.travel.iter().map(|t| t.abs()).fold(0.0, f64::max) * 1e3
                ));
            }
        }
    }
    out
}
