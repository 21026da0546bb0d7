//! Nonsense does no harm.

use std::io::{Read, Write};
use std::net::TcpStream;

use crate::http::{get, host, request, send, token};
use crate::served::Served;

const QUERIES: usize = 10_000;

/// A small generator with a fixed seed (a linear congruence; nothing depends on its quality).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n
    }

    fn of<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[self.below(all.len())]
    }
}

const KEYS: [&str; 20] = [
    "axle", "travel", "roll", "rack", "over", "fit", "point", "hold", "step", "use", "move", "pin", "want",
    "want-of", "drag", "view", "width", "pin-as", "quantity", "at",
];
const NUMBERS: [&str; 14] = [
    "0",
    "-0",
    "1e-300",
    "1e300",
    "-1e300",
    "NaN",
    "inf",
    "-inf",
    "99999999999999999999",
    "0.02",
    "-0.05",
    "0x10",
    "1_0",
    "",
];
const POINTS: [&str; 12] = [
    "link.lower-fore.body",
    "link.lower-fore.upright",
    "link.toe.body",
    "link.lower-fore.body#B",
    "link.lower-fore.body#Z",
    "wheel.centre",
    "link..body",
    "#",
    "@",
    "spring.body",
    "rack",
    "\u{1f527}",
];
const WORDS: [&str; 12] = [
    "front",
    "rear",
    "car",
    "plate",
    "length",
    "free",
    "x",
    "anti-lift",
    "anti-lift=30,50",
    "recession=",
    "=",
    "%00%ff",
];

fn value(dice: &mut Dice) -> String {
    match dice.below(7) {
        0 => dice.of(&NUMBERS).to_string(),
        1 => dice.of(&POINTS).to_string(),
        2 => dice.of(&WORDS).to_string(),
        3 => format!("{}={}", dice.of(&POINTS), dice.of(&["A", "B", "Z", ""])),
        4 => {
            let [x, y, z] = std::array::from_fn(|_| match dice.below(3) {
                0 => dice.of(&NUMBERS).to_string(),
                _ => format!("{:.3}", dice.below(6000) as f64 / 1000.0 - 3.0),
            });
            format!("{}@{x},{y},{z}", dice.of(&POINTS))
        }
        5 => format!(
            "name~use={}=C~move={}@-2.1,{},0.3",
            dice.of(&POINTS),
            dice.of(&POINTS),
            dice.of(&NUMBERS)
        ),
        _ => (0..dice.below(12)).map(|_| char::from(32 + dice.below(95) as u8)).collect(),
    }
}

fn query(dice: &mut Dice) -> String {
    let mut out = form_urlencoded::Serializer::new(String::new());
    for _ in 0..1 + dice.below(5) {
        out.append_pair(dice.of(&KEYS), &value(dice));
    }
    out.finish()
}

/// Sends many requests over connections that are kept open; every one must be answered, and none by a 5xx.
fn storm(to: &str, seed: u64, count: usize) {
    let mut dice = Dice(seed);
    let mut stream = TcpStream::connect(to).expect("a connection");
    let mut buffer = vec![0u8; 1 << 16];
    for i in 0..count {
        // All read the query alike and build the car that it asks for; the mesh is the quickest answer.
        let path = match dice.below(40) {
            0 => "/place",
            1..4 => "/place/parts",
            4 => "/explain",
            _ => "/place/solid",
        };
        let query = query(&mut dice);
        let text = format!("GET {path}?{query} HTTP/1.1\r\nhost: {to}\r\n\r\n");
        stream.write_all(text.as_bytes()).unwrap_or_else(|e| panic!("{path}?{query}: {e}"));
        let mut all = Vec::new();
        loop {
            let n = stream.read(&mut buffer).unwrap_or_else(|e| panic!("{path}?{query}: {e}"));
            assert!(n > 0, "request {i} was not answered: {path}?{query}");
            all.extend_from_slice(&buffer[..n]);
            if whole(&all) {
                break;
            }
        }
        let head = String::from_utf8_lossy(&all[..all.len().min(40)]).into_owned();
        assert!(!head.starts_with("HTTP/1.1 5"), "{path}?{query}: {head}");
    }
}

/// Whether an answer has come to its end.
fn whole(bytes: &[u8]) -> bool {
    let Some(end) = bytes.windows(4).position(|w| w == b"\r\n\r\n") else { return false };
    let head = String::from_utf8_lossy(&bytes[..end]).to_lowercase();
    match head.split("content-length: ").nth(1).and_then(|l| l.lines().next()?.trim().parse::<usize>().ok()) {
        Some(length) => bytes.len() >= end + 4 + length,
        None => bytes.ends_with(b"0\r\n\r\n") || !head.contains("chunked"),
    }
}

#[test]
fn ten_thousand_random_queries() {
    let mut served = Served::start(&[]);
    let to = host(&served);
    std::thread::scope(|scope| {
        for lane in 0..2 {
            let to = &to;
            scope.spawn(move || storm(to, 7 + lane, QUERIES / 2));
        }
    });
    assert!(served.lives());
    assert_eq!(get(&to, "/place").status, 200);
}

#[test]
fn edits_that_are_none() {
    let mut served = Served::start(&[]);
    let to = host(&served);
    let token = token(&to);
    let before = served.text();
    let post = |path: &str, body: &[u8]| {
        let headers = [("content-type", "application/json"), ("x-soapstone-token", token.as_str())];
        request(&to, "POST", path, &headers, body).status
    };
    let deep = "[".repeat(200_000);
    let point = r#"{"point":"rear.link.toe.body"}"#;
    let bodies = [
        String::new(),
        "{}".into(),
        "null".into(),
        deep,
        r#"{"edit":"none"}"#.into(),
        r#"{"edit":"move","place":{"point":"rear.link.toe.body"},"to":{"car":[1e999,0,0]}}"#.into(),
        r#"{"edit":"move","place":{"point":"rear.link.toe.body"},"to":{"car":[NaN,0,0]}}"#.into(),
        r#"{"edit":"move","place":{"point":"rear.link.toe.body"},"to":{"car":[1e300,1e300,-1e300]}}"#.into(),
        r#"{"edit":"move","place":{"point":"nowhere"},"to":{"car":[0,0,0]}}"#.into(),
        r#"{"edit":"move","place":{"hole":{"point":"","name":""}},"to":{"typed":["","",""]}}"#.into(),
        format!(r#"{{"edit":"coordinate","place":{point},"coordinate":"z","text":"NaN"}}"#),
        format!(r#"{{"edit":"coordinate","place":{point},"coordinate":"z","text":"1e999 mm"}}"#),
        format!(
            r#"{{"edit":"coordinate","place":{point},"coordinate":"z","text":"\"]\n[car]\nname = \"gone"}}"#
        ),
        r#"{"edit":"value","path":"..","text":"1"}"#.into(),
        r#"{"edit":"value","path":"car.name.x.y","text":"\u0000"}"#.into(),
        r#"{"edit":"several","label":"","edits":[]}"#.into(),
    ];
    for body in &bodies {
        let status = post("/edit", body.as_bytes());
        assert!(matches!(status, 200 | 400 | 422), "{}: {status}", &body[..body.len().min(90)]);
        assert!(status != 200 || served.text() == before, "{body} was taken");
    }
    let mut dice = Dice(3);
    for _ in 0..200 {
        let bytes: Vec<u8> = (0..dice.below(300)).map(|_| dice.below(256) as u8).collect();
        assert!(matches!(post("/edit", &bytes), 400 | 422));
        // Such a form can name no edit either.
        let form = ("content-type", "application/x-www-form-urlencoded");
        let headers = [form, ("x-soapstone-token", token.as_str())];
        assert!(matches!(request(&to, "POST", "/edit", &headers, &bytes).status, 400 | 422));
    }
    assert_eq!(served.text(), before, "the file is as it was");
    assert!(served.lives());
}

#[test]
fn requests_that_are_none() {
    let mut served = Served::start(&[]);
    let to = host(&served);
    let mut dice = Dice(11);
    for _ in 0..100 {
        let bytes: Vec<u8> =
            (0..dice.below(400)).map(|_| dice.below(256) as u8).chain(*b"\r\n\r\n").collect();
        let answer = send(&to, &bytes);
        assert!(answer.is_none_or(|a| (400..500).contains(&a.status)));
    }
    let long = format!("/place?pin={}", "a".repeat(60_000));
    assert!(matches!(get(&to, &long).status, 200 | 400..=499));
    // Connections that say nothing and go.
    let idle: Vec<_> = (0..200).map(|_| TcpStream::connect(&to)).collect();
    assert_eq!(get(&to, "/place").status, 200);
    drop(idle);
    assert!(served.lives());
}
