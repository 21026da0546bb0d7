//! What stands around the frame: title and words, legend, scale.

use super::places::Shape;
use super::tubes;
use super::usage::{self, Class};
use super::{FrameSpec, FrameView, Sheet};
use crate::labels::{LINE, elide};
use crate::plane::{Rect, Spot};
use crate::svg;
use crate::text_width;

/// From the page's edge to words \[px\].
const EDGE: f64 = 8.0;

/// Of the page's height the words above the frame, and the legend below it, take at most this.
const MOST: f64 = 0.36;

/// Length of a sample of the legend, and the gap to its words \[px\].
const SAMPLE: f64 = 32.0;
const GAP: f64 = 6.0;

/// Between entries of the legend \[px\].
const APART: f64 = 14.0;

/// How many names are told of the tubes that are too weak.
const NAMED: usize = 3;

/// What stands where there is nothing to draw.
const EMPTY: &str = "no tubes to draw";

/// The whole drawing in a sentence, for those who do not see it.
pub(crate) fn summary(spec: &FrameSpec, shapes: &[Shape<'_>]) -> String {
    let mut text = spec.title.clone();
    for more in [&spec.words, view_words(spec.from), &give_words(spec, shapes)] {
        if !more.is_empty() {
            text.push_str(if text.is_empty() { "" } else { "; " });
            text.push_str(more);
        }
    }
    text.push_str("; ");
    match shapes.len() {
        0 => text.push_str(EMPTY),
        1 => text.push_str("1 tube"),
        tubes => text.push_str(&format!("{tubes} tubes")),
    }
    let most = shapes.iter().filter(|s| s.class != Class::Unknown);
    if let Some(shape) = most.max_by(|a, b| a.tube.uses.total_cmp(&b.tube.uses)) {
        text.push_str(&format!(", most in use: {} {}", shape.tube.name, usage::text(shape.tube.uses)));
    }
    for more in [weak_words(shapes)].into_iter().chain(doubts(spec, shapes)).filter(|w| !w.is_empty()) {
        text.push_str("; ");
        text.push_str(&more);
    }
    text
}

fn view_words(from: FrameView) -> &'static str {
    match from {
        FrameView::Left => "seen from the left, front to the left",
        FrameView::Behind => "seen from behind, left side to the left",
        FrameView::Above => "seen from above, front to the left, left side below",
        FrameView::Corner => "seen from behind, left and above",
    }
}

/// How the give is drawn.
fn give_words(spec: &FrameSpec, shapes: &[Shape<'_>]) -> String {
    let gives = shapes.iter().flat_map(|s| &s.tube.moved).any(|m| m.norm() > 0.0);
    let larger = spec.larger();
    if shapes.is_empty() {
        String::new()
    } else if larger == 0.0 {
        "give not drawn".into()
    } else if !gives {
        "no give to draw".into()
    } else if larger == 1.0 {
        "give drawn at its true size".into()
    } else if larger < 0.01 {
        "give drawn far smaller than it is".into()
    } else {
        format!("give drawn {} times larger", (larger * 100.0).round() / 100.0)
    }
}

/// How many tubes are too weak, and which.
fn weak_words(shapes: &[Shape<'_>]) -> String {
    let mut weak: Vec<&Shape<'_>> = shapes.iter().filter(|s| s.class == Class::Over).collect();
    weak.sort_by(|a, b| b.tube.uses.total_cmp(&a.tube.uses));
    if weak.is_empty() {
        return String::new();
    }
    let names: Vec<&str> =
        weak.iter().map(|s| s.tube.name.as_str()).filter(|n| !n.is_empty()).take(NAMED).collect();
    let more = if weak.len() > names.len() && !names.is_empty() { " and others" } else { "" };
    let verb = if weak.len() == 1 { "is" } else { "are" };
    let colon = if names.is_empty() { "" } else { ": " };
    format!("{} of {} tubes {verb} too weak{colon}{}{more}", weak.len(), shapes.len(), names.join(", "))
}

/// What the drawing does not show, or does not know.
fn doubts(spec: &FrameSpec, shapes: &[Shape<'_>]) -> Vec<String> {
    let count = |n: usize, one: &str, more: &str, words: &str| {
        (n > 0).then(|| format!("{n} {} {words}", if n == 1 { one } else { more }))
    };
    let lost = spec.tubes.len() - shapes.len();
    let unsure = shapes.iter().filter(|s| s.unsure).count();
    let unknown = shapes.iter().filter(|s| s.class == Class::Unknown).count();
    let loads =
        spec.loads.iter().filter(|l| !super::aim::usable(&l.at) || !l.force.norm().is_finite()).count();
    [
        count(unknown, "tube", "tubes", "whose use is not known"),
        count(unsure, "tube", "tubes", "whose give is not known, drawn at rest"),
        count(lost, "tube", "tubes", "without a place, not drawn"),
        count(loads, "load", "loads", "without a place or size, not drawn"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Words above the frame. Where they would take too much of the page the least important ones go.
pub(crate) fn head(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>]) {
    let font = sheet.font;
    let room = (sheet.page.width() - 2.0 * EDGE) / font;
    let most = (sheet.page.height() * MOST / (font * LINE)).floor() as usize;
    let view = view_words(sheet.spec.from);
    let give = give_words(sheet.spec, shapes);
    let doubts = doubts(sheet.spec, shapes).join("; ");
    // Class, importance (lower matters more), lines.
    let mut rows: Vec<(&'static str, u8, Vec<String>)> = vec![
        ("value", 1, wrap(&sheet.spec.title, room, 2, true)),
        ("name", 4, wrap(&sheet.spec.words, room, 3, false)),
        ("value over", 0, wrap(&weak_words(shapes), room, 2, true)),
        ("value", 2, wrap(&doubts, room, 2, true)),
        ("faint", 3, wrap(&give, room, 2, false)),
        ("faint", 5, wrap(view, room, 2, false)),
    ];
    // Side by side if there is room: a row more for the frame.
    let both = if give.is_empty() { view.to_string() } else { format!("{give}; {view}") };
    if text_width(&both, false) <= room
        && let Some((_, _, lines)) = rows.get_mut(4)
    {
        *lines = vec![both];
        rows.truncate(5);
    }
    while rows.iter().map(|r| r.2.len()).sum::<usize>() > most {
        let Some(worst) = rows.iter().map(|r| r.1).max() else { break };
        rows.retain(|r| r.1 != worst);
    }
    let mut top = EDGE * 0.75;
    for (class, _, lines) in &rows {
        for line in lines {
            svg::text(&mut sheet.out, class, (EDGE, top + 0.95 * font), line);
            top += LINE * font;
        }
    }
    let head = Rect { bottom: top, ..sheet.page };
    sheet.layout.mark(head);
    sheet.plot.top = top;
}

/// Breaks words into lines no wider than `room` \[font sizes\], the last one shortened.
fn wrap(text: &str, room: f64, most: usize, bold: bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let full = lines.len() == most;
        match lines.last_mut() {
            Some(last) if full || text_width(&format!("{last} {word}"), bold) <= room => {
                last.push(' ');
                last.push_str(word);
            }
            _ => lines.push(word.to_string()),
        }
    }
    let short = lines.iter().map(|line| elide(line, room, bold).into_owned());
    short.filter(|line| text_width(line, bold) <= room).collect()
}

/// A line of the legend.
#[derive(Clone, Copy)]
enum Entry {
    Words(&'static str),
    Rest,
    Class(Class),
}

impl Entry {
    fn words(self) -> &'static str {
        match self {
            Self::Words(words) => words,
            Self::Rest => "without load",
            Self::Class(class) => class.words(),
        }
    }

    fn sample(self) -> f64 {
        if matches!(self, Self::Words(_)) { 0.0 } else { SAMPLE + GAP }
    }
}

/// The classes below the frame, and the room that the scale bar wants.
pub(crate) fn legend(sheet: &mut Sheet<'_>, shapes: &[Shape<'_>]) {
    let font = sheet.font;
    let high = (font * 1.35).max(17.0);
    let mut entries = vec![Entry::Words("of what a tube can take, in use:")];
    entries.extend(Class::KNOWN.map(Entry::Class));
    if shapes.iter().any(|s| s.class == Class::Unknown) {
        entries.push(Entry::Class(Class::Unknown));
    }
    entries.push(Entry::Rest);
    let (left, right) = (EDGE, sheet.page.right - EDGE);
    let mut places: Vec<(Entry, Spot)> = Vec::new();
    let (mut x, mut row) = (left, 0.0);
    for entry in entries {
        let wide = entry.sample() + text_width(entry.words(), false) * font;
        if x > left && x + wide > right {
            (x, row) = (left, row + 1.0);
        }
        places.push((entry, (x, row)));
        x += wide + APART;
        if left + wide > right {
            // No part of a legend is better than a wrong one.
            places.clear();
            break;
        }
    }
    let rows = if places.is_empty() { 0.0 } else { row + 1.0 };
    let tall = rows * high + EDGE;
    if shapes.is_empty() || tall > sheet.page.height() * MOST {
        places.clear();
    }
    let top = if places.is_empty() { sheet.page.bottom } else { sheet.page.bottom - tall };
    sheet.layout.mark(Rect { top, ..sheet.page });
    sheet.out.push_str("<g class=\"legend\">");
    for (entry, (x, row)) in places {
        let middle = top + (row + 0.5) * high;
        // The ends of the widest line are round.
        let inset = if matches!(entry, Entry::Class(Class::Over)) { 3.5 } else { 0.0 };
        let ends = [(x + inset, middle), (x + SAMPLE - inset, middle)];
        match entry {
            Entry::Words(_) => {}
            Entry::Rest => {
                let mut path = String::new();
                svg::segment(&mut path, (x, middle), (x + SAMPLE, middle));
                svg::path(&mut sheet.out, "rest", &path);
            }
            Entry::Class(class) => tubes::stroke(&mut sheet.out, class, &ends),
        }
        svg::text(&mut sheet.out, "scale", (x + entry.sample(), middle + font * 0.36), entry.words());
    }
    sheet.out.push_str("</g>");
    sheet.plot.bottom = top - scale_room(sheet);
}

/// Length of the arms of the directions in the view from the corner \[px\], and of the scale bar at most, as a share
/// of the page's width.
const ARM: f64 = 34.0;
const BAR: f64 = 0.22;

/// Below this height or width of the page there is no room for a scale \[px\].
const LOW: f64 = 160.0;
const NARROW: f64 = 140.0;

fn scale_room(sheet: &Sheet<'_>) -> f64 {
    if sheet.page.height() < LOW || sheet.page.width() < NARROW {
        0.0
    } else if sheet.spec.from == FrameView::Corner {
        ARM + sheet.font + 12.0
    } else {
        sheet.font * LINE + 12.0
    }
}

/// The scale: a bar, or in the view from the corner three arms of one length along the car's axes, since a length is
/// shortened there by its direction.
pub(crate) fn scale(sheet: &mut Sheet<'_>) {
    let unit = &sheet.spec.length_unit;
    let room = scale_room(sheet);
    if room == 0.0 || !(unit.metres > 0.0 && unit.metres.is_finite()) {
        return;
    }
    let bottom = sheet.plot.bottom + room;
    let corner = sheet.spec.from == FrameView::Corner;
    let most = if corner { ARM } else { sheet.page.width() * BAR };
    let Some((length, words)) = round_length(most / sheet.aim.px / unit.metres) else { return };
    let text = format!("{words} {}", unit.symbol);
    let wide = length * unit.metres * sheet.aim.px;
    if corner {
        arms(sheet, length * unit.metres, &format!("each arm {text}"), bottom);
        return;
    }
    let y = bottom - 6.0;
    let mut path = String::from("M");
    svg::spot(&mut path, (EDGE, y - 5.0));
    for at in [(EDGE, y), (EDGE + wide, y), (EDGE + wide, y - 5.0)] {
        path.push('L');
        svg::spot(&mut path, at);
    }
    svg::path(&mut sheet.out, "scale-bar", &path);
    let text = elide(&text, (sheet.page.width() - 2.0 * EDGE) / sheet.font, false).into_owned();
    svg::text(&mut sheet.out, "scale", (EDGE + 2.0, y - 8.0), &text);
    let words = text_width(&text, false) * sheet.font + 4.0;
    sheet.layout.mark(Rect { left: EDGE, top: sheet.plot.bottom, right: EDGE + wide.max(words), bottom });
}

fn arms(sheet: &mut Sheet<'_>, length: f64, text: &str, bottom: f64) {
    let font = sheet.font;
    let names =
        [("front", nalgebra::Vector3::x()), ("left", nalgebra::Vector3::y()), ("up", nalgebra::Vector3::z())];
    let widest = text_width("front", false) * font;
    let tips = names.map(|(name, axis)| {
        let (right, down) = sheet.aim.flat(&(axis * length * sheet.aim.px));
        (name, (right, down))
    });
    let origin = (EDGE + widest + ARM, bottom - font - 9.0);
    let mut path = String::new();
    for (name, (right, down)) in tips {
        let tip = (origin.0 + right, origin.1 + down);
        svg::segment(&mut path, origin, tip);
        let wide = text_width(name, false) * font;
        let place = match name {
            "up" => (tip.0 + 5.0, tip.1 + font * 0.4),
            "front" => (tip.0 - wide - 4.0, tip.1),
            _ => (tip.0 - wide - 4.0, tip.1 + font * 0.6),
        };
        svg::text(&mut sheet.out, "scale", place, name);
    }
    svg::path(&mut sheet.out, "scale-bar", &path);
    let left = origin.0 + 10.0;
    let text = elide(text, (sheet.page.right - EDGE - left) / font, false);
    svg::text(&mut sheet.out, "scale", (left, origin.1 + font * 0.75), &text);
    let right = left + text_width(&text, false) * font + 4.0;
    sheet.layout.mark(Rect { left: EDGE, top: sheet.plot.bottom, right, bottom });
}

/// The largest round number (1, 2 or 5 times a power of ten) not above `most`, and in words.
fn round_length(most: f64) -> Option<(f64, String)> {
    let power = 10f64.powf(most.log10().floor());
    let round = [5.0, 2.0, 1.0].into_iter().map(|s| s * power).find(|s| *s <= most * (1.0 + 1e-9))?;
    let places = if round >= 1.0 { 0 } else { (-round.log10().floor()).clamp(0.0, 12.0) as usize };
    Some((round, format!("{round:.places$}")))
}

/// Says that there is nothing to draw.
pub(crate) fn empty(sheet: &mut Sheet<'_>) {
    let text = elide(EMPTY, sheet.page.width() / sheet.font, false);
    let wide = text_width(&text, false) * sheet.font;
    let middle = (sheet.plot.top + sheet.plot.bottom) / 2.0;
    svg::text(&mut sheet.out, "faint", ((sheet.page.width() - wide) / 2.0, middle), &text);
}
