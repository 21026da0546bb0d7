//! The frame of a chart: where the plot is, grid, numbers, marks.

use super::ChartSpec;
use super::names;
use super::range::Range;
use crate::labels::elide;
use crate::plane::{Rect, Spot};
use crate::svg;
use crate::text_width;

/// The plot and its two axes.
pub(crate) struct Frame {
    pub plot: Rect,
    pub x: Range,
    pub y: Range,
    pub font: f64,
}

impl Frame {
    pub fn new(spec: &ChartSpec) -> Self {
        let font = spec.font();
        let xs = || spec.series.iter().flat_map(|s| s.points.iter().map(|p| p.0));
        let bands = spec.series.iter().filter_map(|s| s.band.as_ref()).flatten();
        let values = spec.series.iter().flat_map(|s| s.points.iter().map(|p| p.1));
        let values = values.chain(bands.flat_map(|(lo, hi)| [*lo, *hi]));
        let top = font * 2.45 + 10.0;
        let bottom = (spec.height - font * 2.9 - 6.0).max(top + 1.0);
        let y = Range::new(values, (bottom - top) / (font * 2.8), false);
        let widest = y.ticks().map(|t| text_width(&y.text(t, 0), false)).fold(1.0, f64::max) * font;
        let left = widest + 14.0;
        let right = (spec.width - names::room(spec, font) - 10.0).max(left + 1.0);
        let plot = Rect { left, top, right, bottom };
        let mut count = (plot.width() / (font * 4.0)).clamp(1.0, 12.0);
        let mut x = Range::new(xs(), count, true);
        // Fewer numbers until they stand clear of one another.
        for _ in 0..8 {
            let widest = x.ticks().map(|t| text_width(&x.text(t, 0), false)).fold(1.0, f64::max) * font;
            if x.step / (x.to - x.from) * plot.width() >= widest + font * 0.6 {
                break;
            }
            count *= 0.6;
            x = Range::new(xs(), count, true);
        }
        Self { plot, x, y, font }
    }

    /// Where a value is on the page.
    pub fn spot(&self, x: f64, y: f64) -> Spot {
        (
            self.plot.left + self.x.share(x) * self.plot.width(),
            self.plot.bottom - self.y.share(y) * self.plot.height(),
        )
    }

    /// `data-plot`: left, top, right, bottom of the plot on the page; `data-range`: the values there (left, right,
    /// bottom, top); units and labels. Linear in between.
    pub fn attributes(&self, out: &mut String, spec: &ChartSpec) {
        out.push_str(" data-plot=\"");
        svg::spot(out, (self.plot.left, self.plot.top));
        out.push(' ');
        svg::spot(out, (self.plot.right, self.plot.bottom));
        let (x, y) = (&self.x, &self.y);
        out.push_str(&format!("\" data-range=\"{} {} {} {}\"", x.from, x.to, y.from, y.to));
        svg::text_attribute(out, "data-x-label", &spec.x.label);
        svg::text_attribute(out, "data-x-unit", &spec.x.unit);
        svg::text_attribute(out, "data-y-label", &spec.y.label);
        svg::text_attribute(out, "data-y-unit", &spec.y.unit);
    }

    /// Grid, zero lines, numbers, the words under the axis, marks.
    pub fn draw(&self, out: &mut String, spec: &ChartSpec) {
        let plot = &self.plot;
        let (mut grid, mut zero) = (String::new(), String::new());
        let mut numbers: Vec<(Spot, String)> = Vec::new();
        let mut clear = f64::NEG_INFINITY;
        for tick in self.x.ticks() {
            let at = self.spot(tick, 0.0).0;
            let line = if tick == 0.0 { &mut zero } else { &mut grid };
            svg::segment(line, (at, plot.top), (at, plot.bottom));
            let text = self.x.text(tick, 0);
            let width = text_width(&text, false) * self.font;
            let left = (at - width / 2.0).clamp(2.0, (spec.width - width - 2.0).max(2.0));
            if left >= clear && left + width <= spec.width - 1.0 {
                clear = left + width + 4.0;
                numbers.push(((left, plot.bottom + self.font * 1.58), text));
            }
        }
        let mut clear = f64::INFINITY;
        for tick in self.y.ticks() {
            let at = self.spot(0.0, tick).1;
            let line = if tick == 0.0 { &mut zero } else { &mut grid };
            svg::segment(line, (plot.left, at), (plot.right, at));
            let text = self.y.text(tick, 0);
            let width = text_width(&text, false) * self.font;
            let baseline = at + self.font * 0.36;
            if baseline <= clear && plot.left - 8.0 - width >= 0.0 {
                clear = baseline - self.font * 1.25;
                numbers.push(((plot.left - 8.0 - width, baseline), text));
            }
        }
        svg::path(out, "grid", &grid);
        svg::path(out, "zero", &zero);
        self.marks(out, spec);
        for (at, text) in &numbers {
            svg::text(out, "tick", *at, text);
        }
        let words = spec.x.words();
        let words = elide(&words, (plot.width() / self.font).max(1.0), false);
        let width = text_width(&words, false) * self.font;
        let left = plot.left + (plot.width() - width) / 2.0;
        svg::text(out, "tick", (left, plot.bottom + self.font * 2.85), &words);
    }

    /// Places worth a word: a dashed line; the word at its foot, where there is room for it.
    fn marks(&self, out: &mut String, spec: &ChartSpec) {
        let mut path = String::new();
        let mut taken: Vec<Rect> = Vec::new();
        let mut texts = Vec::new();
        for mark in spec.marks.iter().filter(|m| self.x.has(m.x)) {
            let at = self.spot(mark.x, 0.0).0;
            svg::segment(&mut path, (at, self.plot.top), (at, self.plot.bottom));
            let text = elide(&mark.label, self.plot.width() / self.font * 0.4, false);
            let width = text_width(&text, false) * self.font;
            let after = at + 4.0 + width <= self.plot.right;
            let left = if after { at + 4.0 } else { at - 4.0 - width };
            let rect = Rect::sized(left, self.plot.bottom - self.font * 1.5, width, self.font * 1.22);
            if self.plot.holds(&rect) && !taken.iter().any(|t| t.meets(&rect)) {
                taken.push(rect);
                texts.push(((left, self.plot.bottom - self.font * 0.5), text));
            }
        }
        svg::path(out, "at", &path);
        for (at, text) in texts {
            svg::text(out, "faint", at, &text);
        }
    }
}
