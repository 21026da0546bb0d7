//! Pages whose figures are typed over: shown for what a query asks, a form taken, a form refused with what was typed.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::{AsTyped, Edit};

use super::asked::Asked;
use super::mistakes::Mistakes;
use super::{Fields, Kept, Survey, accept, as_one, kept};
use crate::web::App;
use crate::web::desk::Desk;
use crate::web::page::{Sheet, layout};

/// Such a page.
pub(crate) trait Typing: Copy {
    /// Name for people.
    fn title(self) -> &'static str;

    /// Name of its stage in addresses.
    fn stage(self) -> &'static str;

    /// Its path.
    fn path(self) -> &'static str;

    /// What stands on it.
    fn parts(self, survey: &Survey<'_>, query: &str) -> Markup;

    /// A form whose figures only make sense together, if it is one.
    fn together(self, _text: &str, fields: &Fields) -> Option<Together> {
        Together::begun(fields)
    }
}

/// A form whose figures only make sense together: what is wrong is said of the form.
pub(crate) struct Together {
    /// Name of the form on the page.
    pub cell: String,
    /// What it does, for the history.
    pub label: String,
    /// What it changes beside the cells that were typed into, or why it cannot.
    pub more: Result<Vec<(String, Edit)>, String>,
}

impl Together {
    /// The first figures of a table.
    pub fn begun(fields: &Fields) -> Option<Self> {
        let table = fields.any("begin")?;
        Some(Self { cell: table.to_string(), label: format!("added {table}"), more: Ok(Vec::new()) })
    }
}

/// What is wrong with the file, by reading and by looking at the car that it makes.
pub(crate) fn mistakes_of(desk: &Desk) -> Mistakes {
    let checks = desk.car().map(study::check).unwrap_or_default();
    Mistakes::of(desk.text(), desk.diagnostics().iter().cloned().chain(checks))
}

/// The query of an address.
pub(crate) fn query_of(address: &str) -> &str {
    address.split_once('?').map_or("", |(_, query)| query)
}

/// The page for what a query asks.
pub(crate) async fn page(page: impl Typing, app: &App, query: Option<String>) -> Response {
    let desk = app.desk.lock().await;
    show(page, app, &desk, &query.unwrap_or_default(), None).into_response()
}

/// Takes a form.
pub(crate) async fn save(page: impl Typing, app: &App, body: &[u8]) -> Response {
    let fields = Fields::parse(body);
    let back = fields.back(page.path());
    let mut desk = app.desk.lock().await;
    let text = desk.text().to_string();
    let refuse = |desk: &Desk, kept: Kept| {
        let shown = show(page, app, desk, query_of(&back), Some(kept));
        (StatusCode::UNPROCESSABLE_ENTITY, shown).into_response()
    };
    let mut edits = fields.edits();
    let (mut cell, mut label) = (None, "set several values".to_string());
    if let Some(together) = page.together(&text, &fields) {
        match together.more {
            Ok(more) => edits.extend(more),
            Err(message) => {
                return refuse(&desk, Kept { fields, cell: together.cell, message, hint: None });
            }
        }
        (cell, label) = (Some(together.cell), together.label);
    }
    let Some(edit) = as_one(&label, &edits) else { return Redirect::to(&back).into_response() };
    let Err(error) = accept(app, &mut desk, &edit) else { return Redirect::to(&back).into_response() };
    let kept = match cell {
        Some(cell) => Kept { fields, cell, message: error.to_string(), hint: error.hint() },
        None => kept(&text, fields, &edits, &error),
    };
    refuse(&desk, kept)
}

fn show(page: impl Typing, app: &App, desk: &Desk, query: &str, kept: Option<Kept>) -> Markup {
    let typed = AsTyped::of(desk.text());
    let asked = Asked::parse(query, desk.car(), typed.as_ref());
    let shared = asked.query();
    let body = match &typed {
        Some(typed) => {
            let (car, read_only, mistakes) = (desk.car(), desk.is_read_only(), mistakes_of(desk));
            let survey = Survey { app, typed, car, asked, mistakes, kept, read_only, page: page.path() };
            page.parts(&survey, query)
        }
        None => html! {
            section.problem {
                h1 { "The file cannot be read as it is" }
                p { a.button.main href="/measure?text=1" { "Mend its text" } }
            }
        },
    };
    layout(app, desk, Sheet { title: page.title(), stage: page.stage(), query: &shared, body })
}
