//! Search: the best settings over the venues, worked out beside the page, with progress, and stopped with what there is.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use axum::extract::{RawQuery, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use project::model::Car;
use study::{Search, Stage, Way};

use super::App;
use super::page::{Sheet, layout};
use super::stage::sheet;
use crate::stage::SEARCH;

/// Settings that are tried, and draws of what is uncertain: as the command has them.
const COUNT: u64 = 400;
const DRAWS: usize = 8;

/// Seconds after which a page that waits asks again.
const AGAIN: &str = "1";

/// A search that is going on, or done.
pub(crate) struct Job {
    /// The version of the file that it is about.
    stamp: String,
    car: Car,
    stop: AtomicBool,
    /// What is being done now, how far of how far.
    what: Mutex<&'static str>,
    done: AtomicUsize,
    of: AtomicUsize,
    found: OnceLock<Stage>,
}

/// The one search of a server.
#[derive(Clone, Default)]
pub(crate) struct Searching(Arc<Mutex<Option<Arc<Job>>>>);

impl Searching {
    fn job(&self) -> Option<Arc<Job>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Begins one, unless one is going on.
    fn begin(&self, stamp: String, car: Car) {
        let mut slot = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if slot.as_ref().is_some_and(|job| job.found.get().is_none()) {
            return;
        }
        let job = Arc::new(Job {
            stamp,
            car,
            stop: AtomicBool::new(false),
            what: Mutex::new("the car's limits"),
            done: AtomicUsize::new(0),
            of: AtomicUsize::new(0),
            found: OnceLock::new(),
        });
        *slot = Some(job.clone());
        std::thread::spawn(move || {
            let found = job.work();
            let _ = job.found.set(found);
        });
    }
}

impl Job {
    fn work(&self) -> Stage {
        let cores = study::cores();
        let search = match Search::new(&self.car, cores) {
            Ok(search) => search,
            Err(lack) => return Stage { lacks: vec![lack], ..Stage::default() },
        };
        let progress = |done: usize, of: usize| {
            self.done.store(done, Ordering::Relaxed);
            self.of.store(of, Ordering::Relaxed);
        };
        let way = Way { cores, stop: &self.stop, progress: &progress };
        self.say("settings tried");
        let tried = search.samples(0..COUNT, &way);
        self.say("searches and laps");
        search.stage(&tried, DRAWS, &way)
    }

    fn say(&self, what: &'static str) {
        *self.what.lock().unwrap_or_else(PoisonError::into_inner) = what;
    }
}

/// The page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    let job = app.searching.job();
    let waits = job.as_ref().is_some_and(|job| job.found.get().is_none());
    let now = app.stamp(desk.version());
    let query = query.unwrap_or_default();
    let body = html! {
        div.measure.weigh {
            section.sheet id="part-search" {
                h1 { "The best setting" }
                p {
                    "Over the candidate holes, the front share of the braking, the bars, ride heights and air parts, as " code { "[search]" }
                    " in the file says: the best for each venue and for all of them, under one set of welded parts. On all cores, "
                    "some ten to sixty seconds; the terminal's " code { "soapstone search" } " does larger ones."
                }
                @match &job {
                    Some(job) if waits => (going_on(&app, job)),
                    _ => (form(&app, "run", "Search", desk.car().is_some())),
                }
                @if let Some(job) = job.as_ref().filter(|job| !waits && job.stamp != now) {
                    p role="status" { "The file has changed since these were found" @if job.stop.load(Ordering::Relaxed) { ", and the search was stopped" } ": search again." }
                } @else if job.as_ref().is_some_and(|job| !waits && job.stop.load(Ordering::Relaxed)) {
                    p role="status" { "The search was stopped: this is the best of what was tried." }
                }
            }
            @if let Some((job, found)) = job.as_ref().and_then(|job| Some((job, job.found.get()?))) {
                section.sheet id="part-stage" aria-label="Results" { (sheet(&SEARCH, found, &job.car)) }
            }
        }
    };
    let page = layout(&app, &desk, Sheet { title: "Search", stage: "drive", query: &query, body });
    if waits { ([(header::REFRESH, AGAIN)], page).into_response() } else { page.into_response() }
}

fn going_on(app: &App, job: &Job) -> Markup {
    let (done, of) = (job.done.load(Ordering::Relaxed), job.of.load(Ordering::Relaxed));
    let what = *job.what.lock().unwrap_or_else(PoisonError::into_inner);
    html! {
        p role="status" { (what) @if of > 0 { ": " (done) " of " (of) } " " progress value=(done) max=(of.max(1)) {} }
        (form(app, "stop", "Stop, and go on with what there is", !job.stop.load(Ordering::Relaxed)))
    }
}

fn form(app: &App, way: &str, words: &str, may: bool) -> Markup {
    html! {
        form method="post" action={ "/search/" (way) "?token=" (app.guard.token()) } {
            button disabled[!may] { (words) }
        }
    }
}

/// Begins a search.
pub(crate) async fn run(State(app): State<App>) -> Redirect {
    let desk = app.desk.lock().await;
    if let Some(car) = desk.car() {
        app.searching.begin(app.stamp(desk.version()), car.clone());
    }
    Redirect::to("/search")
}

/// Ends it with what there is.
pub(crate) async fn stop(State(app): State<App>) -> Redirect {
    if let Some(job) = app.searching.job() {
        job.stop.store(true, Ordering::Relaxed);
    }
    Redirect::to("/search")
}
