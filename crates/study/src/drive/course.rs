//! The file's venues as courses.

use project::model::{CentreRow, GateReading, PathReading, PieceReading, PieceShape, VenueReading};
use vehicle::venue::{self, Course, Gate, Piece, Row, Shape, VenueError};

use crate::whole::Lack;

/// Steps along a course [m]: of one that is long, and of one of cones.
const STEP: f64 = 2.0;
const FINE_STEP: f64 = 0.5;

/// A course up to this length is taken in fine steps [m].
const SHORT: f64 = 1500.0;

/// A venue ready to be driven.
#[derive(Clone, Debug)]
pub(crate) struct Venue {
    pub name: String,
    pub course: Course,
    /// From a stand at the line, else flying.
    pub standing: bool,
    pub cones: Vec<[f64; 2]>,
    /// What is to be said of how it came about.
    pub words: Vec<String>,
}

fn wrong(name: &str, error: &VenueError) -> Lack {
    Lack { what: format!("venue {name}: {error}"), hint: error.hint().into() }
}

/// Makes the course; its grip is that of the file times the surface's own.
pub(super) fn venue(reading: &VenueReading) -> Result<Venue, Lack> {
    let name = &reading.name;
    let fail = |e: VenueError| wrong(name, &e);
    let mut words = Vec::new();
    let mut cones = Vec::new();
    let mut course = match &reading.path {
        PathReading::Pieces(pieces) => {
            let pieces: Vec<Piece> = pieces.iter().map(piece).collect();
            let course = venue::from_pieces(&pieces, reading.closed, STEP).map_err(fail)?;
            if course.length() < SHORT {
                venue::from_pieces(&pieces, reading.closed, FINE_STEP).map_err(fail)?
            } else {
                course
            }
        }
        PathReading::Points { rows, resolution, degrees } => {
            centreline(reading, rows, *degrees, *resolution, &mut words)?
        }
        PathReading::File { file, resolution, text } => {
            let text = match text {
                Some(Ok(text)) => text,
                Some(Err(why)) => {
                    return Err(Lack {
                        what: format!("venue {name}: `{file}` cannot be read: {why}"),
                        hint: "put the file beside the car's, and write its name alone".into(),
                    });
                }
                None => {
                    return Err(Lack {
                        what: format!("venue {name}: `{file}` was not read"),
                        hint: "a centreline in a file of its own is read where the car's file stands in a folder".into(),
                    });
                }
            };
            let (rows, degrees) = project::centre_rows(text).map_err(|why| Lack {
                what: format!("venue {name}: {file}: {why}"),
                hint: "docs/drive.md shows what such a file holds".into(),
            })?;
            centreline(reading, &rows, degrees, *resolution, &mut words)?
        }
        PathReading::Gates(gates) => {
            cones = gates.iter().flat_map(standing).collect();
            let gates: Vec<Gate> = gates.iter().map(gate).collect();
            let half = 0.5 * reading.car_width;
            words.push(
                "The path is the least bent one through the gates that leaves the car its width: a driver finds one near it."
                    .into(),
            );
            venue::from_gates(&gates, reading.closed, half, FINE_STEP).map_err(fail)?
        }
    };
    if reading.line && cones.is_empty() {
        course = venue::line_within(&course, 0.5 * reading.car_width).map_err(fail)?;
        words.push("The path is the least bent one within the road's width, less the car's.".into());
    }
    for spot in &mut course.spots {
        spot.grip *= reading.grip.value;
    }
    Ok(Venue { name: name.clone(), course, standing: reading.standing, cones, words })
}

fn centreline(
    reading: &VenueReading,
    rows: &[CentreRow],
    degrees: bool,
    resolution: f64,
    words: &mut Vec<String>,
) -> Result<Course, Lack> {
    let fail = |e: VenueError| wrong(&reading.name, &e);
    let places: Vec<[f64; 2]> = rows.iter().map(|row| row.at).collect();
    let places = if degrees { venue::plane(&places).map_err(fail)? } else { places };
    let rows: Vec<Row> = rows
        .iter()
        .zip(places)
        .map(|(row, place)| Row {
            place,
            height: row.height,
            room: row.room,
            bank: row.bank,
            grip: row.grip,
            section: row.section.clone(),
        })
        .collect();
    let make = |step: f64| venue::from_centreline(&rows, reading.closed, resolution, step).map_err(fail);
    let mut made = make(STEP)?;
    if made.course.length() < SHORT {
        made = make(FINE_STEP)?;
    }
    words.push(format!(
        "The points are smoothed to waves of {:.0} m (half of such a wave is left, hardly any of one half as long); they lie \
         {:.2} m from the path on the average, {:.2} m at most. A corner much shorter than that is drawn rounder than it is.",
        made.resolution, made.rms, made.greatest
    ));
    Ok(made.course)
}

fn piece(reading: &PieceReading) -> Piece {
    let shape = match reading.shape {
        PieceShape::Straight(length) => Shape::Straight(length),
        PieceShape::Corner { radius, angle, easing } => Shape::Corner { radius, angle, easing },
    };
    Piece {
        name: reading.name.clone(),
        shape,
        grade: reading.grade,
        bank: reading.bank,
        grip: reading.grip,
        width: reading.width,
    }
}

fn gate(reading: &GateReading) -> Gate {
    let [left, right] = reading.cones;
    Gate { name: reading.name.clone(), left, right }
}

fn standing(reading: &GateReading) -> Vec<[f64; 2]> {
    reading.cones.iter().zip(reading.standing).filter(|(_, stands)| *stands).map(|(cone, _)| *cone).collect()
}
