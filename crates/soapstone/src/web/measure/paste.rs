//! A table from a spreadsheet: pasted as text, its mistakes shown in its own cells.

use maud::{Markup, html};
use project::edit::{EditError, PasteMistake, paste_cells};
use project::store::StoreError;

use super::Survey;

/// A pasted table that was refused.
pub(crate) struct Pasted {
    table: String,
    mistakes: Vec<PasteMistake>,
    /// What is wrong with the whole.
    message: String,
    hint: Option<String>,
}

impl Pasted {
    /// With what is wrong with it.
    pub fn refused(table: String, error: &StoreError) -> Self {
        let mistakes = match error {
            StoreError::Edit(EditError::Paste { mistakes }) => mistakes.clone(),
            _ => Vec::new(),
        };
        let hint = error.hint().filter(|_| mistakes.is_empty());
        Self { table, mistakes, message: error.to_string(), hint }
    }
}

/// The form, and below it a refused table.
pub(crate) fn part(survey: &Survey<'_>, pasted: Option<&Pasted>) -> Markup {
    let text = pasted.map_or("", |pasted| pasted.table.as_str());
    let axle = survey.asked.axle.name();
    html! {
        section.paste id="part-paste" data-sheet="" aria-label="Paste a table" {
            details open[pasted.is_some()] {
                summary { "Paste a table" }
                (form(survey.app.guard.token(), axle, text, &survey.asked.address()))
                @if let Some(pasted) = pasted { (preview(pasted)) }
            }
        }
    }
}

/// The form by itself.
pub(crate) fn form(token: &str, axle: &str, text: &str, back: &str) -> Markup {
    html! {
        form method="post" action={ "/measure/paste?token=" (token) } data-post="" data-paste-into="" {
            input type="hidden" name="axle" value=(axle);
            input type="hidden" name="back" value=(back);
            p.small {
                label for="table" { "A row a line, from a spreadsheet: name, x, y, z and perhaps ±. " }
                "Names are those of the file: " code { "link.toe.body" } ", a hole of it " code { "link.toe.body=B" }
                ". All rows are taken, or none."
            }
            textarea id="table" name="table" rows="6" spellcheck="false" autocomplete="off"
                placeholder="link.toe.body&#9;2760&#9;300&#9;262&#9;1.5" { "\n" (text) }
            p { button { "Take these rows" } }
        }
    }
}

/// The refused table with every mistake in its cell.
pub(crate) fn preview(pasted: &Pasted) -> Markup {
    let of = |row: usize, column: usize| {
        pasted.mistakes.iter().filter(move |m| m.row == row && m.column.min(6) == column)
    };
    html! {
        div.preview role="alert" {
            p.wrong {
                b { "Nothing was taken: " } (pasted.message)
                @if let Some(hint) = &pasted.hint { span.hint { " " (hint) } }
            }
            @if !pasted.mistakes.is_empty() {
                table {
                    caption { "Mend the marked cells above, and take the rows again" }
                    thead { tr {
                        th scope="col" { "row" } th scope="col" { "name" } th scope="col" { "x" } th scope="col" { "y" }
                        th scope="col" { "z" } th scope="col" { "±" } th scope="col" {}
                    } }
                    tbody {
                        @for (i, cells) in paste_cells(&pasted.table).iter().enumerate().filter(|(_, c)| c.iter().any(|c| !c.is_empty())) {
                            tr {
                                th scope="row" { (i + 1) }
                                @for column in 1..=6 {
                                    @let found: Vec<&PasteMistake> = of(i + 1, column).collect();
                                    td.bad[!found.is_empty()] {
                                        (cells.get(column - 1).map_or("", String::as_str))
                                        @for mistake in found {
                                            p.why {
                                                "row " (mistake.row) ", column " (mistake.column) ": " (mistake.message)
                                                @if let Some(hint) = &mistake.hint { span.hint { " " (hint) } }
                                            }
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}
