//! HTTP/1.1 by hand: a library would mend what these tests break.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use crate::served::Served;

/// Longest that an answer may take.
const PATIENCE: Duration = Duration::from_secs(20);

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    /// Names in lower case.
    pub headers: Vec<(String, String)>,
    pub body: String,
}

impl Answer {
    /// Value of a header; empty where there is none.
    pub fn header(&self, name: &str) -> &str {
        self.headers.iter().find(|(n, _)| n == name).map_or("", |(_, value)| value)
    }
}

/// Address and port of a running program on this machine.
pub fn host(served: &Served) -> String {
    served.address.trim_start_matches("http://").trim_end_matches('/').to_string()
}

/// Sends bytes as they are; `None` where the connection was closed without an answer.
pub fn send(to: &str, bytes: &[u8]) -> Option<Answer> {
    let mut stream = TcpStream::connect(to).ok()?;
    stream.set_read_timeout(Some(PATIENCE)).ok()?;
    // A refused body is answered before it is all sent: the rest may fail.
    let _ = stream.write_all(bytes);
    let mut all = Vec::new();
    let _ = stream.read_to_end(&mut all);
    let text = String::from_utf8_lossy(&all).into_owned();
    let (head, body) = text.split_once("\r\n\r\n")?;
    let mut lines = head.lines();
    let status = lines.next()?.split(' ').nth(1)?.parse().ok()?;
    let headers = lines.filter_map(|l| l.split_once(": ")).map(|(n, v)| (n.to_lowercase(), v.to_string()));
    Some(Answer { status, headers: headers.collect(), body: body.to_string() })
}

/// A request with headers and a body, as a browser would send it but for what the test changes.
pub fn request(to: &str, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
    let own_host = headers.iter().any(|(name, _)| *name == "host");
    let mut text = format!("{method} {path} HTTP/1.1\r\nconnection: close\r\n");
    if !own_host {
        text.push_str(&format!("host: {to}\r\n"));
    }
    for (name, value) in headers {
        text.push_str(&format!("{name}: {value}\r\n"));
    }
    if !body.is_empty() || method == "POST" {
        text.push_str(&format!("content-length: {}\r\n", body.len()));
    }
    text.push_str("\r\n");
    let bytes = [text.as_bytes(), body].concat();
    send(to, &bytes).unwrap_or_else(|| panic!("no answer to {method} {path}"))
}

pub fn get(to: &str, path: &str) -> Answer {
    request(to, "GET", path, &[], b"")
}

/// The token that a page of the program carries.
pub fn token(to: &str) -> String {
    let page = get(to, "/place").body;
    let (_, rest) = page.split_once("name=\"soapstone-token\" content=\"").expect("a token");
    rest.split('"').next().expect("its end").to_string()
}
