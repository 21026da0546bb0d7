//! Results to standard output, messages to standard error; colour only where a terminal shows it.

use std::io::Write;

use anstyle::{AnsiColor, Style};
use serde::Serialize;

use super::Failure;

/// Style of headings.
pub(crate) const HEADING: Style = Style::new().bold();

/// Style of what is beside the point.
pub(crate) const FAINT: Style = Style::new().dimmed();

/// The one accent.
pub(crate) const ACCENT: Style = AnsiColor::Cyan.on_default();

const ERROR: Style = AnsiColor::Red.on_default().bold();
const HINT: Style = AnsiColor::Cyan.on_default();

/// Writes text that may hold styles.
pub(crate) fn text(text: &str) -> Result<(), Failure> {
    let mut out = anstream::stdout().lock();
    out.write_all(text.as_bytes())?;
    Ok(out.flush()?)
}

/// Writes bytes as they are.
pub(crate) fn bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    out.write_all(bytes)?;
    Ok(out.flush()?)
}

/// Writes one JSON object.
pub(crate) fn json<T: Serialize>(value: &T) -> Result<(), Failure> {
    let mut text = serde_json::to_string_pretty(value).map_err(std::io::Error::from)?;
    text.push('\n');
    bytes(text.as_bytes())
}

/// Writes records as comma-separated values.
pub(crate) fn csv(records: &[Vec<String>]) -> Result<(), Failure> {
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    for record in records {
        writer.write_record(record).map_err(std::io::Error::from)?;
    }
    let text = writer.into_inner().map_err(|e| Failure::Output(e.into_error()))?;
    bytes(&text)
}

/// Writes a message to standard error. Nothing can be done if that fails.
pub(crate) fn message(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// Writes an error and its hint to standard error.
pub(crate) fn complain(what: &str, hint: Option<&str>) {
    let mut text = format!("{ERROR}error{ERROR:#}: {what}\n");
    if let Some(hint) = hint {
        text.push_str(&format!("{HINT}hint{HINT:#}: {hint}\n"));
    }
    message(&text);
}

/// Text in a style.
pub(crate) fn styled(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}
