//! A pattern's geometry by purpose: what is cut, what is drilled, what is only marked.

use draw::Rect;

use super::labels;
use super::pattern::{Datum, Pattern};
use crate::font::Fonts;
use crate::sheet::{Align, Page, Shade, Size, Spot, Stroke, Type, svg};

/// Height of words on the plate [mm].
pub(super) const WORDS: f64 = 3.2;

/// Arms of a hole's cross beyond the drill [mm], and diameter of the ring about the centre punch [mm].
pub(super) const ARM: f64 = 2.5;
const PUNCH: f64 = 2.0;

/// Length of an arrow, of its head, and from the arrows' common tail to the plate [mm].
const ARROW: f64 = 11.0;
const POINT: f64 = 2.4;

/// Room about the whole [mm].
const ROOM: f64 = 3.0;

/// A hole to drill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Its centre [mm].
    pub centre: Spot,
    /// Its diameter [mm].
    pub diameter: f64,
}

/// Something that is marked, neither cut nor drilled.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line.
    Line {
        /// One end [mm].
        from: Spot,
        /// The other end [mm].
        to: Spot,
    },
    /// The edge that a datum is; on the plate's outline.
    Datum {
        /// One end [mm].
        from: Spot,
        /// The other end [mm].
        to: Spot,
    },
    /// The ring about a centre punch.
    Ring(Ring),
    /// Words.
    Text {
        /// The end or middle of their base line [mm].
        at: Spot,
        /// Font size [mm].
        height: f64,
        /// The words.
        words: String,
        /// Which end of them is there.
        align: Align,
    },
}

/// The geometry of a pattern [mm], x to the right and y up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Closed outlines.
    pub cut: Vec<Vec<Spot>>,
    /// Holes.
    pub drill: Vec<Ring>,
    /// Crosses, rings, words, datums, arrows.
    pub mark: Vec<Mark>,
    /// Box of everything; `top` is the lesser y, here the lower edge.
    pub bounds: Rect,
}

/// The geometry of a pattern, with its words placed and arrows above its left end.
pub fn drawing(fonts: &Fonts, pattern: &Pattern) -> Drawing {
    let mut out = plate(fonts, pattern);
    arrows(fonts, &mut out, pattern);
    out
}

/// The same without arrows.
pub(super) fn plate(fonts: &Fonts, pattern: &Pattern) -> Drawing {
    let mut out = Drawing {
        cut: vec![pattern.outline.clone()],
        drill: pattern.holes.iter().map(|h| Ring { centre: h.at, diameter: h.diameter }).collect(),
        mark: Vec::new(),
        bounds: pattern.bounds(),
    };
    for ring in out.drill.clone() {
        let (x, y) = ring.centre;
        let arm = ring.diameter / 2.0 + ARM;
        out.mark.push(Mark::Line { from: (x - arm, y), to: (x + arm, y) });
        out.mark.push(Mark::Line { from: (x, y - arm), to: (x, y + arm) });
        out.mark.push(Mark::Ring(Ring { centre: ring.centre, diameter: PUNCH }));
    }
    datums(fonts, &mut out, pattern);
    labels::place(fonts, &mut out, pattern);
    out.bounds = out.bounds.grown(ROOM);
    out
}

/// Datum edges, with their names outside.
fn datums(fonts: &Fonts, out: &mut Drawing, pattern: &Pattern) {
    for datum in &pattern.datums {
        let words = format!("datum {}", datum.name());
        match datum {
            Datum::Edge { from, to, .. } => {
                out.mark.push(Mark::Datum { from: *from, to: *to });
                let (dx, dy) = (to.0 - from.0, to.1 - from.1);
                let length = dx.hypot(dy).max(1e-9);
                let mut out_of = (dy / length, -dx / length);
                let middle = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
                let step = 0.05;
                if pattern.margin((middle.0 + out_of.0 * step, middle.1 + out_of.1 * step)) > 0.0 {
                    out_of = (-out_of.0, -out_of.1);
                }
                // Far enough that the box of the words clears the edge, whichever way that runs.
                let half = (fonts.width(&words, false) * WORDS / 2.0, WORDS / 2.0);
                let reach = half.0 * out_of.0.abs() + half.1 * out_of.1.abs() + 1.5;
                let centre = (middle.0 + out_of.0 * reach, middle.1 + out_of.1 * reach);
                out.write(fonts, (centre.0, centre.1 - WORDS * 0.36), words, Align::Middle);
            }
            Datum::Point { at, .. } => {
                out.mark.push(Mark::Line { from: (at.0 - 3.0, at.1), to: (at.0 + 3.0, at.1) });
                out.mark.push(Mark::Line { from: (at.0, at.1 - 3.0), to: (at.0, at.1 + 3.0) });
                out.write(fonts, (at.0 + 1.0, at.1 + 1.0), words, Align::Left);
            }
        }
    }
}

/// Arrows above the plate's left end.
fn arrows(fonts: &Fonts, out: &mut Drawing, pattern: &Pattern) {
    if pattern.directions.is_empty() {
        return;
    }
    let compass = compass(fonts, pattern);
    let shift = (out.bounds.left - compass.bounds.left, out.bounds.bottom + 1.0 - compass.bounds.top);
    let b = compass.bounds;
    out.mark.extend(compass.mark.iter().map(|mark| mark.moved(shift)));
    out.take(Rect::sized(b.left + shift.0, b.top + shift.1, b.width(), b.height()));
}

/// The arrows from a common tail at the origin.
pub(super) fn compass(fonts: &Fonts, pattern: &Pattern) -> Drawing {
    let mut out = Drawing::default();
    for direction in &pattern.directions {
        let (x, y) = direction.towards;
        let tip = (x * ARROW, y * ARROW);
        let side = |by: f64| (tip.0 - x * POINT - y * by, tip.1 - y * POINT + x * by);
        for (from, to) in [((0.0, 0.0), tip), (side(POINT * 0.45), tip), (side(-POINT * 0.45), tip)] {
            out.mark.push(Mark::Line { from, to });
            out.take(Rect::around(to, 0.5));
        }
        let half = (fonts.width(&direction.name, false) * WORDS / 2.0, WORDS / 2.0);
        let reach = ARROW + 1.2 + half.0 * x.abs() + half.1 * y.abs();
        let at = (x * reach, y * reach - WORDS * 0.36);
        out.write(fonts, at, direction.name.clone(), Align::Middle);
    }
    out
}

/// The box of words on the plate.
pub(super) fn words_box(fonts: &Fonts, at: Spot, words: &str, align: Align) -> Rect {
    let width = fonts.width(words, false) * WORDS;
    let left = match align {
        Align::Left => at.0,
        Align::Middle => at.0 - width / 2.0,
        Align::Right => at.0 - width,
    };
    Rect::sized(left, at.1 - 0.25 * WORDS, width, 1.25 * WORDS)
}

impl Drawing {
    /// Writes words and makes room for them.
    pub(super) fn write(&mut self, fonts: &Fonts, at: Spot, words: String, align: Align) {
        self.take(words_box(fonts, at, &words, align));
        self.mark.push(Mark::Text { at, height: WORDS, words, align });
    }

    fn take(&mut self, room: Rect) {
        let b = &mut self.bounds;
        b.left = b.left.min(room.left);
        b.top = b.top.min(room.top);
        b.right = b.right.max(room.right);
        b.bottom = b.bottom.max(room.bottom);
    }

    /// The drawing as things of a page, by where a place of it is there.
    pub(super) fn page(&self, to: impl Fn(Spot) -> Spot) -> Page {
        let mut page = Page::default();
        for outline in &self.cut {
            page.outline(outline.iter().map(|at| to(*at)).collect(), Some(Stroke::solid(0.3)), None);
        }
        for mark in &self.mark {
            match mark {
                Mark::Line { from, to: end } => page.line(to(*from), to(*end), Stroke::solid(0.15)),
                Mark::Datum { from, to: end } => page.line(to(*from), to(*end), Stroke::solid(0.8)),
                Mark::Ring(ring) => {
                    page.circle(to(ring.centre), ring.diameter / 2.0, Some(Stroke::solid(0.15)), None);
                }
                Mark::Text { at, height, words, align } => {
                    let face = Type { size: *height, bold: false, shade: Shade::Ink };
                    page.text(to(*at), words.clone(), face, *align);
                }
            }
        }
        for ring in &self.drill {
            page.circle(to(ring.centre), ring.diameter / 2.0, Some(Stroke::solid(0.25)), None);
        }
        page
    }

    /// The drawing alone as SVG at true scale, in millimetres.
    pub fn svg(&self, fonts: &Fonts) -> String {
        let b = self.bounds;
        let page = self.page(|at| (at.0 - b.left, b.bottom - at.1));
        svg(fonts, Size { width: b.width(), height: b.height() }, &page)
    }
}

impl Mark {
    fn moved(&self, by: Spot) -> Self {
        let spot = |at: Spot| (at.0 + by.0, at.1 + by.1);
        match self.clone() {
            Self::Line { from, to } => Self::Line { from: spot(from), to: spot(to) },
            Self::Datum { from, to } => Self::Datum { from: spot(from), to: spot(to) },
            Self::Ring(ring) => Self::Ring(Ring { centre: spot(ring.centre), ..ring }),
            Self::Text { at, height, words, align } => Self::Text { at: spot(at), height, words, align },
        }
    }
}
