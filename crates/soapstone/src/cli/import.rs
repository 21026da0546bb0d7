//! Points from a spreadsheet into the car file.

use std::path::Path;

use exchange::{GridSheet, MOST_BYTES, address};
use project::edit::{Edit, ImportError, Mapping, changes};
use project::model::End;
use project::store::{Store, StoreError};
use units::LengthUnit;

use super::args::{AxleName, ImportArgs};
use super::{Failure, output, table};
use crate::files::{Columns, ColumnsError, columns_words, default_axle, edit_of, grid_of};
use crate::json;

pub(crate) fn run(args: &ImportArgs) -> Result<(), Failure> {
    let columns = columns(args)?;
    let (mut store, loaded) = Store::open(&args.car).map_err(of_store)?;
    let grid = grid_of(&bytes(&args.points)?).map_err(|error| {
        let message = format!("cannot read `{}`: {error}", args.points.display());
        Failure::Input { message, hint: error.hint().map(str::to_string) }
    })?;
    let (sheet, mapping) = sheet(args, &grid.sheets, &columns)?;
    let axle = match args.axle {
        Some(AxleName::Front) => End::Front,
        Some(AxleName::Rear) => End::Rear,
        None => default_axle(store.text()),
    };
    let from = args.points.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let before = store.text().to_string();
    let edit = edit_of(&before, &loaded, axle, &sheet.rows, &mapping, &from)
        .map_err(|error| wrong(&error, &from))?;
    let units = loaded.car.as_ref().map(|car| car.units).unwrap_or_default();
    let words = columns_words(&mapping, &units);
    let after = match &edit {
        None => before.clone(),
        Some(edit) => project::edit::apply(&before, edit).map_err(|e| of_store(StoreError::Edit(e)))?,
    };
    let written = match &edit {
        Some(edit) if !args.trial => {
            store.accept(edit).map_err(of_store)?;
            true
        }
        _ => false,
    };
    let changed = changes(&before, &after).unwrap_or_default();
    if args.json {
        return output::json(&json::imported(&args.car.display().to_string(), &words, written, &changed));
    }
    output::text(&told(args, &words, edit.as_ref(), written, &changed))
}

fn told(
    args: &ImportArgs,
    words: &str,
    edit: Option<&Edit>,
    written: bool,
    changed: &[project::edit::Change],
) -> String {
    let mut out = format!("{}\n", table::wrap(&format!("took {words}"), 2));
    if edit.is_none() || changed.is_empty() {
        out.push_str("nothing to change: the file has these points as they are\n");
        return out;
    }
    for change in changed {
        let shown = |value: &Option<String>| value.clone().unwrap_or_else(|| "nothing".into());
        out.push_str(&format!("  {}: {} -> {}\n", change.path, shown(&change.before), shown(&change.after)));
    }
    let car = args.car.display();
    out.push_str(&if written {
        format!("wrote {car}; undo takes it back on its page (`soapstone open {car}`)\n")
    } else {
        format!("nothing was written: `--try` only shows what {car} would get\n")
    });
    out
}

fn columns(args: &ImportArgs) -> Result<Columns, Failure> {
    let given = args.columns.as_deref().map(Columns::parse).transpose().map_err(|e| of_columns(&e))?;
    let unit = match &args.unit {
        None => None,
        Some(name) => Some(LengthUnit::from_name(name).ok_or_else(|| {
            Failure::with_hint(format!("`{name}` is not a length unit"), "write `--unit mm` or `--unit in`")
        })?),
    };
    let first_row = args.first_row.and_then(|row| usize::try_from(row).ok()).map(|row| row.saturating_sub(1));
    Ok(Columns { given, first_row, unit })
}

fn of_columns(error: &ColumnsError) -> Failure {
    Failure::with_hint(error.to_string(), format!("{} (`--columns`)", error.hint()))
}

/// The bytes of the table.
fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    let cannot = |why: String| {
        Failure::with_hint(
            format!("cannot read `{}`: {why}", path.display()),
            "give a .csv or .xlsx of points",
        )
    };
    let about = std::fs::metadata(path).map_err(|e| cannot(e.to_string()))?;
    if about.is_dir() {
        return Err(cannot("it is a folder".into()));
    }
    if about.len() > MOST_BYTES as u64 {
        return Err(cannot("it is far too large for a table of points".into()));
    }
    std::fs::read(path).map_err(|e| cannot(e.to_string()))
}

/// The sheet that is asked for, or the first in which columns are found.
fn sheet<'a>(
    args: &ImportArgs,
    sheets: &'a [GridSheet],
    columns: &Columns,
) -> Result<(&'a GridSheet, Mapping), Failure> {
    let known: Vec<String> =
        sheets.iter().filter(|s| !s.name.is_empty()).map(|s| format!("`{}`", s.name)).collect();
    if let Some(name) = &args.sheet {
        let sheet = sheets.iter().find(|sheet| sheet.name == *name).ok_or_else(|| {
            let hint = if known.is_empty() {
                "a CSV file has one sheet without a name: leave `--sheet` out".to_string()
            } else {
                format!("there is {}", known.join(", "))
            };
            Failure::with_hint(format!("the table has no sheet `{name}`"), hint)
        })?;
        let mapping = columns.mapping(&sheet.rows).map_err(|e| of_columns(&e))?;
        return Ok((sheet, mapping));
    }
    let mut wrong = ColumnsError::Unknown;
    for sheet in sheets {
        match columns.mapping(&sheet.rows) {
            Ok(mapping) => return Ok((sheet, mapping)),
            Err(error) => wrong = error,
        }
    }
    Err(of_columns(&wrong))
}

/// Every cell that is wrong, by its address.
fn wrong(error: &ImportError, from: &str) -> Failure {
    if let ImportError::Cells(mistakes) = error {
        for mistake in mistakes {
            let at = address(mistake.row, mistake.column);
            output::complain(&format!("{from}, {at}: {}", mistake.message), mistake.hint.as_deref());
        }
        output::message("nothing was written\n");
        return Failure::Reported;
    }
    Failure::Input { message: error.to_string(), hint: error.hint() }
}

fn of_store(error: StoreError) -> Failure {
    let hint = error.hint();
    Failure::Input { message: error.to_string(), hint }
}
