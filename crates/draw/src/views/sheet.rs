//! A view in the making: what all three have in common.

use std::fmt::Write;

use nalgebra::Vector3;

use super::map::{Direction, ViewMap};
use super::options::{Overlays, ViewOptions};
use super::{View, fit, handles, outline, overlay, scale};
use crate::labels::{Label, Layout, elide};
use crate::plane::{Rect, Spot, between};
use crate::scene::{LineKind, Scene, Side};
use crate::svg;

/// Longest name shown beside a thing \[font sizes\].
const LONGEST_NAME: f64 = 15.0;

/// A page with what is on it so far.
pub(crate) struct Sheet<'a> {
    pub scene: &'a Scene,
    pub others: &'a Overlays<'a>,
    pub options: &'a ViewOptions<'a>,
    pub map: ViewMap,
    pub page: Rect,
    pub layout: Layout,
    /// Vertices of the left corner on the page.
    pub at: Vec<Spot>,
    pub out: String,
}

impl<'a> Sheet<'a> {
    pub fn new(
        direction: Direction,
        scene: &'a Scene,
        others: &'a Overlays<'a>,
        options: &'a ViewOptions<'a>,
    ) -> Self {
        let map = fit::fit(direction, scene, options);
        let page = Rect::sized(0.0, 0.0, options.width_px, options.height_px);
        let mut sheet = Self {
            scene,
            others,
            options,
            map,
            page,
            layout: Layout::new(page, options.font()),
            at: scene.left.at.iter().map(|v| map.to_page(v)).collect(),
            out: String::with_capacity(24_000),
        };
        sheet.open();
        sheet
    }

    fn open(&mut self) {
        let (w, h) = (self.options.width_px, self.options.height_px);
        self.out.push_str(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw view\" role=\"group\" viewBox=\"0 0 ",
        );
        svg::spot(&mut self.out, (w, h));
        self.out.push('"');
        svg::attribute(&mut self.out, "width", w);
        svg::attribute(&mut self.out, "height", h);
        svg::attribute(&mut self.out, "font-size", self.options.font());
        self.map.attributes(&mut self.out, self.options.frame, &self.options.units);
        let axle = self.scene.end.name();
        let _ = write!(self.out, " data-axle=\"{axle}\"");
        let from = match self.map.direction {
            Direction::FromLeft => "seen from the left",
            Direction::FromBehind => "seen from behind",
            Direction::FromAbove => "seen from above",
        };
        svg::text_attribute(&mut self.out, "aria-label", &format!("{}: {axle} axle {from}", self.scene.car));
        self.out.push('>');
    }

    /// A place of the car on the page.
    pub fn spot(&self, at: &Vector3<f64>) -> Spot {
        self.map.to_page(at)
    }

    /// Draws the part of a line that is on the page and has words keep off it; returns that part.
    pub fn rule(&mut self, class: &str, a: Spot, b: Spot) -> Option<(Spot, Spot)> {
        let (a, b) = self.page.clip(a, b)?;
        let mut path = String::with_capacity(40);
        svg::segment(&mut path, a, b);
        svg::path(&mut self.out, class, &path);
        let weight = match class {
            "centreline" | "axis" | "dimension" | "cg" | "axle-line" => 0.6,
            _ => 1.0,
        };
        self.layout.line(a, b, weight);
        Some((a, b))
    }

    /// Words, if words are shown.
    pub fn label(&mut self, label: Label) {
        if self.options.show.labels {
            self.layout.label(label);
        }
    }

    /// A short word beside a place.
    pub fn word(&mut self, class: &'static str, rank: u8, anchors: Vec<Spot>, reach: f64, text: &str) {
        let text = elide(text, LONGEST_NAME, class.starts_with("value")).into_owned();
        self.label(Label { lines: vec![text], short: None, class, anchors, reach, rank });
    }

    /// Ground, wheels, overlays, links; marks come last, with the labels.
    pub fn base(&mut self) {
        scale::draw(self);
        self.ground();
        self.wheels();
        self.plates();
        if let Some(ghost) = self.others.ghost {
            overlay::draw(self, "ghost", ghost);
        }
        overlay::variants(self);
        self.right_corner();
        self.corner();
    }

    fn ground(&mut self) {
        let (left, right) = (&self.scene.left.contact, &self.scene.right.contact);
        match self.map.direction {
            Direction::FromLeft => {
                let y = self.spot(left).1;
                self.rule("ground", (0.0, y), (self.page.right, y));
            }
            Direction::FromBehind => {
                let (a, b) = (self.spot(left), self.spot(right));
                self.rule("ground", between(a, b, -9.0), between(a, b, 10.0));
            }
            Direction::FromAbove => {
                let y = self.spot(&Vector3::zeros()).1;
                self.rule("centreline", (0.0, y), (self.page.right, y));
            }
        }
        if self.map.direction == Direction::FromBehind {
            let x = self.spot(&Vector3::zeros()).0;
            self.rule("centreline", (x, 0.0), (x, self.page.bottom));
        }
    }

    fn wheels(&mut self) {
        let mut far = String::new();
        if self.map.direction != Direction::FromBehind {
            for wheel in self.scene.far.iter().flat_map(|f| &f.wheels) {
                outline::tyre(&mut far, &self.map, wheel);
            }
        }
        let (mut tyres, mut rims) = (String::new(), String::new());
        if self.options.show.right && self.map.direction != Direction::FromLeft {
            outline::tyre(&mut far, &self.map, &self.scene.right.wheel);
        }
        svg::path(&mut self.out, "tyre far", &far);
        outline::tyre(&mut tyres, &self.map, &self.scene.left.wheel);
        for (a, b) in outline::chords(&self.map, &self.scene.left.wheel) {
            self.layout.line(a, b, 0.6);
        }
        if self.map.direction == Direction::FromLeft {
            outline::rim(&mut rims, &self.map, &self.scene.left.wheel);
        }
        svg::path(&mut self.out, "tyre", &tyres);
        svg::path(&mut self.out, "rim", &rims);
        let hub = self.spot(&self.scene.left.wheel.centre);
        svg::circle(&mut self.out, "hub", hub, 2.5);
        self.layout.mark(Rect::around(hub, 4.0));
    }

    fn plates(&mut self) {
        if !self.options.show.holes {
            return;
        }
        let mut path = String::new();
        for plate in &self.scene.plates {
            outline::polygon(&mut path, &self.map, &plate.outline);
        }
        svg::path(&mut self.out, "plate", &path);
    }

    fn right_corner(&mut self) {
        if !self.options.show.right || self.map.direction == Direction::FromLeft {
            return;
        }
        let mut path = String::with_capacity(1000);
        lines(&mut path, &self.map, self.scene, &self.scene.right);
        svg::path(&mut self.out, "other-side", &path);
    }

    fn corner(&mut self) {
        let mut paths: [(LineKind, String); 7] = [
            LineKind::Member,
            LineKind::Hinge,
            LineKind::Spring,
            LineKind::Damper,
            LineKind::BarLink,
            LineKind::Strut,
            LineKind::Link,
        ]
        .map(|kind| (kind, String::new()));
        let scene = self.scene;
        for line in &scene.lines {
            let element = matches!(line.kind, LineKind::Spring | LineKind::Damper | LineKind::BarLink);
            if element && !self.options.show.elements {
                continue;
            }
            let (Some(a), Some(b)) = (self.at.get(line.from).copied(), self.at.get(line.to).copied()) else {
                continue;
            };
            self.layout.line(a, b, if line.kind == LineKind::Member { 0.4 } else { 1.0 });
            let path = paths.iter_mut().find(|(kind, _)| *kind == line.kind).map(|(_, path)| path);
            match (line.kind, path) {
                (LineKind::Spring, Some(path)) => outline::spring(path, a, b),
                (LineKind::Damper, Some(path)) => outline::damper(path, a, b),
                (_, Some(path)) => svg::segment(path, a, b),
                (_, None) => {}
            }
            if !line.label.is_empty() {
                let anchors = [0.5, 0.32, 0.68].map(|share| between(a, b, share)).to_vec();
                let (class, rank) = if element { ("faint", 6) } else { ("name", 4) };
                self.word(class, rank, anchors, 1.0, &line.label);
            }
        }
        for (kind, path) in &paths {
            svg::path(&mut self.out, kind.class(), path);
        }
    }

    /// Marks, words and the end of the drawing.
    pub fn finish(mut self) -> View {
        handles::draw(&mut self);
        self.layout.place();
        self.out.push_str("<g class=\"words\" aria-hidden=\"true\">");
        self.layout.write(&mut self.out);
        self.out.push_str("</g></svg>");
        let (placed, marks) = self.layout.into_placed();
        let labels = placed.into_iter().map(|p| (p.lines.join("\n"), p.rect)).collect();
        View { svg: self.out, map: self.map, labels, marks }
    }
}

/// Appends every line of a side.
fn lines(path: &mut String, map: &ViewMap, scene: &Scene, side: &Side) {
    for line in &scene.lines {
        if let Some((a, b)) = scene.ends(line, side) {
            svg::segment(path, map.to_page(&a), map.to_page(&b));
        }
    }
}
