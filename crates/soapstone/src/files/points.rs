//! Every point of a car as a table that `import` reads back.

use exchange::{Cell, Sheet};
use project::model::{Axle, Car, End, SurveyPoint};
use units::{Dimension, LengthUnit};

use super::{FileError, Kind, table};

/// A point as the table has it.
pub(super) struct TablePoint {
    /// `rear.link.toe.body`, `rear.link.toe.body=B` for a hole of it.
    pub name: String,
    /// In the file's own frame [m].
    pub at: [f64; 3],
    /// The largest standard uncertainty of the three [m].
    pub accuracy: f64,
}

/// The points of a car, holes behind the points that they are for.
pub(super) fn all(car: &Car) -> Vec<TablePoint> {
    let mut points = Vec::new();
    for axle in [End::Front, End::Rear].into_iter().filter_map(|end| car.axle(end)) {
        let end = axle.end.name();
        points.push(point(car, axle, format!("{end}.wheel.centre"), &axle.wheel.centre));
        for (index, (name, at)) in axle.scheme.points.iter().zip(&axle.points).enumerate() {
            let name = format!("{end}.{name}");
            points.push(point(car, axle, name.clone(), at));
            let holes = axle.holes.iter().filter(|hole| hole.point == index);
            points.extend(holes.map(|hole| point(car, axle, format!("{name}={}", hole.name), &hole.at)));
        }
    }
    points
}

fn point(car: &Car, axle: &Axle, name: String, point: &SurveyPoint) -> TablePoint {
    let mut at = point.at;
    if axle.mirrored {
        at.y = -at.y;
    }
    // Adding zero makes a negative zero a plain one.
    let at = car.frame.to_survey(at).add_scalar(0.0);
    TablePoint { name, at: [at.x, at.y, at.z], accuracy: point.uncertainty.max() }
}

/// The points as CSV or XLSX, in the file's own frame and length unit.
pub(crate) fn points_file(car: &Car, kind: Kind) -> Result<Vec<u8>, FileError> {
    let unit = car.units.symbol(Dimension::Length);
    let factor = 1.0 / car.units.factor(Dimension::Length);
    // A ten-thousandth of a millimetre, however long the unit: what is read back is the same point.
    let decimals = match car.units.length {
        LengthUnit::Millimetre => 4,
        LengthUnit::Inch => 6,
        _ => 7,
    };
    let mut sheet = Sheet {
        name: "points".into(),
        columns: vec![
            table::words("point"),
            table::numbers(format!("x [{unit}]"), decimals),
            table::numbers(format!("y [{unit}]"), decimals),
            table::numbers(format!("z [{unit}]"), decimals),
            table::numbers(format!("± [{unit}]"), decimals),
        ],
        rows: Vec::new(),
        notes: vec![
            String::new(),
            format!("{}: {}.", car.name, car.frame.description()),
            "± is one standard uncertainty of a coordinate, the largest of the three. Planning figures, not an approval."
                .into(),
        ],
    };
    sheet.rows = all(car)
        .into_iter()
        .map(|point| {
            let numbers = point.at.iter().chain([&point.accuracy]).map(|v| Cell::Number(v * factor));
            std::iter::once(Cell::Text(point.name)).chain(numbers).collect()
        })
        .collect();
    table::bytes(&[sheet], kind)
}
