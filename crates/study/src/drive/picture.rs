//! Speed along a course, the time that one choice is behind another, and the course with its speed.

use super::course::Venue;
use super::variant::{Driven, Variant};
use crate::quantity::Scale;
use crate::stage::{Chart, ChartAxis, Curve, Stage, Track};

/// Most points of a curve.
const POINTS: usize = 600;

/// Most curves of a chart.
const CURVES: usize = 4;

pub(super) fn all(venue: &Venue, index: usize, variants: &[Variant], driven: &[Driven], stage: &mut Stage) {
    let course = &venue.course;
    let every = course.spots.len().div_ceil(POINTS).max(1);
    let curve = |of: &dyn Fn(&Driven, usize) -> Option<f64>, from: usize| -> Vec<Curve> {
        variants
            .iter()
            .zip(driven)
            .skip(from)
            .take(CURVES)
            .map(|(variant, driven)| Curve {
                name: variant.name.clone(),
                points: (0..course.spots.len())
                    .step_by(every)
                    .filter_map(|i| Some((course.step * i as f64, of(driven, i)?)))
                    .collect(),
            })
            .collect()
    };
    let sample = |d: &Driven, i: usize| d.laps.get(index)?.samples.get(i).copied();
    let axis = |label: &str, scale| ChartAxis { label: label.into(), scale };
    let marks: Vec<(f64, String)> =
        course.sections.iter().map(|section| (section.from, section.name.clone())).collect();
    stage.charts.push(Chart {
        key: format!("{}-speed", venue.name).into(),
        title: format!("{}: speed along the way", venue.name),
        words: "Where the curve falls the car brakes, where it lies level a corner or the engine holds it."
            .into(),
        x: axis("way", Scale::Distance),
        y: axis("speed", Scale::Speed),
        series: curve(&|d, i| Some(sample(d, i)?.speed), 0),
        marks: marks.clone(),
    });
    if let Some(base) = driven.first().filter(|_| driven.len() > 1) {
        stage.charts.push(Chart {
            key: format!("{}-behind", venue.name).into(),
            title: format!(
                "{}: time behind {}",
                venue.name,
                variants.first().map_or("the first", |v| v.name.as_str())
            ),
            words: "Where a line rises that choice loses time, where it falls it gains.".into(),
            x: axis("way", Scale::Distance),
            y: axis("behind", Scale::Time),
            series: curve(&|d, i| Some(sample(d, i)?.time - sample(base, i)?.time), 1),
            marks,
        });
    }
    let Some(base) = driven.first() else { return };
    let places: Vec<([f64; 2], f64)> = course
        .spots
        .iter()
        .enumerate()
        .map(|(i, spot)| (spot.place, sample(base, i).map_or(f64::NAN, |s| s.speed)))
        .collect();
    let known = venue.cones.is_empty() && course.spots.iter().all(|s| s.room.iter().all(|r| r.is_finite()));
    let edges = if known {
        course
            .spots
            .iter()
            .map(|s| {
                let (sin, cos) = s.heading.sin_cos();
                let [left, right] = s.room;
                [
                    [s.place[0] - sin * left, s.place[1] + cos * left],
                    [s.place[0] + sin * right, s.place[1] - cos * right],
                ]
            })
            .collect()
    } else {
        Vec::new()
    };
    stage.tracks.push(Track {
        key: venue.name.clone(),
        title: format!(
            "{}: speed of {}",
            venue.name,
            variants.first().map_or("the car", |v| v.name.as_str())
        ),
        words: "The path as it is driven, from above.".into(),
        of: axis("speed", Scale::Speed),
        step: course.step,
        closed: course.closed,
        places,
        edges,
        cones: venue.cones.clone(),
        sections: course
            .sections
            .iter()
            .map(|s| ((s.from / course.step).round() as usize, s.name.clone()))
            .collect(),
    });
}
