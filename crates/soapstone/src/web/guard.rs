//! Who may talk to the server: pages that it served itself, on the address that it listens on; from another machine
//! only one that was paired.

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use crate::cli::Failure;

/// Header in which a page's script proves that this server made it; plain forms put it into their address as
/// `token`.
pub(crate) const TOKEN: &str = "x-soapstone-token";

/// Cookie of a paired machine.
const COOKIE: &str = "soapstone-pair";

/// Wrong codes after which nobody is paired until the program is started again: of a million codes a guesser has
/// tried eight.
const MOST_WRONG: u32 = 8;

/// No script but our own files, no frame, nothing from elsewhere.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// What a request is checked against.
#[derive(Debug)]
pub(crate) struct Guard {
    hosts: Vec<String>,
    token: String,
    run: String,
    lan: Option<Lan>,
}

/// The way in from other machines.
#[derive(Debug)]
struct Lan {
    host: String,
    code: String,
    pass: String,
    wrong: AtomicU32,
}

/// What came of a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Pairing {
    /// The cookie to set.
    Paired(String),
    Wrong,
    /// Too many wrong ones.
    Closed,
}

impl Guard {
    /// A guard for the loopback address at a port, with a token of its own; with `outer` also for that address.
    pub fn new(port: u16, outer: Option<Ipv4Addr>) -> Result<Self, Failure> {
        let hosts = ["127.0.0.1", "localhost", "[::1]"].map(|h| format!("{h}:{port}")).to_vec();
        let lan = match outer {
            None => None,
            Some(ip) => Some(Lan {
                host: format!("{ip}:{port}"),
                code: code()?,
                pass: hex::<16>()?,
                wrong: AtomicU32::new(0),
            }),
        };
        Ok(Self { hosts, token: hex::<16>()?, run: hex::<4>()?, lan })
    }

    /// The token that pages carry.
    pub fn token(&self) -> &str {
        &self.token
    }

    /// Names this run of the server.
    pub fn run(&self) -> &str {
        &self.run
    }

    /// Address for a telephone with the code in it, and the code.
    pub fn invitation(&self) -> Option<(String, String)> {
        self.lan.as_ref().map(|l| (format!("http://{}/pair?code={}", l.host, l.code), l.code.clone()))
    }

    /// Tries a code from another machine.
    pub fn pair(&self, given: &str) -> Pairing {
        let Some(lan) = &self.lan else { return Pairing::Closed };
        if lan.wrong.load(Ordering::Relaxed) >= MOST_WRONG {
            return Pairing::Closed;
        }
        let given: String = given.chars().filter(char::is_ascii_digit).collect();
        if equal(given.as_bytes(), lan.code.as_bytes()) {
            return Pairing::Paired(format!("{COOKIE}={}; HttpOnly; SameSite=Lax; Path=/", lan.pass));
        }
        lan.wrong.fetch_add(1, Ordering::Relaxed);
        Pairing::Wrong
    }

    fn knows(&self, host: &str, loopback: bool) -> bool {
        let own = |known: &String| known.eq_ignore_ascii_case(host);
        // A name that resolves to this machine but is not ours means that another site set up the address.
        if loopback { self.hosts.iter().any(own) } else { self.lan.as_ref().is_some_and(|l| own(&l.host)) }
    }

    fn same_origin(&self, headers: &HeaderMap, loopback: bool) -> bool {
        match headers.get(header::ORIGIN).map(HeaderValue::to_str) {
            None => true,
            Some(Ok(origin)) => origin.strip_prefix("http://").is_some_and(|host| self.knows(host, loopback)),
            Some(Err(_)) => false,
        }
    }

    fn has_token(&self, request: &Request) -> bool {
        let header = request.headers().get(TOKEN).map(HeaderValue::as_bytes);
        let in_address =
            request.uri().query().and_then(|q| q.split('&').find_map(|p| p.strip_prefix("token=")));
        let given = header.or(in_address.map(str::as_bytes)).unwrap_or_default();
        equal(given, self.token.as_bytes())
    }

    fn is_paired(&self, headers: &HeaderMap) -> bool {
        let Some(lan) = &self.lan else { return false };
        headers.get_all(header::COOKIE).iter().filter_map(|c| c.to_str().ok()).flat_map(|c| c.split(';')).any(
            |cookie| {
                let pass = cookie.trim().strip_prefix(COOKIE).and_then(|rest| rest.strip_prefix('='));
                pass.is_some_and(|pass| equal(pass.as_bytes(), lan.pass.as_bytes()))
            },
        )
    }

    /// The answer to a request that is refused; `None` lets it through.
    fn refuses(&self, request: &Request, peer: SocketAddr) -> Option<Response> {
        let headers = request.headers();
        let loopback = peer.ip().is_loopback();
        let host = headers.get(header::HOST).and_then(|h| h.to_str().ok()).unwrap_or_default();
        if !self.knows(host, loopback) {
            return Some(
                (StatusCode::MISDIRECTED_REQUEST, "this address is not Soapstone's\n").into_response(),
            );
        }
        if !self.same_origin(headers, loopback) {
            let why = "a page of another site may not talk to Soapstone\n";
            return Some((StatusCode::FORBIDDEN, why).into_response());
        }
        let pairing = request.uri().path() == "/pair";
        let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
        if !loopback && !pairing && !self.is_paired(headers) {
            return Some(if changes {
                (StatusCode::FORBIDDEN, "pair this machine first\n").into_response()
            } else {
                Redirect::to("/pair").into_response()
            });
        }
        if changes && !pairing && !self.has_token(request) {
            let why = "the page is from an earlier run: load it again\n";
            return Some((StatusCode::FORBIDDEN, why).into_response());
        }
        None
    }
}

/// Compares without telling by its time where the first difference is.
fn equal(a: &[u8], b: &[u8]) -> bool {
    a.len() == b.len() && a.iter().zip(b).fold(0, |d, (x, y)| d | (x ^ y)) == 0
}

fn random<const N: usize>() -> Result<[u8; N], Failure> {
    let mut bytes = [0u8; N];
    getrandom::fill(&mut bytes).map_err(|e| Failure::Output(std::io::Error::other(e.to_string())))?;
    Ok(bytes)
}

/// Random bytes from the system, in hexadecimal.
fn hex<const N: usize>() -> Result<String, Failure> {
    Ok(random::<N>()?.iter().map(|b| format!("{b:02x}")).collect())
}

/// Six random digits, to be read off one screen and typed into another.
fn code() -> Result<String, Failure> {
    Ok(format!("{:06}", u64::from_le_bytes(random::<8>()?) % 1_000_000))
}

/// Refuses what does not come from our own pages, and puts the policy on every answer.
pub(crate) async fn check(
    State(guard): State<Arc<Guard>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    let mut response = match guard.refuses(&request, peer) {
        Some(refusal) => refusal,
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        // Not `no-referrer`: browsers then send plain forms with the origin `null`, like those of another site.
        (header::REFERRER_POLICY, "same-origin"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::Body;

    const HERE: &str = "127.0.0.1:9";
    const AWAY: &str = "203.0.113.7:9";

    fn guard() -> Guard {
        Guard::new(4000, Some(Ipv4Addr::new(203, 0, 113, 5))).unwrap()
    }

    /// Status of the refusal, or 0 where the request is let through.
    fn answer(guard: &Guard, peer: &str, method: &str, path: &str, headers: &[(&str, &str)]) -> u16 {
        let mut request = Request::builder().method(method).uri(path);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        guard
            .refuses(&request.body(Body::empty()).unwrap(), peer.parse().unwrap())
            .map_or(0, |r| r.status().as_u16())
    }

    #[test]
    fn only_our_own_pages_get_through() {
        let guard = guard();
        let ours = ("host", "127.0.0.1:4000");
        let token = (TOKEN, guard.token().to_string());
        let token = (token.0, token.1.as_str());
        let check = |expect: u16, peer: &str, method: &str, headers: &[(&str, &str)]| {
            assert_eq!(answer(&guard, peer, method, "/edit", headers), expect, "{peer} {method} {headers:?}");
        };
        check(0, HERE, "GET", &[ours]);
        check(0, HERE, "GET", &[("host", "LOCALHOST:4000")]);
        check(421, HERE, "GET", &[]);
        check(421, HERE, "GET", &[("host", "127.0.0.1:4001")]);
        check(421, HERE, "GET", &[("host", "rebound.example:4000")]);
        check(421, HERE, "GET", &[("host", "203.0.113.5:4000")]);
        check(403, HERE, "GET", &[ours, ("origin", "http://evil.example")]);
        check(403, HERE, "GET", &[ours, ("origin", "null")]);
        check(403, HERE, "GET", &[ours, ("origin", "https://127.0.0.1:4000")]);
        check(403, HERE, "POST", &[ours]);
        check(403, HERE, "POST", &[ours, (TOKEN, "")]);
        check(0, HERE, "POST", &[ours, token]);
        check(0, HERE, "POST", &[ours, token, ("origin", "http://127.0.0.1:4000")]);
        check(403, HERE, "POST", &[ours, token, ("origin", "http://evil.example")]);
        check(403, HERE, "DELETE", &[ours]);
        let in_address = format!("/undo?token={}", guard.token());
        assert_eq!(answer(&guard, HERE, "POST", &in_address, &[ours]), 0);
    }

    #[test]
    fn another_machine_has_to_be_paired() {
        let guard = guard();
        let host = ("host", "203.0.113.5:4000");
        assert_eq!(answer(&guard, AWAY, "GET", "/place", &[host]), 303);
        assert_eq!(answer(&guard, AWAY, "GET", "/assets/app.js", &[host]), 303);
        assert_eq!(answer(&guard, AWAY, "POST", "/edit", &[host, (TOKEN, guard.token())]), 403);
        assert_eq!(answer(&guard, AWAY, "GET", "/pair", &[host]), 0);
        assert_eq!(answer(&guard, AWAY, "GET", "/pair", &[("host", "127.0.0.1:4000")]), 421);
        let (_, code) = guard.invitation().unwrap();
        assert_eq!(guard.pair("12"), Pairing::Wrong);
        let Pairing::Paired(cookie) = guard.pair(&code) else { panic!("not paired") };
        let cookie = cookie.split(';').next().unwrap().to_string();
        assert_eq!(answer(&guard, AWAY, "GET", "/place", &[host, ("cookie", &cookie)]), 0);
        assert_eq!(answer(&guard, AWAY, "GET", "/place", &[host, ("cookie", "soapstone-pair=")]), 303);
        assert_eq!(answer(&guard, AWAY, "POST", "/edit", &[host, ("cookie", &cookie)]), 403);
        let alone = Guard::new(4000, None).unwrap();
        assert_eq!(answer(&alone, AWAY, "GET", "/pair", &[host]), 421);
    }

    #[test]
    fn guessing_codes_ends_soon() {
        let guard = guard();
        let (_, code) = guard.invitation().unwrap();
        let wrong = if code == "000000" { "000001" } else { "000000" };
        for _ in 0..MOST_WRONG {
            assert_eq!(guard.pair(wrong), Pairing::Wrong);
        }
        assert_eq!(guard.pair(&code), Pairing::Closed);
    }

    #[test]
    fn tokens_differ_and_compare_whole() {
        let (a, b) = (hex::<16>().unwrap(), hex::<16>().unwrap());
        assert_eq!(a.len(), 32);
        assert_ne!(a, b);
        assert!(equal(a.as_bytes(), a.as_bytes()));
        assert!(!equal(a.as_bytes(), &a.as_bytes()[..31]));
        assert!(!equal(b"", a.as_bytes()));
    }
}
