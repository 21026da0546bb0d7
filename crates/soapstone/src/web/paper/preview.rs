//! A table on its way into the file: which column is what, its first rows, every mistake in its cell, what changes.

use exchange::{GridSheet, address};
use maud::{Markup, html};
use project::edit::{Change, Edit, ImportError, ImportMistake, Mapping, changes};
use project::model::End;
use units::LengthUnit;

use super::points;
use crate::files::{Columns, looked_at};
use crate::web::App;
use crate::web::measure::Fields;

/// Rows that are shown beside those with mistakes, and changes that are listed.
const FIRST_ROWS: usize = 8;
const MOST_CHANGES: usize = 60;

/// Most mistakes that are shown in full.
const MOST_MISTAKES: usize = 60;

/// Columns to choose from.
const MOST_COLUMNS: usize = 52;

/// Units to choose from.
const UNITS: [&str; 5] = ["mm", "cm", "m", "in", "ft"];

/// What a form says of a table.
#[derive(Clone, Debug, Default)]
pub(super) struct Form {
    /// Name of the file.
    pub from: String,
    pub axle: Option<End>,
    pub sheets: Vec<GridSheet>,
    pub sheet: usize,
    /// Columns of name, x, y, z.
    columns: [Option<usize>; 4],
    accuracy: Option<usize>,
    /// First row of the points, from 0.
    first_row: Option<usize>,
    /// What bare numbers are in; empty: as the headings say.
    unit: String,
}

impl Form {
    /// A table that was sent, its columns not yet known.
    pub fn sent(from: String, axle: Option<End>, sheets: Vec<GridSheet>) -> Self {
        Self { from, axle, sheets, ..Self::default() }
    }

    /// Reads a form; `None` where its table is not whole.
    pub fn of(fields: &Fields) -> Option<Self> {
        let sheets: Vec<(String, Vec<Vec<String>>)> = serde_json::from_str(fields.get("grid")).ok()?;
        let column = |name: &str| fields.get(name).parse().ok().filter(|c| *c < exchange::MOST_COLUMNS);
        Some(Self {
            from: fields.get("from").chars().filter(|c| !c.is_control()).take(80).collect(),
            axle: points::axle_of(fields.get("axle")),
            sheets: sheets.into_iter().map(|(name, rows)| GridSheet { name, rows }).collect(),
            sheet: fields.get("sheet").parse().unwrap_or(0),
            columns: ["name", "x", "y", "z"].map(column),
            accuracy: column("accuracy"),
            first_row: fields.get("first-row").trim().parse().ok().and_then(|row: usize| row.checked_sub(1)),
            unit: fields.get("unit").to_string(),
        })
    }

    /// The table as it travels in the form.
    pub fn written(&self) -> String {
        let sheets: Vec<(&str, &Vec<Vec<String>>)> =
            self.sheets.iter().map(|sheet| (sheet.name.as_str(), &sheet.rows)).collect();
        // Texts are always JSON.
        serde_json::to_string(&sheets).unwrap_or_default()
    }

    /// Takes up what was guessed.
    pub fn take_mapping(&mut self, mapping: &Mapping) {
        let [x, y, z] = mapping.coordinates;
        self.columns = [mapping.name, x, y, z].map(Some);
        self.accuracy = mapping.accuracy;
        self.first_row = Some(mapping.first_row);
    }

    /// The rows of the chosen sheet.
    pub fn rows(&self) -> &[Vec<String>] {
        self.sheets.get(self.sheet).map_or(&[], |sheet| sheet.rows.as_slice())
    }

    /// Which column is what; `None` where one is not chosen.
    pub fn mapping(&self) -> Option<Mapping> {
        let [name, x, y, z] = self.columns;
        let given = Some(([name?, x?, y?, z?], self.accuracy));
        let unit = LengthUnit::from_name(&self.unit);
        Columns { given, first_row: self.first_row, unit }.mapping(self.rows()).ok()
    }
}

/// A table with what would come of it.
pub(super) struct Looked {
    form: Form,
    /// What would be done; `None` where the file has the points already.
    pub edit: Result<Option<Edit>, ImportError>,
    changes: Vec<Change>,
}

impl Looked {
    /// Tries a table on a file's text.
    pub fn new(form: Form, text: &str) -> Self {
        let edit = points::edit(&form, text);
        let after =
            edit.as_ref().ok().and_then(Option::as_ref).and_then(|e| project::edit::apply(text, e).ok());
        let changes = after.and_then(|after| changes(text, &after)).unwrap_or_default();
        Self { form, edit, changes }
    }

    /// The table, to be changed, looked at again, or taken.
    pub fn part(&self, app: &App) -> Markup {
        let ready = matches!(self.edit, Ok(Some(_)));
        html! {
            form.looked method="post" action={ "/paper/points/take?token=" (app.guard.token()) "#paper-points" } {
                input type="hidden" name="grid" value=(self.form.written());
                input type="hidden" name="from" value=(self.form.from);
                h3 { "What is in " (if self.form.from.is_empty() { "the table" } else { &self.form.from }) }
                div.columns { (self.choices()) }
                (self.said())
                (self.preview())
                (self.list())
                p.go {
                    button name="do" value="look" { "Look again" }
                    " "
                    button.main name="do" value="take" disabled[!ready] { "Take these points" }
                }
            }
        }
    }

    /// What each column is, from where on, in which unit.
    fn choices(&self) -> Markup {
        let form = &self.form;
        let width = form.rows().iter().map(Vec::len).max().unwrap_or(0).min(MOST_COLUMNS);
        let [name, x, y, z] = form.columns;
        let head = |column: usize| {
            let row = form.first_row.and_then(|row| row.checked_sub(1)).unwrap_or(0);
            form.rows().get(row).and_then(|cells| cells.get(column)).map_or("", String::as_str)
        };
        let select = |key: &str, label: &str, chosen: Option<usize>| {
            html! {
                label {
                    (label) " "
                    select name=(key) {
                        option value="" selected[chosen.is_none()] { "–" }
                        @for column in 0..width {
                            option value=(column) selected[chosen == Some(column)] {
                                (letters(column)) @if !head(column).is_empty() { ": " (shortened(head(column))) }
                            }
                        }
                    }
                }
            }
        };
        html! {
            @if form.sheets.len() > 1 {
                label { "Sheet " select name="sheet" {
                    @for (i, sheet) in form.sheets.iter().enumerate() {
                        option value=(i) selected[i == form.sheet] { (sheet.name) }
                    }
                } }
            }
            (select("name", "Name", name)) (select("x", "x", x)) (select("y", "y", y)) (select("z", "z", z))
            (select("accuracy", "±", form.accuracy))
            label { "First row " input name="first-row" inputmode="numeric" size="4" value=(form.first_row.map_or(1, |row| row + 1)); }
            label { "Bare numbers are in " select name="unit" {
                option value="" selected[form.unit.is_empty()] { "as headed, else the file's" }
                @for unit in UNITS { option value=(unit) selected[form.unit == unit] { (unit) } }
            } }
            label { "Axle of names without one " select name="axle" {
                @for end in [End::Front, End::Rear] {
                    option value=(end.name()) selected[form.axle == Some(end)] { (end.name()) }
                }
            } }
        }
    }

    fn said(&self) -> Markup {
        html! {
            @match &self.edit {
                Ok(Some(_)) => {}
                Ok(None) => p.noted role="status" { "Nothing to change: the file has these points as they are." },
                Err(_) if self.form.mapping().is_none() => {
                    p.wrong role="alert" { "Say which column is what: name, x, y and z. " span.hint { "Then look again." } }
                }
                Err(error) => p.wrong role="alert" {
                    b { "Nothing was taken: " } (error)
                    @if !matches!(error, ImportError::Cells(_)) {
                        @if let Some(hint) = error.hint() { span.hint { " " (hint) } }
                    }
                },
            }
        }
    }

    fn mistakes(&self) -> &[ImportMistake] {
        match &self.edit {
            Err(ImportError::Cells(mistakes)) => mistakes,
            _ => &[],
        }
    }

    /// The heading, the first rows, and every row with a mistake.
    fn preview(&self) -> Markup {
        let rows = self.form.rows();
        let mapping = self.form.mapping();
        let first = mapping.as_ref().map_or(0, |mapping| mapping.first_row);
        let width = rows.iter().map(Vec::len).max().unwrap_or(0).min(MOST_COLUMNS);
        let mistakes: Vec<&ImportMistake> = self.mistakes().iter().take(MOST_MISTAKES).collect();
        let is_shown = |row: usize| {
            (first.saturating_sub(1)..first + FIRST_ROWS).contains(&row)
                || mistakes.iter().any(|m| m.row == row)
        };
        let role = |column: usize| {
            let mapping = mapping.as_ref()?;
            let [x, y, z] = mapping.coordinates;
            let parts = [
                (Some(mapping.name), "name"),
                (Some(x), "x"),
                (Some(y), "y"),
                (Some(z), "z"),
                (mapping.accuracy, "±"),
            ];
            parts.into_iter().find(|(own, _)| *own == Some(column)).map(|(_, word)| word)
        };
        let width = mistakes.iter().map(|m| m.column + 1).fold(width, usize::max);
        html! {
            div.preview tabindex="0" role="group" aria-label="Rows of the table" {
                table {
                    caption { "The first rows" @if !mistakes.is_empty() { ", and those to mend in the spreadsheet" } }
                    thead { tr {
                        th scope="col" { "row" }
                        @for column in 0..width {
                            th scope="col" { (letters(column)) @if let Some(word) = role(column) { span.unit { (word) } } }
                        }
                    } }
                    tbody {
                        @for (index, cells) in rows.iter().enumerate().filter(|(row, _)| is_shown(*row)) {
                            tr.passed[mapping.as_ref().is_some_and(|m| !looked_at(m, index))] {
                                th scope="row" { (index + 1) }
                                @for column in 0..width {
                                    @let found: Vec<&&ImportMistake> =
                                        mistakes.iter().filter(|m| m.row == index && m.column == column).collect();
                                    td.bad[!found.is_empty()] {
                                        (cells.get(column).map_or("", String::as_str))
                                        @for mistake in found {
                                            p.why {
                                                (address(mistake.row, mistake.column)) ": " (mistake.message)
                                                @if let Some(hint) = &mistake.hint { span.hint { " " (hint) } }
                                            }
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
                @if self.mistakes().len() > MOST_MISTAKES {
                    p.small { (self.mistakes().len() - MOST_MISTAKES) " more mistakes are not shown." }
                }
            }
        }
    }

    /// What the file would get.
    fn list(&self) -> Markup {
        if self.changes.is_empty() {
            return html! {};
        }
        let shown = |value: &Option<String>| value.clone().unwrap_or_else(|| "nothing".into());
        html! {
            div.preview tabindex="0" role="group" aria-label="What changes" {
                table {
                    caption { "What changes in the file" }
                    thead { tr { th scope="col" { "key" } th scope="col" { "now" } th scope="col" { "then" } } }
                    tbody {
                        @for change in self.changes.iter().take(MOST_CHANGES) {
                            tr { th scope="row" { (change.path) } td { (shown(&change.before)) } td { (shown(&change.after)) } }
                        }
                    }
                }
                @if self.changes.len() > MOST_CHANGES {
                    p.small { (self.changes.len() - MOST_CHANGES) " more are not shown." }
                }
            }
        }
    }
}

/// A column as a spreadsheet calls it.
fn letters(column: usize) -> String {
    address(0, column).trim_end_matches('1').to_string()
}

fn shortened(text: &str) -> String {
    let mut letters = text.trim().chars();
    let first: String = letters.by_ref().take(18).collect();
    if letters.next().is_some() { format!("{first}…") } else { first }
}
