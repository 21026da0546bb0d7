//! Looking a car file over.

use project::model::{Axle, End};
use project::{Diagnostic, Severity};

use super::args::CheckArgs;
use super::output::{HEADING, styled};
use super::{Failure, load, output};
use crate::json;

pub(crate) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let file = load::read(Some(&args.car))?;
    let count = |s: Severity| file.diagnostics.iter().filter(|d| d.severity == s).count();
    let (errors, warnings, notes) = (count(Severity::Error), count(Severity::Warning), count(Severity::Note));
    if args.json {
        output::json(&json::check(&file.name, &file.text, file.car.as_ref(), &file.diagnostics))?;
    } else {
        let all: Vec<&Diagnostic> = file.diagnostics.iter().collect();
        if !all.is_empty() {
            output::message(&load::render(&file, &all));
        }
        let mut out = String::new();
        if let Some(car) = &file.car {
            out.push_str(&format!("{}\n", styled(HEADING, &car.name)));
            for end in [End::Front, End::Rear] {
                if let Some(axle) = car.axle(end) {
                    out.push_str(&format!("  {}\n", summary(axle)));
                }
            }
        }
        let s = |n: usize| if n == 1 { "" } else { "s" };
        out.push_str(&format!(
            "{}: {errors} error{}, {warnings} warning{}, {notes} note{}\n",
            file.name,
            s(errors),
            s(warnings),
            s(notes)
        ));
        output::text(&out)?;
    }
    if errors > 0 { Err(Failure::Reported) } else { Ok(()) }
}

fn summary(axle: &Axle) -> String {
    let plural = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
    let mut parts = vec![format!("{}: {}", axle.end.name(), axle.kind)];
    parts.push(plural(axle.scheme.bodies.len(), "moving body").replace("bodys", "bodies"));
    parts.push(plural(axle.points.len(), "point"));
    for (n, what) in [
        (axle.holes.len(), "candidate hole"),
        (axle.plates.len(), "plate"),
        (axle.adjusters.len(), "adjuster"),
        (axle.scheme.elements.len(), "spring, damper or bar link"),
    ] {
        if n > 0 {
            parts.push(if what.starts_with("spring") {
                format!("{n} of spring, damper, bar link")
            } else {
                plural(n, what)
            });
        }
    }
    parts.join(", ")
}
