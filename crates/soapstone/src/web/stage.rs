//! Stop, Balance and Drive: what happens under the brakes, whether it is steady and turns, what it is worth where it is driven. Results on top, of the car
//! with the holes that are on trial; the figures that they come from below, to be typed over.

mod charts;
mod figures;
mod tables;

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use project::model::Car;
use study::{Stage, Subject, candidates};

use super::App;
use super::measure::typing::{self, Typing};
use super::measure::{self, Survey, groups};
use super::place::of_candidate;
use super::shown::Shown;
use crate::stage::{Head, Which};

/// The page of Stop.
pub(crate) async fn stop(app: State<App>, query: RawQuery) -> Response {
    typing::page(Which::Stop, &app.0, query.0).await
}

/// The page of Balance.
pub(crate) async fn balance(app: State<App>, query: RawQuery) -> Response {
    typing::page(Which::Balance, &app.0, query.0).await
}

/// The page of Drive.
pub(crate) async fn drive(app: State<App>, query: RawQuery) -> Response {
    typing::page(Which::Drive, &app.0, query.0).await
}

/// The page of the manoeuvres.
pub(crate) async fn manoeuvres(app: State<App>, query: RawQuery) -> Response {
    typing::page(Which::Manoeuvres, &app.0, query.0).await
}

/// Takes a form of the manoeuvres.
pub(crate) async fn save_manoeuvres(app: State<App>, body: Bytes) -> Response {
    typing::save(Which::Manoeuvres, &app.0, &body).await
}

/// Takes a form of Drive.
pub(crate) async fn save_drive(app: State<App>, body: Bytes) -> Response {
    typing::save(Which::Drive, &app.0, &body).await
}

/// Takes a form of Stop.
pub(crate) async fn save_stop(app: State<App>, body: Bytes) -> Response {
    typing::save(Which::Stop, &app.0, &body).await
}

/// Takes a form of Balance.
pub(crate) async fn save_balance(app: State<App>, body: Bytes) -> Response {
    typing::save(Which::Balance, &app.0, &body).await
}

impl Typing for Which {
    fn title(self) -> &'static str {
        self.head().title
    }

    fn stage(self) -> &'static str {
        self.head().name
    }

    fn path(self) -> &'static str {
        match self {
            Self::Stop => "/stop",
            Self::Balance => "/balance",
            Self::Drive => "/drive",
            Self::Manoeuvres => "/manoeuvres",
        }
    }

    fn parts(self, survey: &Survey<'_>, query: &str) -> Markup {
        parts(self, survey, query)
    }
}

fn parts(which: Which, survey: &Survey<'_>, query: &str) -> Markup {
    let tables = groups::part(survey, &tables::groups(which, survey));
    html! {
        div.measure.weigh {
            h1.unseen { (which.head().title) }
            (measure::mistakes(survey))
            @match survey.car {
                Some(car) => { (results(which, car, query)) }
                None => section.sheet id="part-stage" {
                    p { "The file does not make a car yet; mend its mistakes first." }
                }
            }
            (tables)
        }
    }
}

fn results(which: Which, base: &Car, query: &str) -> Markup {
    let shown = Shown::parse(query, base);
    let car = shown.trial.apply(base, shown.axle);
    let holes = shown.trial.all_holes(base, &car, shown.axle);
    let stage = which.work(&car, &holes);
    html! {
        section.sheet id="part-stage" aria-label="Results" {
            (choice(which.path(), base, &shown))
            @if which == Which::Drive {
                p { a href="/search" { "Search for the best setting" } " over holes, bars, bias, ride heights and air parts" }
            }
            (sheet(&which.head(), &stage, &car))
        }
    }
}

/// Figures, charts and notes of a stage.
pub(crate) fn sheet(head: &Head, stage: &Stage, car: &Car) -> Markup {
    html! {
        (figures::lacks(stage))
        (figures::groups(stage, car))
        (charts::part(stage, car))
        (figures::notes(head, stage))
    }
}

/// The holes to choose from; the one in use is marked.
pub(crate) fn choice(path: &str, car: &Car, shown: &Shown) -> Markup {
    let Ok(subject) = Subject::new(car, shown.axle) else { return html! {} };
    let list = candidates(&subject);
    if list.len() < 2 {
        return html! {};
    }
    let used = shown.trial.holes(car, shown.axle);
    let moved = !shown.trial.moves.is_empty();
    html! {
        nav.axles aria-label="Hole" {
            @for candidate in &list {
                @let trial = of_candidate(subject.axle(), candidate);
                @let link = shown.link(|s| s.trial = trial).replacen("/place", path, 1);
                @let own = !moved && candidate.holes == used && candidate.with == shown.trial.with;
                a href=(link) aria-current=[own.then_some("true")] {
                    (candidate.name)
                    @if !candidate.setups.is_empty() { span.small { " " (candidate.setups.join(", ")) } }
                }
            }
            @if moved { a href=(shown.link(|_| {})) aria-current="true" { "on trial" } }
        }
    }
}
