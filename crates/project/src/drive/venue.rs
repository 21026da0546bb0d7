//! `[venue.NAME]`: straights and corners, a centreline, a file with one, or gates of cones.

use std::f64::consts::TAU;

use units::Dimension;

use crate::entry::Entry;
use crate::model::{CentreRow, GateReading, PathReading, PieceReading, PieceShape, Value, VenueReading};
use crate::reader::Section;

/// Most pieces, points and gates of a course.
const MOST: usize = 20_000;

/// Most venues of a file.
const MOST_VENUES: usize = 40;

/// Shortest wave that is kept of a centreline where nothing is said \[m\] (own): GPS with its noise of a metre or so lets
/// through what a fast car can follow.
const RESOLUTION: f64 = 40.0;

/// Width of a car with a hand's breadth on either side \[m\].
const CAR_WIDTH: f64 = 1.9;

/// Room beside a single cone on its free side \[m\].
const BESIDE: f64 = 3.0;

/// Steepest road \[-\] and bank \[rad\].
const STEEPEST: f64 = 0.4;
const MOST_BANK: f64 = 0.8;

/// Surfaces by their share of friction \[-\].
const GRIP: (f64, f64) = (0.05, 2.0);

pub(super) fn read(root: &Section<'_>) -> Vec<VenueReading> {
    let mut venues = Vec::new();
    for (name, section) in root.named_sections("venue") {
        if venues.len() == MOST_VENUES {
            section.sink.error(&section.span, format!("there are more than {MOST_VENUES} venues"), None);
            section.leave();
            continue;
        }
        venues.extend(venue(name, section));
    }
    venues
}

fn venue(name: String, section: Section<'_>) -> Option<VenueReading> {
    let ways = ["pieces", "points", "file", "gates"];
    let there: Vec<&str> = ways.into_iter().filter(|key| section.has(key)).collect();
    if there.len() != 1 {
        let message = match there.as_slice() {
            [] => format!("`[{}]` has no path", section.path),
            several => format!("`[{}]` has more than one path: `{}`", section.path, several.join("`, `")),
        };
        section.sink.error(
            &section.span,
            message,
            "write one of `pieces` (straights and corners), `points` or `file` (a centreline), `gates` (cones)".to_string(),
        );
    }
    let closed = section.entry("closed").and_then(|e| e.truth()).unwrap_or(false);
    let standing = section.word("start", &["flying", "standing"]).map_or(!closed, |word| word == "standing");
    let grip = section.entry("grip").and_then(|entry| grip(&entry));
    let car_width = section.entry("car-width").and_then(|e| e.positive(Dimension::Length));
    let line = section.word("line", &["as-written", "within-width"]) == Some("within-width");
    let resolution = section.entry("resolution").and_then(|entry| {
        let length = entry.way()?;
        if (1.0..=1000.0).contains(&length) {
            return Some(length);
        }
        entry.error(
            format!("`{}` must lie between 1 and 1000 m", entry.path),
            "it is the shortest wave of the path that is kept: shorter ones are taken for noise".to_string(),
        );
        None
    });
    let resolution = resolution.unwrap_or(RESOLUTION);
    let degrees = section.entry("degrees").and_then(|e| e.truth()).unwrap_or(false);
    let path = match there.as_slice() {
        ["pieces"] => section.entry("pieces").and_then(|e| pieces(&e)),
        ["points"] => section.entry("points").and_then(|e| points(&e, resolution, degrees)),
        ["file"] => section.entry("file").and_then(|e| {
            let file = e.text("the name of a CSV file beside this one")?.trim().to_string();
            Some(PathReading::File { file, resolution, text: None })
        }),
        ["gates"] => section.entry("gates").and_then(|e| gates(&e)),
        _ => {
            for key in there {
                section.entry(key);
            }
            None
        }
    };
    let span = section.span.clone();
    section.finish(None);
    let exactly = Value { value: 1.0, uncertainty: 0.0 };
    Some(VenueReading {
        name,
        path: path?,
        closed,
        standing,
        grip: grip.unwrap_or(exactly),
        car_width: car_width.map_or(CAR_WIDTH, |v| v.value),
        line,
        span,
    })
}

fn grip(entry: &Entry<'_>) -> Option<Value> {
    let share = entry.quantity(Dimension::Ratio)?;
    if (GRIP.0..=GRIP.1).contains(&share.value) {
        return Some(share);
    }
    entry.error(
        format!("`{}` must lie between {} and {}", entry.path, GRIP.0, GRIP.1),
        "it multiplies the tyres' friction: 1 is the surface of their figures, 0.6 a wet one".to_string(),
    );
    None
}

/// Too many, or none.
fn counted<T>(entry: &Entry<'_>, list: Vec<T>, least: usize, what: &str) -> Option<Vec<T>> {
    if (least..=MOST).contains(&list.len()) {
        return Some(list);
    }
    entry.error(format!("`{}` must have from {least} to {MOST} {what}", entry.path), None);
    None
}

fn pieces(entry: &Entry<'_>) -> Option<PathReading> {
    let mut good = true;
    let list: Vec<PieceReading> = entry
        .tables()
        .into_iter()
        .filter_map(|section| {
            let piece = piece(section);
            good &= piece.is_some();
            piece
        })
        .collect();
    if !good {
        return None;
    }
    counted(entry, list, 1, "pieces").map(PathReading::Pieces)
}

fn piece(section: Section<'_>) -> Option<PieceReading> {
    let name = section.entry("name").and_then(|e| Some(e.text("the name of a section")?.trim().to_string()));
    let number = |key: &str, dimension, most: f64, what: &str| {
        let Some(entry) = section.entry(key) else { return Some(0.0) };
        let value = entry.quantity(dimension)?.value;
        if value.abs() <= most {
            return Some(value);
        }
        entry.error(format!("`{}` is no {what} of a road", entry.path), None);
        None
    };
    let grade = number("grade", Dimension::Ratio, STEEPEST, "grade");
    let bank = number("bank", Dimension::Angle, MOST_BANK, "bank");
    let grip = section.entry("grip").map_or(Some(1.0), |e| Some(grip(&e)?.value));
    let length = |key: &str| {
        let entry = section.entry(key)?;
        let value = entry.way()?;
        if value > 0.0 {
            return Some(value);
        }
        entry.error(format!("`{}` must be more than zero", entry.path), None);
        None
    };
    let kinds: Vec<&str> = ["straight", "left", "right"].into_iter().filter(|k| section.has(k)).collect();
    let shape = match kinds.as_slice() {
        ["straight"] => length("straight").map(PieceShape::Straight),
        [side] => {
            let radius = length(side);
            let angle = section.need("angle", "how far the corner turns, in degrees").and_then(|entry| {
                let angle = entry.positive(Dimension::Angle)?.value;
                if angle <= TAU {
                    return Some(angle);
                }
                entry.error(format!("`{}` turns more than once round", entry.path), None);
                None
            });
            let easing = section.entry("easing").map_or(Some(0.0), |entry| {
                let easing = entry.way()?;
                let (radius, angle) = (radius?, angle?);
                if easing >= 0.0 && easing <= radius * angle {
                    return Some(easing);
                }
                entry.error(
                    format!("`{}` is longer than the corner", entry.path),
                    format!(
                        "the curvature comes and goes within the corner's {:.1} deg: at most {:.1} m at either end",
                        angle.to_degrees(),
                        radius * angle
                    ),
                );
                None
            });
            let sign = if *side == "left" { 1.0 } else { -1.0 };
            radius.zip(angle).zip(easing).map(|((radius, angle), easing)| PieceShape::Corner {
                radius,
                angle: sign * angle,
                easing,
            })
        }
        _ => {
            section.sink.error(
                &section.span,
                "a piece of a course is either a straight or a corner".to_string(),
                "write { straight = 300 }, or { left = 60, angle = 90 } with the radius in metres"
                    .to_string(),
            );
            for kind in kinds {
                section.entry(kind);
            }
            None
        }
    };
    let width = section.has("width").then(|| length("width"));
    if !matches!(shape, Some(PieceShape::Corner { .. })) && (section.has("angle") || section.has("easing")) {
        section.entry("angle");
        section.entry("easing");
        if shape.is_some() {
            section.sink.error(
                &section.span,
                "a straight has no `angle` and no `easing`".to_string(),
                "write `left` or `right` with the radius for a corner".to_string(),
            );
        }
    }
    section.finish(None);
    let width = match width {
        None => None,
        Some(width) => Some(width?),
    };
    Some(PieceReading { name, shape: shape?, grade: grade?, bank: bank?, grip: grip?, width })
}

/// Two numbers of a place: metres, or degrees.
fn pair(entry: &Entry<'_>, degrees: bool) -> Option<[f64; 2]> {
    let items = entry.items().unwrap_or_default();
    let [x, y] = items.as_slice() else {
        entry.error(
            format!("`{}` needs two numbers for a place", entry.path),
            "write it like [12.5, -3.0], in metres".to_string(),
        );
        return None;
    };
    let number = |e: &Entry<'_>| if degrees { Some(e.quantity(Dimension::Ratio)?.value) } else { e.way() };
    Some([number(x)?, number(y)?])
}

fn points(entry: &Entry<'_>, resolution: f64, degrees: bool) -> Option<PathReading> {
    let Some(items) = entry.items() else {
        entry.error(
            format!("`{}` must be a list of places", entry.path),
            "write it like [[0, 0], [5, 0.2], …], in metres; long ones stand better in a file of their own: `file`".to_string(),
        );
        return None;
    };
    let rows: Option<Vec<CentreRow>> = items
        .iter()
        .map(|item| Some(CentreRow { at: pair(item, degrees)?, ..CentreRow::default() }))
        .collect();
    let rows = counted(entry, rows?, 8, "points")?;
    Some(PathReading::Points { rows, resolution, degrees })
}

fn gates(entry: &Entry<'_>) -> Option<PathReading> {
    let mut good = true;
    let list: Vec<GateReading> = entry
        .tables()
        .into_iter()
        .filter_map(|section| {
            let gate = gate(section);
            good &= gate.is_some();
            gate
        })
        .collect();
    if !good {
        return None;
    }
    counted(entry, list, 3, "gates").map(PathReading::Gates)
}

fn gate(section: Section<'_>) -> Option<GateReading> {
    let name = section.entry("name").and_then(|e| Some(e.text("the name of a section")?.trim().to_string()));
    let place = |key: &str| section.entry(key).and_then(|entry| pair(&entry, false));
    let (left, right) = (section.has("left"), section.has("right"));
    let gate = match (left, right) {
        (true, true) => place("left").zip(place("right")).map(|(l, r)| ([l, r], [true, true])),
        (true, false) | (false, true) => {
            // A single cone: the other side of the gate is where the room ends.
            let key = if left { "left" } else { "right" };
            let cone = place(key);
            let toward = section.need("towards", "a place beside the cone on the side where the car passes");
            let towards = toward.and_then(|entry| pair(&entry, false));
            let room = section.entry("room").map_or(Some(BESIDE), |entry| entry.way());
            cone.zip(towards).zip(room).and_then(|((cone, towards), room)| {
                let way = [towards[0] - cone[0], towards[1] - cone[1]];
                let long = way[0].hypot(way[1]);
                if long < 0.1 || room <= 0.0 {
                    section.sink.error(
                        &section.span,
                        "`towards` is the cone itself".to_string(),
                        "give a place a metre or more beside it, on the side where the car passes"
                            .to_string(),
                    );
                    return None;
                }
                let other = [cone[0] + way[0] / long * room, cone[1] + way[1] / long * room];
                Some(if left { ([cone, other], [true, false]) } else { ([other, cone], [false, true]) })
            })
        }
        (false, false) => {
            section.sink.error(
                &section.span,
                "a gate needs its cones".to_string(),
                "write { left = [30, 2], right = [30, -2] } as one drives; or a single cone: { left = [30, 0], towards = [30, -1] } \
                 leaves it on the left".to_string(),
            );
            None
        }
    };
    section.finish(None);
    let (cones, standing) = gate?;
    Some(GateReading { name, cones, standing })
}
