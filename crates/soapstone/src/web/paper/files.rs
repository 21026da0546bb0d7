//! The files of the page, each under a name that says what it is.

use axum::extract::{Path, RawQuery, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use paper::sheet::Paper;
use project::Diagnostic;
use project::model::{Car, End};

use crate::files::{
    BookWanted, FileError, Kind, SideWanted, book_file, card_file, cards_wanted, charts, charts_zip,
    jig_file, jobs_from, patterns, points_file, results_file, safe, skeleton_file, template_file,
    usual_paper,
};
use crate::web::App;
use crate::web::page::problem;
use crate::web::shown::default_axle;

/// What a query asks of a file.
#[derive(Clone, Debug, Default)]
struct Wanted {
    kind: Option<Kind>,
    of: Option<Kind>,
    axle: Option<End>,
    plate: Option<String>,
    side: Option<SideWanted>,
    setup: Option<String>,
    paper: Option<Paper>,
}

impl Wanted {
    fn parse(query: &str) -> Self {
        let mut wanted = Self::default();
        for (key, value) in form_urlencoded::parse(query.as_bytes()) {
            match (&*key, &*value) {
                ("as", ending) => wanted.kind = Kind::of(ending),
                ("of", ending) => wanted.of = Kind::of(ending),
                ("axle", "front") => wanted.axle = Some(End::Front),
                ("axle", "rear") => wanted.axle = Some(End::Rear),
                ("plate", name) => wanted.plate = Some(name.to_string()),
                ("side", "left") => wanted.side = Some(SideWanted::Left),
                ("side", "right") => wanted.side = Some(SideWanted::Right),
                ("setup", name) => wanted.setup = Some(name.to_string()),
                ("paper", "a4") => wanted.paper = Some(Paper::A4),
                ("paper", "letter") => wanted.paper = Some(Paper::Letter),
                _ => {}
            }
        }
        wanted
    }
}

/// Why there is no such file: its status, what is wrong, what to do.
type No = (StatusCode, String, Option<String>);

/// A file.
pub(crate) async fn get(
    State(app): State<App>,
    Path(what): Path<String>,
    RawQuery(query): RawQuery,
) -> Response {
    let wanted = Wanted::parse(&query.unwrap_or_default());
    let (car, source) = {
        let desk = app.desk.lock().await;
        (desk.car().cloned(), (desk.text().to_string(), desk.diagnostics().to_vec()))
    };
    // Pages and charts take a while: others are served meanwhile.
    let made = match car {
        Some(car) => {
            tokio::task::spawn_blocking(move || make(&car, &source, &what, &wanted)).await.unwrap_or_else(
                |_| Err((StatusCode::INTERNAL_SERVER_ERROR, "it could not be made".into(), None)),
            )
        }
        None => {
            let hint = Some("mend its mistakes first".to_string());
            Err((StatusCode::NOT_FOUND, "the file does not make a car yet".into(), hint))
        }
    };
    match made {
        Ok((name, kind, bytes)) => {
            let mut answer = bytes.into_response();
            let headers = answer.headers_mut();
            headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind.media()));
            // A name of small letters, figures and hyphens is always a value.
            if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")) {
                headers.insert(header::CONTENT_DISPOSITION, value);
            }
            answer
        }
        Err((status, message, hint)) => {
            let desk = app.desk.lock().await;
            (status, problem(&app, &desk, &message, hint.as_deref(), "/paper")).into_response()
        }
    }
}

/// The file's text and what its reading had to say.
type Source = (String, Vec<Diagnostic>);

fn make(car: &Car, source: &Source, what: &str, wanted: &Wanted) -> Result<(String, Kind, Vec<u8>), No> {
    let no = |error: FileError| {
        let status = match error {
            FileError::Nothing { .. } | FileError::Kind(_) => StatusCode::NOT_FOUND,
            _ => StatusCode::UNPROCESSABLE_ENTITY,
        };
        (status, error.to_string(), error.hint())
    };
    let none = || (StatusCode::NOT_FOUND, "there is no such file".to_string(), None);
    let kind = wanted.kind.ok_or_else(none)?;
    let paper = wanted.paper.unwrap_or_else(|| usual_paper(car));
    let (name, bytes) = match what {
        "book" if kind == Kind::Pdf => {
            let mut diagnostics = source.1.clone();
            diagnostics.extend(study::check(car));
            let book =
                BookWanted { text: &source.0, diagnostics: &diagnostics, paper, date: None, revision: None };
            ("book".into(), book_file(car, &book, |_, _| {}).map_err(no)?.0)
        }
        "template" => {
            let side = wanted.side.unwrap_or(SideWanted::Both);
            let patterns = patterns(car, wanted.axle, wanted.plate.as_deref(), side).map_err(no)?;
            let plate = wanted.plate.as_deref().unwrap_or("all");
            let side = match side {
                SideWanted::Left => "left",
                SideWanted::Right => "right",
                SideWanted::Both => "both",
            };
            (
                format!("template-{}-{side}", safe(plate)),
                template_file(car, &patterns, kind, paper).map_err(no)?,
            )
        }
        "jig" => {
            let end = wanted.axle.unwrap_or_else(|| default_axle(car));
            let jig = study::jig(car, end).map_err(|error| no(error.into()))?;
            (format!("jig-{}", end.name()), jig_file(&jig, car, kind, paper).map_err(no)?)
        }
        "card" if kind == Kind::Pdf => {
            let missing = |error: crate::files::CardsError| {
                (StatusCode::NOT_FOUND, error.to_string(), Some(error.hint()))
            };
            let mut cards = Vec::new();
            for card in cards_wanted(car, wanted.setup.as_deref()).map_err(missing)? {
                let jobs = jobs_from(car, &card, None).map_err(missing)?;
                cards.push((card, jobs));
            }
            let name = match &wanted.setup {
                Some(setup) => format!("card-{}", safe(setup)),
                None => "cards".into(),
            };
            (name, card_file(car, &cards, paper).map_err(no)?)
        }
        "points" => ("points".into(), points_file(car, kind).map_err(no)?),
        "results" => ("results".into(), results_file(car, kind).map_err(no)?),
        "skeleton" => ("skeleton".into(), skeleton_file(car, kind).map_err(no)?),
        "charts" if kind == Kind::Zip => {
            let of = wanted.of.unwrap_or(Kind::Svg);
            let bytes = charts(car).and_then(|pictures| charts_zip(&pictures, of)).map_err(no)?;
            (format!("charts-{}", of.ending()), bytes)
        }
        _ => return Err(none()),
    };
    Ok((format!("{}-{name}.{}", safe(&car.name), kind.ending()), kind, bytes))
}
