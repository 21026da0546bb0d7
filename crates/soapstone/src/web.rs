//! The screen: a local web page on which dragging a pickup moves the choice table.
//!
//! All routes are in [`routes`]; one file a page; the core calls are those of the terminal. The server listens on
//! the loopback address alone unless asked otherwise, and not one request leaves the machine.

mod assets;
mod build;
mod desk;
mod differs;
mod edit;
mod events;
mod flow;
mod guard;
mod measure;
mod memory;
mod page;
mod pair;
mod paper;
mod place;
mod search;
mod shown;
mod stage;
mod start;
mod trial;
mod weigh;
mod worked;

use std::net::{Ipv4Addr, SocketAddr, UdpSocket};
use std::path::Path;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use tokio::sync::{Mutex, watch};

use crate::cli::Failure;
use desk::Desk;
use events::Change;
use guard::Guard;

/// Most bytes of a request's body: a pasted table of some thousand points.
const MOST_BODY: usize = 256 * 1024;

/// What every handler shares.
#[derive(Clone)]
pub(crate) struct App {
    desk: Arc<Mutex<Desk>>,
    changed: watch::Sender<Change>,
    guard: Arc<Guard>,
    searching: search::Searching,
}

impl App {
    /// Names a version of the car in this run of the server: a page of an earlier run is never taken for new.
    fn stamp(&self, version: u64) -> String {
        format!("{}-{version}", self.guard.run())
    }

    /// Tells every open page of a change.
    fn tell(&self, version: u64, label: &str) {
        self.changed.send_replace(Change { version: self.stamp(version), label: label.to_string() });
    }
}

/// All routes.
fn routes(app: App) -> Router {
    Router::new()
        .route("/", get(page::home))
        .route("/start", get(start::page).post(start::begin))
        .route("/start/points", get(start::points_page).post(start::points_save))
        .route("/measure", get(measure::page).post(measure::save))
        .route("/measure/paste", post(measure::paste_table))
        .route("/weigh", get(weigh::page).post(weigh::save))
        .route("/stop", get(stage::stop).post(stage::save_stop))
        .route("/balance", get(stage::balance).post(stage::save_balance))
        .route("/drive", get(stage::drive).post(stage::save_drive))
        .route("/manoeuvres", get(stage::manoeuvres).post(stage::save_manoeuvres))
        .route("/search", get(search::page))
        .route("/search/run", post(search::run))
        .route("/search/stop", post(search::stop))
        .route("/build", get(build::page).post(build::save))
        .route("/paper", get(paper::page))
        .route("/paper/get/{what}", get(paper::get))
        .route("/paper/points", post(paper::upload).layer(DefaultBodyLimit::max(paper::MOST_UPLOAD)))
        .route("/paper/points/take", post(paper::take).layer(DefaultBodyLimit::max(paper::MOST_UPLOAD)))
        .route("/place", get(place::page))
        .route("/place/parts", get(place::parts))
        .route("/place/moving", get(place::moving))
        .route("/place/solid", get(place::solid))
        .route("/explain", get(worked::page))
        .route("/edit", post(edit::edit))
        .route("/undo", post(edit::undo))
        .route("/redo", post(edit::redo))
        .route("/events", get(events::events))
        .route("/pair", get(pair::page).post(pair::enter))
        .route("/assets/{name}", get(assets::asset))
        .fallback(page::not_found)
        .layer(DefaultBodyLimit::max(MOST_BODY))
        .layer(middleware::from_fn_with_state(app.guard.clone(), guard::check))
        .with_state(app)
}

/// How to serve.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Options {
    /// Port; 0 takes any free one.
    pub port: u16,
    /// Whether to open a browser.
    pub browser: bool,
    /// Whether other machines of the local network may pair.
    pub lan: bool,
}

/// Where the page is.
pub(crate) struct Ready {
    /// On this machine.
    pub address: String,
    /// For a telephone: address with the code in it, and the code; `None` unless asked for.
    pub lan: Option<(String, String)>,
}

/// Serves a car file until it is told to stop. `ready` is called once the page can be opened.
pub(crate) fn serve(
    path: &Path,
    options: Options,
    ready: impl FnOnce(&Ready) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let desk = Desk::open(path)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(Failure::Output)?;
    runtime.block_on(async move {
        let own = if options.lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
        let listener = tokio::net::TcpListener::bind((own, options.port)).await.map_err(|e| {
            Failure::with_hint(
                format!("cannot listen on port {}: {e}", options.port),
                "another program has it; try `--port 0` for any free one",
            )
        })?;
        let port = listener.local_addr()?.port();
        let outer = if options.lan { Some(lan_address()?) } else { None };
        let guard = Guard::new(port, outer)?;
        let address = format!("http://127.0.0.1:{port}/");
        let lan = guard.invitation();
        let (changed, _) = watch::channel(Change { version: String::new(), label: String::new() });
        let app = App {
            desk: Arc::new(Mutex::new(desk)),
            changed,
            guard: Arc::new(guard),
            searching: Default::default(),
        };
        tokio::spawn(events::watch_file(app.clone()));
        ready(&Ready { address: address.clone(), lan })?;
        if options.browser {
            open_browser(&address);
        }
        let service = routes(app).into_make_service_with_connect_info::<SocketAddr>();
        // Event streams never end by themselves, so stopping does not wait for them.
        tokio::select! {
            done = async { axum::serve(listener, service).await } => done.map_err(Failure::Output),
            _ = tokio::signal::ctrl_c() => Ok(()),
        }
    })
}

/// This machine's address on the local network. Asking for a route sends nothing.
fn lan_address() -> Result<Ipv4Addr, Failure> {
    let none = || {
        Failure::with_hint(
            "this machine is on no network, so that no telephone could reach it",
            "join the network that the telephone is on, or leave `--lan` out",
        )
    };
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    // An address set aside for documentation (RFC 5737): any that is not ours picks the outward interface.
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).map_err(|_| none())?;
    match socket.local_addr()? {
        SocketAddr::V4(own) if !own.ip().is_unspecified() => Ok(*own.ip()),
        _ => Err(none()),
    }
}

/// Opens the page in the desktop's browser, where there is one; says nothing if there is not.
fn open_browser(address: &str) {
    let (program, first): (_, &[&str]) = if cfg!(target_os = "windows") {
        ("cmd", &["/C", "start", ""])
    } else if cfg!(target_os = "macos") {
        ("open", &[])
    } else {
        ("xdg-open", &[])
    };
    let desktop = !cfg!(target_os = "linux")
        || ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some());
    if desktop {
        let _ = std::process::Command::new(program)
            .args(first)
            .arg(address)
            .stdin(std::process::Stdio::null())
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn();
    }
}
