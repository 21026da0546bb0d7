//! Charts and maps of a stage in the reader's units.

use draw::chart::{Axis, ChartSpec, MapSpec, Mark, Series};
use draw::motion::{Moment, MotionRun, MotionSpec, Outline};
use draw::track::TrackSpec;
use study::{Chart, ChartAxis, Map, Motion, MotionMoment, Scale, Track};
use units::UnitSystem;

/// Most curves in one chart that colour and dash tell apart.
const STYLES: usize = 6;

/// A value as it is shown.
fn shown(value: f64, scale: Scale, units: &UnitSystem) -> f64 {
    value * scale.factor(units) + scale.offset(units)
}

fn axis(of: &ChartAxis, units: &UnitSystem) -> Axis {
    Axis { label: of.label.clone(), unit: of.scale.unit(units) }
}

/// A chart to be drawn, of this width and height \[px\].
pub fn chart_spec(of: &Chart, units: &UnitSystem, size: (f64, f64)) -> ChartSpec {
    let x = |value: f64| shown(value, of.x.scale, units);
    let y = |value: f64| shown(value, of.y.scale, units);
    let series = of.series.iter().enumerate().map(|(i, curve)| Series {
        name: curve.name.clone(),
        points: curve.points.iter().map(|(a, b)| (x(*a), y(*b))).collect(),
        band: None,
        style: i % STYLES,
    });
    ChartSpec {
        title: of.title.clone(),
        x: axis(&of.x, units),
        y: axis(&of.y, units),
        series: series.collect(),
        marks: of.marks.iter().map(|(at, label)| Mark { x: x(*at), label: label.clone() }).collect(),
        at: None,
        width: size.0,
        height: size.1,
    }
}

/// A course to be drawn, of this width and height \[px\].
pub fn track_spec(of: &Track, units: &UnitSystem, size: (f64, f64)) -> TrackSpec {
    let way = Scale::Distance;
    TrackSpec {
        title: of.title.clone(),
        places: of.places.iter().map(|(at, v)| (*at, shown(*v, of.of.scale, units))).collect(),
        step: of.step,
        closed: of.closed,
        edges: of.edges.clone(),
        cones: of.cones.clone(),
        sections: of.sections.clone(),
        unit: of.of.scale.unit(units),
        way: (way.unit(units), 1.0 / way.factor(units)),
        width: size.0,
        height: size.1,
    }
}

/// Cars on their way, of this width and height \[px\].
pub fn motion_spec(of: &Motion, size: (f64, f64)) -> MotionSpec {
    let [wheelbase, front, rear, radius, height] = of.sizes;
    let moment = |m: &MotionMoment| Moment {
        time: m.time,
        place: m.place,
        yaw: m.yaw,
        pitch: m.pitch,
        rise: m.rise,
        steer: m.steer,
        load: m.load,
    };
    let run = |(label, moments): &(String, Vec<MotionMoment>)| MotionRun {
        label: label.clone(),
        moments: moments.iter().map(moment).collect(),
    };
    MotionSpec {
        key: of.key.into(),
        title: of.title.clone(),
        runs: of.runs.iter().map(run).collect(),
        outline: Outline { wheelbase, track: [front, rear], radius, height },
        width: size.0,
        height: size.1,
    }
}

/// A map to be drawn, of this width and height \[px\].
pub fn map_spec(of: &Map, units: &UnitSystem, size: (f64, f64)) -> MapSpec {
    let value = |v: f64| shown(v, of.of.scale, units);
    MapSpec {
        title: of.title.clone(),
        x: axis(&of.x, units),
        y: axis(&of.y, units),
        of: axis(&of.of, units),
        xs: of.xs.iter().map(|v| shown(*v, of.x.scale, units)).collect(),
        ys: of.ys.iter().map(|v| shown(*v, of.y.scale, units)).collect(),
        values: of.values.iter().map(|v| v.map(value)).collect(),
        borders: of.borders.iter().map(|(v, word)| (value(*v), word.clone())).collect(),
        width: size.0,
        height: size.1,
    }
}
