//! The door for a telephone: a code that is read off the first screen.

use std::net::SocketAddr;

use axum::body::Bytes;
use axum::extract::{ConnectInfo, RawQuery, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::App;
use super::guard::Pairing;
use super::page::{Sheet, layout};

/// On this machine shows the code; on another one asks for it, or takes it from the address of the QR picture.
pub(crate) async fn page(
    State(app): State<App>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    RawQuery(query): RawQuery,
) -> Response {
    if peer.ip().is_loopback() {
        let desk = app.desk.lock().await;
        let body = invitation(&app);
        return layout(&app, &desk, Sheet { title: "Telephone", stage: "", query: "", body }).into_response();
    }
    match query.and_then(|q| code(q.as_bytes())) {
        Some(code) => answer(&app, &code),
        None => (StatusCode::OK, ask(None)).into_response(),
    }
}

/// Takes the code from the form.
pub(crate) async fn enter(State(app): State<App>, body: Bytes) -> Response {
    answer(&app, &code(&body).unwrap_or_default())
}

fn code(form: &[u8]) -> Option<String> {
    form_urlencoded::parse(form).find(|(key, _)| key == "code").map(|(_, value)| value.into_owned())
}

fn answer(app: &App, code: &str) -> Response {
    match app.guard.pair(code) {
        Pairing::Paired(cookie) => ([(header::SET_COOKIE, cookie)], Redirect::to("/")).into_response(),
        Pairing::Wrong => (StatusCode::FORBIDDEN, ask(Some("That is not the code."))).into_response(),
        Pairing::Closed => {
            let why = "Nobody can pair now. Start Soapstone again with --lan for a new code.";
            (StatusCode::FORBIDDEN, ask(Some(why))).into_response()
        }
    }
}

/// The code as a picture and as a number.
fn invitation(app: &App) -> Markup {
    let Some((address, code)) = app.guard.invitation() else {
        return html! {
            h1 { "A telephone beside the car" }
            p { "Start Soapstone with " code { "--lan" } " to let a telephone on the same network in." }
        };
    };
    let door = address.split("/pair").next().unwrap_or_default();
    let picture = qrcode::QrCode::new(&address)
        .map(|c| c.render::<qrcode::render::svg::Color<'_>>().min_dimensions(240, 240).build())
        .unwrap_or_default();
    let svg = picture.find("<svg").and_then(|at| picture.get(at..)).unwrap_or_default();
    html! {
        h1 { "A telephone beside the car" }
        p { "On the same network, point its camera here:" }
        div.qr { (PreEscaped(svg)) }
        p { "or open " b { (door) } " there and type " b.code { (code) } "." }
        p { "Whoever has the code can change the car: stop Soapstone to close the door." }
    }
}

/// The form; it stands alone, since an unpaired machine is served nothing else.
fn ask(wrong: Option<&str>) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Pair with Soapstone" }
            }
            body {
                main {
                    h1 { "Pair with Soapstone" }
                    @if let Some(wrong) = wrong { p role="alert" { (wrong) } }
                    form method="post" action="/pair" {
                        p {
                            label for="code" { "Six digits from the other screen" } br;
                            input id="code" name="code" inputmode="numeric" autocomplete="one-time-code" required;
                            " " button { "Pair" }
                        }
                    }
                }
            }
        }
    }
}
