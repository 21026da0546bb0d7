//! Style and scripts, compiled in.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};

const SCRIPT: &str = "text/javascript; charset=utf-8";

/// Page styles after those of the drawings.
static STYLE: LazyLock<String> = LazyLock::new(|| {
    [
        draw::style::CSS.as_str(),
        include_str!("assets/page.css"),
        include_str!("assets/measure.css"),
        include_str!("assets/paper.css"),
    ]
    .concat()
});

/// The scripts, by name.
const SCRIPTS: [(&str, &str); 17] = [
    ("app.js", include_str!("assets/app.js")),
    ("address.js", include_str!("assets/address.js")),
    ("parts.js", include_str!("assets/parts.js")),
    ("follow.js", include_str!("assets/follow.js")),
    ("drag.js", include_str!("assets/drag.js")),
    ("live.js", include_str!("assets/live.js")),
    ("send.js", include_str!("assets/send.js")),
    ("meaning.js", include_str!("assets/meaning.js")),
    ("play.js", include_str!("assets/play.js")),
    ("solid.js", include_str!("assets/solid.js")),
    ("turn.js", include_str!("assets/turn.js")),
    ("rows.js", include_str!("assets/rows.js")),
    ("cells.js", include_str!("assets/cells.js")),
    ("paste.js", include_str!("assets/paste.js")),
    ("line.js", include_str!("assets/line.js")),
    ("lines.js", include_str!("assets/lines.js")),
    ("sights.js", include_str!("assets/sights.js")),
];

/// A style sheet or a script.
pub(crate) async fn asset(Path(name): Path<String>) -> Response {
    let found: Option<(&str, &str)> = match name.as_str() {
        "page.css" => Some(("text/css; charset=utf-8", STYLE.as_str())),
        name => SCRIPTS.iter().find(|(own, _)| *own == name).map(|(_, text)| (SCRIPT, *text)),
    };
    match found {
        None => (StatusCode::NOT_FOUND, "there is no such file\n").into_response(),
        Some((kind, text)) => {
            let mut answer = text.into_response();
            answer.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
            // The program is the only one that changes them, and it changes its port as well.
            answer.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
            answer
        }
    }
}
