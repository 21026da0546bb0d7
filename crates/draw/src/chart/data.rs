//! The values of a curve, for a script to read out.

use super::Series;
use super::frame::Frame;

/// Writes `data-x` and `data-y`: as many words as there are points, in shown units and with the digits to show;
/// `-` where there is none. A band adds `data-lo` and `data-hi`.
pub(crate) fn attributes(out: &mut String, frame: &Frame, series: &Series) {
    let list =
        |out: &mut String, name: &str, values: &mut dyn Iterator<Item = f64>, axis: &super::range::Range| {
            out.push_str(name);
            for (i, value) in values.enumerate() {
                if i > 0 {
                    out.push(' ');
                }
                if value.is_finite() {
                    out.push_str(&axis.text(value, 1));
                } else {
                    out.push('-');
                }
            }
            out.push('"');
        };
    list(out, " data-x=\"", &mut series.points.iter().map(|p| p.0), &frame.x);
    list(out, " data-y=\"", &mut series.points.iter().map(|p| p.1), &frame.y);
    if let Some(band) = &series.band {
        list(out, " data-lo=\"", &mut band.iter().map(|b| b.0), &frame.y);
        list(out, " data-hi=\"", &mut band.iter().map(|b| b.1), &frame.y);
    }
}

/// The value of a curve at a place, straight between its points; `None` outside them and in a gap.
pub(crate) fn value_at(series: &Series, at: f64) -> Option<f64> {
    if let Some((_, y)) = series.points.iter().find(|(x, y)| *x == at && y.is_finite()) {
        return Some(*y);
    }
    series.points.windows(2).find_map(|pair| {
        let [(x0, y0), (x1, y1)] = pair else { return None };
        let share = (at - x0) / (x1 - x0);
        let y = y0 + (y1 - y0) * share;
        ((0.0..=1.0).contains(&share) && y.is_finite()).then_some(y)
    })
}
