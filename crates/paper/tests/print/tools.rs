//! Outside programs that read what we write. Where one is missing the test says so and is left out, but not in CI.

use std::path::PathBuf;
use std::process::Command;

/// A folder of this test's own.
pub fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Runs a program of poppler; `None` where it is not installed.
pub fn poppler(program: &str, args: &[&str]) -> Option<Vec<u8>> {
    match Command::new(program).args(args).output() {
        Ok(done) => {
            let said = String::from_utf8_lossy(&done.stderr).into_owned();
            assert!(done.status.success(), "{program}: {said}");
            assert!(!said.contains("Error"), "{program}: {said}");
            Some(done.stdout)
        }
        Err(error) => {
            assert!(std::env::var("CI").as_deref() != Ok("true"), "{program} is needed in CI: {error}");
            eprintln!("skipped: no {program} here (poppler-utils has it)");
            None
        }
    }
}
