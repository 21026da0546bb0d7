//! Tells every open page when the car has changed, whoever changed it.

use std::convert::Infallible;
use std::time::Duration;

use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::stream::{Stream, unfold};
use serde::Serialize;

use super::App;

/// How often the file is looked at for changes made by an editor.
const LOOK_EVERY: Duration = Duration::from_millis(300);

/// What pages are told.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Change {
    /// Names this run of the server and the car's version in it.
    pub version: String,
    /// What was done.
    pub label: String,
}

/// A stream of changes, the present state first.
pub(crate) async fn events(State(app): State<App>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let now = Change { version: app.stamp(app.desk.lock().await.version()), label: String::new() };
    let stream = unfold((app.changed.subscribe(), Some(now)), |(mut changes, first)| async move {
        let change = match first {
            Some(now) => now,
            None => {
                changes.changed().await.ok()?;
                changes.borrow_and_update().clone()
            }
        };
        let data = serde_json::to_string(&change).unwrap_or_default();
        Some((Ok(Event::default().event("car").data(data)), (changes, None)))
    });
    Sse::new(stream).keep_alive(KeepAlive::default())
}

/// Looks at the file again and again and tells when it has changed.
pub(crate) async fn watch_file(app: App) {
    loop {
        tokio::time::sleep(LOOK_EVERY).await;
        let mut desk = app.desk.lock().await;
        // A file that cannot be read at the moment shows at the next edit; there is nobody to tell here.
        if desk.look().unwrap_or(false) {
            app.tell(desk.version(), "changed in another program");
        }
    }
}
