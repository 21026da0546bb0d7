//! The car in the browser.

use std::path::{Path, PathBuf};

use project::store::{Store, StoreError};
use qrcode::render::unicode::Dense1x2;

use super::args::OpenArgs;
use super::output::{HEADING, styled};
use super::{Failure, choose, load, output};
use crate::web::{Options, Ready, serve};

/// Folder of the reader's own copy of the demo, in the folder where programs keep what the reader makes with them.
const DEMO_FOLDER: &str = "soapstone-demo";

/// What `soapstone` does without a command: the demo car in the browser.
pub(crate) fn demo() -> Result<(), Failure> {
    run(&OpenArgs { car: None, port: None, no_browser: false, lan: false })
}

/// Port unless the reader asks for another, so that a kept link works the next day.
const DEFAULT_PORT: u16 = 7410;

pub(crate) fn run(args: &OpenArgs) -> Result<(), Failure> {
    let path = match &args.car {
        Some(path) => {
            if !path.exists() {
                begin(path)?;
            }
            path.clone()
        }
        None => demo_copy()?,
    };
    // A file that makes no table yet opens all the same: the page is where it is mended.
    if let Err(failure) = print_table(&path) {
        output::message(&format!("no choice table yet: {}\n", failure.words()));
    }
    // A busy port is no reason to stop where the reader has not asked for one.
    let port = args.port.unwrap_or(if is_free(DEFAULT_PORT) { DEFAULT_PORT } else { 0 });
    let options = Options { port, browser: !args.no_browser, lan: args.lan };
    serve(&path, options, |ready| say(&path, ready))
}

fn is_free(port: u16) -> bool {
    std::net::TcpListener::bind((std::net::Ipv4Addr::LOCALHOST, port)).is_ok()
}

/// A new car: a head without an axle; the page asks for the rest.
fn begin(path: &Path) -> Result<(), Failure> {
    let name = path.file_stem().map_or_else(|| "my car".into(), |n| n.to_string_lossy().into_owned());
    let text = project::blank(&name);
    let made = Store::create(path, &text);
    made.map(|_| ()).map_err(|e| Failure::Input { message: e.to_string(), hint: e.hint() })
}

/// The reader's own copy of the demo: made once, then left as the reader leaves it.
fn demo_copy() -> Result<PathBuf, Failure> {
    let folder = demo_folder();
    std::fs::create_dir_all(&folder).map_err(|e| {
        Failure::with_hint(
            format!("cannot make `{}`: {e}", folder.display()),
            "open a file of your own: soapstone open my-car.toml",
        )
    })?;
    let path = folder.join("plover.toml");
    match Store::create(&path, load::DEMO) {
        Ok(_) | Err(StoreError::Exists { .. }) => Ok(path),
        Err(e) => Err(Failure::Input { message: e.to_string(), hint: e.hint() }),
    }
}

fn demo_folder() -> PathBuf {
    let variable = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    let home = || variable("HOME").or_else(|| variable("USERPROFILE"));
    let base = if cfg!(target_os = "windows") {
        variable("APPDATA").or_else(home)
    } else if cfg!(target_os = "macos") {
        home().map(|h| h.join("Library/Application Support"))
    } else {
        variable("XDG_DATA_HOME").or_else(|| home().map(|h| h.join(".local/share")))
    };
    base.unwrap_or_else(std::env::temp_dir).join(DEMO_FOLDER)
}

/// The choice table, where the file makes one: the page is not the only way to see it.
fn print_table(path: &Path) -> Result<(), Failure> {
    let file = load::read(Some(path))?;
    match &file.car {
        Some(car) => choose::print(car),
        None => Ok(()),
    }
}

fn say(path: &Path, ready: &Ready) -> Result<(), Failure> {
    let mut text = format!(
        "\n{}\n  {}\n  file {}\n",
        styled(HEADING, "The car is in the browser at"),
        ready.address,
        path.display()
    );
    if let Some((address, code)) = &ready.lan {
        let picture = qrcode::QrCode::new(address)
            .map(|c| {
                // Terminals are dark more often than not: the paper is what is printed.
                let (paper, ink) = (Dense1x2::Dark, Dense1x2::Light);
                c.render::<Dense1x2>().light_color(paper).dark_color(ink).quiet_zone(true).build()
            })
            .unwrap_or_default();
        text.push_str(&format!(
            "\n{}\n{picture}\n  or open {} there and type {code}\n  \
             Whoever has the code can change the car: stop Soapstone to close the door.\n",
            styled(HEADING, "On a telephone in the same network, point the camera here"),
            address.split("/pair").next().unwrap_or(address),
        ));
    }
    text.push_str("\nCtrl-C ends it.\n");
    output::text(&text)
}
