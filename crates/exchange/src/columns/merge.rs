//! Puts the parts of one study together.

use std::collections::BTreeMap;
use std::ops::Range;

use super::{Column, Columns, ColumnsError, Values};

/// Parts put together.
#[derive(Clone, Debug, PartialEq)]
pub struct Merged {
    /// All rows, by their index.
    pub table: Columns,
    /// Indices that no part has, below the study's own count where it is said, else below the greatest index.
    pub missing: Vec<Range<u64>>,
    /// Rows that stood in more than one part, alike.
    pub twice: u64,
}

/// What is said of a part alone: `range` is its own.
const OWN: &str = "range";

/// What says how many rows the study has.
const COUNT: &str = "count";

/// Puts parts together, each with a name for messages; `key` is the column of indices.
///
/// # Errors
/// Parts with other columns, or of which something else is said; a row that stands twice with different values.
pub fn merge(parts: &[(String, Columns)], key: &str) -> Result<Merged, ColumnsError> {
    let Some((first_name, first)) = parts.first() else {
        return Err(ColumnsError::Table("no part is given".into()));
    };
    let mut rows: BTreeMap<u64, (usize, usize)> = BTreeMap::new();
    let mut twice = 0;
    for (p, (name, part)) in parts.iter().enumerate() {
        part.check()?;
        alike(name, part, first_name, first)?;
        let indices = part
            .counts(key)
            .ok_or_else(|| ColumnsError::Table(format!("{name} has no column {key} of whole numbers")))?;
        for (r, index) in indices.iter().enumerate() {
            match rows.get(index) {
                None => {
                    rows.insert(*index, (p, r));
                }
                Some(known) => {
                    let Some((other_name, other)) = parts.get(known.0) else { continue };
                    if !same_row(other, known.1, part, r) {
                        return Err(ColumnsError::Differs {
                            index: *index,
                            first: other_name.clone(),
                            second: name.clone(),
                        });
                    }
                    twice += 1;
                }
            }
        }
    }
    let columns = first.columns.iter().enumerate().map(|(c, column)| gathered(c, column, parts, &rows));
    let mut about: Vec<(String, String)> = first.about.iter().filter(|(k, _)| k != OWN).cloned().collect();
    let greatest = rows.last_key_value().map_or(0, |(index, _)| index + 1);
    let count = first.said(COUNT).and_then(|c| c.parse().ok()).unwrap_or(greatest);
    about.push((OWN.into(), format!("0..{count}")));
    let table = Columns { columns: columns.collect(), about };
    Ok(Merged { table, missing: missing(rows.keys().copied(), count), twice })
}

fn alike(name: &str, part: &Columns, first_name: &str, first: &Columns) -> Result<(), ColumnsError> {
    let other = |what: String| Err(ColumnsError::Other { part: name.into(), first: first_name.into(), what });
    let head = |t: &Columns| -> Vec<(String, Option<String>, &'static str)> {
        t.columns.iter().map(|c| (c.name.clone(), c.unit.clone(), c.values.kind())).collect()
    };
    if head(part) != head(first) {
        let names = |t: &Columns| t.columns.iter().map(|c| c.name.clone()).collect::<Vec<_>>().join(", ");
        return other(format!("its columns are {}, not {}", names(part), names(first)));
    }
    let said = |t: &Columns| -> BTreeMap<String, String> {
        t.about.iter().filter(|(k, _)| k != OWN).cloned().collect()
    };
    let (a, b) = (said(part), said(first));
    if let Some(key) = a.keys().chain(b.keys()).find(|k| a.get(*k) != b.get(*k)) {
        let value = |m: &BTreeMap<String, String>| m.get(key).map_or("nothing", String::as_str).to_string();
        return other(format!("its {key} is {}, not {}", value(&a), value(&b)));
    }
    Ok(())
}

/// Whether two rows are alike to the last bit.
fn same_row(a: &Columns, i: usize, b: &Columns, j: usize) -> bool {
    a.columns.iter().zip(&b.columns).all(|(a, b)| match (&a.values, &b.values) {
        (Values::Number(a), Values::Number(b)) => {
            a.get(i).map(|v| v.to_bits()) == b.get(j).map(|v| v.to_bits())
        }
        (Values::Count(a), Values::Count(b)) => a.get(i) == b.get(j),
        (Values::Text(a), Values::Text(b)) => a.get(i) == b.get(j),
        _ => false,
    })
}

/// A column of all rows.
fn gathered(
    c: usize,
    like: &Column,
    parts: &[(String, Columns)],
    rows: &BTreeMap<u64, (usize, usize)>,
) -> Column {
    let places = || rows.values().filter_map(|(p, r)| Some((&parts.get(*p)?.1.columns.get(c)?.values, *r)));
    let values = match &like.values {
        Values::Number(_) => Values::Number(
            places()
                .filter_map(|(v, r)| if let Values::Number(v) = v { v.get(r).copied() } else { None })
                .collect(),
        ),
        Values::Count(_) => Values::Count(
            places()
                .filter_map(|(v, r)| if let Values::Count(v) = v { v.get(r).copied() } else { None })
                .collect(),
        ),
        Values::Text(_) => Values::Text(
            places()
                .filter_map(|(v, r)| if let Values::Text(v) = v { v.get(r).cloned() } else { None })
                .collect(),
        ),
    };
    Column { name: like.name.clone(), unit: like.unit.clone(), values }
}

/// What is not among rising indices below a count.
fn missing(indices: impl Iterator<Item = u64>, count: u64) -> Vec<Range<u64>> {
    let mut out = Vec::new();
    let mut next = 0;
    for index in indices.take_while(|i| *i < count) {
        if index > next {
            out.push(next..index);
        }
        next = index + 1;
    }
    if next < count {
        out.push(next..count);
    }
    out
}
