//! What differs between two texts of one file, key by key.

use std::collections::BTreeMap;

use serde::Serialize;
use toml_edit::{Item, TableLike, Value};

use super::tree::Tree;

/// One key that differs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Change {
    /// Path of the key; holes by their end and name: `rear.holes.link.toe.body=A.at`.
    pub path: String,
    /// What stood there, as written; `None` where the key was not there.
    pub before: Option<String>,
    /// What stands there now.
    pub after: Option<String>,
}

/// The keys that differ between two texts; changes of comments, order and spaces are none. `None` where one of
/// them is not TOML.
pub fn changes(before: &str, after: &str) -> Option<Vec<Change>> {
    let (old, new) = (flat(before)?, flat(after)?);
    let gone = old.iter().filter(|(path, _)| !new.contains_key(*path));
    let gone = gone.map(|(path, value)| (path, Some(value), None));
    let there = new.iter().filter(|(path, value)| old.get(*path) != Some(*value));
    let there = there.map(|(path, value)| (path, old.get(path), Some(value)));
    let mut changes: Vec<Change> = gone
        .chain(there)
        .map(|(path, before, after)| Change {
            path: path.clone(),
            before: before.cloned(),
            after: after.cloned(),
        })
        .collect();
    changes.sort_by(|a, b| a.path.cmp(&b.path));
    Some(changes)
}

/// Whether two keys are the same, or one is inside the other.
pub(crate) fn touch(a: &str, b: &str) -> bool {
    let inside =
        |inner: &str, outer: &str| inner.strip_prefix(outer).is_some_and(|rest| rest.starts_with('.'));
    a == b || inside(a, b) || inside(b, a)
}

/// Every value of a text by its path.
fn flat(text: &str) -> Option<BTreeMap<String, String>> {
    let tree = Tree::parse(text).ok()?;
    let mut all = BTreeMap::new();
    table(&tree, tree.root(), "", &mut all);
    Some(all)
}

fn table(tree: &Tree<'_>, keys: &dyn TableLike, path: &str, all: &mut BTreeMap<String, String>) {
    for (key, item) in keys.iter() {
        let path = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
        match item {
            Item::ArrayOfTables(tables) => {
                for inner in tables {
                    table(tree, inner, &member(inner, &path, all), all);
                }
            }
            Item::Value(Value::Array(array)) if array.iter().any(Value::is_inline_table) => {
                for inner in array.iter().filter_map(Value::as_inline_table) {
                    table(tree, inner, &member(inner, &path, all), all);
                }
            }
            item => match (item.as_table_like(), item.span()) {
                (Some(inner), _) => table(tree, inner, &path, all),
                (None, Some(span)) => {
                    all.insert(path, tree.slice(&span).to_string());
                }
                (None, None) => {}
            },
        }
    }
}

/// Path of a member of a list of tables, told apart by what it is for.
fn member(keys: &dyn TableLike, path: &str, all: &BTreeMap<String, String>) -> String {
    let text = |key: &str| keys.get(key).and_then(Item::as_str).unwrap_or_default();
    let own = format!("{path}.{}={}", text("end"), text("name"));
    let taken = |path: &String| all.keys().any(|key| touch(key, path));
    let numbered = (2..).map(|number| format!("{own}#{number}"));
    std::iter::once(own.clone()).chain(numbered).find(|path| !taken(path)).unwrap_or(own)
}
