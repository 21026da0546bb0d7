//! The placing itself.

use crate::plane::{Rect, Spot, between, distance};
use crate::svg;

use super::width::{LINE, text_width};

/// Air around words \[px\].
const AIR: f64 = 2.0;

/// How far from its anchor a label may stand \[px\]; from the third on it gets a leader.
const DISTANCES: [f64; 5] = [3.0, 9.0, 22.0, 42.0, 72.0];

/// What crossing a plain line costs, as a distance \[px\].
const CROSSING: f64 = 30.0;

/// A distance from which a leader shows what the label belongs to \[px\].
const LEADER_FROM: f64 = 14.0;

/// Directions to try: right above, right, left above, left, right below, left below, above, below.
const DIRECTIONS: [Spot; 8] =
    [(0.8, -0.6), (1.0, 0.0), (-0.8, -0.6), (-1.0, 0.0), (0.8, 0.6), (-0.8, 0.6), (0.0, -1.0), (0.0, 1.0)];

/// Words that want a place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Label {
    /// One to three lines.
    pub lines: Vec<String>,
    /// What stands instead where there is no room for them.
    pub short: Option<String>,
    /// Class of the text; those that begin with `value` are bold.
    pub class: &'static str,
    /// Where it belongs, the best place first.
    pub anchors: Vec<Spot>,
    /// Radius of the mark there \[px\].
    pub reach: f64,
    /// Lower chooses earlier.
    pub rank: u8,
}

/// Words that have a place.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub rect: Rect,
    pub lines: Vec<String>,
    pub class: &'static str,
    pub leader: Option<(Spot, Spot)>,
}

/// The page with what is on it.
#[derive(Debug, Default)]
pub(crate) struct Layout {
    page: Rect,
    font: f64,
    marks: Vec<Rect>,
    lines: Vec<(Spot, Spot, f64)>,
    labels: Vec<Label>,
    placed: Vec<Placed>,
}

impl Layout {
    pub fn new(page: Rect, font: f64) -> Self {
        Self { page: page.grown(-AIR), font, ..Self::default() }
    }

    /// Something that words must keep clear of.
    pub fn mark(&mut self, rect: Rect) {
        if rect.meets(&self.page) {
            self.marks.push(rect);
        }
    }

    /// A line that words had better not cross; `weight` says how much it matters, 1 for a plain line.
    pub fn line(&mut self, a: Spot, b: Spot, weight: f64) {
        if let Some((a, b)) = self.page.clip(a, b) {
            self.lines.push((a, b, weight));
        }
    }

    pub fn label(&mut self, label: Label) {
        if !label.lines.iter().all(String::is_empty) {
            self.labels.push(label);
        }
    }

    /// Takes a place at once if it is free: for what has a fixed spot, such as the scale bar.
    pub fn claim(&mut self, rect: Rect) -> bool {
        let free = self.page.holds(&rect) && self.is_free(&rect);
        if free {
            self.marks.push(rect);
        }
        free
    }

    /// Size of some lines of text \[px\].
    pub fn size(&self, lines: &[String], class: &str) -> Spot {
        let bold = class.starts_with("value");
        let width = lines.iter().map(|l| text_width(l, bold)).fold(0.0, f64::max) * self.font;
        (width + 2.0 * AIR, lines.len() as f64 * LINE * self.font)
    }

    /// Gives every label its place, or none. Consumes the labels.
    pub fn place(&mut self) {
        let mut labels = std::mem::take(&mut self.labels);
        labels.sort_by_key(|l| l.rank);
        for label in labels {
            let Label { lines, short, class, anchors, reach, .. } = label;
            if let Some(placed) = self.find(&lines, class, &anchors, reach) {
                self.placed.push(Placed { lines, ..placed });
            } else if let Some(short) = short {
                let lines = vec![short];
                if let Some(placed) = self.find(&lines, class, &anchors, reach) {
                    self.placed.push(Placed { lines, ..placed });
                }
            }
        }
    }

    fn find(&self, lines: &[String], class: &'static str, anchors: &[Spot], reach: f64) -> Option<Placed> {
        let (width, height) = self.size(lines, class);
        if width > self.page.width() || height > self.page.height() {
            return None;
        }
        let mut best: Option<(f64, Placed)> = None;
        for gap in DISTANCES {
            // Even the best place this far out costs as much as its distance.
            if best.as_ref().is_some_and(|(least, _)| *least <= gap) {
                break;
            }
            for (nth, anchor) in anchors.iter().enumerate() {
                if !self.page.grown(AIR).has(*anchor) {
                    continue;
                }
                for (turn, direction) in DIRECTIONS.iter().enumerate() {
                    let cost = gap + 0.4 * turn as f64 + 2.0 * nth as f64;
                    let least = best.as_ref().map_or(f64::INFINITY, |(least, _)| *least);
                    let rect = beside(*anchor, *direction, reach + gap, width, height);
                    if cost >= least || !self.page.holds(&rect) || !self.is_free(&rect) {
                        continue;
                    }
                    let leader = (gap >= LEADER_FROM).then(|| leader(*anchor, &rect, reach));
                    if leader.is_some_and(|(a, b)| self.placed.iter().any(|p| p.rect.crossed_by(a, b))) {
                        continue;
                    }
                    let crossed: f64 = self
                        .lines
                        .iter()
                        .filter(|(a, b, _)| rect.crossed_by(*a, *b))
                        .map(|(_, _, w)| w)
                        .sum();
                    let cost = cost + CROSSING * crossed;
                    if cost < least {
                        best = Some((cost, Placed { rect, lines: Vec::new(), class, leader }));
                    }
                }
            }
        }
        best.map(|(_, placed)| placed)
    }

    fn is_free(&self, rect: &Rect) -> bool {
        !self.marks.iter().any(|m| m.meets(rect))
            && !self
                .placed
                .iter()
                .any(|p| p.rect.meets(rect) || p.leader.is_some_and(|(a, b)| rect.crossed_by(a, b)))
    }

    /// Writes what was placed: leaders first, so that words lie on top.
    pub fn write(&self, out: &mut String) {
        let mut leaders = String::new();
        for (a, b) in self.placed.iter().filter_map(|p| p.leader) {
            svg::segment(&mut leaders, a, b);
        }
        svg::path(out, "leader", &leaders);
        for placed in &self.placed {
            let mut about = None;
            for (i, line) in placed.lines.iter().enumerate() {
                about = quantity(line).or(about);
                // Of several lines the first is the name, and the values below it stand out.
                let heads = i == 0 && placed.lines.len() > 1 && placed.class == "value";
                let class = if heads { "name" } else { placed.class };
                let baseline = placed.rect.top + (i as f64 * LINE + 0.95) * self.font;
                let at = (placed.rect.left + AIR, baseline);
                svg::text_about(out, class, at, line, about.filter(|_| !heads));
            }
        }
    }

    pub fn into_placed(self) -> (Vec<Placed>, Vec<Rect>) {
        (self.placed, self.marks)
    }
}

/// Words that tell a quantity, and its name elsewhere: a page can say there what the number means.
const QUANTITIES: [(&str, &str); 8] = [
    ("anti-lift", "anti-lift"),
    ("anti-dive", "anti-dive"),
    ("anti-squat", "anti-squat"),
    ("side-view arm", "side-view-arm"),
    ("contact line", "side-view-angle"),
    ("roll centre", "roll-centre"),
    ("camber", "camber"),
    ("toe-", "toe"),
];

/// What a line is about; a line that does not say is about what the one above it is about.
fn quantity(line: &str) -> Option<&'static str> {
    QUANTITIES.iter().find(|(words, _)| line.starts_with(words)).map(|(_, name)| *name)
}

/// The box of a label that stands in a direction from its anchor.
fn beside(anchor: Spot, direction: Spot, away: f64, width: f64, height: f64) -> Rect {
    let near = (anchor.0 + direction.0 * away, anchor.1 + direction.1 * away);
    let left = near.0 - width * (1.0 - direction.0.signum() * f64::from(direction.0 != 0.0)) / 2.0;
    let top = near.1 - height * (1.0 - direction.1) / 2.0;
    Rect::sized(left, top, width, height)
}

/// From the edge of the mark to the nearest place of the box.
fn leader(anchor: Spot, rect: &Rect, reach: f64) -> (Spot, Spot) {
    let end = (anchor.0.clamp(rect.left, rect.right), anchor.1.clamp(rect.top, rect.bottom));
    let whole = distance(anchor, end).max(1e-9);
    (between(anchor, end, ((reach + 1.0) / whole).min(1.0)), end)
}
