//! `soapstone.import/1`: what points from a spreadsheet changed.

use project::edit::Change;
use serde::Serialize;

#[derive(Serialize)]
struct ImportOut<'a> {
    schema: &'static str,
    file: String,
    /// Which column was taken for what.
    columns: String,
    /// Whether the file has the changes now.
    written: bool,
    changes: &'a [Change],
}

/// What changed, or would.
pub(crate) fn imported<'a>(
    file: &str,
    columns: &str,
    written: bool,
    changes: &'a [Change],
) -> impl Serialize + use<'a> {
    ImportOut {
        schema: "soapstone.import/1",
        file: file.to_string(),
        columns: columns.to_string(),
        written,
        changes,
    }
}
