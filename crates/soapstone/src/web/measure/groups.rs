//! Tables of figures that a stage works from, to be typed over. A table that is not in the file yet is begun with the
//! figures that it cannot do without.

use maud::{Markup, html};

use super::Survey;
use super::values::{Field, table};

/// A table of the file: path, title, words below it, its values, and which of them begin it.
pub(crate) struct Group {
    pub path: &'static str,
    pub title: &'static str,
    pub words: &'static str,
    pub fields: Vec<Field>,
    pub first: Vec<&'static str>,
}

/// All of them.
pub(crate) fn part(survey: &Survey<'_>, groups: &[Group]) -> Markup {
    html! {
        section.sheet id="part-scales" data-sheet="" aria-label="Figures" {
            div.values {
                @for group in groups { (one(survey, group)) }
            }
        }
    }
}

fn one(survey: &Survey<'_>, group: &Group) -> Markup {
    let name = format!("group-{}", group.path.replace('.', "-"));
    html! {
        div.group data-table=(group.path) {
            h2 { (group.title) }
            @if !group.words.is_empty() { p.small { (group.words) } }
            @if group.first.is_empty() || survey.typed.has(group.path) { (table(survey, &name, &group.fields)) }
            @else { (begin(survey, group)) }
        }
    }
}

/// A form for a table that is not there: its figures are only right together.
fn begin(survey: &Survey<'_>, group: &Group) -> Markup {
    let kept = survey.kept.as_ref().filter(|kept| kept.cell == group.path);
    let at = |key: &str| format!("value:{}.{key}", group.path);
    let first = group.fields.iter().filter(|field| {
        group
            .first
            .iter()
            .any(|key| field.path.strip_prefix(group.path).is_some_and(|rest| rest == format!(".{key}")))
    });
    html! {
        form.add data-row={ "begin-" (group.path) } data-post="" method="post" action=(survey.action()) {
            input type="hidden" name="back" value=(survey.back());
            input type="hidden" name="begin" value=(group.path);
            @for field in first {
                @let key = field.path.rsplit('.').next().unwrap_or_default();
                @let had = kept.map_or("", |kept| kept.fields.get(&at(key)));
                label { (field.words) " "
                    @if field.choices.is_empty() {
                        input name=(at(key)) value=(had) size="8" inputmode="text" autocomplete="off";
                    } @else {
                        select name=(at(key)) {
                            @for choice in &field.choices { option value=(choice) selected[had == *choice] { (choice) } }
                        }
                    }
                    @if !field.unit.is_empty() { span.unit { " " (field.unit) } }
                }
            }
            button disabled[survey.read_only] { "Add" }
            @if let Some(kept) = kept {
                p.why role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
            }
        }
    }
}
