//! `open` up to the moment when the page can be loaded.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};

use crate::run::{PLOVER, command, demo, file, good, nowhere, run};

/// A running server; it ends with the test.
struct Running {
    child: Child,
    /// What it printed up to the line that says how to end it.
    said: String,
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Running {
    fn start(args: &[&str], data: &Path) -> Self {
        let mut command = command(args);
        for name in ["DISPLAY", "WAYLAND_DISPLAY"] {
            command.env_remove(name);
        }
        for name in ["HOME", "XDG_DATA_HOME", "APPDATA"] {
            command.env(name, data);
        }
        let mut child = command.stdout(Stdio::piped()).spawn().expect("the binary starts");
        let mut said = String::new();
        for line in BufReader::new(child.stdout.take().expect("its output")).lines() {
            let line = line.expect("text");
            said.push_str(&line);
            said.push('\n');
            if line.starts_with("Ctrl-C") {
                break;
            }
        }
        Self { child, said }
    }

    fn get(&self, path: &str) -> String {
        let address =
            self.said.split("http://").nth(1).expect("an address").split('/').next().expect("a host");
        let mut stream = TcpStream::connect(address).expect("it listens");
        write!(stream, "GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").expect("asked");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer");
        answer
    }
}

fn folder(name: &str) -> std::path::PathBuf {
    let path = file(&format!("{name}/none"), "");
    Path::new(&path).parent().expect("a folder").to_path_buf()
}

#[test]
fn open_prints_the_table_and_serves_the_car() {
    let path = file("open.toml", std::fs::read(demo(PLOVER)).expect("the demo"));
    let server = Running::start(&["open", &path, "--port", "0", "--no-browser"], &folder("open-home"));
    assert!(server.said.starts_with(&good(&["choose", &path])), "{}", server.said);
    assert!(server.said.contains("open.toml"), "the file is named");
    let page = server.get("/place");
    assert!(page.starts_with("HTTP/1.1 200") && page.contains("not an approval"), "{page}");
    // One at a time has the file.
    let second = run(&["open", &path, "--port", "0", "--no-browser"]);
    assert_eq!(second.code, Some(2));
    assert!(second.err.contains("open in another Soapstone"), "{}", second.err);
}

#[test]
fn the_demo_is_copied_once_and_then_the_reader_s() {
    let data = folder("demo-home");
    let made = {
        let server = Running::start(&[], &data);
        let line =
            server.said.lines().find_map(|l| l.trim().strip_prefix("file ")).expect("the file is named");
        std::path::PathBuf::from(line)
    };
    assert!(made.starts_with(&data), "{}", made.display());
    let text = std::fs::read_to_string(&made).expect("the copy");
    assert_eq!(text, std::fs::read_to_string(demo(PLOVER)).expect("the demo"));
    let own = text.replacen("\"Plover\"", "\"My Plover\"", 1);
    std::fs::write(&made, &own).expect("the reader's change");
    let server = Running::start(&[], &data);
    assert!(server.said.contains("My Plover"), "{}", server.said);
    assert_eq!(std::fs::read_to_string(&made).expect("the copy"), own);
}

#[test]
fn a_name_that_is_not_there_yet_begins_a_car() {
    let path = nowhere("begun.toml");
    let server = Running::start(&["open", &path, "--port", "0", "--no-browser"], &folder("begun-home"));
    let text = std::fs::read_to_string(&path).expect("a file was made");
    assert!(text.contains("name = \"begun\""), "{text}");
    assert!(!server.said.contains("choice table"), "there is nothing to choose yet");
}
