//! `[rear.spring]`, `[rear.damper]`, `[rear.bar-link]`: what hangs between the body and the moving parts.

use linkage::Frame;
use suspension::kinds::carry_on_link;
use suspension::scheme::{Element, ElementRole, PointOn, Scheme, UPRIGHT};
use units::Dimension;

use super::{Parts, springing};
use crate::reader::Section;
use crate::suggest;

const ROLES: [(&str, ElementRole); 3] =
    [("spring", ElementRole::Spring), ("damper", ElementRole::Damper), ("bar-link", ElementRole::BarLink)];

/// Reads the elements of an axle. `None` when one of them is there and cannot be read.
pub(crate) fn read(axle: &Section<'_>, kind: &str, parts: &mut Parts<'_>) -> Option<()> {
    let mut complete = Some(());
    for (name, role) in ROLES {
        if let Some(section) = axle.section(name)
            && element(section, kind, name, role, parts).is_none()
        {
            complete = None;
        }
    }
    complete
}

fn element(
    section: Section<'_>,
    kind: &str,
    name: &str,
    role: ElementRole,
    parts: &mut Parts<'_>,
) -> Option<()> {
    let inner = if role == ElementRole::BarLink { "the end of the bar's arm" } else { "its end on the body" };
    let body = parts.book.need(&section, "body", &format!("{name}.body"), inner);
    let mount = parts.book.need(&section, "mount", &format!("{name}.mount"), "its moving end");
    let outer_frame = mounted_on(&section, kind, &mut parts.scheme);
    let inner_frame = if kind == "links" { body_on(&section, &parts.scheme) } else { Some(Frame::Ground) };
    let (rate, force) = if role == ElementRole::BarLink {
        (None, None)
    } else {
        (section.positive("rate", Dimension::Rate), section.quantity("force", Dimension::Force))
    };
    springing::read(&section, role, parts.scheme.elements.len(), rate, &mut parts.springing);
    section.finish(None);
    let ((), ()) = (body?, mount?);
    let (outer_frame, inner_frame) = (outer_frame?, inner_frame?);
    let scheme = &mut parts.scheme;
    let inner = PointOn { frame: inner_frame, point: scheme.add_point(format!("{name}.body")) };
    let outer = PointOn { frame: outer_frame, point: scheme.add_point(format!("{name}.mount")) };
    scheme.elements.push(Element {
        role,
        name: name.to_string(),
        inner,
        outer,
        rate: rate.map(|value| value.value),
        force: force.map(|value| value.value),
    });
    Some(())
}

/// What the moving end is fixed to.
fn mounted_on(section: &Section<'_>, kind: &str, scheme: &mut Scheme) -> Option<Frame> {
    let upright = Frame::Body(UPRIGHT);
    let Some(entry) = section.entry("on") else {
        if matches!(kind, "strut" | "semi-trailing-arm") {
            return Some(upright);
        }
        let all = carriers(kind, scheme).join("\", \"");
        section.missing("`on`", &format!("what its moving end is fixed to, one of \"{all}\""));
        return None;
    };
    let text = entry.text("the name of what carries it")?.trim();
    let carriers = carriers(kind, scheme);
    if !carriers.iter().any(|carrier| carrier == text) {
        let near = suggest::nearest(text, carriers.iter().map(String::as_str));
        let near = near.map_or(String::new(), |near| format!("did you mean \"{near}\"? "));
        entry.error(
            format!(
                "`{}` is \"{}\", and there is no such part here",
                entry.path,
                crate::entry::shorten(text)
            ),
            format!("{near}it may be \"{}\"", carriers.join("\", \"")),
        );
        return None;
    }
    match text {
        "upright" | "arm" | "blade" => Some(upright),
        "ground" => Some(Frame::Ground),
        body if kind == "links" => body_named(scheme, body),
        link => carry_on_link(scheme, link),
    }
}

/// What the inner end of an element is fixed to, for the kind that may have more bodies.
fn body_on(section: &Section<'_>, scheme: &Scheme) -> Option<Frame> {
    let Some(entry) = section.entry("body-on") else { return Some(Frame::Ground) };
    let text = entry.text("the name of a body")?.trim();
    let frame = if text == "ground" { Some(Frame::Ground) } else { body_named(scheme, text) };
    if frame.is_none() {
        let bodies = scheme.bodies.iter().map(String::as_str).chain(["ground"]);
        let hint = suggest::hint(text, bodies);
        let text = crate::entry::shorten(text);
        entry.error(format!("`{}` is \"{text}\", and there is no such body", entry.path), hint);
    }
    frame
}

fn body_named(scheme: &Scheme, name: &str) -> Option<Frame> {
    scheme.bodies.iter().position(|body| body == name).map(Frame::Body)
}

/// What something may be mounted on, by kind.
fn carriers(kind: &str, scheme: &Scheme) -> Vec<String> {
    if kind == "links" {
        return scheme.bodies.iter().cloned().chain(["ground".to_string()]).collect();
    }
    let mut all = vec!["upright".to_string()];
    match kind {
        "semi-trailing-arm" => all.push("arm".to_string()),
        "trailing-blade" => all.extend(["arm".to_string(), "blade".to_string()]),
        _ => {}
    }
    for point in &scheme.points {
        let carrier = match point.rsplit_once('.') {
            Some((arm, "ball")) => arm,
            Some((link, "upright")) => link,
            _ => continue,
        };
        all.push(carrier.to_string());
    }
    all
}
