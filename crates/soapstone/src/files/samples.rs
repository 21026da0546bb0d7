//! The samples of a search in columns: written in parts, put together, taken up again.

use exchange::columns::{Column, Columns, Values};
use project::model::{Car, PathReading};
use study::{Search, Setting, Tried};

/// What a part of a study is known by: the car file, what lies beside it and the program's version, all of which the samples
/// hang on.
pub(crate) fn fingerprint(text: &str, car: &Car) -> String {
    let beside = car.venues.iter().filter_map(|venue| match &venue.path {
        PathReading::File { text: Some(Ok(text)), .. } => Some(text.as_bytes()),
        _ => None,
    });
    let version = env!("CARGO_PKG_VERSION").as_bytes();
    // FNV-1a (G. Fowler et al., remembered): against mistakes, not against malice.
    let bytes = [text.as_bytes(), version].into_iter().chain(beside).flatten();
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}

/// Name of a venue's column.
fn time_of(venue: &str) -> String {
    format!("time on {venue}")
}

/// Samples as columns; `about` says which study it is.
pub(crate) fn columns(search: &Search, tried: &[Tried], about: Vec<(String, String)>) -> Columns {
    let holes = search.holes();
    let number = |name: String, unit: Option<&str>, get: &dyn Fn(&Tried) -> Option<f64>| Column {
        name,
        unit: unit.map(str::to_string),
        values: Values::Number(tried.iter().map(|t| get(t).unwrap_or(f64::NAN)).collect()),
    };
    let index = Values::Count(tried.iter().map(|t| t.index).collect());
    let hole = |t: &Tried| holes.get(t.setting.hole).cloned().unwrap_or_default();
    let mut columns = vec![
        Column { name: "index".into(), unit: None, values: index },
        Column { name: "hole".into(), unit: None, values: Values::Text(tried.iter().map(hole).collect()) },
    ];
    columns.extend(
        search
            .columns()
            .into_iter()
            .enumerate()
            .map(|(i, (name, unit))| number(name, unit, &|t: &Tried| t.setting.values.get(i).copied())),
    );
    columns.extend(
        search
            .venues()
            .iter()
            .enumerate()
            .map(|(v, venue)| number(time_of(venue), Some("s"), &|t: &Tried| t.times.get(v).copied())),
    );
    Columns { columns, about }
}

/// Samples of columns, for the search that they are of; the reason where they are of another.
pub(crate) fn tried(search: &Search, table: &Columns) -> Result<Vec<Tried>, String> {
    let lack = |name: &str| format!("they have no column `{name}`: they are of another search");
    let index = table.counts("index").ok_or_else(|| lack("index"))?;
    let holes = match table.column("hole").map(|c| &c.values) {
        Some(Values::Text(holes)) => holes,
        _ => return Err(lack("hole")),
    };
    let read = |name: &str| table.numbers(name).ok_or_else(|| lack(name));
    let values = search.columns().iter().map(|(name, _)| read(name)).collect::<Result<Vec<_>, _>>()?;
    let times = search.venues().iter().map(|venue| read(&time_of(venue))).collect::<Result<Vec<_>, _>>()?;
    let known = search.holes();
    let row = |i: usize| -> Option<Tried> {
        let at = |columns: &[&[f64]]| columns.iter().map(|c| c.get(i).copied().unwrap_or(f64::NAN)).collect();
        let hole = known.iter().position(|name| Some(name) == holes.get(i))?;
        Some(Tried {
            index: *index.get(i)?,
            setting: Setting { hole, values: at(&values) },
            times: at(&times),
        })
    };
    Ok((0..index.len()).filter_map(row).collect())
}
