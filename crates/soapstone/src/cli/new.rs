//! A commented car file to start from.

use std::io::Write;

use units::{LengthUnit, UnitSystem};

use super::args::NewArgs;
use super::{Failure, output};
use crate::json;

pub(crate) fn run(args: &NewArgs) -> Result<(), Failure> {
    let length = LengthUnit::from_name(&args.units).ok_or_else(|| {
        Failure::with_hint(
            format!("`{}` is not a length unit", args.units),
            "write `--units mm` or `--units in`",
        )
    })?;
    let system = UnitSystem { length, ..UnitSystem::default() };
    let text = project::starter(&args.kind, &system).ok_or_else(|| {
        Failure::with_hint(
            format!("there is no kind `{}`", args.kind),
            format!("there is {}", project::KINDS.join(", ")),
        )
    })?;
    let Some(path) = args.file.as_ref().filter(|p| p.as_os_str() != "-") else {
        return if args.json { output::json(&json::starter(&args.kind, &text)) } else { output::text(&text) };
    };
    // `create_new` never overwrites, also not a file that appeared a moment ago.
    let file = std::fs::OpenOptions::new().write(true).create_new(true).open(path);
    let written = file.and_then(|mut f| f.write_all(text.as_bytes()));
    written.map_err(|e| {
        let hint = match e.kind() {
            std::io::ErrorKind::AlreadyExists => "it is left as it is; give another name",
            _ => "give a path that can be written",
        };
        Failure::with_hint(format!("cannot write `{}`: {e}", path.display()), hint)
    })?;
    if args.json {
        return output::json(&json::starter(&args.kind, &text));
    }
    let path = path.display();
    output::text(&format!(
        "wrote {path}\nmeasure, type your figures over those in it, then:\n  soapstone check {path}\n  soapstone \
         choose {path}\n"
    ))
}
