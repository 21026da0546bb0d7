//! The page Paper: files with their kind and name, points that come in by plain forms.

use crate::http::{get, host, request};
use crate::measure::Server;
use crate::served::Served;

const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");

/// A link of the page as the browser asks for it.
fn links(page: &str) -> Vec<String> {
    page.split("href=\"/paper/get/")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(|link| format!("/paper/get/{}", link.replace("&amp;", "&")))
        .collect()
}

#[test]
fn every_link_of_the_page_is_a_file_of_its_kind() {
    let served = Served::start(&[]);
    std::fs::write(&served.file, WHOLE.replace("Plover, whole", "../Pl\\\"över:\\u00e9")).unwrap();
    let to = host(&served);
    let started = std::time::Instant::now();
    let page = loop {
        let page = get(&to, "/paper").body;
        if page.contains("cones") || started.elapsed().as_secs() > 10 {
            break page;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    };
    assert!(page.contains("aria-current=\"page\">Paper") && page.contains("data-stage=\"paper\""));
    let links = links(&page);
    assert!(links.len() > 20, "{links:?}");
    for link in &links {
        let answer = get(&to, link);
        assert_eq!(answer.status, 200, "{link}");
        let name = answer.header("content-disposition").to_string();
        let name =
            name.strip_prefix("attachment; filename=\"").and_then(|n| n.strip_suffix('"')).expect("a name");
        let (stem, ending) = name.split_once('.').expect("an ending");
        assert!(stem.chars().all(|c| c.is_ascii_alphanumeric() || c == '-'), "{name}");
        let (kind, begin) = match ending {
            "pdf" => ("application/pdf", "%PDF-"),
            "csv" => ("text/csv; charset=utf-8", ""),
            "xlsx" => ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "PK"),
            "svg" => ("image/svg+xml", "<svg"),
            "dxf" => ("image/vnd.dxf", "  0\nSECTION"),
            "step" => ("model/step", "ISO-10303-21;"),
            "zip" => ("application/zip", "PK"),
            other => panic!("{other}"),
        };
        assert_eq!(answer.header("content-type"), kind, "{link}");
        assert!(answer.body.len() > 300 && answer.body.starts_with(begin), "{link}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
    }
    assert!(links.iter().any(|l| l.starts_with("/paper/get/book?as=pdf")), "the book");
    assert!(links.iter().any(|l| l.contains("plate=lower-fore") && l.contains("side=right")));
}

#[test]
fn what_there_is_not_is_told() {
    let server = Server::open(Some(WHOLE));
    for path in [
        "/paper/get/nothing?as=pdf",
        "/paper/get/points",
        "/paper/get/points?as=exe",
        "/paper/get/points?as=pdf",
        "/paper/get/template?as=pdf&plate=%2e%2e%2fsecret",
        "/paper/get/card?as=pdf&setup=rain",
        "/paper/get/..%2f..%2fcar.toml?as=csv",
    ] {
        let answer = server.get(path);
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.contains("That did not work"), "{path}");
    }
    let empty = Server::open(None);
    let page = empty.get("/paper");
    assert!(page.status == 200 && page.body.contains("does not make a car yet"));
    assert_eq!(empty.get("/paper/get/points?as=csv").status, 404);
}

/// A form with a file, as a browser sends it.
fn sent(name: &str, bytes: &[u8]) -> Vec<u8> {
    let mut body = format!(
        "--xyz\r\ncontent-disposition: form-data; name=\"table\"; filename=\"{name}\"\r\n\
         content-type: application/octet-stream\r\n\r\n"
    )
    .into_bytes();
    body.extend_from_slice(bytes);
    body.extend_from_slice(
        b"\r\n--xyz\r\ncontent-disposition: form-data; name=\"axle\"\r\n\r\nrear\r\n--xyz--\r\n",
    );
    body
}

const KIND: (&str, &str) = ("content-type", "multipart/form-data; boundary=xyz");

/// The fields that the page's form would send.
fn fields(page: &str) -> Vec<(String, String)> {
    let plain = |text: &str| {
        text.replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
    };
    let form = page
        .split("<form class=\"looked\"")
        .nth(1)
        .expect("the form")
        .split("</form>")
        .next()
        .expect("its part");
    let mut all = Vec::new();
    for tag in form.split("<input ").skip(1) {
        let of = |name: &str| tag.split(&format!("{name}=\"")).nth(1).and_then(|r| r.split('"').next());
        all.push((of("name").expect("its part").to_string(), plain(of("value").expect("its part"))));
    }
    for select in form.split("<select name=\"").skip(1) {
        let name = select.split('"').next().expect("its part");
        let select = select.split("</select>").next().expect("its part");
        let chosen = select
            .split("<option value=\"")
            .skip(1)
            .find(|o| o.split('>').next().expect("its part").contains("selected"));
        if let Some(chosen) = chosen {
            all.push((name.to_string(), chosen.split('"').next().expect("its part").to_string()));
        }
    }
    all
}

#[test]
fn points_are_looked_at_and_taken_and_can_be_taken_back() {
    let server = Server::open(Some(WHOLE));
    let table = "my survey\npoint;x [mm];y [mm];z [mm]\nlink.toe.body;2760;300;270\n<b>;1;2;3\n";
    let looked = server.post("/paper/points", KIND, &sent("may <1>.csv", table.as_bytes()));
    assert_eq!(looked.status, 200);
    assert!(
        looked.body.contains("A4: ") && looked.body.contains("Nothing was taken"),
        "the mistake at its cell"
    );
    assert!(looked.body.contains("&lt;b&gt;") && !looked.body.contains("<b>;"), "what was sent is only text");
    assert_eq!(server.file(), WHOLE);

    let looked =
        server.post("/paper/points", KIND, &sent("may.csv", table.replace("<b>;1;2;3\n", "").as_bytes()));
    assert!(looked.body.contains("What changes in the file") && looked.body.contains("rear.link.toe.body"));
    assert_eq!(server.file(), WHOLE, "looking writes nothing");
    let form = fields(&looked.body);
    let mut take: Vec<(&str, &str)> = form.iter().map(|(k, v)| (k.as_str(), v.as_str())).collect();
    take.push(("do", "take"));
    // Two points in one column are told.
    let odd: Vec<_> = take.iter().map(|(k, v)| (*k, if *k == "y" { "1" } else { v })).collect();
    let refused = server.form("/paper/points/take", &odd);
    assert!(refused.status == 422 && refused.body.contains("from one column"), "{}", refused.status);
    let done = server.form("/paper/points/take", &take);
    assert_eq!((done.status, done.location()), (303, "/paper?took=1"));
    assert!(server.file().contains("270"), "taken");
    assert_ne!(server.file(), WHOLE);
    assert!(server.get("/paper?took=1").body.contains("took in 1 point from may.csv"));
    assert_eq!(server.form("/undo", &[("back", "/paper")]).status, 303);
    assert_eq!(server.file(), WHOLE);
    let lost = server.form("/paper/points/take", &[("do", "take"), ("grid", "[[")]);
    assert_eq!(lost.status, 400);
}

#[test]
fn what_the_page_gives_it_takes_back_without_a_change() {
    let server = Server::open(Some(WHOLE));
    let points = server.get("/paper/get/points?as=csv");
    let looked = server.post("/paper/points", KIND, &sent("points.csv", points.body.as_bytes()));
    assert!(looked.body.contains("Nothing to change"), "{}", looked.status);
}

#[test]
fn no_stranger_sends_points_and_none_sends_too_many() {
    let server = Server::open(Some(WHOLE));
    let body = sent("a.csv", b"name,x,y,z\nlink.toe.body,1,2,3\n");
    for path in ["/paper/points", "/paper/points/take", "/paper/points?token=0123"] {
        let refused = request(server.host(), "POST", path, &[KIND], &body);
        assert_eq!(refused.status, 403, "{path}");
    }
    assert_eq!(server.file(), WHOLE);
    let large = sent("a.csv", &vec![b'1'; (4 << 20) + 100]);
    let refused = server.post("/paper/points", KIND, &large);
    assert!(matches!(refused.status, 413 | 422), "{}", refused.status);
    // A megabyte of cells is no table of points.
    let wide = sent("a.csv", "a,1,2,3,filled with words that nobody needs here\n".repeat(30_000).as_bytes());
    let refused = server.post("/paper/points", KIND, &wide);
    assert_eq!(refused.status, 422);
    for (kind, body) in [
        (("content-type", "text/plain"), body),
        (KIND, b"--xyz\r\nnonsense".to_vec()),
        (KIND, sent("a.xlsx", b"PK\x03\x04 not a workbook")),
        (KIND, sent("a.csv", b"")),
        (KIND, sent("a.csv", &[0xff, 0xfe, 0x00])),
        (KIND, sent("a.csv", b"words, and more\nof them\n")),
    ] {
        let refused = server.post("/paper/points", kind, &body);
        assert!(matches!(refused.status, 200 | 422), "{}", refused.status);
        assert!(refused.body.contains("role=\"alert\""), "told on the page");
    }
    assert_eq!(server.file(), WHOLE);
}
