//! Paper: what can be had as a file, and points that come in from one. Not a stage: it lays out what the stages say.

mod files;
mod points;
mod preview;

use axum::extract::{RawQuery, State};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use project::edit::AsTyped;
use project::model::{Car, End};

use super::App;
use super::desk::Desk;
use super::measure::asked::Asked;
use super::page::{Sheet, layout};
use crate::files::Kind;

pub(crate) use files::get;
pub(crate) use points::{MOST_UPLOAD, take, upload};
use preview::Looked;

/// The page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let desk = app.desk.lock().await;
    let query = query.unwrap_or_default();
    let took = form_urlencoded::parse(query.as_bytes()).any(|(key, _)| key == "took");
    show(&app, &desk, &query, took.then_some(Said::Took).as_ref()).into_response()
}

/// What came of a form.
enum Said {
    /// Points are in the file.
    Took,
    /// A table with what is taken from where.
    Looked(Box<Looked>),
    /// What is wrong with the whole of it.
    Wrong(String, Option<String>),
}

fn show(app: &App, desk: &Desk, query: &str, said: Option<&Said>) -> Markup {
    let typed = AsTyped::of(desk.text());
    let asked = Asked::parse(query, desk.car(), typed.as_ref());
    let rest: Vec<(String, String)> = form_urlencoded::parse(asked.query().as_bytes())
        .filter(|(key, _)| key != "took")
        .map(|(key, value)| (key.into_owned(), value.into_owned()))
        .collect();
    let shared = form_urlencoded::Serializer::new(String::new()).extend_pairs(rest).finish();
    let body = html! {
        div.papers {
            h1 { "Paper and files" }
            @match desk.car() {
                Some(car) => { (book(car)) (templates(car)) (jigs(car)) (cards(car)) (tables(car)) }
                None => section.problem {
                    p { "The file does not make a car yet, so that there is nothing to print." }
                    p { a.button.main href="/measure" { "Mend its mistakes" } }
                }
            }
            (points::part(app, desk, asked.axle, said))
        }
    };
    layout(app, desk, Sheet { title: "Paper", stage: "paper", query: &shared, body })
}

/// Address of a file.
fn address(what: &str, kind: Kind, more: &[(&str, &str)]) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    query.append_pair("as", kind.ending()).extend_pairs(more);
    format!("/paper/get/{what}?{}", query.finish())
}

/// One thing that can be had, with a link for each kind of file.
fn thing(name: &str, words: &str, links: &[(String, String)]) -> Markup {
    html! {
        li {
            p { b { (name) } " " span.small { (words) } }
            p.gets {
                @for (label, to) in links {
                    a.button href=(to) download="" aria-label={ (name) ": " (label) } { (label) }
                }
            }
        }
    }
}

/// A link for each kind.
fn kinds(what: &str, kinds: &[Kind], more: &[(&str, &str)]) -> Vec<(String, String)> {
    kinds.iter().map(|kind| (kind.ending().to_uppercase(), address(what, *kind, more))).collect()
}

/// Links for PDFs on either paper.
fn papers(what: &str, more: &[(&str, &str)]) -> Vec<(String, String)> {
    let paper = |label: &str, name: &str| {
        let more: Vec<(&str, &str)> = more.iter().copied().chain([("paper", name)]).collect();
        (format!("PDF, {label}"), address(what, Kind::Pdf, &more))
    };
    vec![paper("A4", "a4"), paper("Letter", "letter")]
}

fn axles(car: &Car) -> impl Iterator<Item = &project::model::Axle> {
    [End::Front, End::Rear].into_iter().filter_map(|end| car.axle(end))
}

fn book(car: &Car) -> Markup {
    html! {
        section aria-labelledby="paper-book" {
            h2 id="paper-book" { "The book" }
            p { "All of it on paper: choice table, drawings, stages, setup cards, jig sheets, templates at 1:1, the survey, worked \
                 numbers and what was assumed. It can be read without the program." }
            ul.files { (thing(&car.name, "one PDF with bookmarks", &papers("book", &[]))) }
        }
    }
}

fn templates(car: &Car) -> Markup {
    let plates = || axles(car).flat_map(|axle| axle.plates.iter().map(move |plate| (axle.end, plate)));
    html! {
        section aria-labelledby="paper-templates" {
            h2 id="paper-templates" { "Drilling templates at 1:1" }
            @if plates().next().is_none() {
                p.small { "The file has no plate to drill. One is a " code { "[rear.plate.NAME]" } " with its corners and its bolt." }
            } @else {
                p { "Print at 100 %, not fitted to the page, and measure the bars before you punch. DXF is in mm with the layers cut, drill and mark." }
                ul.files {
                    @for (end, plate) in plates() {
                        @for (side, words) in [("left", "as surveyed"), ("right", "the mirror of the left one")] {
                            @let more = [("axle", end.name()), ("plate", plate.name.as_str()), ("side", side)];
                            @let mut links = papers("template", &more);
                            @let () = links.extend(kinds("template", &[Kind::Svg, Kind::Dxf], &more));
                            (thing(&format!("{}, {} axle, {side}", plate.name, end.name()), words, &links))
                        }
                    }
                }
            }
        }
    }
}

fn jigs(car: &Car) -> Markup {
    html! {
        section aria-labelledby="paper-jigs" {
            h2 id="paper-jigs" { "Jig sheets" }
            p { "Where every place is, how exact it has to be and why, the tapes and diagonals that check it. Set the car level on rated stands first." }
            ul.files {
                @for axle in axles(car) {
                    @let more = [("axle", axle.end.name())];
                    @let mut links = papers("jig", &more);
                    @let () = links.extend(kinds("jig", &[Kind::Xlsx, Kind::Csv], &more));
                    (thing(&format!("{} axle", axle.end.name()), "in your survey's own frame and unit", &links))
                }
            }
        }
    }
}

fn cards(car: &Car) -> Markup {
    html! {
        section aria-labelledby="paper-cards" {
            h2 id="paper-cards" { "Setup cards" }
            p { "A page a setup: what is set, and the jobs from every other setup, each with a box to tick." }
            ul.files {
                @if car.setups.is_empty() {
                    (thing("as drawn", "the file has no setups; one is a [setup.NAME]", &papers("card", &[])))
                } @else {
                    (thing("all setups", "", &papers("card", &[])))
                    @for setup in &car.setups {
                        (thing(&setup.name, "", &papers("card", &[("setup", setup.name.as_str())])))
                    }
                }
            }
        }
    }
}

fn tables(car: &Car) -> Markup {
    let sheets = [Kind::Xlsx, Kind::Csv];
    let zip = |picture: &'static str| {
        (format!("{}, packed", picture.to_uppercase()), address("charts", Kind::Zip, &[("of", picture)]))
    };
    html! {
        section aria-labelledby="paper-tables" {
            h2 id="paper-tables" { "For other programs" }
            ul.files {
                (thing("Points", &format!("with their ±: {}", car.frame.description()), &kinds("points", &sheets, &[])))
                (thing("Results", "choice table, Stop, Balance and Weigh with their ±", &kinds("results", &sheets, &[])))
                (thing(
                    "Skeleton",
                    "links, arms, axes and wheels of both sides in space, in mm and the car's axes",
                    &kinds("skeleton", &[Kind::Dxf, Kind::Step], &[]),
                ))
                (thing("Views and charts", "all of them in one file", &[zip("svg"), zip("png")]))
            }
        }
    }
}
