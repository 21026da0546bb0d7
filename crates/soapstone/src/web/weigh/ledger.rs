//! The ledger: parts taken out and put in, a row each, and a row for another one.

use maud::{Markup, html};
use project::edit::{AsTyped, Edit};

use super::super::measure::values::{Field, cell, save, unit};
use super::super::measure::{Fields, Survey};

/// What a part's row holds: key, words, hint in the column's head.
const COLUMNS: [(&str, &str); 4] = [
    ("mass", "mass"),
    ("at", "centre x, y, z"),
    ("accuracy", "± of the centre"),
    ("size", "length, width, height"),
];

/// Both lists.
pub(super) fn part(survey: &Survey<'_>) -> Markup {
    html! {
        section.sheet id="part-ledger" data-sheet="" aria-label="Parts out and in" {
            h2 { "Parts out and in" span.small { " since the car was weighed; a part that was moved goes out and in again" } }
            table.places.open {
                thead { tr {
                    th scope="col" { "part" }
                    @for (key, words) in COLUMNS {
                        th scope="col" { (words) " [" (unit(survey, if key == "mass" { "mass" } else { "length" }, if key == "mass" { "kg" } else { "mm" })) "]" }
                    }
                    th { span.unseen { "do" } }
                } }
                @for (way, words) in [("out", "taken out"), ("in", "put in")] {
                    @let names = survey.typed.tables(&format!("weigh.{way}"));
                    @if !names.is_empty() {
                        tbody {
                            tr.group { th colspan="6" scope="rowgroup" { (words) } }
                            @for (i, name) in names.iter().enumerate() { (row(survey, way, i, name)) }
                        }
                    }
                }
            }
            (another(survey))
        }
    }
}

fn row(survey: &Survey<'_>, way: &str, index: usize, name: &str) -> Markup {
    let path = format!("weigh.{way}.{name}");
    let form = format!("form-part-{way}-{index}");
    let fields: Vec<Field> =
        COLUMNS.iter().map(|(key, words)| Field::new(format!("{path}.{key}"), *words, "", "")).collect();
    let remove = serde_json::to_string(&Edit::RemoveTable { path: path.clone() }).unwrap_or_default();
    let about = survey.typed.header(&path).map(|span| survey.mistakes.take(&span)).unwrap_or_default();
    html! {
        tr data-row=(path) {
            th scope="row" {
                (name)
                @for diagnostic in about { (super::super::measure::why(diagnostic)) }
            }
            @for field in &fields {
                (cell(survey, &form, field, survey.typed.value(&field.path).as_ref(), Some(&format!("{} of {name}", field.words))))
            }
            td.end {
                (save(survey, &form, &fields))
                form method="post" action={ "/edit?token=" (survey.app.guard.token()) } data-keep="" {
                    input type="hidden" name="edit" value=(remove);
                    input type="hidden" name="back" value=(survey.back());
                    button aria-label={ "Remove " (name) " from the ledger" } disabled[survey.read_only] { "Remove" }
                }
            }
        }
    }
}

fn another(survey: &Survey<'_>) -> Markup {
    let kept = survey.kept.as_ref().filter(|kept| kept.cell == "add-part");
    let had = |name: &str| kept.map_or("", |kept| kept.fields.get(name));
    html! {
        form.add data-row="new-part" data-post="" method="post" action=(survey.action()) {
            input type="hidden" name="back" value=(survey.back());
            b { "Another part" }
            label { "was " select name="add-part" {
                option value="out" selected[had("add-part") == "out"] { "taken out" }
                option value="in" selected[had("add-part") == "in"] { "put in" }
            } }
            @for (field, words, size) in
                [("name", "name", 12), ("mass", "mass", 8), ("x", "x", 8), ("y", "y", 8), ("z", "z", 8), ("size", "length, width, height (may be empty)", 14)] {
                label { (words) " " input name=(field) value=(had(field)) size=(size) inputmode="text" autocomplete="off"; }
            }
            button disabled[survey.read_only] { "Add" }
            @if let Some(kept) = kept {
                p.why role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
            }
        }
    }
}

/// The edits that add a part, each with its field; or what is wrong with its name.
pub(super) fn added(text: &str, fields: &Fields) -> Result<Vec<(String, Edit)>, String> {
    let own = |name: &str| fields.get(name).trim().to_string();
    let (way, name) = (if fields.get("add-part") == "in" { "in" } else { "out" }, own("name"));
    if name.is_empty() || name.contains(['.', '"', '\\']) || name.chars().any(char::is_control) {
        return Err("a part needs a name of letters, digits, blanks and dashes".into());
    }
    let path = format!("weigh.{way}.{name}");
    if AsTyped::of(text).is_some_and(|typed| typed.has(&path)) {
        return Err(format!("there is a part called `{name}` on that list already"));
    }
    let value = |key: &str, text: String| {
        (key.to_string(), Edit::Value { path: format!("{path}.{key}"), text: Some(text) })
    };
    let at = format!("{}, {}, {}", own("x"), own("y"), own("z"));
    let mut edits = vec![value("mass", own("mass")), value("at", at)];
    let size = own("size");
    if !size.is_empty() {
        edits.push(value("size", size));
    }
    Ok(edits)
}
