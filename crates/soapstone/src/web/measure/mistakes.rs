//! What is wrong with the file, each at the cell that it is about; what has no cell stands in a list.

use std::cell::Cell;
use std::ops::Range;

use maud::{Markup, html};
use project::{Diagnostic, Severity, line_column};

/// One of them, and whether a cell shows it.
struct Mistake {
    about: Diagnostic,
    line: Option<usize>,
    shown: Cell<bool>,
}

/// All of them.
pub(crate) struct Mistakes {
    list: Vec<Mistake>,
}

impl Mistakes {
    /// Those of a text.
    pub fn of(text: &str, diagnostics: impl IntoIterator<Item = Diagnostic>) -> Self {
        let list = diagnostics.into_iter().map(|about| {
            let line =
                about.span.as_ref().filter(|span| !span.is_empty()).map(|s| line_column(text, s.start).0);
            Mistake { about, line, shown: Cell::new(false) }
        });
        Self { list: list.collect() }
    }

    /// Whether there is one within a place of the file.
    pub fn any(&self, span: &Range<usize>) -> bool {
        self.list.iter().any(|m| inside(&m.about, span))
    }

    /// Takes those within a place of the file that no cell has taken: they are shown there.
    pub fn take(&self, span: &Range<usize>) -> Vec<&Diagnostic> {
        let found = self.list.iter().filter(|m| !m.shown.get() && inside(&m.about, span));
        found.inspect(|m| m.shown.set(true)).map(|m| &m.about).collect()
    }

    /// The list of those that no cell has taken; errors first, what was assumed folded away.
    pub fn rest(&self) -> Markup {
        let of = |severity: Severity| {
            self.list.iter().filter(move |m| !m.shown.get() && m.about.severity == severity)
        };
        let notes = of(Severity::Note).count();
        html! {
            @for severity in [Severity::Error, Severity::Warning] {
                @for mistake in of(severity) { (item(mistake)) }
            }
            @if notes > 0 {
                details.assumed {
                    summary { (notes) " assumed, because the file does not say" }
                    @for mistake in of(Severity::Note) { (item(mistake)) }
                }
            }
        }
    }

    /// How many are errors.
    pub fn errors(&self) -> usize {
        self.list.iter().filter(|m| m.about.severity == Severity::Error).count()
    }
}

/// Whether a mistake is about something within a place of the file; what was assumed is none.
fn inside(about: &Diagnostic, span: &Range<usize>) -> bool {
    let within = |s: &Range<usize>| !s.is_empty() && span.start <= s.start && s.end <= span.end;
    about.severity != Severity::Note && about.span.as_ref().is_some_and(within)
}

fn item(mistake: &Mistake) -> Markup {
    let (class, word) = match mistake.about.severity {
        Severity::Error => ("wrong", "wrong"),
        Severity::Warning => ("doubt", "doubtful"),
        Severity::Note => ("noted", "assumed"),
    };
    html! {
        p class=(class) {
            @match mistake.line {
                Some(line) => a href="#text" data-line=(line) { b { "line " (line) } },
                None => b { (word) },
            }
            ": " (mistake.about.message)
            @if let Some(hint) = &mistake.about.hint { span.hint { " " (hint) } }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn about(severity: Severity, span: Range<usize>) -> Diagnostic {
        Diagnostic { severity, message: format!("m{}", span.start), span: Some(span), hint: None }
    }

    #[test]
    fn each_is_shown_once() {
        let text = "a = 1\nb = 2\nc = 3\n";
        let all =
            [about(Severity::Error, 4..5), about(Severity::Warning, 10..11), about(Severity::Note, 16..17)];
        let mistakes = Mistakes::of(text, all);
        assert!(mistakes.any(&(4..5)) && !mistakes.any(&(5..6)));
        assert_eq!(mistakes.take(&(4..5)).len(), 1);
        assert_eq!(mistakes.take(&(0..6)).len(), 0);
        assert_eq!(mistakes.take(&(15..18)).len(), 0);
        let list = mistakes.rest().into_string();
        assert!(!list.contains("m4") && list.contains("line 2") && list.contains("1 assumed"), "{list}");
        assert_eq!(mistakes.errors(), 1);
    }
}
