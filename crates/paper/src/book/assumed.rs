//! What was assumed, what is doubtful in the file, and what the program does not know.

use project::{Severity, line_column};

use super::{BookSpec, Named};
use crate::flow::Flow;

/// What no page of the book covers.
const NOT_COVERED: [&str; 6] = [
    "Strength: whether brackets, links, bolts, welds and shell hold is not in these figures, nor is fatigue.",
    "Bushes and bearings are rigid here: under load every angle gives a little more than it says.",
    "Tyres are those of the file: heat, wear and wet roads are not in it.",
    "Bumps, kerbs and a driver's hands are not in it: figures are for a smooth road and steady or simple manoeuvres.",
    "Twist of the body is left out: it stands as stiff as the chalk line it was measured from.",
    "Past the range of a model the figure is marked where it stands.",
];

pub(super) fn chapter(stages: &[Named], spec: &BookSpec<'_>) -> Flow {
    let mut flow = Flow::new();
    flow.heading(1, "What was assumed");
    for (severity, title) in [
        (Severity::Error, "Wrong in the file, and left out"),
        (Severity::Warning, "Doubtful in the file"),
        (Severity::Note, "Taken for what the file leaves out"),
    ] {
        let told = spec.diagnostics.iter().filter(|d| d.severity == severity);
        let lines: Vec<String> = told
            .map(|d| {
                let line = d.span.as_ref().map(|span| line_column(spec.text, span.start).0);
                let place = line.map_or_else(String::new, |line| format!("line {line}: "));
                let hint = d.hint.as_ref().map_or_else(String::new, |hint| format!("; {hint}"));
                format!("{place}{}{hint}", d.message.replace('`', ""))
            })
            .collect();
        if !lines.is_empty() {
            flow.heading(2, title);
            flow.bullets(lines);
        }
    }
    let lacks: Vec<String> = stages
        .iter()
        .filter(|(_, stage)| stage.groups.is_empty())
        .flat_map(|(title, stage)| {
            stage.lacks.iter().map(move |lack| format!("{title}: {lack}. {}", lack.hint))
        })
        .collect();
    if !lacks.is_empty() {
        flow.heading(2, "Stages without data");
        flow.bullets(lacks);
    }
    flow.heading(2, "Not covered");
    flow.bullets(NOT_COVERED);
    flow
}
