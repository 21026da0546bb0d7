//! `soapstone.check/1`: what is wrong with a file.

use project::model::Car;
use project::{Diagnostic, Severity, line_column};
use serde::Serialize;

#[derive(Serialize)]
struct CheckOut {
    schema: &'static str,
    file: String,
    usable: bool,
    errors: usize,
    warnings: usize,
    diagnostics: Vec<DiagnosticOut>,
}

#[derive(Serialize)]
struct DiagnosticOut {
    severity: &'static str,
    message: String,
    line: Option<usize>,
    column: Option<usize>,
    hint: Option<String>,
}

/// What is wrong with a file.
pub(crate) fn check(name: &str, text: &str, car: Option<&Car>, diagnostics: &[Diagnostic]) -> impl Serialize {
    let count = |s: Severity| diagnostics.iter().filter(|d| d.severity == s).count();
    CheckOut {
        schema: "soapstone.check/1",
        file: name.to_string(),
        usable: car.is_some() && count(Severity::Error) == 0,
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        diagnostics: diagnostics
            .iter()
            .map(|d| {
                let place = d.span.as_ref().map(|s| line_column(text, s.start));
                DiagnosticOut {
                    severity: match d.severity {
                        Severity::Error => "error",
                        Severity::Warning => "warning",
                        Severity::Note => "note",
                    },
                    message: d.message.clone(),
                    line: place.map(|p| p.0),
                    column: place.map(|p| p.1),
                    hint: d.hint.clone(),
                }
            })
            .collect(),
    }
}
