//! Running the binary.

use std::path::PathBuf;
use std::process::{Command, Stdio};

use serde_json::Value;

/// What a run left behind.
#[derive(Debug)]
pub struct Done {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

/// The binary with neither a terminal nor anything that forces colours.
pub fn command(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_soapstone"));
    command.args(args).stdin(Stdio::null()).env_remove("CLICOLOR_FORCE").env_remove("FORCE_COLOR");
    command
}

#[track_caller]
pub fn run(args: &[&str]) -> Done {
    let done = command(args).output().expect("the binary starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
    let done = Done { code: done.status.code(), out: text(done.stdout), err: text(done.stderr) };
    assert!(!done.out.contains('\u{1b}') && !done.err.contains('\u{1b}'), "no colours but on a terminal");
    assert!(!done.err.contains("panicked"), "{}", done.err);
    done
}

/// A run that succeeds.
#[track_caller]
pub fn good(args: &[&str]) -> String {
    let done = run(args);
    assert_eq!(done.code, Some(0), "{args:?}: {}", done.err);
    done.out
}

/// The one JSON object of a run that succeeds.
#[track_caller]
pub fn json(args: &[&str]) -> Value {
    let out = good(args);
    let value: Value = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{args:?}: {e}\n{out}"));
    let schema = value["schema"].as_str().expect("every object carries its schema");
    let (name, version) = schema.split_once('/').expect("a schema has a version");
    assert!(name.starts_with("soapstone.") && version.parse::<u32>().is_ok(), "{schema}");
    value
}

/// A file of the tests' own folder.
pub fn file(name: &str, text: impl AsRef<[u8]>) -> String {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("cli-{}", std::process::id()));
    let path = folder.join(name);
    std::fs::create_dir_all(path.parent().unwrap_or(&folder)).expect("a folder for test files");
    std::fs::write(&path, text).expect("a test file");
    path.to_str().expect("a readable path").to_string()
}

/// A path in the tests' own folder where nothing is.
pub fn nowhere(name: &str) -> String {
    let path = file(name, "");
    std::fs::remove_file(&path).expect("a file just written");
    path
}

/// A demo car.
pub fn demo(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

pub const PLOVER: &str = "plover/car.toml";
pub const DEMOS: [&str; 4] = [PLOVER, "plover/before.toml", "dunlin/car.toml", "wren/car.toml"];
pub const KINDS: [&str; 6] =
    ["five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links"];
