//! The stop as it unfolds: how the load leaves the rear, how the body pitches, how the rear wheels would hop.

use vehicle::pedal::{HopEnd, HopMargin, Sample};

use crate::in_stop::{about, hop_margin, over_time};
use crate::quantity::{InStop, Scale};
use crate::stage::{Cell, Chart, ChartAxis, Curve, Finding, Group};
use crate::whole::{Lack, Whole, WholeCar, end_name};

use super::texts;

pub(super) fn group(car: &WholeCar, whole: &Whole) -> Result<(Group, Vec<Chart>), Lack> {
    let stop = &car.car().stop;
    let (run, hop) = over_time(whole, stop)?;
    let margin = hop_margin(whole, stop)?;
    let summary = &run.summary;
    let settled = match summary.settled {
        Some(time) => Cell::plain(time),
        None => Cell::word("not within the time shown"),
    };
    let row = |key, about, scale, cell| Finding::new(key, about, scale, vec![cell]);
    let mut words = vec![format!(
        "The rear axle begins with {:.0} N, goes down to {:.0} N after {:.2} s, and ends at {:.0} N. Where the links go \
         decides the way there, not the end.",
        summary.rear_before, summary.rear_least, summary.least_at, summary.rear_final
    )];
    if summary.locked.iter().any(|locked| *locked) {
        words.push(
            "A wheel locks on the way: the tyre then slides, and the figures after that are a guess.".into(),
        );
    }
    words.push(format!("The brakes may go on {:.2} times as hard {}", margin.factor, ends(&margin)));
    if summary.left_road.iter().any(|left| *left) {
        words.push("A wheel leaves the road on the way.".into());
    }
    let group = Group {
        title: format!("As it unfolds, the pedal down in {:.2} s", stop.rise),
        columns: vec![String::new()],
        rows: vec![
            row("rear-load-dip-time", about(InStop::Dip), Scale::Force, Cell::plain(summary.dip)),
            row("rear-load-settled", texts::SETTLED, Scale::Time, settled),
            row("hop-in-stop", texts::HOP_FREQUENCY, Scale::Frequency, Cell::plain(hop.frequency)),
            row("hop-damping-in-stop", about(InStop::Hop), Scale::Ratio, Cell::plain(hop.damping)),
            row("hop-margin", texts::HOP_MARGIN, Scale::Ratio, Cell::plain(margin.factor)),
            row("hop-damping-free", texts::HOP_FREE, Scale::Ratio, Cell::plain(hop.free_damping)),
        ],
        words,
    };
    let chart =
        |key: &'static str, title: &str, words: &str, label: &str, scale, curves: Vec<(&str, Pick)>| Chart {
            key: key.into(),
            title: title.into(),
            words: words.into(),
            x: ChartAxis { label: "time".into(), scale: Scale::Time },
            y: ChartAxis { label: label.into(), scale },
            series: curves
                .into_iter()
                .map(|(name, pick)| Curve {
                    name: name.into(),
                    points: run.samples.iter().map(|s| (s.time, pick(s))).collect(),
                })
                .collect(),
            marks: vec![(stop.rise, "pedal down".into())],
        };
    let charts = vec![
        chart(
            "axle-loads-over-time",
            "load on the axles as the stop begins",
            "The rear's way down: a dip below its end is grip that is missing for a moment.",
            "load",
            Scale::Force,
            vec![("front", |s| s.load[0]), ("rear", |s| s.load[1])],
        ),
        chart(
            "rise-over-time",
            "rise of the body over the axles",
            "Up is positive: the nose goes down, the tail comes up.",
            "rise",
            Scale::Length,
            vec![("front", |s| s.rise[0]), ("rear", |s| s.rise[1])],
        ),
    ];
    Ok((group, charts))
}

/// What ends the rise of the brakes.
fn ends(margin: &HopMargin) -> String {
    match margin.ends {
        HopEnd::Undamped => {
            "before the hop of the rear wheels grows by itself: less damping in the dampers, or a \
                             shorter side-view arm, brings that nearer."
                .into()
        }
        HopEnd::Slides(axle) => {
            format!(
                "until the {} wheels lock; up to there the hop of the rear wheels dies away.",
                end_name(axle)
            )
        }
        HopEnd::Lifts(axle) => format!(
            "until the {} wheels leave the road; up to there the hop of the rear wheels dies away.",
            end_name(axle)
        ),
        HopEnd::Travel(axle) => format!(
            "until the {} suspension finds no hold: its linkage ends, or the brakes jack the body up.",
            end_name(axle)
        ),
        HopEnd::Beyond => "and more: nothing ends it so far, which no pedal reaches.".into(),
    }
}

/// What a curve shows of a sample.
type Pick = fn(&Sample) -> f64;
