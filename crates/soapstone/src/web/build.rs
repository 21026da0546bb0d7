//! Build: will it hold, and what is cut. Results on top, of the car with the holes that are on trial; what parts are made of
//! below, to be typed over, and so are the frame's nodes and tubes.

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use paper::build::{build_section_in, hardest_case, part_section};
use project::model::{Car, End};

use super::App;
use super::flow;
use super::measure::groups::{self, Group};
use super::measure::names::slug;
use super::measure::typing::{self, Typing};
use super::measure::values::{self, Field, unit};
use super::measure::{self, Survey};
use super::shown::Shown;
use super::stage::choice;

/// The page.
#[derive(Clone, Copy)]
struct Build;

/// The whole page.
pub(crate) async fn page(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    typing::page(Build, &app, query).await
}

/// Takes a form.
pub(crate) async fn save(State(app): State<App>, body: Bytes) -> Response {
    typing::save(Build, &app, &body).await
}

impl Typing for Build {
    fn title(self) -> &'static str {
        "Build"
    }

    fn stage(self) -> &'static str {
        "build"
    }

    fn path(self) -> &'static str {
        "/build"
    }

    fn parts(self, survey: &Survey<'_>, query: &str) -> Markup {
        let tables = groups::part(survey, &tables(survey));
        html! {
            div.measure.weigh {
                h1.unseen { "Build" }
                (measure::mistakes(survey))
                @match survey.car {
                    Some(car) => { (results(car, query)) }
                    None => section.sheet id="part-stage" {
                        p { "The file does not make a car yet; mend its mistakes first." }
                    }
                }
                (tables)
                (own(survey))
            }
        }
    }
}

fn results(base: &Car, query: &str) -> Markup {
    let shown = Shown::parse(query, base);
    let car = shown.trial.apply(base, shown.axle);
    let holes = shown.trial.all_holes(base, &car, shown.axle);
    let build = study::build::build(&car, shown.axle, &holes);
    let asked = form_urlencoded::parse(query.as_bytes()).find(|(key, _)| key == "case");
    let case = asked.and_then(|(_, name)| build.cases.iter().position(|case| case.name == name));
    let case = case.unwrap_or_else(|| hardest_case(&build));
    html! {
        section.sheet.built id="part-stage" aria-label="Results" {
            (choice("/build", base, &shown))
            (cases(&build, &shown, case))
            (flow::blocks(&build_section_in(&build, &car, case)))
            @if build.parts.iter().any(|part| part.worst().is_some()) {
                h2 { "How each margin comes about" }
                @for part in build.parts.iter().filter(|part| part.worst().is_some()) {
                    details data-part=(part.full_name()) {
                        summary { (part.kind.words()) " " (part.full_name()) }
                        (flow::blocks(&part_section(part, &build, &car)))
                    }
                }
            }
        }
    }
}

/// The load cases in which the frame can be drawn.
fn cases(build: &study::build::Build, shown: &Shown, drawn: usize) -> Markup {
    html! {
        @if build.frame.is_some() {
            nav.axles aria-label="Load case in which the frame is drawn" {
                @for (index, case) in build.cases.iter().enumerate() {
                    @let name: String = form_urlencoded::byte_serialize(case.name.as_bytes()).collect();
                    @let here = shown.link(|_| {}).replacen("/place", "/build", 1);
                    a href={ (here) (if here.contains('?') { "&" } else { "?" }) "case=" (name) }
                        aria-current=[(index == drawn).then_some("true")] { (case.title) }
                }
            }
        }
    }
}

/// What parts are made of.
fn tables(survey: &Survey<'_>) -> Vec<Group> {
    let mut all = vec![Group {
        path: "build",
        title: "What is asked of every part",
        words: "Feet and plates of the frame and load cases are written in the file; so is a new tube, or a table of a part's own.",
        fields: vec![
            Field::new("build.wanted", "holds, times", "", "its loads in every case; 1.5 is common practice"),
            Field::new("build.grade", "steel", "", "of tubes and tabs that state no other: S355"),
        ],
        first: vec!["wanted", "grade"],
    }];
    let axles: [[&'static str; 4]; 2] = [
        ["front.kind", "build.front.links", "build.front.brackets", "Front"],
        ["rear.kind", "build.rear.links", "build.rear.brackets", "Rear"],
    ];
    for [kind, links, brackets, which] in axles {
        if survey.typed.value(kind).is_none() || !survey.typed.has("build") {
            continue;
        }
        let front = which == "Front";
        all.push(Group {
            path: links,
            title: if front { "Front links" } else { "Rear links" },
            words: "What all links have that state nothing of their own.",
            fields: link_fields(survey, links),
            first: vec!["section"],
        });
        all.push(Group {
            path: brackets,
            title: if front { "Front brackets" } else { "Rear brackets" },
            words: "What all brackets have that state nothing of their own.",
            fields: bracket_fields(survey, brackets),
            first: vec!["bolt", "class", "tab", "width", "edge"],
        });
    }
    all
}

/// Figures of a link, or of all of an axle.
fn link_fields(survey: &Survey<'_>, path: &str) -> Vec<Field> {
    let force = unit(survey, "force", "N");
    let field = |key: &str, words: &'static str, unit: &str, hint| {
        Field::new(format!("{path}.{key}"), words, unit, hint)
    };
    vec![
        field("section", "section", "", "tube 25x3, bar 16"),
        field("grade", "steel", "", "E355+N"),
        field("thread", "thread", "", "M14x1.5"),
        field("shank-class", "class of the shanks", "", "from the maker's sheet"),
        field("radial-rating", "rating across the hole", &force, "from the maker's sheet; or 42 kN"),
        field("axial-rating", "rating along the hole", &force, "from the maker's sheet"),
    ]
}

/// Figures of a bracket, or of all of an axle.
fn bracket_fields(survey: &Survey<'_>, path: &str) -> Vec<Field> {
    let length = unit(survey, "length", "mm");
    let at = |key: &str| format!("{path}.{key}");
    let size = |key: &str, words: &'static str, hint| Field::new(at(key), words, &length, hint);
    vec![
        Field::new(at("bolt"), "bolt", "", "M12, 1/2-20"),
        Field::new(at("class"), "class", "", "8.8, 10.9"),
        Field::one_of(at("shear"), "shear", &["double", "single"], "between two tabs, or beside one"),
        size("grip", "width of the ball", "along the bolt"),
        size("gap", "spacer each side", ""),
        size("tab", "tab, thickness", ""),
        size("width", "tab, width", ""),
        size("edge", "hole to end", "from the hole's middle"),
        size("reach", "hole to weld", "from the hole's middle"),
        size("weld", "leg of the fillets", ""),
        size("weld-length", "weld on each face", ""),
        size("doubler", "doubler, thickness", "between the tabs and the frame's tube"),
    ]
}

/// Parts with figures of their own, and the frame.
fn own(survey: &Survey<'_>) -> Markup {
    let length = unit(survey, "length", "mm");
    let mut groups: Vec<(String, &'static str, Vec<Field>)> = Vec::new();
    for axle in [End::Front, End::Rear].into_iter().filter_map(|end| survey.car?.axle(end)) {
        let end = axle.end.name();
        let path = |name: &str| format!("build.{end}.{name}");
        let stated = |name: &&str| survey.typed.has(&path(name));
        for link in axle.scheme.lengths().map(|(name, ..)| name).filter(stated) {
            let words = "What is empty is as for all links.";
            groups.push((format!("{end} {link}"), words, link_fields(survey, &path(link))));
        }
        for point in axle.scheme.points.iter().map(String::as_str).filter(stated) {
            let words = "What is empty is as for all brackets.";
            groups.push((format!("{end} {point}, bracket"), words, bracket_fields(survey, &path(point))));
        }
    }
    let nodes = survey.typed.keys("build.frame.nodes");
    let place = |name: &String| Field::new(format!("build.frame.nodes.{name}"), name.clone(), &length, "");
    let words = "x, y, z in the survey's frame; what is off the middle is mirrored.";
    groups.push(("Nodes of the frame".into(), words, nodes.iter().map(place).collect()));
    let tube = |index: usize| {
        let at = |key: &str| format!("build.frame.tube.{index}.{key}");
        let said = |key: &str| survey.typed.value(&at(key)).map_or_else(String::new, |typed| typed.text);
        Field::new(at("section"), format!("{} to {}", said("from"), said("to")), "", "")
    };
    let tubes = (0..survey.typed.count("build.frame.tube")).map(tube).collect();
    groups.push(("Tubes of the frame".into(), "box 60x40x3, tube 30x2.5, tube 1 x 0.095 in", tubes));
    html! {
        section.sheet id="part-own" data-sheet="" aria-label="Parts of their own and the frame" {
            div.values {
                @for (title, words, fields) in groups.iter().filter(|(.., fields)| !fields.is_empty()) {
                    div.group {
                        h2 { (title) }
                        p.small { (words) }
                        (values::table(survey, &format!("own-{}", slug(title)), fields))
                    }
                }
            }
        }
    }
}
