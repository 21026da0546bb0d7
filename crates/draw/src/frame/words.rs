//! What is said of the frame: title, load, what is too weak, how the give is drawn.

use super::places::Shape;
use super::usage::{self, Class};
use super::{FrameSpec, FrameView, Sheet};
use crate::labels::{LINE, elide};
use crate::plane::Rect;
use crate::svg;
use crate::text_width;

/// From the page's edge to words \[px\].
pub(crate) const EDGE: f64 = 8.0;

/// Of the page's height the words above the frame, and the legend below it, take at most this.
pub(crate) const MOST: f64 = 0.36;

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

/// Says that there is nothing to draw.
pub(crate) fn empty(sheet: &mut Sheet<'_>) {
    let text = elide(EMPTY, sheet.page.width() / sheet.font, false);
    let wide = text_width(&text, false) * sheet.font;
    let middle = (sheet.plot.top + sheet.plot.bottom) / 2.0;
    svg::text(&mut sheet.out, "faint", ((sheet.page.width() - wide) / 2.0, middle), &text);
}
