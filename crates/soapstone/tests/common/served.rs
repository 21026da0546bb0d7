//! The real program with a car of its own, for tests and benches.

#![allow(dead_code, reason = "no test binary and no bench needs all of it")]

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// A running program; it ends, and its folder goes, when this is dropped.
pub struct Served {
    child: Child,
    /// Folder that goes with the program.
    folder: Option<PathBuf>,
    /// The car file.
    pub file: PathBuf,
    /// Address of the page, with a slash at its end.
    pub address: String,
    /// All that was printed until the page could be opened.
    pub printed: String,
}

/// A copy of the demo car in a folder of its own.
pub fn car() -> (PathBuf, PathBuf) {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let name = format!("served-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&folder).expect("a folder for the car");
    let file = folder.join("car.toml");
    std::fs::copy(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/plover/car.toml"), &file)
        .expect("a car");
    (folder, file)
}

impl Served {
    /// Serves a fresh copy of the demo car.
    pub fn start(arguments: &[&str]) -> Self {
        let (folder, file) = car();
        let mut served = Self::of(file, arguments);
        served.folder = Some(folder);
        served
    }

    /// Serves a car of this text.
    pub fn start_with(text: &str) -> Self {
        let (folder, file) = car();
        std::fs::write(&file, text).expect("a car");
        let mut served = Self::of(file, &[]);
        served.folder = Some(folder);
        served
    }

    /// Serves a car that is still to be written.
    pub fn start_empty() -> Self {
        let (folder, file) = car();
        std::fs::remove_file(&file).expect("the copy of the demo goes");
        let mut served = Self::of(file, &[]);
        served.folder = Some(folder);
        served
    }

    /// Serves a car file, which stays.
    pub fn of(file: PathBuf, arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_soapstone"))
            .arg("open")
            .arg(&file)
            .args(["--port", "0", "--no-browser"])
            .args(arguments)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary starts");
        let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
        let mut printed = String::new();
        let address = loop {
            let Some(Ok(line)) = lines.next() else { panic!("no address was printed:\n{printed}") };
            printed.push_str(&line);
            printed.push('\n');
            if let Some(address) = line.trim().strip_prefix("http://127.0.0.1:") {
                break format!("http://127.0.0.1:{address}");
            }
        };
        // The rest is read as well: a pipe that nobody reads ends the program.
        std::thread::spawn(move || lines.for_each(drop));
        Self { child, folder: None, file, address, printed }
    }

    /// Text of the car file.
    pub fn text(&self) -> String {
        std::fs::read_to_string(&self.file).expect("the car file")
    }

    /// Ends the program at once, as a power cut would; the folder stays until this is dropped.
    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    /// Whether the program is still running.
    pub fn lives(&mut self) -> bool {
        matches!(self.child.try_wait(), Ok(None))
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.kill();
        if let Some(folder) = &self.folder {
            let _ = std::fs::remove_dir_all(folder);
        }
    }
}
