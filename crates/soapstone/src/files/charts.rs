//! Views and charts of a car as pictures.

use std::io::{Cursor, Write};

use draw::chart::{self, Axis, ChartSpec, Series};
use draw::style::{Theme, standalone_in};
use draw::track;
use draw::{Overlays, Scene, View, ViewOptions, views};
use paper::Fonts;
use paper::stage::{chart_spec, map_spec, track_spec};
use project::model::{Car, End};
use study::Subject;
use units::Dimension;
use zip::write::SimpleFileOptions;

use super::{FileError, Kind, skeleton};
use crate::stage::Which;

/// A picture: its name without an ending, and its SVG with classes alone.
pub(crate) struct Picture {
    pub name: String,
    svg: String,
}

/// Sizes of a view and a chart [px].
const VIEW: (f64, f64) = (900.0, 640.0);
const CHART: (f64, f64) = (640.0, 420.0);

/// Pixels of a picture to each of the drawing's.
const SCALE: f64 = 2.0;

/// A view of a scene.
type Draws = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

const VIEWS: [(&str, Draws); 3] =
    [("from-left", views::side), ("from-behind", views::rear), ("from-above", views::top)];

impl Picture {
    /// The picture as SVG that stands by itself, or PNG.
    pub fn file(&self, fonts: &Fonts, kind: Kind) -> Result<Vec<u8>, FileError> {
        match kind {
            Kind::Svg => Ok(standalone_in(&self.svg, Theme::Light).into_bytes()),
            Kind::Png => Ok(paper::png::drawing(&self.svg, fonts, SCALE)?),
            _ => Err(FileError::Kind(kind)),
        }
    }
}

/// Everything that is drawn of a car as it is in the file.
pub(crate) fn charts(car: &Car) -> Result<Vec<Picture>, FileError> {
    let mut pictures = Vec::new();
    for scene in skeleton::scenes(car)? {
        let end = scene.end.name();
        for (name, draws) in VIEWS {
            let options = ViewOptions::new(VIEW.0, VIEW.1, car.units, &car.frame);
            let svg = draws(&scene, &Overlays::default(), &options).svg;
            pictures.push(Picture { name: format!("{end}-{name}"), svg });
        }
        over_travel(car, scene.end, &mut pictures)?;
    }
    for which in Which::ALL {
        let stage = which.work(car, &[]);
        let name = |key: &str| format!("{}-{key}", which.head().name);
        pictures.extend(
            stage.charts.iter().map(|of| Picture {
                name: name(&of.key),
                svg: chart::line(&chart_spec(of, &car.units, CHART)),
            }),
        );
        pictures.extend(stage.tracks.iter().map(|of| Picture {
            name: name(&of.key),
            svg: track::track(&track_spec(of, &car.units, CHART)),
        }));
        pictures.extend(
            stage
                .maps
                .iter()
                .map(|of| Picture { name: name(of.key), svg: chart::map(&map_spec(of, &car.units, CHART)) }),
        );
    }
    Ok(pictures)
}

fn over_travel(car: &Car, end: End, pictures: &mut Vec<Picture>) -> Result<(), FileError> {
    let subject = Subject::new(car, end)?;
    let travels = study::chart_places(study::chart_travel(car));
    for curve in study::curves(&subject, &[], &study::CHARTED, &travels, true)? {
        if curve.points.len() < 2 {
            continue;
        }
        let scale = curve.quantity.scale();
        let (along, up) = (1.0 / car.units.factor(Dimension::Length), scale.factor(&car.units));
        let key = curve.quantity.key(subject.end());
        let spec = ChartSpec {
            title: format!("{}, {} axle", key.replace('-', " "), end.name()),
            x: Axis { label: "wheel travel".into(), unit: car.units.symbol(Dimension::Length).to_string() },
            y: Axis { label: String::new(), unit: scale.unit(&car.units) },
            series: vec![Series {
                name: "as drawn".into(),
                points: curve.points.iter().map(|(x, y, _)| (x * along, y * up)).collect(),
                band: Some(curve.points.iter().map(|(_, y, u)| ((y - u) * up, (y + u) * up)).collect()),
                style: 0,
            }],
            width: CHART.0,
            height: CHART.1,
            ..ChartSpec::default()
        };
        pictures.push(Picture { name: format!("{}-{key}", end.name()), svg: chart::line(&spec) });
    }
    Ok(())
}

/// The pictures in one file.
pub(crate) fn charts_zip(pictures: &[Picture], kind: Kind) -> Result<Vec<u8>, FileError> {
    let fonts = crate::print::fonts();
    let mut out = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for picture in pictures {
        let name = format!("{}.{}", super::safe(&picture.name), kind.ending());
        out.start_file(name, SimpleFileOptions::default())?;
        out.write_all(&picture.file(fonts, kind)?)?;
    }
    Ok(out.finish()?.into_inner())
}
