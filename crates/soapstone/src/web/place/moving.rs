//! The line that a page keeps open for what follows a hand: a question comes as the query of an address, and of the
//! answer only what differs from the one before goes back.

use std::collections::HashMap;

use axum::extract::State;
use axum::extract::ws::{Message, WebSocket, WebSocketUpgrade};
use axum::response::Response;
use serde::Serialize;

use super::{Answer, answer};
use crate::web::App;
use crate::web::differs::{Change, parts};
use crate::web::shown::Share;

/// Longest question, that of a page's greatest address [bytes].
const MOST_ASKED: usize = 64 * 1024;

/// More changes than this to a part, and it is quicker sent whole.
const MOST_CHANGES: usize = 600;

/// Opens the line.
pub(crate) async fn moving(State(app): State<App>, upgrade: WebSocketUpgrade) -> Response {
    upgrade.max_message_size(MOST_ASKED).max_frame_size(MOST_ASKED).on_upgrade(|line| talk(app, line))
}

async fn talk(app: App, mut line: WebSocket) {
    let mut sent = Sent::default();
    while let Some(Ok(message)) = line.recv().await {
        let Message::Text(asked) = message else { continue };
        let given = sent.answer(&app, &asked).await;
        let Ok(text) = serde_json::to_string(&given) else { break };
        if line.send(Message::Text(text.into())).await.is_err() {
            break;
        }
    }
}

/// What a page has been told so far, by share of the figures and name of the part.
#[derive(Default)]
struct Sent(HashMap<(Option<Share>, String), String>);

/// One answer on the line.
#[derive(Default, Serialize)]
struct Given {
    /// The question's own number.
    n: String,
    /// What went wrong, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    wrong: Option<String>,
    address: String,
    later: bool,
    /// Time that it took [ms].
    spent: f64,
    /// Parts that are sent whole.
    html: String,
    /// What differs, by the name of the part.
    differs: Vec<(String, Vec<Change>)>,
}

impl Sent {
    async fn answer(&mut self, app: &App, asked: &str) -> Given {
        let begun = std::time::Instant::now();
        let mut n = String::new();
        for (key, value) in form_urlencoded::parse(asked.as_bytes()) {
            match &*key {
                "n" => n = value.into_owned(),
                // The page has become another one by other ways.
                "whole" => self.0.clear(),
                _ => {}
            }
        }
        let mut given = Given { n, ..Given::default() };
        match answer(app, asked).await {
            Err(why) => given.wrong = Some(why.to_string()),
            Ok(answer) => self.tell(answer, &mut given),
        }
        given.spent = begun.elapsed().as_secs_f64() * 1e3;
        given
    }

    fn tell(&mut self, answer: Answer, given: &mut Given) {
        let Answer { address, later, share, html } = answer;
        (given.address, given.later) = (address, later);
        // Shares of the figures lie side by side in a part; an answer without shares lies over all of them.
        self.0.retain(|(of, _), _| of.is_some() == share.is_some());
        let Some(parts) = parts(&html) else {
            self.0.clear();
            given.html = html;
            return;
        };
        for part in parts {
            let before = self.0.insert((share, part.id.to_string()), part.markup().to_string());
            match before.and_then(|before| part.changes(&before)) {
                Some(changes) if changes.is_empty() => {}
                Some(changes) if changes.len() <= MOST_CHANGES => {
                    given.differs.push((part.id.to_string(), changes));
                }
                _ => given.html.push_str(part.whole),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(sent: &mut Sent, share: Option<Share>, html: &str) -> Given {
        let mut given = Given::default();
        let answer = Answer { address: String::new(), later: false, share, html: html.to_string() };
        sent.tell(answer, &mut given);
        given
    }

    #[test]
    fn a_part_is_sent_whole_once_and_then_what_differs() {
        let mut sent = Sent::default();
        let first = "<p id=\"a\">1</p><p id=\"b\">2</p>";
        assert_eq!(told(&mut sent, Some(Share::Axle), first).html, first);
        let next = told(&mut sent, Some(Share::Axle), "<p id=\"a\">1</p><p id=\"b\">3</p>");
        assert_eq!((next.html.as_str(), next.differs.len()), ("", 1));
        assert_eq!(next.differs[0].0, "b");
        // The other share has said nothing of it yet.
        assert_eq!(told(&mut sent, Some(Share::Car), "<p id=\"b\">3</p>").html, "<p id=\"b\">3</p>");
        // What lies over the shares makes them unknown.
        assert_eq!(told(&mut sent, None, "<p id=\"b\">3</p>").html, "<p id=\"b\">3</p>");
        assert_eq!(told(&mut sent, Some(Share::Axle), first).html, first);
    }
}
