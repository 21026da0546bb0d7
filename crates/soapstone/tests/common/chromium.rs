//! A real Chromium, driven over WebDriver by a chromedriver that ends with the process that started it.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

use thirtyfour::prelude::*;

/// What keeps a headless browser quiet, alike on every machine, and able to draw in space without a graphics card.
const FLAGS: [&str; 14] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--force-device-scale-factor=1",
    "--hide-scrollbars",
    "--lang=en",
];

/// The browser and its driver.
struct Programs {
    chromium: PathBuf,
    driver: PathBuf,
}

/// The driver. Closing its input ends it: it also goes when this process is killed.
struct Running {
    address: String,
    _shell: Child,
    _input: ChildStdin,
}

/// Whether a missing program is a failure.
pub fn must_have() -> bool {
    std::env::var("CI").is_ok_and(|ci| ci == "true")
}

/// Says what is left out, or fails where nothing may be.
pub fn skip(what: &str) {
    assert!(!must_have(), "{what}; nothing may be left out in CI");
    println!("SKIPPED: {what}");
}

fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).flat_map(|d| names.iter().map(move |n| d.join(n))).find(|p| p.is_file())
}

fn programs() -> Option<Programs> {
    let named = |variable: &str| std::env::var_os(variable).map(PathBuf::from).filter(|p| p.is_file());
    let chromium = named("SOAPSTONE_CHROMIUM").or_else(|| on_path(&["chromium", "chromium-browser"]))?;
    let driver =
        named("SOAPSTONE_CHROMEDRIVER").or_else(|| on_path(&["chromedriver", "chromium.chromedriver"]))?;
    Some(Programs { chromium, driver })
}

fn start(programs: &Programs) -> Running {
    // The shell waits for the end of its input, which comes even when this process is killed.
    let script = "\"$0\" --port=0 </dev/null & own=$!; cat >/dev/null; kill $own";
    let mut shell = Command::new("sh")
        .args(["-c", script])
        .arg(&programs.driver)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("a shell");
    let input = shell.stdin.take().expect("its input");
    let mut lines = BufReader::new(shell.stdout.take().expect("its output")).lines();
    let port = loop {
        let Some(Ok(line)) = lines.next() else { panic!("chromedriver did not start") };
        if let Some((_, rest)) = line.split_once("started successfully on port ") {
            break rest.trim_end_matches('.').to_string();
        }
    };
    std::thread::spawn(move || lines.for_each(drop));
    Running { address: format!("http://127.0.0.1:{port}"), _shell: shell, _input: input }
}

/// A browser of its own, empty, with more flags than the usual ones; `None`, said aloud, where there is no Chromium.
pub async fn browser(width: u32, height: u32, more: &[&str]) -> Option<(WebDriver, Profile)> {
    static RUNNING: OnceLock<Option<(Programs, Running)>> = OnceLock::new();
    let running = RUNNING.get_or_init(|| programs().map(|p| (start(&p), p)).map(|(r, p)| (p, r)));
    let Some((programs, driver)) = running else {
        skip("chromium and chromedriver were not found (SOAPSTONE_CHROMIUM, SOAPSTONE_CHROMEDRIVER)");
        return None;
    };
    let profile = Profile::new();
    let mut wanted = DesiredCapabilities::chrome();
    let flags = FLAGS.iter().chain(more).map(|f| (*f).to_string()).chain([
        format!("--user-data-dir={}", profile.0.display()),
        format!("--window-size={width},{height}"),
    ]);
    for flag in flags {
        wanted.add_arg(&flag).expect("a flag");
    }
    wanted.set_binary(&programs.chromium.to_string_lossy()).expect("a path");
    let driver = WebDriver::new(&driver.address, wanted).await.expect("a browser starts");
    Some((driver, profile))
}

/// A folder for what the browser writes; it goes with this.
pub struct Profile(PathBuf);

impl Profile {
    fn new() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!("chromium-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        Self(Path::new(env!("CARGO_TARGET_TMPDIR")).join(name))
    }
}

impl Drop for Profile {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
