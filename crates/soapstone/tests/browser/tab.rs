//! One page in one browser, with what the tests do to it.

use std::fmt::Display;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use futures_util::FutureExt;
use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::chromium::browser;
use crate::served::Served;

/// A laptop's window and a telephone's.
pub const LAPTOP: (u32, u32) = (1280, 900);
pub const PHONE: (u32, u32) = (360, 740);

/// Longest that a page may take to show what came of something: far more than it needs on a busy machine.
const PATIENCE: Duration = Duration::from_secs(8);

/// Collects what a page complains of and what it asks over an open line, from before its own first script.
const LISTEN: &str = "window.complaints = [];
    window.line = { asked: [], answered: 0 };
    const send = WebSocket.prototype.send;
    WebSocket.prototype.send = function (text) {
        if (!this.heard) this.heard = this.addEventListener('message', () => line.answered++) ?? true;
        line.asked.push(text);
        send.call(this, text);
    };
    for (const kind of ['error', 'unhandledrejection', 'securitypolicyviolation'])
        addEventListener(kind, (e) => complaints.push(`${kind}: ${e.message ?? e.reason ?? e.violatedDirective}`));
    for (const kind of ['error', 'warn']) {
        const own = console[kind];
        console[kind] = (...words) => { complaints.push(words.join(' ')); own(...words); };
    }";

/// A page.
pub struct Tab {
    driver: WebDriver,
    base: String,
    size: (u32, u32),
}

/// Runs a test on a fresh program and a fresh browser, which both end with it.
pub fn with_page(name: &str, size: (u32, u32), test: impl AsyncFnOnce(&mut Served, &Tab)) {
    with_pages(name, &[size], async |served, tabs| test(served, &tabs[0]).await);
}

/// The same on a car that is still to be written.
pub fn with_empty(name: &str, size: (u32, u32), test: impl AsyncFnOnce(&mut Served, &Tab)) {
    run(name, &[size], Served::start_empty, async |served, tabs| test(served, &tabs[0]).await);
}

/// The same with several browsers on one program.
pub fn with_pages(name: &str, sizes: &[(u32, u32)], test: impl AsyncFnOnce(&mut Served, &[Tab])) {
    run(name, sizes, || Served::start(&[]), test);
}

fn run(
    name: &str,
    sizes: &[(u32, u32)],
    serve: impl FnOnce() -> Served,
    test: impl AsyncFnOnce(&mut Served, &[Tab]),
) {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let mut served = serve();
        let mut tabs = Vec::new();
        let mut profiles = Vec::new();
        for size in sizes {
            let Some((driver, profile)) = browser(size.0, size.1, &[]).await else { return };
            let tab = Tab { driver, base: served.address.clone(), size: *size };
            tab.prepare().await;
            tabs.push(tab);
            profiles.push(profile);
        }
        let done = std::panic::AssertUnwindSafe(test(&mut served, &tabs)).catch_unwind().await;
        for (i, tab) in tabs.iter().enumerate() {
            if done.is_err() {
                tab.shot(&format!("failed-{name}-{i}")).await;
            }
        }
        for tab in tabs {
            let _ = tab.driver.quit().await;
        }
        drop(profiles);
        if let Err(panic) = done {
            std::panic::resume_unwind(panic);
        }
    });
}

impl Tab {
    async fn prepare(&self) {
        let (width, height) = self.size;
        let phone = width < 600;
        let screen = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone });
        self.cdp("Emulation.setDeviceMetricsOverride", screen).await;
        if phone {
            self.cdp("Emulation.setTouchEmulationEnabled", json!({ "enabled": true })).await;
        }
        self.cdp("Page.addScriptToEvaluateOnNewDocument", json!({ "source": LISTEN })).await;
        self.driver.set_script_timeout(Duration::from_secs(30)).await.expect("a timeout");
    }

    /// A command of the browser's debugging protocol.
    pub async fn cdp(&self, method: &str, parameters: Value) -> Value {
        let done = self.driver.cdp().send_raw(method, parameters).await;
        done.unwrap_or_else(|e| panic!("{method}: {e}"))
    }

    /// Opens a page of the program and waits until its scripts have started.
    pub async fn go(&self, path: &str) {
        let address = format!("{}{}", self.base, path.trim_start_matches('/'));
        self.driver.goto(address).await.expect("the page opens");
        self.until("return document.readyState === 'complete' && \
                    (document.documentElement.classList.contains('scripted') || !document.querySelector('script'))",
            "scripts start").await;
        self.rest().await;
    }

    /// Goes back as the reader does.
    pub async fn back(&self) {
        self.driver.back().await.expect("back");
    }

    /// Runs a script in the page.
    pub async fn js(&self, script: &str) -> Value {
        self.js_with(script, Vec::new()).await
    }

    /// Runs a script with arguments.
    pub async fn js_with(&self, script: &str, arguments: Vec<Value>) -> Value {
        let done = self.driver.execute(script, arguments).await;
        done.unwrap_or_else(|e| panic!("{script}: {e}")).json().clone()
    }

    /// Runs a script that answers later, by its last argument.
    pub async fn js_later(&self, script: &str) -> Value {
        let done = self.driver.execute_async(script, Vec::new()).await;
        done.unwrap_or_else(|e| panic!("{script}: {e}")).json().clone()
    }

    /// Whether a script says yes within reason.
    pub async fn comes(&self, script: &str) -> bool {
        let begun = Instant::now();
        while begun.elapsed() < PATIENCE {
            if self.js(script).await == Value::Bool(true) {
                return true;
            }
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
        false
    }

    /// Waits until a script says yes.
    #[track_caller]
    pub fn until(&self, script: &str, what: impl Display) -> impl Future<Output = ()> {
        let place = std::panic::Location::caller();
        async move { assert!(self.comes(script).await, "{place}: this did not come: {what}") }
    }

    /// Waits until an element is there.
    #[track_caller]
    pub fn has(&self, selector: &str) -> impl Future<Output = ()> {
        let place = std::panic::Location::caller();
        let script = format!("return document.querySelector({}) !== null", quoted(selector));
        async move { assert!(self.comes(&script).await, "{place}: this did not come: {script}") }
    }

    /// Whether an element is there now.
    pub async fn is_there(&self, selector: &str) -> bool {
        self.js(&format!("return document.querySelector({}) !== null", quoted(selector))).await
            == Value::Bool(true)
    }

    /// Text of the first element of a selector; empty where there is none.
    pub async fn text(&self, selector: &str) -> String {
        let script = format!("return document.querySelector({})?.textContent ?? ''", quoted(selector));
        self.js(&script).await.as_str().unwrap_or_default().to_string()
    }

    /// Waits two frames and until nothing is asked of the program.
    pub async fn rest(&self) {
        let script = "const done = arguments[arguments.length - 1];
            const count = () => performance.getEntriesByType('resource').length + (window.line?.answered ?? 0);
            const open = () => window.line && line.asked.length > line.answered;
            const look = (before, calm) => setTimeout(() => {
                const now = open() ? -1 : count();
                if (now === before && calm >= 3) requestAnimationFrame(() => requestAnimationFrame(() => done(true)));
                else look(now, now === before ? calm + 1 : 0);
            }, 40);
            look(count(), 0);";
        self.js_later(script).await;
    }

    /// Middle of an element in the window, which is scrolled to it [px].
    pub async fn place(&self, selector: &str) -> (f64, f64) {
        let script = format!(
            "const at = document.querySelector({}); at.scrollIntoView({{ block: 'center' }});
             // Of a link over two lines the first: between them is nothing.
             const box = at.getClientRects()[0]; return [box.x + box.width / 2, box.y + box.height / 2];",
            quoted(selector)
        );
        let at = self.js(&script).await;
        (at[0].as_f64().expect("x"), at[1].as_f64().expect("y"))
    }

    /// A pointer event: `mousePressed`, `mouseMoved`, `mouseReleased`.
    pub async fn mouse(&self, kind: &str, (x, y): (f64, f64)) {
        let (button, buttons, clicks) = match kind {
            "mousePressed" => ("left", 1, 1),
            "mouseReleased" => ("left", 0, 1),
            _ => ("none", 0, 0),
        };
        let event = json!({ "type": kind, "x": x, "y": y, "button": button, "buttons": buttons, "clickCount": clicks });
        self.cdp("Input.dispatchMouseEvent", event).await;
    }

    /// Moves the pressed pointer.
    pub async fn drag_to(&self, (x, y): (f64, f64)) {
        let event = json!({ "type": "mouseMoved", "x": x, "y": y, "button": "left", "buttons": 1 });
        self.cdp("Input.dispatchMouseEvent", event).await;
    }

    /// A finger: `touchStart`, `touchMove`, `touchEnd`.
    pub async fn touch(&self, kind: &str, at: Option<(f64, f64)>) {
        let points: Vec<Value> = at.iter().map(|(x, y)| json!({ "x": x, "y": y })).collect();
        self.cdp("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points })).await;
    }

    /// Clicks an element with the mouse.
    pub async fn click(&self, selector: &str) {
        let at = self.place(selector).await;
        for kind in ["mouseMoved", "mousePressed", "mouseReleased"] {
            self.mouse(kind, at).await;
        }
    }

    /// Presses and lets go of a key; `modifiers`: 2 ctrl, 8 shift.
    pub async fn key(&self, key: &str, modifiers: u32) {
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            "Escape" => 27,
            "Home" => 36,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            _ => key.to_uppercase().bytes().next().map_or(0, u32::from),
        };
        for kind in ["keyDown", "keyUp"] {
            let mut event =
                json!({ "type": kind, "key": key, "windowsVirtualKeyCode": code, "modifiers": modifiers });
            if key == "Enter" && kind == "keyDown" {
                event["text"] = json!("\r");
            }
            self.cdp("Input.dispatchKeyEvent", event).await;
        }
    }

    /// Types over what a field has.
    pub async fn write(&self, selector: &str, text: &str) {
        self.js(&format!("document.querySelector({}).select()", quoted(selector))).await;
        self.cdp("Input.insertText", json!({ "text": text })).await;
    }

    /// Light or dark, screen or print.
    pub async fn media(&self, scheme: &str, medium: &str) {
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.cdp("Emulation.setEmulatedMedia", json!({ "media": medium, "features": features })).await;
    }

    /// A picture of the whole page for a person to look at, in `target/tmp/screens`.
    pub async fn shot(&self, name: &str) {
        let options = json!({ "format": "png", "captureBeyondViewport": true });
        let Ok(answer) = self.driver.cdp().send_raw("Page.captureScreenshot", options).await else { return };
        let picture = decoded(&answer);
        let folder = screens();
        let _ = std::fs::create_dir_all(&folder);
        let _ = std::fs::write(folder.join(format!("{name}.png")), picture);
    }

    /// What the page complained of since it was loaded, and requests that failed.
    pub async fn complaints(&self) -> Vec<String> {
        let script = "return [...(window.complaints ?? []), ...performance.getEntriesByType('resource')
            .filter((e) => e.responseStatus >= 400).map((e) => `${e.responseStatus} ${e.name}`)]";
        let said = self.js(script).await;
        let mut all: Vec<String> = serde_json::from_value(said).unwrap_or_default();
        let log = self.driver.browser_log().await.unwrap_or_default();
        all.extend(log.iter().map(|l| l.message.clone()).filter(|m| !is_of_the_machine(m)));
        all
    }
}

/// Chromium's own remark on drawing without a graphics card.
fn is_of_the_machine(message: &str) -> bool {
    ["GPU stall", "GL Driver Message", "swiftshader", "SwiftShader"].iter().any(|own| message.contains(own))
}

fn screens() -> PathBuf {
    PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("screens")
}

/// A string of a script.
pub fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}

/// The file in an answer of the debugging protocol.
pub fn decoded(answer: &Value) -> Vec<u8> {
    use base64::Engine;
    let text = answer["data"].as_str().unwrap_or_default();
    base64::engine::general_purpose::STANDARD.decode(text).unwrap_or_default()
}
