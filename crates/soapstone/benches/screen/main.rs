//! How soon the page follows the hand: from a pointer's move to the painted frame, in a real headless Chromium.
//!
//! A five-link with four candidate holes and three pinned variants; every move redraws three views, the table and the
//! charts. By itself, and as part of a whole car, whose rows also say what a stop does. Run it by `cargo bench -p soapstone --bench screen`. A figure past its target is marked; set
//! `SOAPSTONE_STRICT=1` to have that fail.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a bench prints, and one that cannot go on has nothing to print"
)]

#[path = "../../tests/common/chromium.rs"]
mod chromium;
#[path = "../../tests/common/served.rs"]
mod served;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use thirtyfour::prelude::*;

use served::Served;

/// Moves that are measured.
const MOVES: usize = 240;

/// Programs that are started for the first page.
const STARTS: usize = 12;

const PAGE: &str = "place?axle=rear&pin=low~use%3Dlink.lower-fore.body%3DB&pin=high~use%3Dlink.lower-fore.body%3DC\
                    &pin=ahead~use%3Dlink.lower-fore.body%3DD";

/// A display shows a frame each 16.7 ms, so that a move waits half as long on average whatever the program does; the
/// second way of measuring leaves that out.
const CLOCKS: [(&str, &[&str]); 2] = [
    ("Frames at 60 Hz, as on a display", &[]),
    ("Frames as soon as they are ready", &["--disable-gpu-vsync", "--disable-frame-rate-limit"]),
];

/// The cars: where the points alone are known, and where masses, tyres, brakes, springs and air are.
const CARS: [(&str, &str); 2] = [
    ("one axle after the other", include_str!("../../../../examples/plover/car.toml")),
    ("the whole car", include_str!("../../../../examples/plover/whole.toml")),
];

const DRAG: &str = include_str!("drag.js");
const ORBIT: &str = include_str!("orbit.js");

fn main() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    let mut table = Table { missed: false };
    table.first_page();
    for (clock, flags) in CLOCKS {
        for (name, car) in CARS {
            println!("\n{clock}: {name}");
            runtime.block_on(async {
                let Some((driver, _profile)) = chromium::browser(1280, 900, flags).await else { return };
                let served = Served::start_with(car);
                let done = in_browser(&driver, &served, &mut table).await;
                let _ = driver.quit().await;
                done.expect("the browser answers");
            });
        }
    }
    let strict = std::env::var("SOAPSTONE_STRICT").is_ok_and(|s| s == "1");
    assert!(!(strict && table.missed), "a target was missed");
}

/// What is printed.
struct Table {
    missed: bool,
}

impl Table {
    /// One figure against the most that it may be.
    fn line(&mut self, what: &str, value: f64, unit: &str, most: f64) {
        let missed = value >= most;
        self.missed |= missed;
        let mark = if missed { "  <- past its target" } else { "" };
        println!("{what:<52} {value:8.1} {unit:<3} of {most:.0}{mark}");
    }

    /// From the start of the process to the whole first page.
    fn first_page(&mut self) {
        let mut times: Vec<f64> = (0..STARTS)
            .map(|_| {
                let begun = Instant::now();
                let served = Served::start(&[]);
                let host = served.address.trim_start_matches("http://").trim_end_matches('/');
                let mut stream = TcpStream::connect(host).expect("a connection");
                let ask = format!("GET /place HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\n\r\n");
                stream.write_all(ask.as_bytes()).expect("a request");
                let mut page = Vec::new();
                stream.read_to_end(&mut page).expect("a page");
                assert!(page.ends_with(b"</html>"), "the whole page");
                begun.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        self.line("first page from process start, median", share(&times, 0.5), "ms", 150.0);
    }
}

/// The value below which a share of sorted values lies.
fn share(sorted: &[f64], part: f64) -> f64 {
    let last = sorted.len().saturating_sub(1);
    sorted.get((last as f64 * part).round() as usize).copied().unwrap_or(f64::NAN)
}

fn sorted(values: &Value) -> Vec<f64> {
    let mut all: Vec<f64> = values.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    all.sort_by(f64::total_cmp);
    all
}

async fn in_browser(driver: &WebDriver, served: &Served, table: &mut Table) -> WebDriverResult<()> {
    let screen = json!({ "width": 1280, "height": 900, "deviceScaleFactor": 1, "mobile": false });
    driver.cdp().send_raw("Emulation.setDeviceMetricsOverride", screen).await?;
    driver.set_script_timeout(Duration::from_secs(60)).await?;
    driver.goto(format!("{}{PAGE}", served.address)).await?;
    tokio::time::sleep(Duration::from_millis(1500)).await;
    let weight =
        "return [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]
        .reduce((sum, e) => sum + e.decodedBodySize, 0) / 1000";
    let weight = driver.execute(weight, Vec::new()).await?.json().as_f64().unwrap_or(f64::NAN);
    table.line("page weight without compression, three variants", weight, "kB", 300.0);

    let place =
        "const mark = document.querySelector(\"#part-side [data-point='link.lower-fore.body'] .mark\");
        mark.scrollIntoView({ block: 'center' }); const box = mark.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2]";
    let at = driver.execute(place, Vec::new()).await?.json().clone();
    let press = |kind: &str| json!({ "type": kind, "x": at[0], "y": at[1], "button": "left", "buttons": 1, "clickCount": 1 });
    driver.cdp().send_raw("Input.dispatchMouseEvent", press("mousePressed")).await?;
    let done = driver.execute_async(DRAG, vec![at[0].clone(), at[1].clone(), json!(MOVES)]).await?;
    let done = done.json().clone();
    driver.cdp().send_raw("Input.dispatchMouseEvent", press("mouseReleased")).await?;
    let (paint, server) = (sorted(&done["paint"]), sorted(&done["server"]));
    assert!(paint.len() == MOVES && server.len() >= MOVES, "{} of {MOVES} moves were seen", paint.len());
    table.line("pointer move to paint, median", share(&paint, 0.5), "ms", 16.0);
    table.line("pointer move to paint, 95th percentile", share(&paint, 0.95), "ms", 33.0);
    table.line("of it the server, median", share(&server, 0.5), "ms", 3.0);
    println!("{:<52} {:8.1} ms", "of it the server, 95th percentile", share(&server, 0.95));
    let follow = sorted(&done["follow"]);
    if !follow.is_empty() {
        println!("{:<52} {:8.1} ms", "the whole car's figures after a move, median", share(&follow, 0.5));
        println!("{:<52} {:8.1} ms", "the whole car's figures, 95th percentile", share(&follow, 0.95));
    }
    for (name, what) in [
        ("answer", "of it until the answer is here, median"),
        ("swap", "of it putting the parts in place, median"),
    ] {
        println!("{what:<52} {:8.1} ms", share(&sorted(&done[name]), 0.5));
    }

    driver.goto(format!("{}place?axle=rear&fit=car", served.address)).await?;
    tokio::time::sleep(Duration::from_millis(1500)).await;
    let done = driver.execute_async(ORBIT, Vec::new()).await?.json().clone();
    let (frames, draws) = (sorted(&done["frames"]), sorted(&done["draws"]));
    table.line("turning the whole car, between frames, median", share(&frames, 0.5), "ms", 34.0);
    println!("{:<52} {:8.1} ms", "turning the whole car, between frames, 95th", share(&frames, 0.95));
    println!("{:<52} {:8.1} ms", "turning the whole car, drawn in, median", share(&draws, 0.5));
    Ok(())
}
