//! Reading a car file and reporting what is wrong with it, with the place.

use std::path::Path;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use project::model::Car;
use project::{Diagnostic, Severity};

use super::{Failure, output};

/// The demo car, compiled in.
pub(crate) const DEMO: &str = include_str!("../../../../examples/plover/car.toml");

/// The demo car with all that is known of it.
pub(crate) const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");

/// How the demo is called in messages.
pub(crate) const DEMO_NAME: &str = "examples/plover/car.toml";

/// A file that may not be longer than this [bytes]: a car file has a few thousand.
const MOST_BYTES: u64 = 4 << 20;

/// A car file that was read.
pub(crate) struct File {
    pub name: String,
    pub text: String,
    pub car: Option<Car>,
    pub diagnostics: Vec<Diagnostic>,
}

/// Reads a car file, or the demo.
pub(crate) fn read(path: Option<&Path>) -> Result<File, Failure> {
    let (name, text) = match path {
        None => (DEMO_NAME.to_string(), DEMO.to_string()),
        Some(path) => (path.display().to_string(), text_of(path)?),
    };
    Ok(read_text(name, text, path))
}

/// What stands in a file beside the car's: a plain name of a text with commas, so that no car file reaches elsewhere.
pub(crate) fn beside(car: Option<&Path>, name: &str) -> Result<String, String> {
    let Some(car) = car else { return Err("the demo has no folder".into()) };
    let plain = Path::new(name).file_name().is_some_and(|file| file == name);
    if !plain || !(name.ends_with(".csv") || name.ends_with(".txt")) {
        return Err("it must be the plain name of a .csv or .txt file in the car's own folder".into());
    }
    let path = car.with_file_name(name);
    let size = std::fs::metadata(&path).map_err(|e| e.to_string())?;
    if !size.is_file() || size.len() > MOST_BYTES {
        return Err("it is no file, or far too long for a centreline".into());
    }
    std::fs::read_to_string(&path).map_err(|e| e.to_string())
}

fn read_text(name: String, text: String, path: Option<&Path>) -> File {
    let mut loaded = project::read(&text);
    if let Some(car) = &mut loaded.car {
        project::attach(car, |name| beside(path, name));
        study::settle(car);
    }
    let mut diagnostics = loaded.diagnostics;
    if let Some(car) = &loaded.car {
        diagnostics.extend(study::check(car));
    }
    File { name, text, car: loaded.car, diagnostics }
}

/// Reads a car that a command can work with. Errors and warnings go to standard error.
pub(crate) fn car(path: Option<&Path>) -> Result<Car, Failure> {
    usable(&read(path)?).cloned()
}

/// The same, with the whole demo where no path is given.
pub(crate) fn whole_car(path: Option<&Path>) -> Result<Car, Failure> {
    usable(&read_whole(path)?).cloned()
}

/// Reads a car file, or the whole demo.
pub(crate) fn read_whole(path: Option<&Path>) -> Result<File, Failure> {
    match path {
        None => Ok(read_text("examples/plover/whole.toml".into(), WHOLE.into(), None)),
        path => read(path),
    }
}

/// The car of a file without errors; what is wrong with it is said.
pub(crate) fn usable(file: &File) -> Result<&Car, Failure> {
    let worst: Vec<&Diagnostic> = file.diagnostics.iter().filter(|d| d.severity != Severity::Note).collect();
    if !worst.is_empty() {
        output::message(&render(file, &worst));
    }
    let wrong = file.diagnostics.iter().any(|d| d.severity == Severity::Error);
    match &file.car {
        Some(car) if !wrong => Ok(car),
        _ => Err(Failure::Reported),
    }
}

fn text_of(path: &Path) -> Result<String, Failure> {
    let cannot = |why: String| {
        Failure::with_hint(
            format!("cannot read `{}`: {why}", path.display()),
            "`soapstone new KIND FILE` writes a car file to start from",
        )
    };
    let size = std::fs::metadata(path).map_err(|e| cannot(e.to_string()))?;
    if size.is_dir() {
        return Err(cannot("it is a folder".into()));
    }
    if size.len() > MOST_BYTES {
        return Err(cannot("it is far too long for a car file".into()));
    }
    let bytes = std::fs::read(path).map_err(|e| cannot(e.to_string()))?;
    String::from_utf8(bytes).map_err(|e| {
        let line =
            1 + e.as_bytes().iter().take(e.utf8_error().valid_up_to()).filter(|b| **b == b'\n').count();
        Failure::with_hint(
            format!("`{}` is not UTF-8 text: line {line} has a byte that is not", path.display()),
            "save it as UTF-8 in the editor",
        )
    })
}

/// Diagnostics with file, line, column and the piece of text they are about.
pub(crate) fn render(file: &File, diagnostics: &[&Diagnostic]) -> String {
    let renderer = if anstream::AutoStream::choice(&std::io::stderr()) == anstream::ColorChoice::Never {
        Renderer::plain()
    } else {
        Renderer::styled()
    };
    let mut out = String::new();
    for d in diagnostics {
        let level = match d.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
            Severity::Note => Level::NOTE,
        };
        let title = level.primary_title(d.message.as_str());
        let mut group = match &d.span {
            Some(span) => title.element(
                Snippet::source(file.text.as_str())
                    .path(file.name.as_str())
                    .annotation(AnnotationKind::Primary.span(visible(&file.text, span))),
            ),
            None => Group::with_title(title),
        };
        if let Some(hint) = &d.hint {
            group = group.element(Level::HELP.message(hint.as_str()));
        }
        out.push_str(&renderer.render(&[group]));
        out.push_str("\n\n");
    }
    out
}

/// The part of a span to underline: its first line, without the line's end, so that a whole table does not
/// fill the screen.
fn visible(text: &str, span: &std::ops::Range<usize>) -> std::ops::Range<usize> {
    let start = span.start.min(text.len());
    let end = span.end.clamp(start, text.len());
    let line = text.get(start..end).and_then(|s| s.find('\n')).map_or(end, |n| start + n);
    start..line.max(start)
}
