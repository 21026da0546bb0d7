//! Who may ask, and who may change.

use crate::http::{get, host, request, send, token};
use crate::served::Served;

/// A change that is fine by itself.
pub const EDIT: &str =
    r#"{"edit":"coordinate","place":{"point":"rear.link.toe.body"},"coordinate":"z","text":"263"}"#;

const JSON: (&str, &str) = ("content-type", "application/json");

#[test]
fn another_name_for_this_machine_gets_nothing() {
    let served = Served::start(&[]);
    let to = host(&served);
    let port = to.rsplit(':').next().unwrap();
    let names = [
        "evil.example",
        "evil.example:80",
        "127.0.0.1",
        "127.0.0.1:1",
        "localhost.evil.example",
        "0.0.0.0",
        "",
    ];
    for name in names
        .map(String::from)
        .into_iter()
        .chain([format!("evil.example:{port}"), format!("192.0.2.9:{port}")])
    {
        for path in ["/", "/place", "/place/parts", "/assets/app.js", "/events", "/pair"] {
            let answer = request(&to, "GET", path, &[("host", &name)], b"");
            assert!(matches!(answer.status, 400 | 421), "{name} {path}: {}", answer.status);
            assert!(!answer.body.contains("Plover"), "{name} {path}");
        }
    }
    for name in ["localhost", "LocalHost"] {
        assert_eq!(request(&to, "GET", "/place", &[("host", &format!("{name}:{port}"))], b"").status, 200);
    }
}

/// A browser lets a page of any site open a line anywhere, and says only where it is from: RFC 6455, 10.2.
#[test]
fn a_page_of_another_site_opens_no_line() {
    let served = Served::start(&[]);
    let to = host(&served);
    let open = |origin: &str| {
        // The key is that of RFC 6455, 1.3.
        let upgrade = [
            ("connection", "Upgrade"),
            ("upgrade", "websocket"),
            ("sec-websocket-version", "13"),
            ("sec-websocket-key", "dGhlIHNhbXBsZSBub25jZQ=="),
            ("origin", origin),
        ];
        let headers = upgrade.map(|(name, value)| format!("{name}: {value}\r\n")).concat();
        // The closing frame of a client, so that an open line ends.
        let bye = [0x88, 0x80, 0, 0, 0, 0];
        let text = format!("GET /place/moving HTTP/1.1\r\nhost: {to}\r\n{headers}\r\n");
        send(&to, &[text.as_bytes(), &bye].concat()).expect("an answer")
    };
    let own = open(&format!("http://{to}"));
    assert_eq!(own.status, 101);
    assert_eq!(own.header("sec-websocket-accept"), "s3pPLMBiTxaQ9kYGzzhZRbK+xOo=");
    for origin in ["http://evil.example", "null", "http://127.0.0.1:1"] {
        assert_eq!(open(origin).status, 403, "{origin}");
    }
}

#[test]
fn a_page_of_another_site_gets_nothing() {
    let served = Served::start(&[]);
    let to = host(&served);
    let token = token(&to);
    for origin in [
        "http://evil.example",
        "null",
        "https://127.0.0.1",
        "file://",
        "http://127.0.0.1:1",
        "http://localhost",
    ] {
        let origin = ("origin", origin);
        assert_eq!(request(&to, "GET", "/place/parts", &[origin], b"").status, 403, "{origin:?}");
        let headers = [origin, JSON, ("x-soapstone-token", token.as_str())];
        assert_eq!(request(&to, "POST", "/edit", &headers, EDIT.as_bytes()).status, 403, "{origin:?}");
    }
    assert!(!served.text().contains("263"), "nothing was written");
}

#[test]
fn only_the_token_of_this_run_changes_the_car() {
    let served = Served::start(&[]);
    let to = host(&served);
    let token = token(&to);
    let post =
        |path: &str, headers: &[(&str, &str)]| request(&to, "POST", path, headers, EDIT.as_bytes()).status;
    let shorter = &token[..token.len() - 1];
    let wrong = "0".repeat(token.len());
    for path in ["/edit", "/undo", "/redo"] {
        assert_eq!(post(path, &[JSON]), 403);
        assert_eq!(post(&format!("{path}?token="), &[JSON]), 403);
        assert_eq!(post(&format!("{path}?token={wrong}"), &[JSON]), 403);
        for given in ["", shorter, &wrong] {
            assert_eq!(post(path, &[JSON, ("x-soapstone-token", given)]), 403, "{path} {given}");
        }
        for method in ["GET", "PUT", "DELETE", "PATCH"] {
            let answer = request(&to, method, path, &[("x-soapstone-token", &token)], b"");
            assert_eq!(answer.status, 405, "{method} {path}");
        }
    }
    let before = served.text();
    assert!(!before.contains("263"));
    assert_eq!(post("/edit", &[JSON, ("x-soapstone-token", &token)]), 200);
    assert!(served.text().contains("263"));
    assert_eq!(post(&format!("/undo?token={token}"), &[JSON]), 200);
    assert_eq!(served.text(), before);
}

#[test]
fn a_body_has_an_end() {
    let served = Served::start(&[]);
    let to = host(&served);
    let token = token(&to);
    let headers = [JSON, ("x-soapstone-token", token.as_str())];
    for size in [256 * 1024 + 1, 3 * 1024 * 1024] {
        assert_eq!(request(&to, "POST", "/edit", &headers, &vec![b' '; size]).status, 413, "{size}");
    }
    assert_eq!(get(&to, "/place").status, 200);
}

#[test]
fn back_leads_to_our_own_pages_only() {
    let served = Served::start(&[]);
    let to = host(&served);
    let token = token(&to);
    let kind = ("content-type", "application/x-www-form-urlencoded");
    let tries = [
        "//evil.example",
        "/\\evil.example",
        "\\\\evil.example",
        "http://evil.example/",
        "https:evil.example",
        "javascript:alert(1)",
        "/%09//evil.example",
        "/\t/evil.example",
        " //evil.example",
        "/\n/evil.example",
        "///evil.example",
        "data:text/html,x",
        "/\r\nlocation: http://evil.example",
    ];
    for back in tries {
        let mut form = form_urlencoded::Serializer::new(String::new());
        let body = form.append_pair("edit", EDIT).append_pair("back", back).finish();
        for path in ["/edit", "/undo", "/redo"] {
            let address = format!("{path}?token={token}");
            let answer = request(&to, "POST", &address, &[kind], body.as_bytes());
            let target = answer.header("location").to_string();
            // A browser takes tabs and line ends out of an address, and a backslash for a slash.
            let read: String =
                target.chars().filter(|c| !c.is_ascii_control()).collect::<String>().replace('\\', "/");
            let ours = target.is_empty() || (read.starts_with('/') && !read.starts_with("//"));
            assert!(ours, "{path} {back:?}: {target:?}");
            assert_eq!(
                answer.headers.iter().filter(|(n, _)| n == "location").count(),
                usize::from(!target.is_empty())
            );
            assert!(
                !answer.body.contains("href=\"//") && !answer.body.contains("href=\"javascript:"),
                "{back:?}"
            );
        }
    }
}
