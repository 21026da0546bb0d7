//! What links and brackets of an axle are made of: `[build.rear.links]` and `[build.rear.brackets]` for all of them, and
//! tables with the same names as the links and points that they are about: `[build.rear.link.lower-fore]`,
//! `[build.rear.link.lower-fore.body]`.

use steel::grade::{Class, classes};
use steel::stock::{self, BoltSize};
use units::Dimension;

use super::{grade, section as shape};
use crate::axle::Context;
use crate::entry::{Entry, Node, shorten};
use crate::model::{Axle, AxleBuild, BracketReading, End, LinkReading};
use crate::point::{self, Placing};
use crate::reader::Section;
use crate::suggest;

/// Keys of a link's table.
fn link(section: Section<'_>) -> LinkReading {
    let reading = link_keys(&section);
    section.finish(None);
    reading
}

fn link_keys(section: &Section<'_>) -> LinkReading {
    let force = |key: &str| section.positive(key, Dimension::Force).map(|v| v.value);
    LinkReading {
        section: section.entry("section").and_then(|entry| shape(&entry)),
        grade: section.entry("grade").and_then(|entry| grade(&entry)),
        thread: section.entry("thread").and_then(|entry| bolt(&entry)),
        housed: section.word("ends", &["rod-ends", "bearings"]).map(|word| word == "bearings"),
        shank: section.entry("shank-class").and_then(|entry| class(&entry)),
        ball_to_nut: section.positive("ball-to-nut", Dimension::Length).map(|v| v.value),
        radial: force("radial-rating"),
        axial: force("axial-rating"),
        span: section.span.clone(),
    }
}

/// Keys of a bracket's table.
fn bracket(section: Section<'_>, context: &Context<'_>, mirrored: bool) -> BracketReading {
    let reading = bracket_keys(&section, context, mirrored);
    section.finish(None);
    reading
}

fn bracket_keys(section: &Section<'_>, context: &Context<'_>, mirrored: bool) -> BracketReading {
    let length = |key: &str| section.positive(key, Dimension::Length).map(|v| v.value);
    let truth = |key: &str| section.entry(key).and_then(|entry| entry.truth());
    let direction = |key: &str| {
        let written = section.entry(key).and_then(|entry| point::direction(&entry))?;
        let placing = Placing { frame: context.frame, accuracy: context.accuracy, mirrored };
        Some(placing.turn(written))
    };
    BracketReading {
        bolt: section.entry("bolt").and_then(|entry| bolt(&entry)),
        class: section.entry("class").and_then(|entry| class(&entry)),
        double: section.word("shear", &["double", "single"]).map(|word| word == "double"),
        thread_in_shear: truth("thread-in-shear"),
        gap: section.quantity("gap", Dimension::Length).map(|v| v.value.max(0.0)),
        grip: length("grip"),
        torqued: truth("torqued"),
        tab: length("tab"),
        width: length("width"),
        edge: length("edge"),
        hole: length("hole"),
        reach: length("reach"),
        grade: section.entry("grade").and_then(|entry| grade(&entry)),
        weld: length("weld"),
        weld_length: length("weld-length"),
        doubler: length("doubler"),
        bolt_along: direction("bolt-along"),
        tab_along: direction("tab-along"),
        span: section.span.clone(),
    }
}

/// Reads `[build.rear]`: what all links and brackets have, and every table that bears the name of a part or of a point.
pub(super) fn read(
    build: &Section<'_>,
    end: End,
    axle: Option<&Axle>,
    context: &Context<'_>,
) -> Option<AxleBuild> {
    let section = build.section(end.name())?;
    let Some(axle) = axle else {
        section.sink.error(
            &section.span,
            format!("there is no `[{}]` that could be read for {} to be about", end.name(), section.title()),
            None,
        );
        section.leave();
        return None;
    };
    let mut own = AxleBuild {
        links: section.section("links").map_or_else(LinkReading::default, link),
        brackets: section
            .section("brackets")
            .map_or_else(BracketReading::default, |s| bracket(s, context, axle.mirrored)),
        ..AxleBuild::default()
    };
    Walk { end, axle, context }.walk(&mut own, section, "");
    Some(own)
}

/// Walks the tables of one axle.
struct Walk<'a, 'f> {
    end: End,
    axle: &'a Axle,
    context: &'a Context<'f>,
}

impl Walk<'_, '_> {
    /// Whether a name is that of a link or an arm; the legs of an arm share its name.
    fn is_part(&self, path: &str) -> bool {
        let scheme = &self.axle.scheme;
        let leg =
            |name: &str| name.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
        !path.is_empty()
            && (scheme.lengths().any(|(name, ..)| leg(name))
                || scheme.bodies.iter().skip(1).any(|b| b == path))
    }

    /// `path` is the name so far within the axle: `link.lower-fore`.
    fn walk(&self, own: &mut AxleBuild, section: Section<'_>, path: &str) {
        let points = &self.axle.scheme.points;
        if let Some(point) = self.axle.scheme.point(path) {
            let reading = bracket_keys(&section, self.context, self.axle.mirrored);
            own.own_brackets.push((point, reading.over(&own.brackets)));
            section.finish(None);
            return;
        }
        let is_part = self.is_part(path);
        if is_part {
            let reading = link_keys(&section);
            own.own_links.push((path.to_string(), reading.over(&own.links)));
        }
        for key in section.keys() {
            let below = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
            let known = points.iter().any(|p| *p == below || p.starts_with(&format!("{below}.")));
            if !known {
                continue;
            }
            if let Some(entry) = section.entry(key)
                && let Some(table) = entry.table()
            {
                self.walk(own, table, &below);
            }
        }
        if is_part {
            section.finish(None);
            return;
        }
        // What is left are tables that name nothing of this axle: told with the nearest name.
        for key in section.keys() {
            let below = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
            let known = points.iter().any(|p| *p == below || p.starts_with(&format!("{below}.")));
            if known || (path.is_empty() && ["links", "brackets"].contains(&key)) {
                continue;
            }
            let Some(entry) = section.entry(key) else { continue };
            let what = if matches!(entry.node, Node::Table(_)) { "part or point" } else { "key" };
            let names = points.iter().map(String::as_str);
            entry.sink.error(
                &entry.key_span,
                format!("there is no {what} `{}` on the {} axle", shorten(&below), self.end.name()),
                suggest::hint(&below, names),
            );
        }
        section.leave();
    }
}

/// A bolt or thread by its size, such as `M12` or `M14x1.5` or `1/2-20`.
fn bolt(entry: &Entry<'_>) -> Option<&'static BoltSize> {
    let text = entry.text("a size, such as \"M12\" or \"1/2-20\",")?;
    let found = stock::bolts().iter().find(|bolt| bolt.name.eq_ignore_ascii_case(text.trim()));
    if found.is_none() {
        let names: Vec<&str> = stock::bolts().iter().map(|b| b.name.as_str()).collect();
        entry.error(
            format!("`{}` does not know the size `{}`", entry.path, shorten(text)),
            suggest::hint(text, names.iter().copied())
                .or_else(|| Some("sizes are written like \"M12\", \"M14x1.5\" or \"1/2-20\"".to_string())),
        );
    }
    found
}

/// A property class such as `10.9`.
fn class(entry: &Entry<'_>) -> Option<&'static Class> {
    let text = entry.text("a property class, such as \"10.9\",")?;
    let found = classes().iter().find(|class| class.name.eq_ignore_ascii_case(text.trim()));
    if found.is_none() {
        let names: Vec<&str> = classes().iter().map(|c| c.name.as_str()).collect();
        entry.error(
            format!("`{}` does not know the class `{}`", entry.path, shorten(text)),
            Some(format!("it may be {}", suggest::list(names.iter().copied()))),
        );
    }
    found
}

impl LinkReading {
    /// This, with the usual figures where it states none.
    fn over(self, usual: &Self) -> Self {
        let usual = usual.clone();
        Self {
            section: self.section.or(usual.section),
            grade: self.grade.or(usual.grade),
            thread: self.thread.or(usual.thread),
            housed: self.housed.or(usual.housed),
            shank: self.shank.or(usual.shank),
            ball_to_nut: self.ball_to_nut.or(usual.ball_to_nut),
            radial: self.radial.or(usual.radial),
            axial: self.axial.or(usual.axial),
            span: self.span,
        }
    }
}

impl BracketReading {
    /// This, with the usual figures where it states none.
    fn over(self, usual: &Self) -> Self {
        let usual = usual.clone();
        Self {
            bolt: self.bolt.or(usual.bolt),
            class: self.class.or(usual.class),
            double: self.double.or(usual.double),
            thread_in_shear: self.thread_in_shear.or(usual.thread_in_shear),
            gap: self.gap.or(usual.gap),
            grip: self.grip.or(usual.grip),
            torqued: self.torqued.or(usual.torqued),
            tab: self.tab.or(usual.tab),
            width: self.width.or(usual.width),
            edge: self.edge.or(usual.edge),
            hole: self.hole.or(usual.hole),
            reach: self.reach.or(usual.reach),
            grade: self.grade.or(usual.grade),
            weld: self.weld.or(usual.weld),
            weld_length: self.weld_length.or(usual.weld_length),
            doubler: self.doubler.or(usual.doubler),
            bolt_along: self.bolt_along.or(usual.bolt_along),
            tab_along: self.tab_along.or(usual.tab_along),
            span: self.span,
        }
    }
}
