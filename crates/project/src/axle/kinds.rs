//! The six kinds: which tables and points each one has.

use suspension::kinds;
use suspension::scheme::Scheme;
use units::Dimension;

use super::{Parts, joints};
use crate::model::Adjuster;
use crate::point::{Placing, PointBook, count};
use crate::reader::Section;
use crate::suggest;

/// Reads the tables of a kind. `None` with an error when there is not enough to know which points it has.
pub(crate) fn read<'f>(axle: &Section<'_>, kind: &str, placing: &'f Placing<'f>) -> Option<Parts<'f>> {
    let mut parts = Parts {
        scheme: Scheme::default(),
        book: PointBook::new(placing),
        adjusters: Vec::new(),
        rack_travel: None,
        springing: super::springing::Springing::default(),
    };
    match kind {
        "five-link" => five_link(axle, &mut parts)?,
        "double-wishbone" => double_wishbone(axle, &mut parts),
        "strut" => strut(axle, &mut parts),
        "trailing-blade" => trailing_blade(axle, &mut parts)?,
        "semi-trailing-arm" => semi_trailing_arm(axle, &mut parts),
        _ => joints::read(axle, &mut parts)?,
    }
    Some(parts)
}

fn five_link(axle: &Section<'_>, parts: &mut Parts<'_>) -> Option<()> {
    let names = links(axle, parts);
    let steered = steered(axle, &names);
    let rack = rack(axle, parts);
    match (&steered, rack) {
        (Steered::No, true) => axle.sink.error(
            &axle.span_of("rack"),
            format!("`[{}.rack]` is there, and no link rides on it", axle.path),
            format!("name the link in `[{}]`: steered = \"toe\"", axle.path),
        ),
        (Steered::Link(_), false) => axle.missing(
            &format!("`[{}.rack]`", axle.path),
            "the rack that the `steered` link rides on, with its `travel` each way",
        ),
        _ => {}
    }
    let names: [String; 5] = exactly(axle, names, "five-link", "five")?;
    let index = match steered {
        Steered::Link(index) if rack => Some(index),
        _ => None,
    };
    parts.scheme = kinds::five_link(&names, index);
    Some(())
}

enum Steered {
    No,
    Unclear,
    Link(usize),
}

fn steered(axle: &Section<'_>, names: &[String]) -> Steered {
    let Some(entry) = axle.entry("steered") else { return Steered::No };
    let Some(name) = entry.text("the name of a link") else { return Steered::Unclear };
    let name = name.strip_prefix("link.").unwrap_or(name);
    match names.iter().position(|link| link == name) {
        Some(index) => Steered::Link(index),
        None => {
            let hint = suggest::hint(name, names.iter().map(String::as_str));
            entry.error(format!("`{}` names `{name}`, and there is no such link", entry.path), hint);
            Steered::Unclear
        }
    }
}

fn trailing_blade(axle: &Section<'_>, parts: &mut Parts<'_>) -> Option<()> {
    if let Some(blade) = axle.need_section("blade", "the blade, with its `bush` on the body") {
        parts.book.need(&blade, "bush", "blade.bush", "the middle of the bush at the front of the blade");
        blade.finish(None);
    }
    let names = links(axle, parts);
    let names: [String; 3] = exactly(axle, names, "trailing-blade", "three")?;
    parts.scheme = kinds::trailing_blade(&names);
    Some(())
}

fn semi_trailing_arm(axle: &Section<'_>, parts: &mut Parts<'_>) {
    parts.scheme = kinds::semi_trailing_arm();
    if let Some(arm) = axle.need_section("arm", "the arm, with `pivot-inner` and `pivot-outer`") {
        parts.book.need(
            &arm,
            "pivot-inner",
            "arm.pivot-inner",
            "the middle of its bush nearer the centreline",
        );
        parts.book.need(&arm, "pivot-outer", "arm.pivot-outer", "the middle of its bush nearer the sill");
        arm.finish(None);
    }
}

fn double_wishbone(axle: &Section<'_>, parts: &mut Parts<'_>) {
    let rack = rack(axle, parts);
    parts.scheme = kinds::double_wishbone(rack);
    arm(axle, parts, "upper-arm");
    arm(axle, parts, "lower-arm");
    tie_rod(axle, parts, rack);
}

fn strut(axle: &Section<'_>, parts: &mut Parts<'_>) {
    let rack = rack(axle, parts);
    parts.scheme = kinds::strut(rack);
    if let Some(strut) = axle.need_section("strut", "the strut, with `top` and `lower`") {
        parts.book.need(&strut, "top", "strut.top", "the middle of the top mount");
        parts.book.need(&strut, "lower", "strut.lower", "a point low on the strut's axis");
        strut.finish(None);
    }
    arm(axle, parts, "lower-arm");
    tie_rod(axle, parts, rack);
}

fn arm(axle: &Section<'_>, parts: &mut Parts<'_>, name: &str) {
    let what = "the arm, with `body-fore`, `body-aft` and `ball`";
    let Some(section) = axle.need_section(name, what) else { return };
    parts.book.need(
        &section,
        "body-fore",
        &format!("{name}.body-fore"),
        "the middle of its front bush on the body",
    );
    parts.book.need(
        &section,
        "body-aft",
        &format!("{name}.body-aft"),
        "the middle of its rear bush on the body",
    );
    parts.book.need(&section, "ball", &format!("{name}.ball"), "the middle of its outer ball");
    section.finish(None);
}

fn tie_rod(axle: &Section<'_>, parts: &mut Parts<'_>, rack: bool) {
    let what = "the rod that steers the upright, or holds its toe, with `body` and `upright`";
    let Some(section) = axle.need_section("tie-rod", what) else { return };
    link(section, parts, "tie-rod");
    if axle.path == "front" && !rack {
        axle.sink.note(
            &axle.span_of("tie-rod"),
            "without `[front.rack]` the tie rod is read as a toe link on the body".to_string(),
            "add `[front.rack]` with its `travel` each way, and the wheel steers".to_string(),
        );
    }
}

/// Reads `[X.rack]`; whether there is one.
fn rack(axle: &Section<'_>, parts: &mut Parts<'_>) -> bool {
    let Some(section) = axle.section("rack") else { return false };
    let travel = section.need("travel", "how far it moves each way from straight ahead");
    parts.rack_travel = travel.and_then(|travel| travel.positive(Dimension::Length)).map(|value| value.value);
    section.finish(None);
    true
}

/// Reads the tables `[X.link.NAME]`; returns the names.
fn links(axle: &Section<'_>, parts: &mut Parts<'_>) -> Vec<String> {
    let mut names = Vec::new();
    for (name, section) in axle.named_sections("link") {
        link(section, parts, &format!("link.{name}"));
        names.push(name);
    }
    names
}

fn exactly<const N: usize>(
    axle: &Section<'_>,
    names: Vec<String>,
    kind: &str,
    word: &str,
) -> Option<[String; N]> {
    let found = names.len();
    let list = suggest::list(names.iter().map(String::as_str));
    let exact = names.try_into().ok();
    if exact.is_none() {
        let there = if found == 0 { "none".to_string() } else { format!("{}: {list}", count(found, "link")) };
        axle.sink.error(
            &axle.span,
            format!("a {kind} has {word} links, and `[{}]` has {there}", axle.path),
            format!(
                "each is a table `[{}.link.NAME]` with `body` and `upright`; any names will do",
                axle.path
            ),
        );
    }
    exact
}

/// Reads a rod with two ends, and its thread if it can be turned.
fn link(section: Section<'_>, parts: &mut Parts<'_>, name: &str) {
    parts.book.need(&section, "body", &format!("{name}.body"), "the middle of its end on the body");
    parts.book.need(&section, "upright", &format!("{name}.upright"), "the middle of its end on the upright");
    let pitch = section.positive("thread", Dimension::Pitch);
    let sleeve = section.word("sleeve", &["one-thread", "left-right"]);
    if sleeve.is_some() && !section.has("thread") {
        section.missing("`thread`", "the thread that the sleeve turns on, such as \"M14x1.5\" or \"18 tpi\"");
    }
    if let Some(pitch) = pitch {
        let per_turn = if sleeve == Some("left-right") { 2.0 * pitch.value } else { pitch.value };
        parts.adjusters.push(Adjuster { joint: name.to_string(), per_turn });
    }
    section.finish(None);
}
