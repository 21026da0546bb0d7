//! Values that are no points: the frame, the wheel, links and springs, plates, the car's own.

use maud::{Markup, html};
use project::edit::Typed;

use super::Survey;
use super::names::slug;
use super::row::why;

/// One value of the file.
pub(crate) struct Field {
    /// Path in the file.
    pub path: String,
    pub words: String,
    /// Unit of a bare number.
    pub unit: String,
    hint: &'static str,
    /// Words that it may be; empty for anything.
    pub choices: Vec<&'static str>,
}

impl Field {
    pub(crate) fn new(
        path: impl Into<String>,
        words: impl Into<String>,
        unit: &str,
        hint: &'static str,
    ) -> Self {
        Self { path: path.into(), words: words.into(), unit: unit.into(), hint, choices: Vec::new() }
    }

    pub(crate) fn one_of(
        path: impl Into<String>,
        words: impl Into<String>,
        choices: &[&'static str],
        hint: &'static str,
    ) -> Self {
        Self { choices: choices.to_vec(), ..Self::new(path, words, "", hint) }
    }
}

/// A unit of the file, by its key in `[units]`.
pub(crate) fn unit(survey: &Survey<'_>, key: &str, other: &str) -> String {
    survey.typed.value(&format!("units.{key}")).map_or_else(|| other.to_string(), |typed| typed.text)
}

/// The frame, in words and to be changed.
pub(crate) fn frame(survey: &Survey<'_>) -> Markup {
    let length = unit(survey, "length", "mm");
    let said = |key: &str| survey.typed.value(&format!("survey.{key}")).map(|typed| typed.text);
    let axis = |key: &str, choices: &[&'static str]| {
        let words = format!("{key} runs");
        // A datum of the reader's own is a choice that is there already.
        Field::one_of(format!("survey.{key}"), words, choices, "")
    };
    let fields = vec![
        Field::new(
            "survey.accuracy",
            "± of one coordinate",
            &length,
            "one standard deviation; a point may state its own",
        ),
        axis(
            "x",
            &[
                "rearward from front axle",
                "forward from front axle",
                "rearward from rear axle",
                "forward from rear axle",
            ],
        ),
        axis("y", &["left from centreline", "right from centreline"]),
        axis("z", &["up from ground", "down from ground"]),
        Field::one_of(
            "units.length",
            "a bare number is in",
            &["mm", "m", "in", "ft"],
            "no figure is converted: every bare number then means the other unit",
        ),
    ];
    html! {
        section.frame id="part-frame" data-sheet="" aria-label="The survey's frame" {
            p.said data-row="frame-said" {
                @for key in ["x", "y", "z"] { b { (key) } " " (said(key).unwrap_or_else(|| "not said".into())) "; " }
                b { "±" } " " (said("accuracy").unwrap_or_else(|| "2 mm, taken".into()))
                " where a point says nothing else; bare numbers in " b { (length) }
            }
            details {
                summary { "Change the frame, its ± or the unit" }
                (table(survey, "frame", &fields))
            }
        }
    }
}

/// The wheel, links that can be turned, springs and mountings of the axle.
pub(crate) fn axle(survey: &Survey<'_>) -> Markup {
    let end = survey.asked.axle.name();
    let length = unit(survey, "length", "mm");
    let force = unit(survey, "force", "N");
    let rate = if force == "lbf" { "lbf/in" } else { "N/mm" };
    let has = |path: &str| survey.typed.has(&format!("{end}.{path}"));
    let at = |path: &str| format!("{end}.{path}");
    let mut wheel = vec![
        Field::new(
            at("wheel.loaded-radius"),
            "loaded radius",
            &length,
            "from the wheel's middle down to the floor",
        ),
        Field::new(at("wheel.toe"), "toe of one wheel", "deg", "toe-in is positive"),
        Field::new(at("wheel.camber"), "camber", "deg", "negative: the top leans in"),
        Field::new(at("wheel.rim-diameter"), "rim diameter", &length, "toe is then also shown across it"),
        Field::one_of(at("brakes"), "brakes", &["outboard", "inboard"], "outboard: at the wheel"),
    ];
    if survey.typed.value(&at("final-drive")).is_some() {
        wheel.push(Field::one_of(at("final-drive"), "final drive", &["body", "axle"], "body: half-shafts"));
    }
    if has("rack") {
        wheel.push(Field::new(at("rack.travel"), "rack travel", &length, "each way from straight ahead"));
    }
    for name in ["spring", "damper"] {
        if has(name) && name == "spring" {
            wheel.push(Field::new(at("spring.rate"), "spring rate", rate, "along the spring"));
            wheel.push(Field::new(
                at("spring.force"),
                "spring force",
                &force,
                "what it carries at ride height",
            ));
        }
    }
    let mut links: Vec<(String, String)> =
        survey.typed.tables(&at("link")).into_iter().map(|name| (format!("link.{name}"), name)).collect();
    if has("tie-rod") {
        links.push(("tie-rod".into(), "tie rod".into()));
    }
    let threads: Vec<Field> = links
        .iter()
        .flat_map(|(path, name)| {
            let thread = Field::new(
                at(&format!("{path}.thread")),
                format!("{name}: thread"),
                "",
                "M14x1.5 or 18 tpi; empty if its length is fixed",
            );
            let sleeve = Field::one_of(
                at(&format!("{path}.sleeve")),
                format!("{name}: sleeve"),
                &["one-thread", "left-right"],
                "left-right: both ends turn at once",
            );
            let turned = survey.typed.has(&at(&format!("{path}.thread")));
            [Some(thread), turned.then_some(sleeve)]
        })
        .flatten()
        .collect();
    html! {
        section.sheet id="part-wheel" data-sheet="" aria-label="Wheel and springs" {
            h2 { (end) " wheel and spring" }
            (table(survey, "wheel", &wheel))
            @if !threads.is_empty() {
                h2 { "Links whose length can be turned" }
                (table(survey, "links", &threads))
            }
        }
    }
}

/// What a plate says beside its corners.
pub(crate) fn plate(survey: &Survey<'_>, name: &str) -> Markup {
    let at = |key: &str| format!("{}.plate.{name}.{key}", survey.asked.axle.name());
    let length = unit(survey, "length", "mm");
    let fields = [
        Field::new(at("bolt"), "bolt", "", "its diameter, or a thread such as M12"),
        Field::new(at("link-length"), "link from, to", &length, "shortest and longest, parted by a comma"),
        Field::new(at("spacing"), "between holes", "bolts", "in bolt diameters; 2.5 if empty"),
        Field::new(at("edge"), "to the edge", "bolts", "in bolt diameters; 1.5 if empty"),
        Field::new(at("accuracy"), "± of a hole", &length, "drilled through a template; 0.5 mm if empty"),
    ];
    table(survey, &format!("plate-{}", slug(name)), &fields)
}

/// The car's own values.
pub(crate) fn car(survey: &Survey<'_>) -> Markup {
    let length = unit(survey, "length", "mm");
    let driven = survey.typed.value("car.driven").map(|typed| typed.text);
    let mut fields = vec![
        Field::new("car.name", "name", "", ""),
        Field::one_of("car.driven", "driven wheels", &["front", "rear", "all"], ""),
        Field::new(
            "car.cg-height",
            "centre of gravity, height",
            &length,
            "a guess with an honest ± will do: 480 ± 20",
        ),
        Field::new(
            "brakes.front-share",
            "braking at the front",
            "",
            "share of the force: 0.64 or 64 % ± 3 %",
        ),
    ];
    if survey.typed.has("car.wheelbase") || !(survey.typed.has("front") && survey.typed.has("rear")) {
        fields.push(Field::new(
            "car.wheelbase",
            "wheelbase",
            &length,
            "only needed while one axle is not in the file",
        ));
    }
    if driven.as_deref() == Some("all") {
        fields.push(Field::new("drive.front-share", "drive at the front", "", "share of the torque: 0.4"));
    }
    html! {
        section.sheet id="part-car" data-sheet="" aria-label="Car" {
            h2 { "Car" }
            (table(survey, "car", &fields))
        }
    }
}

/// A table of values: what, value, unit.
pub(crate) fn table(survey: &Survey<'_>, name: &str, fields: &[Field]) -> Markup {
    let form = format!("form-{name}");
    let typed: Vec<Option<Typed>> = fields.iter().map(|field| survey.typed.value(&field.path)).collect();
    html! {
        table.plain {
            tbody {
                @for (field, typed) in fields.iter().zip(&typed) { (line(survey, &form, field, typed.as_ref())) }
            }
        }
        (save(survey, &form, fields))
    }
}

/// The form of some values, for a browser without scripts.
pub(crate) fn save(survey: &Survey<'_>, form: &str, fields: &[Field]) -> Markup {
    html! {
        form.no-script id=(form) method="post" action=(survey.action()) {
            input type="hidden" name="back" value=(survey.back());
            @for field in fields {
                input type="hidden" name={ "was:value:" (field.path) }
                    value=(survey.typed.value(&field.path).map_or_else(String::new, |typed| typed.text));
            }
            button { "Save" }
        }
    }
}

fn line(survey: &Survey<'_>, form: &str, field: &Field, typed: Option<&Typed>) -> Markup {
    let id = format!("value-{}", slug(&field.path));
    html! {
        tr data-row=(field.path) {
            th scope="row" { label for=(id) { (field.words) } @if !field.hint.is_empty() { span.small { (field.hint) } } }
            (cell(survey, form, field, typed, None))
        }
    }
}

/// The cell of a value; `label` is its name where no row or column says it.
pub(crate) fn cell(
    survey: &Survey<'_>,
    form: &str,
    field: &Field,
    typed: Option<&Typed>,
    label: Option<&str>,
) -> Markup {
    let name = format!("value:{}", field.path);
    let id = format!("value-{}", slug(&field.path));
    let kept = survey.kept.as_ref().and_then(|kept| Some((kept, kept.fields.any(&name)?)));
    let text = kept.map_or_else(|| typed.map_or("", |typed| typed.text.as_str()), |(_, text)| text);
    let blame = kept.map(|(kept, _)| kept).filter(|kept| kept.cell == name);
    let about = typed.map(|typed| survey.mistakes.take(&typed.span)).unwrap_or_default();
    let wrong = blame.is_some() || about.iter().any(|d| d.severity == project::Severity::Error);
    let why_id = format!("why-{id}");
    let told = blame.is_some() || !about.is_empty();
    html! {
            td data-cell=(name) data-path=(field.path) data-axis=[label.map(|_| field.words.as_str())] {
                @if field.choices.is_empty() {
                    input id=(id) name=(name) form=(form) value=(text) size="14" inputmode="text" autocomplete="off" aria-label=[label]
                        spellcheck="false" readonly[survey.read_only] aria-invalid=[wrong.then_some("true")]
                        aria-describedby=[told.then_some(&why_id)] data-refused=[blame.map(|_| "")];
                } @else {
                    select id=(id) name=(name) form=(form) aria-label=[label] disabled[survey.read_only] aria-invalid=[wrong.then_some("true")]
                        aria-describedby=[told.then_some(&why_id)] {
                        @if text.is_empty() { option value="" selected { "not said" } }
                        @else if !field.choices.contains(&text) { option value=(text) selected { (text) } }
                        @for choice in &field.choices { option value=(choice) selected[text == *choice] { (choice) } }
                    }
                }
                @if !field.unit.is_empty() { span.unit { " " (field.unit) } }
                @if let Some(kept) = blame {
                    p.why id=(why_id) role="alert" { (kept.message) @if let Some(hint) = &kept.hint { span.hint { " " (hint) } } }
                }
                @for (i, diagnostic) in about.iter().enumerate() {
                    (why((i == 0 && blame.is_none()).then_some(why_id.as_str()), diagnostic))
                }
            }
    }
}
