//! The telephone's door: shut unless asked for, and then only for who has the code.

use std::net::{IpAddr, Ipv4Addr, TcpStream, UdpSocket};
use std::time::Duration;

use crate::http::{Answer, get, host, request};
use crate::origin::EDIT;
use crate::served::Served;

/// This machine's address on a network; nothing is sent.
fn outer() -> Option<Ipv4Addr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    match socket.local_addr().ok()?.ip() {
        IpAddr::V4(ip) if !ip.is_loopback() && !ip.is_unspecified() => Some(ip),
        _ => None,
    }
}

/// The address, or a word that the test is left out.
macro_rules! outer_or_skip {
    () => {
        match outer() {
            Some(ip) => ip,
            None => {
                println!("SKIPPED: this machine has no address besides the loopback one");
                return;
            }
        }
    };
}

fn port(served: &Served) -> String {
    host(served).rsplit(':').next().expect("a port").to_string()
}

/// The code as the first screen shows it.
fn code(served: &Served) -> String {
    let page = get(&host(served), "/pair").body;
    let (_, shown) = page.split_once("class=\"code\"").expect("the code is shown");
    let digits: String =
        shown.chars().skip_while(|c| !c.is_ascii_digit()).take_while(|c| *c != '<').collect();
    digits.chars().filter(char::is_ascii_digit).collect()
}

fn enter(to: &str, code: &str) -> Answer {
    let kind = ("content-type", "application/x-www-form-urlencoded");
    request(to, "POST", "/pair", &[kind], format!("code={code}").as_bytes())
}

#[test]
fn without_lan_nothing_answers_but_this_machine() {
    let ip = outer_or_skip!();
    let served = Served::start(&[]);
    let address = format!("{ip}:{}", port(&served)).parse().unwrap();
    let tried = TcpStream::connect_timeout(&address, Duration::from_secs(2));
    assert!(tried.is_err(), "{address} answers");
    assert_eq!(get(&host(&served), "/place").status, 200);
}

#[test]
fn before_pairing_there_is_only_the_door() {
    let ip = outer_or_skip!();
    let served = Served::start(&["--lan"]);
    let to = format!("{ip}:{}", port(&served));
    for path in [
        "/",
        "/place",
        "/place/parts",
        "/place/moving",
        "/place/solid",
        "/explain",
        "/assets/app.js",
        "/assets/page.css",
        "/events",
        "/none",
    ] {
        let answer = get(&to, path);
        assert_eq!((answer.status, answer.header("location")), (303, "/pair"), "{path}");
        assert_eq!(answer.body, "", "{path}");
    }
    for path in ["/edit", "/undo", "/redo"] {
        let token = crate::http::token(&host(&served));
        let answer = request(&to, "POST", path, &[("x-soapstone-token", &token)], EDIT.as_bytes());
        assert_eq!(answer.status, 403, "{path}");
    }
    let door = get(&to, "/pair");
    assert_eq!(door.status, 200);
    assert!(!door.body.contains("Plover") && !door.body.contains(&code(&served)), "the door tells nothing");
    // The loopback address's name does not open it from outside, nor the other way about.
    assert_eq!(request(&to, "GET", "/pair", &[("host", &host(&served))], b"").status, 421);
    assert_eq!(request(&host(&served), "GET", "/place", &[("host", &to)], b"").status, 421);
}

#[test]
fn the_code_opens_and_the_cookie_stays() {
    let ip = outer_or_skip!();
    let served = Served::start(&["--lan"]);
    let to = format!("{ip}:{}", port(&served));
    let opened = enter(&to, &code(&served));
    assert_eq!(opened.status, 303);
    let set = opened.header("set-cookie").to_string();
    assert!(set.contains("HttpOnly") && set.contains("SameSite="), "{set}");
    let cookie = set.split(';').next().unwrap().to_string();
    let page = request(&to, "GET", "/place", &[("cookie", &cookie)], b"");
    assert_eq!(page.status, 200);
    assert!(page.body.contains("Plover"));
    let half = &cookie[..cookie.len() - 2];
    assert_eq!(request(&to, "GET", "/place", &[("cookie", half)], b"").status, 303);
    // Paired or not: a change needs the token, and comes from no other site.
    assert_eq!(request(&to, "POST", "/edit", &[("cookie", &cookie)], EDIT.as_bytes()).status, 403);
    let token = crate::http::token(&host(&served));
    let headers =
        [("cookie", cookie.as_str()), ("x-soapstone-token", &token), ("origin", "http://evil.example")];
    assert_eq!(request(&to, "POST", "/edit", &headers, EDIT.as_bytes()).status, 403);
    assert_eq!(request(&to, "POST", "/edit", &headers[..2], EDIT.as_bytes()).status, 200);
    assert!(served.text().contains("263"));
}

#[test]
fn guessing_locks_the_door() {
    let ip = outer_or_skip!();
    let served = Served::start(&["--lan"]);
    let to = format!("{ip}:{}", port(&served));
    let right = code(&served);
    for guess in (0..40).map(|i| format!("{i:06}")).filter(|g| *g != right) {
        let answer = enter(&to, &guess);
        assert_eq!(answer.status, 403);
        assert_eq!(answer.header("set-cookie"), "");
    }
    let late = enter(&to, &right);
    assert_eq!((late.status, late.header("set-cookie")), (403, ""), "the right code comes too late");
    assert_eq!(get(&host(&served), "/place").status, 200, "the machine itself goes on");
}
