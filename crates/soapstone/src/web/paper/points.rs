//! Points from a spreadsheet: the file is sent, its columns are guessed and shown, then its points are taken as one
//! step of the history. Between the two steps the table travels in the form, so that the server keeps nothing.

use axum::body::Bytes;
use axum::extract::multipart::MultipartRejection;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::edit::ImportError;
use project::model::End;

use super::preview::{Form, Looked};
use super::{Said, show};
use crate::files::{Columns, edit_of, grid_of};
use crate::web::App;
use crate::web::desk::Desk;
use crate::web::measure::{Fields, accept};

/// Most bytes of a file that is sent: a workbook with a table of points and some pictures.
pub(crate) const MOST_UPLOAD: usize = 4 << 20;

/// Most bytes that a table may have between the two steps.
const MOST_TABLE: usize = 1 << 20;

/// Takes a file and shows what is in it.
pub(crate) async fn upload(State(app): State<App>, parts: Result<Multipart, MultipartRejection>) -> Response {
    let read = match parts {
        Ok(parts) => fields(parts).await,
        Err(error) => Err((error.body_text(), None)),
    };
    let desk = app.desk.lock().await;
    let form = read.and_then(|sent| {
        let grid = grid_of(&sent.bytes)
            .map_err(|error| (format!("cannot read the table: {error}"), error.hint().map(str::to_string)))?;
        let mut form = Form::sent(sent.name, sent.axle, grid.sheets);
        if form.written().len() > MOST_TABLE {
            let hint = Some("keep the table of points alone on its sheet".to_string());
            return Err(("the table is far larger than one of points".to_string(), hint));
        }
        // The first sheet that says which column is what.
        let known = |rows: &Vec<Vec<String>>| Columns::default().mapping(rows).ok();
        let found = form.sheets.iter().enumerate().find_map(|(i, sheet)| Some((i, known(&sheet.rows)?)));
        if let Some((sheet, mapping)) = found {
            form.sheet = sheet;
            form.take_mapping(&mapping);
        }
        Ok(form)
    });
    match form {
        Ok(form) => {
            let looked = Box::new(Looked::new(form, desk.text()));
            show(&app, &desk, "", Some(&Said::Looked(looked))).into_response()
        }
        Err((message, hint)) => {
            let said = Said::Wrong(message, hint);
            (StatusCode::UNPROCESSABLE_ENTITY, show(&app, &desk, "", Some(&said))).into_response()
        }
    }
}

/// What was sent.
struct Sent {
    name: String,
    bytes: Vec<u8>,
    axle: Option<End>,
}

async fn fields(mut parts: Multipart) -> Result<Sent, (String, Option<String>)> {
    let mut sent = Sent { name: String::new(), bytes: Vec::new(), axle: None };
    loop {
        let part = match parts.next_field().await {
            Ok(Some(part)) => part,
            Ok(None) => break,
            Err(error) => return Err(too_much(&error)),
        };
        match part.name() {
            Some("table") => {
                sent.name = part.file_name().unwrap_or_default().chars().take(80).collect();
                sent.bytes = part.bytes().await.map_err(|error| too_much(&error))?.to_vec();
            }
            Some("axle") => {
                let axle = part.text().await.map_err(|error| too_much(&error))?;
                sent.axle = axle_of(&axle);
            }
            _ => {}
        }
    }
    if sent.bytes.is_empty() {
        let hint = Some("choose a .csv or .xlsx of points first".to_string());
        return Err(("no table was sent, or an empty one".to_string(), hint));
    }
    Ok(sent)
}

fn too_much(error: &axum::extract::multipart::MultipartError) -> (String, Option<String>) {
    let hint = "a table of points alone, of less than 4 MB, as CSV or XLSX".to_string();
    (format!("the table did not come through: {}", error.body_text()), Some(hint))
}

/// The axle of a word.
pub(super) fn axle_of(word: &str) -> Option<End> {
    match word {
        "front" => Some(End::Front),
        "rear" => Some(End::Rear),
        _ => None,
    }
}

/// Looks at a table again with other columns, or takes its points.
pub(crate) async fn take(State(app): State<App>, body: Bytes) -> Response {
    let fields = Fields::parse(&body);
    let mut desk = app.desk.lock().await;
    let Some(form) = Form::of(&fields) else {
        let said = Said::Wrong("the table was lost on the way".into(), Some("send it again".into()));
        return (StatusCode::BAD_REQUEST, show(&app, &desk, "", Some(&said))).into_response();
    };
    let looked = Looked::new(form, desk.text());
    if fields.get("do") != "take" {
        return show(&app, &desk, "", Some(&Said::Looked(Box::new(looked)))).into_response();
    }
    let done = match &looked.edit {
        Ok(Some(edit)) => accept(&app, &mut desk, edit).map_err(|error| (error.to_string(), error.hint())),
        // What is wrong, or that there is nothing to do, stands beside the table.
        _ => {
            let status = if looked.edit.is_ok() { StatusCode::OK } else { StatusCode::UNPROCESSABLE_ENTITY };
            return (status, show(&app, &desk, "", Some(&Said::Looked(Box::new(looked))))).into_response();
        }
    };
    match done {
        Ok(()) => Redirect::to("/paper?took=1").into_response(),
        Err((message, hint)) => {
            let said = Said::Wrong(message, hint);
            (StatusCode::UNPROCESSABLE_ENTITY, show(&app, &desk, "", Some(&said))).into_response()
        }
    }
}

/// The edit of a table in its present form; `None` where the file has its points already.
pub(super) fn edit(form: &Form, text: &str) -> Result<Option<project::edit::Edit>, ImportError> {
    let loaded = project::read(text);
    let axle = form.axle.unwrap_or_else(|| crate::files::default_axle(text));
    let rows = form.rows();
    let mapping = form.mapping();
    let from = if form.from.is_empty() { "a table" } else { form.from.as_str() };
    match mapping {
        Some(mapping) => edit_of(text, &loaded, axle, rows, &mapping, from),
        None => Err(ImportError::NoRows),
    }
}

/// The form, what came of it, and a table that is being looked at.
pub(super) fn part(app: &App, desk: &Desk, axle: End, said: Option<&Said>) -> Markup {
    html! {
        section.paste id="paper-points" aria-labelledby="paper-bring" {
            h2 id="paper-bring" { "Bring points in from a spreadsheet" }
            @match said {
                Some(Said::Took) => {
                    @if let (Some(label), _) = desk.ways() {
                        p.noted role="status" { "Done: " (label) ". Undo takes it back." }
                    }
                }
                Some(Said::Wrong(message, hint)) => {
                    p.wrong role="alert" { (message) @if let Some(hint) = hint { span.hint { " " (hint) } } }
                }
                _ => {}
            }
            p { "CSV or XLSX with a point a row: name, x, y, z and perhaps ±, in the file's own frame. Columns are guessed from their headings and shown before anything is written. What can be had under Points comes back the same." }
            form.send method="post" enctype="multipart/form-data" action={ "/paper/points?token=" (app.guard.token()) } {
                label { "Table " input type="file" name="table" accept=".csv,.xlsx,.txt" required disabled[desk.is_read_only()]; }
                label {
                    "Axle of names without one "
                    select name="axle" {
                        @for end in [End::Front, End::Rear] {
                            option value=(end.name()) selected[end == axle] { (end.name()) }
                        }
                    }
                }
                button disabled[desk.is_read_only()] { "Look at it" }
            }
            @if let Some(Said::Looked(looked)) = said { (looked.part(app)) }
        }
    }
}
