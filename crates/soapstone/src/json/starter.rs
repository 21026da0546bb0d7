//! `soapstone.starter/1`: a file to start from.

use serde::Serialize;

#[derive(Serialize)]
struct StarterOut {
    schema: &'static str,
    kind: String,
    text: String,
}

/// A starter file.
pub(crate) fn starter(kind: &str, text: &str) -> impl Serialize {
    StarterOut { schema: "soapstone.starter/1", kind: kind.to_string(), text: text.to_string() }
}
