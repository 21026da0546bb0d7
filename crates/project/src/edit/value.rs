//! Any value that is not a point, by its path.

use toml_edit::{Item, Value};

use super::error::EditError;
use super::tree::{Splice, Tree};
use super::typed::{Role, role, toml};
use super::{Context, spell, table};

/// Sets a value as typed, or takes it out.
pub(crate) fn set(
    tree: &Tree<'_>,
    path: &str,
    text: Option<&str>,
    context: &Context<'_>,
) -> Result<String, EditError> {
    let role = role(path);
    let (parent, key) = split(path);
    let missing = || EditError::NotThere { name: path.to_string(), hint: None };
    let splice = match (tree.find(path), text) {
        (None, None) => return Err(missing()),
        (None, Some(text)) => {
            let value = toml(path, text, role, None, &context.units)?;
            match (tree.home(parent), parent.strip_suffix(".holes")) {
                (Some(home), _) => tree.with_key(&home, key, &value).ok_or_else(missing)?,
                // `holes` of a setup is written within braces, because its keys are whole names.
                (None, Some(setup)) if parent.starts_with("setup.") => {
                    let value = format!("{{ {} = {value} }}", spell::key(key));
                    match tree.home(setup) {
                        Some(home) => tree.with_key(&home, "holes", &value).ok_or_else(missing)?,
                        None => table::with(tree, setup, "holes", &value),
                    }
                }
                (None, _) => table::with(tree, parent, key, &value),
            }
        }
        (Some(Item::Value(value)), Some(text)) => {
            let list = matches!(role, Role::List(_) | Role::Words);
            let holds_more = matches!(value, Value::InlineTable(_)) || (value.is_array() && !list);
            let span = value
                .span()
                .filter(|_| !holds_more)
                .ok_or(EditError::WrongForm { name: path.to_string(), wanted: "a single value" })?;
            let new = toml(path, text, role, Some(tree.slice(&span)), &context.units)?;
            Splice::new(span, new)
        }
        (Some(Item::Value(_)), None) => {
            let home = tree.home(parent).ok_or_else(missing)?;
            tree.without_key(&home, key).ok_or_else(missing)?
        }
        (Some(_), _) => {
            return Err(EditError::WrongForm { name: path.to_string(), wanted: "a single value" });
        }
    };
    Ok(tree.spliced(vec![splice]))
}

/// The table, and the key in it; a setup's keys are names with dots.
fn split(path: &str) -> (&str, &str) {
    if path.starts_with("setup.")
        && let Some(at) = path.find(".holes.")
    {
        let holes = at + ".holes".len();
        return (path.get(..holes).unwrap_or_default(), path.get(holes + 1..).unwrap_or_default());
    }
    path.rsplit_once('.').unwrap_or(("", path))
}
