//! What a fabricator reads when he slips: one mistake in a good file, and every line that comes of it.

mod choices;
mod head;
mod kinds;
mod points;
mod survey;
mod toml;
mod weigh;
mod whole;

use project::{Severity, line_column, read};

/// A five-link and a strut written out in short, with a rack: nothing is wrong with it.
const SKETCH: &str = include_str!("sketch.toml");

/// Stands for the end of the file: the text is added there.
const END: &str = "$";

/// Stands for everything from the first rear link to the end of the file.
const REAR_LINKS: &str = "@rear-links";

/// Makes the edits, (what, by what), in the sketch and compares what is told: `severity line:column message | hint`.
#[track_caller]
fn check(edits: &[(&str, &str)], expect: &[&str]) {
    let mut text = SKETCH.to_string();
    for (what, by) in edits {
        match *what {
            END => text.push_str(by),
            REAR_LINKS => {
                let (before, _) = text.split_once("[rear.link.lower-fore]").unwrap_or_default();
                text = format!("{before}{by}");
            }
            what => {
                assert!(text.contains(what), "the sketch has no `{what}`");
                text = text.replacen(what, by, 1);
            }
        }
    }
    let told = told(&text);
    assert_eq!(told, expect, "\n{}", told.join("\n"));
}

fn told(text: &str) -> Vec<String> {
    let row = |diagnostic: project::Diagnostic| {
        let severity = match diagnostic.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        };
        let (line, column) = line_column(text, diagnostic.span.map_or(0, |span| span.start));
        let hint = diagnostic.hint.map_or(String::new(), |hint| format!(" | {hint}"));
        format!("{severity} {line}:{column} {}{hint}", diagnostic.message)
    };
    read(text).diagnostics.into_iter().map(row).collect()
}

#[test]
fn the_sketch_is_clean() {
    check(&[], &[]);
}
