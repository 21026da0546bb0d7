//! Names at the ends of the curves, moved apart where they would touch.

use super::frame::Frame;
use super::{ChartSpec, Series};
use crate::labels::{LINE, elide};
use crate::plane::{Rect, Spot};
use crate::svg;
use crate::text_width;

/// Most of the page's width that names may take.
const MOST: f64 = 0.28;

/// From the plot's edge to the names \[px\]: room for leaders.
const GAP: f64 = 18.0;

/// Width to keep free at the right \[px\].
pub(crate) fn room(spec: &ChartSpec, font: f64) -> f64 {
    let widest = spec.series.iter().map(|s| text_width(&s.name, false)).fold(0.0, f64::max) * font;
    if widest == 0.0 { 6.0 } else { widest.min(spec.width * MOST) + GAP + 4.0 }
}

/// Writes each name level with its curve's end, or as near as the others leave room.
pub(crate) fn draw(out: &mut String, frame: &Frame, spec: &ChartSpec) {
    let font = frame.font;
    let high = font * LINE;
    let mut ends: Vec<(Spot, &Series)> = spec
        .series
        .iter()
        .filter(|s| !s.name.is_empty())
        .filter_map(|s| {
            let (x, y) = s.points.iter().rev().find(|(x, y)| x.is_finite() && y.is_finite())?;
            Some((frame.spot(*x, *y), s))
        })
        .collect();
    let fits = ((frame.plot.height() + high) / high).floor().max(0.0) as usize;
    ends.truncate(fits);
    ends.sort_by(|a, b| a.0.1.total_cmp(&b.0.1));
    let (top, bottom) = (frame.plot.top, frame.plot.bottom);
    let mut middles: Vec<f64> = Vec::with_capacity(ends.len());
    for (end, _) in &ends {
        let least = middles.last().map_or(top, |last| last + high);
        middles.push(end.1.clamp(top, bottom).max(least));
    }
    // What ran over the lower edge moves up again, pushing the ones above.
    let mut most = bottom;
    for middle in middles.iter_mut().rev() {
        *middle = middle.min(most);
        most = *middle - high;
    }
    let left = frame.plot.right + GAP;
    let widest = (spec.width - left - 2.0) / font;
    let clip = Rect::sized(0.0, 0.0, spec.width, spec.height);
    for ((end, series), middle) in ends.iter().zip(middles) {
        let name = elide(&series.name, widest, false);
        if text_width(&name, false) > widest {
            continue;
        }
        if let Some((a, b)) = clip.clip((end.0 + 2.0, end.1), (left - 3.0, middle)) {
            let mut path = String::new();
            svg::segment(&mut path, a, b);
            // The leader has the curve's own colour and dash.
            svg::path(out, &super::class("leader", series), &path);
        }
        svg::text(out, "name", (left, middle + font * 0.36), &name);
    }
}
