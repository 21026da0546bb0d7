//! Changes of the car: each is written whole or not at all, and every open page is told. Scripts send JSON and get
//! JSON; plain forms send a form and are sent back to their page.

use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use project::edit::{Edit, EditError};
use project::store::StoreError;
use serde::Serialize;

use super::App;
use super::page::problem;

/// What a page hears of its change.
#[derive(Serialize)]
struct Answer {
    ok: bool,
    version: String,
    /// What was done, or what is wrong.
    message: String,
    hint: Option<String>,
    /// Mistakes of a pasted table.
    mistakes: Vec<Mistake>,
}

/// One mistake of a pasted table.
#[derive(Serialize)]
struct Mistake {
    row: usize,
    column: usize,
    message: String,
    hint: Option<String>,
}

/// What a request asks for and where its page is.
struct Asked {
    edit: String,
    /// Path to go back to, for plain forms.
    back: Option<String>,
}

impl Asked {
    fn read(headers: &HeaderMap, body: &Bytes) -> Self {
        let kind = headers.get(header::CONTENT_TYPE).and_then(|k| k.to_str().ok()).unwrap_or_default();
        if !kind.starts_with("application/x-www-form-urlencoded") {
            return Self { edit: String::from_utf8_lossy(body).into_owned(), back: None };
        }
        let mut asked = Self { edit: String::new(), back: Some("/".into()) };
        for (key, value) in form_urlencoded::parse(body) {
            match &*key {
                "edit" => asked.edit = value.into_owned(),
                "back" if is_own(&value) => asked.back = Some(value.into_owned()),
                _ => {}
            }
        }
        asked
    }
}

/// Whether an address is a path of our own, never another site's. Browsers take a backslash for a slash, and take tabs
/// and line ends out before they read on.
fn is_own(address: &str) -> bool {
    address.starts_with('/')
        && !address.starts_with("//")
        && !address.contains(|c: char| c == '\\' || c.is_control())
}

/// Makes an edit.
pub(crate) async fn edit(State(app): State<App>, headers: HeaderMap, body: Bytes) -> Response {
    let asked = Asked::read(&headers, &body);
    let edit: Edit = match serde_json::from_str(&asked.edit) {
        Ok(edit) => edit,
        Err(e) => return (StatusCode::BAD_REQUEST, format!("this is no edit: {e}\n")).into_response(),
    };
    finish(&app, &asked, |desk| desk.accept(&edit).map(Some), "").await
}

/// Takes the last edit back.
pub(crate) async fn undo(State(app): State<App>, headers: HeaderMap, body: Bytes) -> Response {
    finish(&app, &Asked::read(&headers, &body), super::desk::Desk::undo, "there is nothing to take back")
        .await
}

/// Makes the last undone edit again.
pub(crate) async fn redo(State(app): State<App>, headers: HeaderMap, body: Bytes) -> Response {
    finish(&app, &Asked::read(&headers, &body), super::desk::Desk::redo, "there is nothing to make again")
        .await
}

async fn finish(
    app: &App,
    asked: &Asked,
    change: impl FnOnce(&mut super::desk::Desk) -> Result<Option<String>, StoreError>,
    nothing: &str,
) -> Response {
    let mut desk = app.desk.lock().await;
    let done = change(&mut desk);
    let version = app.stamp(desk.version());
    let (status, answer) = match done {
        Ok(Some(message)) => {
            app.tell(desk.version(), &message);
            (StatusCode::OK, Answer { ok: true, version, message, hint: None, mistakes: Vec::new() })
        }
        Ok(None) => {
            let message = nothing.to_string();
            (StatusCode::OK, Answer { ok: false, version, message, hint: None, mistakes: Vec::new() })
        }
        Err(error) => {
            let status = match &error {
                StoreError::Conflict { .. } | StoreError::ChangedOutside => {
                    app.tell(desk.version(), "changed in another program");
                    StatusCode::CONFLICT
                }
                _ => StatusCode::UNPROCESSABLE_ENTITY,
            };
            let answer = Answer {
                ok: false,
                version,
                message: told(&error),
                hint: error.hint(),
                mistakes: mistakes(&error),
            };
            (status, answer)
        }
    };
    match &asked.back {
        None => (status, Json(answer)).into_response(),
        Some(back) if answer.ok || status == StatusCode::OK => Redirect::to(back).into_response(),
        Some(back) => {
            (status, problem(app, &desk, &answer.message, answer.hint.as_deref(), back)).into_response()
        }
    }
}

/// What is wrong, with both values of a conflict.
fn told(error: &StoreError) -> String {
    let mut text = error.to_string();
    if let StoreError::Conflict { clashes } = error {
        for clash in clashes {
            let of = |v: &Option<String>| v.clone().unwrap_or_else(|| "nothing".into());
            text.push_str(&format!("; the file has {}, yours is {}", of(&clash.theirs), of(&clash.ours)));
        }
    }
    text
}

fn mistakes(error: &StoreError) -> Vec<Mistake> {
    match error {
        StoreError::Edit(EditError::Paste { mistakes }) => mistakes
            .iter()
            .map(|m| Mistake {
                row: m.row,
                column: m.column,
                message: m.message.clone(),
                hint: m.hint.clone(),
            })
            .collect(),
        _ => Vec::new(),
    }
}
