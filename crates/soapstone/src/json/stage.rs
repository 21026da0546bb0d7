//! `soapstone.stop/1`, `soapstone.balance/1` and `soapstone.drive/1`: groups of figures, charts and maps of a stage.

use project::model::Car;
use serde::Serialize;
use study::{ChartAxis, Stage};

use super::{CAUTION, Doubtful, unit};
use crate::stage::Head;

#[derive(Serialize)]
struct StageOut {
    schema: &'static str,
    car: String,
    /// Which holes are in use.
    place: String,
    groups: Vec<GroupOut>,
    charts: Vec<ChartOut>,
    maps: Vec<MapOut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    courses: Vec<CourseOut>,
    /// Results that the file does not allow yet.
    lacks: Vec<LackOut>,
    notes: Vec<String>,
    caution: &'static str,
}

#[derive(Serialize)]
struct GroupOut {
    title: String,
    columns: Vec<String>,
    results: Vec<ResultOut>,
    words: Vec<String>,
}

#[derive(Serialize)]
struct ResultOut {
    name: &'static str,
    title: String,
    unit: &'static str,
    /// One a column.
    values: Vec<CellOut>,
}

#[derive(Serialize)]
struct CellOut {
    #[serde(flatten)]
    value: Option<Doubtful>,
    /// In the value's place.
    #[serde(skip_serializing_if = "Option::is_none")]
    word: Option<String>,
    /// Why the value is past what the model can say.
    #[serde(skip_serializing_if = "Option::is_none")]
    outside: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sources_of_doubt: Vec<DoubtOut>,
}

#[derive(Serialize)]
struct DoubtOut {
    name: String,
    share: f64,
}

#[derive(Serialize)]
struct AxisOut {
    label: String,
    unit: &'static str,
}

#[derive(Serialize)]
struct ChartOut {
    name: String,
    title: String,
    x: AxisOut,
    y: AxisOut,
    series: Vec<SeriesOut>,
}

#[derive(Serialize)]
struct SeriesOut {
    name: String,
    x: Vec<f64>,
    /// `null` in a gap.
    y: Vec<Option<f64>>,
}

#[derive(Serialize)]
struct MapOut {
    name: &'static str,
    title: String,
    x: AxisOut,
    y: AxisOut,
    of: AxisOut,
    xs: Vec<f64>,
    ys: Vec<f64>,
    /// Row by row of `ys`; `null` where there is no such state.
    values: Vec<Vec<Option<f64>>>,
}

/// A course from above: places in metres, the way to each, the figure there.
#[derive(Serialize)]
struct CourseOut {
    name: String,
    title: String,
    closed: bool,
    of: AxisOut,
    way: Vec<f64>,
    x: Vec<f64>,
    y: Vec<f64>,
    values: Vec<Option<f64>>,
    cones: Vec<[f64; 2]>,
    sections: Vec<SectionOut>,
}

#[derive(Serialize)]
struct SectionOut {
    name: String,
    from: f64,
}

#[derive(Serialize)]
struct LackOut {
    what: String,
    write: String,
}

fn axis(axis: &ChartAxis) -> (AxisOut, f64) {
    let (unit, factor) = unit(axis.scale);
    (AxisOut { label: axis.label.clone(), unit }, factor)
}

/// A stage.
pub(crate) fn stage(head: &Head, car: &Car, place: &str, stage: &Stage) -> impl Serialize {
    StageOut {
        schema: head.schema,
        car: car.name.clone(),
        place: place.to_string(),
        groups: stage.groups.iter().map(group).collect(),
        charts: stage.charts.iter().map(chart).collect(),
        maps: stage.maps.iter().map(map).collect(),
        courses: stage.tracks.iter().map(course).collect(),
        lacks: stage.lacks.iter().map(|l| LackOut { what: l.what.clone(), write: l.hint.clone() }).collect(),
        notes: stage.notes.clone(),
        caution: CAUTION,
    }
}

fn group(group: &study::Group) -> GroupOut {
    let results = group.rows.iter().map(|row| {
        let (unit, factor) = unit(row.scale);
        let values = row.cells.iter().map(|cell| CellOut {
            value: cell.estimate.as_ref().map(|e| Doubtful::new(e, factor)),
            word: cell.word.clone(),
            outside: cell.outside.clone(),
            sources_of_doubt: cell
                .doubts
                .iter()
                .map(|(name, share)| DoubtOut { name: name.clone(), share: *share })
                .collect(),
        });
        ResultOut { name: row.key, title: row.title().to_string(), unit, values: values.collect() }
    });
    GroupOut {
        title: group.title.clone(),
        columns: group.columns.clone(),
        results: results.collect(),
        words: group.words.clone(),
    }
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn chart(chart: &study::Chart) -> ChartOut {
    let ((x, along), (y, up)) = (axis(&chart.x), axis(&chart.y));
    let series = chart.series.iter().map(|curve| SeriesOut {
        name: curve.name.clone(),
        x: curve.points.iter().map(|p| p.0 * along).collect(),
        y: curve.points.iter().map(|p| finite(p.1 * up)).collect(),
    });
    ChartOut { name: chart.key.to_string(), title: chart.title.clone(), x, y, series: series.collect() }
}

fn map(map: &study::Map) -> MapOut {
    let ((x, along), (y, up), (of, factor)) = (axis(&map.x), axis(&map.y), axis(&map.of));
    let row = |row: &[Option<f64>]| row.iter().map(|v| v.and_then(|v| finite(v * factor))).collect();
    MapOut {
        name: map.key,
        title: map.title.clone(),
        x,
        y,
        of,
        xs: map.xs.iter().map(|v| v * along).collect(),
        ys: map.ys.iter().map(|v| v * up).collect(),
        values: map.values.chunks(map.xs.len().max(1)).map(row).collect(),
    }
}

fn course(of: &study::Track) -> CourseOut {
    let (axis, factor) = axis(&of.of);
    CourseOut {
        name: of.key.clone(),
        title: of.title.clone(),
        closed: of.closed,
        of: axis,
        way: (0..of.places.len()).map(|i| of.step * i as f64).collect(),
        x: of.places.iter().map(|p| p.0[0]).collect(),
        y: of.places.iter().map(|p| p.0[1]).collect(),
        values: of.places.iter().map(|p| finite(p.1 * factor)).collect(),
        cones: of.cones.clone(),
        sections: of
            .sections
            .iter()
            .map(|(i, name)| SectionOut { name: name.clone(), from: of.step * *i as f64 })
            .collect(),
    }
}
