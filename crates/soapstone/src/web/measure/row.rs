//! One row of the survey: a point, a hole or a corner, with a cell for each of its texts.

use std::ops::Range;

use maud::{Markup, html};
use project::Diagnostic;
use project::edit::{Place, TypedPoint};

use super::names::{row_name, slug};
use super::{Kept, Survey};

/// What a row shows.
pub(crate) struct Row<'a> {
    pub place: &'a Place,
    pub typed: &'a TypedPoint,
    /// Part that it is on, for a telephone, where the row stands alone.
    pub part: String,
    /// Words for it.
    pub words: String,
    /// How a pasted table calls it, where it can be pasted.
    pub pasted_as: Option<String>,
    /// A hole: its name can be typed over.
    pub hole: bool,
    /// ± can be stated.
    pub doubt: bool,
    pub current: bool,
    /// Last cells of the row.
    pub end: Markup,
}

/// A cell: its field's name, what it says now, its words for a reader who does not see the column.
pub(crate) struct Cell<'a> {
    pub field: &'a str,
    pub text: &'a str,
    pub words: String,
    pub id: String,
    pub form: &'a str,
    pub size: usize,
    pub hint: Option<&'a str>,
    /// Place in the file.
    pub span: Option<Range<usize>>,
    pub refused: Option<Refused<'a>>,
}

/// What a refused form had in a cell.
pub(crate) struct Refused<'a> {
    text: &'a str,
    /// The form, if this cell is to blame.
    blame: Option<&'a Kept>,
}

/// Name of each coordinate.
pub(crate) const AXES: [&str; 3] = ["x", "y", "z"];

/// The row.
pub(crate) fn row(survey: &Survey<'_>, row: &Row<'_>) -> Markup {
    let name = row_name(row.place);
    let form = format!("form-{}", slug(&name));
    let json = serde_json::to_string(row.place).unwrap_or_default();
    let whole = row.typed.coordinates.len() != 3;
    let own = row.typed.accuracy.as_ref();
    let accuracy = own.map_or("", |typed| typed.text.as_str());
    let said = survey.typed.value("survey.accuracy").map_or_else(|| "2 mm".into(), |typed| typed.text);
    let cell = |field: &'static str, text: &str, words: &str, size: usize, span: Option<Range<usize>>| {
        let refused = refused(survey, row.place, field);
        let words = format!("{words} of {}, {}", row.part, row.words);
        let id = format!("{field}-{}", slug(&name));
        let hint = (field == "accuracy").then_some(said.as_str());
        cell(survey, &Cell { field, text, words, id, form: &form, size, hint, span, refused })
    };
    let cells: Vec<Markup> = AXES
        .into_iter()
        .enumerate()
        .map(|(i, axis)| {
            let span = row.typed.coordinates.get(i).map(|typed| typed.span.clone());
            cell(axis, row.typed.coordinate(i), axis, 8, span)
        })
        .collect();
    let doubt = row.doubt.then(|| cell("accuracy", accuracy, "±", 6, own.map(|typed| typed.span.clone())));
    let named = match row.place {
        Place::Hole { name, .. } if row.hole => Some(cell("name", name, "name", 6, None)),
        _ => None,
    };
    // After the cells, which take what is about them alone.
    let whole_row = survey.mistakes.take(&row.typed.span);
    html! {
        tr.current[row.current] data-row=(name) data-place=(json) data-paste=[row.pasted_as.as_deref()]
            data-whole=[whole.then_some("")] {
            th scope="row" {
                span.part { (row.part) " " }
                a href=(survey.asked.at(&name)) data-at="" { (row.words) }
                @for about in whole_row { (why(None, about)) }
            }
            (named.unwrap_or_default())
            @for cell in cells { (cell) }
            (doubt.unwrap_or_default())
            td.end {
                form.no-script id=(form) method="post" action={ "/measure?token=" (survey.app.guard.token()) } {
                    input type="hidden" name="back" value=(survey.asked.address());
                    input type="hidden" name="place" value=(json);
                    @if whole { input type="hidden" name="whole" value=""; }
                    @for (i, axis) in AXES.into_iter().enumerate() {
                        input type="hidden" name={ "was:" (axis) } value=(row.typed.coordinate(i));
                    }
                    input type="hidden" name="was:accuracy" value=(accuracy);
                    @if let Place::Hole { name, .. } = row.place { input type="hidden" name="was:name" value=(name); }
                    button aria-label={ "Save " (row.part) ", " (row.words) } { "Save" }
                }
                (row.end)
            }
        }
    }
}

/// What a refused form of a place had in a cell.
fn refused<'a>(survey: &'a Survey<'_>, place: &Place, field: &str) -> Option<Refused<'a>> {
    let kept = survey.kept.as_ref().filter(|kept| kept.is_of(place))?;
    Some(Refused { text: kept.fields.any(field)?, blame: Some(kept).filter(|kept| kept.cell == field) })
}

/// A cell with its field, and below it what is wrong with it.
pub(crate) fn cell(survey: &Survey<'_>, cell: &Cell<'_>) -> Markup {
    let about = cell.span.as_ref().map(|span| survey.mistakes.take(span)).unwrap_or_default();
    let (text, blame) = match &cell.refused {
        Some(refused) => (refused.text, refused.blame),
        None => (cell.text, None),
    };
    let why_id = format!("why-{}", cell.id);
    let wrong = blame.is_some() || about.iter().any(|d| d.severity == project::Severity::Error);
    let told = blame.is_some() || !about.is_empty();
    html! {
        td data-cell=(cell.field) data-axis=(axis_word(cell.field)) {
            input id=(cell.id) name=(cell.field) form=(cell.form) value=(text) size=(cell.size) aria-label=(cell.words)
                placeholder=[cell.hint] inputmode="text" autocomplete="off" autocapitalize="off" spellcheck="false"
                readonly[survey.read_only] aria-invalid=[wrong.then_some("true")]
                aria-describedby=[told.then_some(&why_id)] data-refused=[blame.map(|_| "")];
            @if let Some(kept) = blame {
                p.why id=(why_id) role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
            }
            @for (i, diagnostic) in about.iter().enumerate() {
                (why((i == 0 && blame.is_none()).then_some(why_id.as_str()), diagnostic))
            }
        }
    }
}

/// Head of a cell that stands alone.
fn axis_word(field: &str) -> &str {
    match field {
        "accuracy" => "±",
        "name" => "name",
        other => other,
    }
}

/// One mistake below its cell, which its message need not name again.
pub(crate) fn why(id: Option<&str>, about: &Diagnostic) -> Markup {
    let class = if about.severity == project::Severity::Error { "why" } else { "why doubt" };
    let message =
        about.message.strip_prefix('`').and_then(|rest| rest.split_once("`: ")).map(|(_, rest)| rest);
    html! {
        p class=(class) id=[id] { (message.unwrap_or(&about.message)) @if let Some(hint) = &about.hint { span.hint { " " (hint) } } }
    }
}
