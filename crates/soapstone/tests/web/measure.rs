//! The Measure page and the beginning of a new car, by plain forms as a browser without scripts sends them.

use std::path::PathBuf;

use crate::http::{Answer, get, host, request};
use crate::served::{Served, car};

const PLOVER: &str = include_str!("../../../../examples/plover/car.toml");

/// A running program with a file in a folder of its own.
pub struct Server {
    served: Served,
    host: String,
    token: String,
    folder: PathBuf,
}

impl Server {
    /// Opens a file with a text, or one that does not exist.
    pub fn open(text: Option<&str>) -> Self {
        let (folder, file) = car();
        match text {
            Some(text) => std::fs::write(&file, text).expect("a car"),
            None => std::fs::remove_file(&file).expect("no car"),
        }
        let served = Served::of(file, &[]);
        let host = host(&served);
        let page = get(&host, "/start").body + &get(&host, "/measure").body;
        let (_, after) = page.split_once("soapstone-token\" content=\"").expect("a token");
        let token = after.chars().take_while(char::is_ascii_hexdigit).collect();
        Self { served, host, token, folder }
    }

    pub fn file(&self) -> String {
        self.served.text()
    }

    pub fn get(&self, path: &str) -> Answer {
        get(&self.host, path)
    }

    pub fn host(&self) -> &str {
        &self.host
    }

    /// A body of some kind, with the token.
    pub fn post(&self, path: &str, kind: (&str, &str), body: &[u8]) -> Answer {
        let origin = format!("http://{}", self.host);
        let to = format!("{path}?token={}", self.token);
        request(&self.host, "POST", &to, &[kind, ("origin", &origin)], body)
    }

    pub fn form(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let pairs: Vec<String> = fields.iter().map(|(k, v)| format!("{}={}", coded(k), coded(v))).collect();
        let origin = format!("http://{}", self.host);
        let kind = ("content-type", "application/x-www-form-urlencoded");
        let to = format!("{path}?token={}", self.token);
        request(&self.host, "POST", &to, &[kind, ("origin", &origin)], pairs.join("&").as_bytes())
    }
}

impl Answer {
    /// Where it leads.
    pub fn location(&self) -> &str {
        self.header("location")
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.served.kill();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn coded(text: &str) -> String {
    text.bytes()
        .map(|b| if b.is_ascii_alphanumeric() { char::from(b).to_string() } else { format!("%{b:02X}") })
        .collect()
}

const TOE: &str = r#"{"point":"rear.link.toe.body"}"#;

/// The page from a row on.
fn row<'a>(body: &'a str, name: &str) -> &'a str {
    let start = body.find(&format!("data-row=\"{name}\"")).expect("the row");
    let rest = &body[start..];
    &rest[..rest.find("</tr>").unwrap_or(rest.len())]
}

#[test]
fn the_survey_is_shown_as_typed_and_edited_with_its_comments_kept() {
    let text = PLOVER
        .replace("body    = [2760, 300, 262]", "body    = [\"108 5/8 in\", 300, 262] # by the plumb-bob");
    let server = Server::open(Some(&text));
    let page = server.get("/measure?axle=rear&travel=0.02");
    assert_eq!(page.status, 200);
    assert!(
        row(&page.body, "link.toe.body").contains("value=\"108 5/8 in\""),
        "{}",
        row(&page.body, "link.toe.body")
    );
    assert!(page.body.contains("rearward from front axle") && page.body.contains("placeholder=\"1.5\""));
    assert!(
        page.body.contains("href=\"/place?axle=rear&amp;travel=0.02\""),
        "the other stages keep their state"
    );
    assert!(row(&page.body, "link.lower-fore.body#A").contains("value=\"0.5\""));

    let typed = [
        ("place", TOE),
        ("was:x", "108 5/8 in"),
        ("x", "108 5/8 in"),
        ("was:y", "300"),
        ("y", "11 7/8 in"),
        ("was:accuracy", ""),
        ("accuracy", "2"),
        ("back", "/measure?axle=rear"),
    ];
    let done = server.form("/measure", &typed);
    assert_eq!((done.status, done.location()), (303, "/measure?axle=rear"));
    let line = "body    = { at = [\"108 5/8 in\", \"11 7/8 in\", 262], accuracy = 2 } # by the plumb-bob";
    assert_eq!(server.file(), text.replace("body    = [\"108 5/8 in\", 300, 262] # by the plumb-bob", line));

    let back = server.form("/measure", &[("place", TOE), ("was:accuracy", "2"), ("accuracy", "")]);
    assert_eq!(back.status, 303);
    assert!(server.file().contains("body    = [\"108 5/8 in\", \"11 7/8 in\", 262] # by the plumb-bob"));
    let value = [("value:rear.wheel.toe", "0° 6'"), ("was:value:rear.wheel.toe", "0.1")];
    assert_eq!(server.form("/measure", &value).status, 303);
    assert!(server.file().contains("toe           = \"0° 6'\""), "{}", server.file());
}

#[test]
fn a_mistake_is_shown_at_its_cell() {
    let text = PLOVER
        .replace("body    = [2675, 300, 225]", "body    = [2675, \"30o\", 225]")
        .replace("camber        = -1.0", "cambre        = -1.0");
    let server = Server::open(Some(&text));
    let page = server.get("/measure?axle=rear").body;
    let bad = row(&page, "link.lower-aft.body");
    assert!(bad.contains("aria-invalid=\"true\" aria-describedby=\"why-y-link.lower-aft.body\""), "{bad}");
    assert!(bad.contains("id=\"why-y-link.lower-aft.body\">`o` is not a known unit"), "{bad}");
    assert!(page.contains("line 84") && page.contains("did you mean `camber`?"));

    // What is typed and refused stays typed, with the reason at its cell.
    let refused = server.form(
        "/measure",
        &[("place", TOE), ("was:z", "262"), ("z", "26 xx"), ("back", "/measure?axle=rear")],
    );
    assert_eq!(refused.status, 422);
    let bad = row(&refused.body, "link.toe.body");
    assert!(bad.contains("value=\"26 xx\"") && bad.contains("`xx` is not a known unit"), "{bad}");
    assert_eq!(server.file(), text);
}

#[test]
fn a_pasted_table_tells_every_mistake_by_row_and_column() {
    let server = Server::open(Some(PLOVER));
    let paste = |table: &str| {
        server.form("/measure/paste", &[("axle", "rear"), ("table", table), ("back", "/measure?axle=rear")])
    };
    let bad =
        paste("link.toe.body\t2761\tx\t262\nlink.tow.body\t1\t2\t3\nlink.toe.upright\t2742\t690\t250\n");
    assert_eq!(bad.status, 422);
    assert!(bad.body.contains("row 1, column 3") && bad.body.contains("row 2, column 1"), "{}", bad.body);
    assert!(bad.body.contains("link.tow.body\t1\t2\t3"), "what was pasted is there to be mended");
    assert_eq!(server.file(), PLOVER);
    let good = paste("name;x;y;z\nlink.toe.body;2761;301;263\nlink.lower-fore.body=B;2107;420;287;0.4\n");
    assert_eq!(good.status, 303);
    assert!(
        server.file().contains("body    = [2761, 301, 263]")
            && server.file().contains("at   = [2107, 420, 287]")
    );
}

#[test]
fn holes_are_added_renamed_and_removed() {
    let server = Server::open(Some(PLOVER));
    let point = "rear.link.toe.body";
    let add =
        [("add-hole", point), ("name", "T"), ("x", "2760"), ("y", "300"), ("z", "270"), ("accuracy", "")];
    assert_eq!(server.form("/measure", &add).status, 303);
    let again = server.form("/measure", &add);
    assert_eq!(again.status, 422);
    assert!(again.body.contains("has a hole called `T` already"));
    let place = r#"{"hole":{"point":"rear.link.toe.body","name":"T"}}"#;
    assert_eq!(server.form("/measure", &[("place", place), ("was:name", "T"), ("name", "U")]).status, 303);
    assert!(row(&server.get("/measure?axle=rear").body, "link.toe.body#U").contains("value=\"270\""));
    let remove = r#"{"edit":"remove-hole","point":"rear.link.toe.body","name":"U"}"#;
    assert_eq!(server.form("/edit", &[("edit", remove), ("back", "/measure")]).status, 303);
    assert_eq!(server.file(), PLOVER);
}

#[test]
fn an_empty_start_leads_to_the_first_table_by_forms_alone() {
    let server = Server::open(None);
    assert_eq!(server.get("/").location(), "/start");
    let choose = server.get("/start").body;
    assert_eq!(choose.matches("<svg").count(), 24, "a side and a top view of six kinds for two axles");
    let nothing = server.form("/start", &[("name", "Rail"), ("units", "in"), ("front", ""), ("rear", "")]);
    assert_eq!(nothing.status, 422);
    let begun =
        server.form("/start", &[("name", "Rail"), ("units", "in"), ("rear", "strut"), ("driven", "rear")]);
    assert_eq!((begun.status, begun.location()), (303, "/start/points?axle=rear"));
    assert!(server.file().contains("name      = \"Rail\"") && server.file().contains("length = \"in\""));

    let first = server.get("/start/points?axle=rear&at=0").body;
    assert!(
        first.contains("0 of ") && first.contains("halfway through the rim") && first.contains("hub-lit"),
        "{first}"
    );
    let centre = r#"{"point":"rear.wheel.centre"}"#;
    let next = "/start/points?axle=rear&at=1";
    let typed =
        [("place", centre), ("was:y", "29 3/4"), ("y", "29 1/2"), ("here", "axle=rear&at=0"), ("back", next)];
    let saved = server.form("/start/points", &typed);
    assert_eq!((saved.status, saved.location()), (303, next));
    let second = server.get(next).body;
    assert!(second.contains("1 of ") && second.contains("top mount"), "{second}");
    let slip =
        [("place", centre), ("was:y", "29 1/2"), ("y", "29 one"), ("here", "axle=rear&at=0"), ("back", next)];
    let slip = server.form("/start/points", &slip);
    assert!(
        slip.status == 422 && slip.body.contains("value=\"29 one\"") && slip.body.contains("class=\"why\"")
    );

    let end = server.get("/start/points?axle=rear&at=999").body;
    assert!(end.contains("still have the example") && end.contains("href=\"/place?axle=rear\""));
    let table = server.get("/place?axle=rear");
    assert!(table.status == 200 && table.body.contains("class=\"choice\""));

    let front = server.form("/start", &[("front", "double-wishbone")]);
    assert_eq!(front.location(), "/start/points?axle=front");
    assert!(server.get("/start/points?axle=front").body.contains("0 of "));
    assert_eq!(server.get("/start").location(), "/measure");
}

#[test]
fn a_file_that_cannot_be_read_is_mended_as_text() {
    let server = Server::open(Some("soapstone = 1\n[rear\n"));
    assert_eq!(server.get("/").location(), "/measure");
    let page = server.get("/measure").body;
    assert!(page.contains("line 2") && page.contains("[rear\n</textarea>"), "{page}");
    let worse = server.form("/measure", &[("text", "soapstone = = 1\r\n"), ("back", "/measure")]);
    assert!(worse.status == 422 && worse.body.contains("soapstone = = 1\n"));
    let mended =
        server.form("/measure", &[("text", &PLOVER.replace('\n', "\r\n")), ("back", "/measure?axle=rear")]);
    assert_eq!((mended.status, mended.location()), (303, "/measure?axle=rear"));
    assert_eq!(server.file(), PLOVER);
    assert_eq!(server.get("/").location(), "/place");
}
