//! Build: will it hold, and what is cut. Results on top, of the car with the holes that are on trial; what parts are made of
//! below, to be typed over. Nodes and tubes of the frame are written in the file.

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use paper::build::{build_section_in, hardest_case, part_section};
use project::model::Car;

use super::App;
use super::flow;
use super::measure::groups::{self, Group};
use super::measure::typing::{self, Typing};
use super::measure::values::{Field, unit};
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
    let length = unit(survey, "length", "mm");
    let force = unit(survey, "force", "N");
    let field = |path: &str, key: &str, words: &'static str, unit: &str, hint: &'static str| {
        Field::new(format!("{path}.{key}"), words, unit, hint)
    };
    let mut all = vec![Group {
        path: "build",
        title: "What is asked of every part",
        words: "Nodes, tubes and feet of the frame, load cases and parts of their own are written in the file.",
        fields: vec![
            field("build", "wanted", "holds, times", "", "its loads in every case; 1.5 is common practice"),
            field("build", "grade", "steel", "", "of tubes and tabs that state no other: S355"),
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
            fields: vec![
                field(links, "section", "section", "", "tube 25x3, bar 16"),
                field(links, "grade", "steel", "", "E355+N"),
                field(links, "thread", "thread", "", "M14x1.5"),
                field(links, "shank-class", "class of the shanks", "", "from the maker's sheet"),
                field(
                    links,
                    "radial-rating",
                    "rating across the hole",
                    &force,
                    "from the maker's sheet; or 42 kN",
                ),
                field(links, "axial-rating", "rating along the hole", &force, "from the maker's sheet"),
            ],
            first: vec!["section"],
        });
        all.push(Group {
            path: brackets,
            title: if front { "Front brackets" } else { "Rear brackets" },
            words: "What all brackets have that state nothing of their own.",
            fields: vec![
                field(brackets, "bolt", "bolt", "", "M12, 1/2-20"),
                field(brackets, "class", "class", "", "8.8, 10.9"),
                Field::one_of(
                    format!("{brackets}.shear"),
                    "shear",
                    &["double", "single"],
                    "between two tabs, or beside one",
                ),
                field(brackets, "grip", "width of the ball", &length, "along the bolt"),
                field(brackets, "gap", "spacer each side", &length, ""),
                field(brackets, "tab", "tab, thickness", &length, ""),
                field(brackets, "width", "tab, width", &length, ""),
                field(brackets, "edge", "hole to end", &length, "from the hole's middle"),
                field(brackets, "reach", "hole to weld", &length, "from the hole's middle"),
                field(brackets, "weld", "leg of the fillets", &length, ""),
                field(brackets, "weld-length", "weld on each face", &length, ""),
            ],
            first: vec!["bolt", "class", "tab", "width", "edge"],
        });
    }
    all
}
