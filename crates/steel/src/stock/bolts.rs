//! Bolts on the shelf.

use std::sync::OnceLock;

use super::rows;
use crate::grade::same;
use crate::part::Thread;

/// Metres an inch.
const INCH: f64 = 0.0254;

/// A bolt on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltSize {
    /// As people write it: `M12`, `M12x1.25`, `1/2-20 UNF`.
    pub name: String,
    /// Its thread.
    pub thread: Thread,
    /// Stress area as printed [m^2]; [`Thread::stress_area`] works it out.
    pub stress_area: f64,
    /// Head across flats [m].
    pub flats: f64,
    /// Clearance hole [m]. Suspension bolts that must not shift are fitted closer.
    pub hole: f64,
    /// Where the figures come from.
    pub source: String,
}

/// Metric bolts M6 to M20, coarse and fine, then inch bolts 1/4 to 3/4 in.
pub fn bolts() -> &'static [BoltSize] {
    static TABLE: OnceLock<Vec<BoltSize>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let metric = rows(include_str!("../../data/bolts_metric.csv")).filter_map(|cells| {
            size(&cells, 1e-3, |diameter, pitch| Thread::metric(diameter * 1e-3, pitch * 1e-3))
        });
        let inch = rows(include_str!("../../data/bolts_inch.csv")).filter_map(|cells| {
            size(&cells, INCH, |diameter, count| Thread::unified(diameter * INCH, count))
        });
        metric.chain(inch).collect()
    })
}

/// The bolt of that name; capitals and spaces do not matter.
pub fn bolt(name: &str) -> Option<&'static BoltSize> {
    bolts().iter().find(|bolt| same(&bolt.name, name))
}

/// One row, its lengths in `unit` [m].
fn size(cells: &[&'static str], unit: f64, thread: impl Fn(f64, f64) -> Thread) -> Option<BoltSize> {
    let [name, diameter, pitch, area, flats, hole, source] = *cells else { return None };
    Some(BoltSize {
        name: name.to_owned(),
        thread: thread(diameter.parse().ok()?, pitch.parse().ok()?),
        stress_area: area.parse::<f64>().ok()? * unit * unit,
        flats: flats.parse::<f64>().ok()? * unit,
        hole: hole.parse::<f64>().ok()? * unit,
        source: source.to_owned(),
    })
}
