//! Patterns from a plate of the car file.

use nalgebra::Vector3;
use project::model::{End, Hole, Plate};
use study::PlateFrame;

use super::pattern::{Direction, Pattern, PatternHole, TemplateError};
use crate::sheet::Spot;

/// Cosine of the angle to the vertical within which a plate counts as level (25 deg): it is then seen from above.
const LEVEL: f64 = 0.906;

/// A hole that stands off the plate's plane by more is not the plate's [m]; by more than the second, it is said.
const OFF_PLANE: f64 = 5e-3;
const WORTH_SAYING: f64 = 0.5e-3;

/// A direction is drawn where at least this share of it lies in the plate.
const IN_PLATE: f64 = 0.5;

/// What the drill is larger than the bolt.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// Added to the bolt's diameter [m].
    pub added: f64,
    /// Where that comes from, in words.
    pub source: String,
}

impl Default for Clearance {
    /// 0.25 mm, common practice for a pickup that must not shift in its hole; general clearance holes are wider.
    fn default() -> Self {
        Self { added: 0.25e-3, source: "common practice for a pickup that must not shift".into() }
    }
}

/// The sheet's axes in car axes, and from where that is.
struct Seen {
    right: Vector3<f64>,
    up: Vector3<f64>,
    /// From where, on the left side and on the right side of the car.
    from: [&'static str; 2],
}

/// A plate with its holes, for the left side as surveyed and for the right side as its mirror. An upright plate is
/// seen from outside the car with up upwards; one across the car from behind (rear axle) or from the front (front
/// axle); a level one from above with the front upwards. Holes of the same link end that do not lie on the plate
/// are left out.
///
/// # Errors
/// Where the outline encloses no area.
pub fn of_plate(
    end: End,
    plate: &Plate,
    holes: &[Hole],
    clearance: &Clearance,
) -> Result<[Pattern; 2], TemplateError> {
    let wrong = || TemplateError::NoArea { plate: plate.name.clone() };
    let sound = plate.outline.iter().all(|corner| corner.iter().all(|x| x.is_finite()));
    let frame = sound.then(|| PlateFrame::new(&plate.outline)).flatten().ok_or_else(wrong)?;
    let seen = seen(end, &frame.u.cross(&frame.v)).ok_or_else(wrong)?;
    let millimetres = |point: &Vector3<f64>| -> Spot {
        let r = point - frame.origin;
        (1e3 * r.dot(&seen.right), 1e3 * r.dot(&seen.up))
    };
    let outline: Vec<Spot> = plate.outline.iter().map(millimetres).collect();
    // From the lower left corner of the plate's box.
    let low = outline.iter().fold((f64::INFINITY, f64::INFINITY), |l, p| (l.0.min(p.0), l.1.min(p.1)));
    let place = |at: Spot| (at.0 - low.0, at.1 - low.1);
    let mut own = Vec::new();
    let mut elsewhere = Vec::new();
    for hole in holes.iter().filter(|hole| hole.point == plate.point) {
        let at = frame.locate(&hole.at.at);
        let off = (hole.at.at - frame.place(&at)).norm();
        // Not at most, rather than more: a place that is no number is left out too.
        if !(off <= OFF_PLANE && frame.margin(&at) >= 0.0) {
            elsewhere.push(hole.name.as_str());
            continue;
        }
        let off =
            (off > WORTH_SAYING).then(|| format!("{:.1} mm off the plate's plane as surveyed", 1e3 * off));
        own.push(PatternHole {
            label: hole.name.clone(),
            at: place(millimetres(&hole.at.at)),
            diameter: 1e3 * (plate.bolt + clearance.added),
            note: off.unwrap_or_default(),
        });
    }
    let notes = if elsewhere.is_empty() {
        Vec::new()
    } else {
        vec![format!("Of the same link end, but not on this plate: {}.", elsewhere.join(", "))]
    };
    let directions = [("up", Vector3::z()), ("front", Vector3::x()), ("outboard", Vector3::y())];
    let directions = directions.iter().filter_map(|(name, axis)| {
        let (x, y) = (axis.dot(&seen.right), axis.dot(&seen.up));
        let share = x.hypot(y);
        (share >= IN_PLATE).then(|| Direction { name: (*name).into(), towards: (x / share, y / share) })
    });
    let title = |side: &str| format!("Plate {}, {} axle, {side} side", plate.name, end.name());
    let mut left = Pattern {
        title: title("left"),
        seen: format!("seen from {}", seen.from[0]),
        bolt: 1e3 * plate.bolt,
        clearance: format!("bolt + {:.2} mm, {}", 1e3 * clearance.added, clearance.source),
        outline: outline.iter().map(|at| place(*at)).collect(),
        holes: own,
        directions: directions.collect(),
        datums: Vec::new(),
        least: Some((1e3 * plate.spacing * plate.bolt, 1e3 * plate.edge * plate.bolt)),
        notes,
    };
    left.take_datums();
    let right = left.mirrored(title("right"), format!("seen from {}", seen.from[1]));
    Ok([left, right])
}

/// How a plate of this normal is looked at, on the left side of the car.
fn seen(end: End, normal: &Vector3<f64>) -> Option<Seen> {
    let level = normal.z.abs() >= LEVEL;
    let (toward, from, up) = if level {
        (Vector3::z(), ["above, front upwards"; 2], Vector3::x())
    } else if normal.y.abs() >= normal.x.abs() {
        let from = ["the left of the car, from outside", "the right of the car, from outside"];
        (Vector3::y(), from, Vector3::z())
    } else if end == End::Rear {
        (-Vector3::x(), ["behind the car"; 2], Vector3::z())
    } else {
        (Vector3::x(), ["the front of the car"; 2], Vector3::z())
    };
    // The viewer's side of the plate; right, up and toward him make a right-handed frame.
    let toward = if normal.dot(&toward) < 0.0 { -normal } else { *normal };
    let up = (up - toward * up.dot(&toward)).try_normalize(1e-6)?;
    Some(Seen { right: up.cross(&toward), up, from })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(corners: [[f64; 3]; 4]) -> Plate {
        Plate {
            name: "test".into(),
            point: 3,
            outline: corners.iter().map(|c| Vector3::new(c[0], c[1], c[2])).collect(),
            bolt: 0.012,
            spacing: 2.5,
            edge: 1.5,
            link_length: None,
            uncertainty: 5e-4,
            span: 0..0,
        }
    }

    fn hole(at: [f64; 3]) -> Hole {
        let at = Vector3::new(at[0], at[1], at[2]);
        Hole {
            name: "A".into(),
            point: 3,
            at: project::model::SurveyPoint { at, uncertainty: Vector3::zeros(), span: 0..0 },
        }
    }

    #[track_caller]
    fn check(end: End, corners: [[f64; 3]; 4], at: [f64; 3], expect: [Spot; 2], words: [&str; 2]) {
        // Either way round, with any first corner: the sheet is the same.
        for turn in 0..8 {
            let mut corners = corners;
            if turn >= 4 {
                corners.reverse();
            }
            corners.rotate_left(turn % 4);
            let pair = of_plate(end, &plate(corners), &[hole(at)], &Clearance::default()).unwrap();
            for ((pattern, expect), words) in pair.iter().zip(expect).zip(words) {
                let at = pattern.holes[0].at;
                assert!((at.0 - expect.0).abs() < 1e-9 && (at.1 - expect.1).abs() < 1e-9, "{at:?}");
                assert!(pattern.seen.contains(words), "{}", pattern.seen);
                assert!((pattern.holes[0].diameter - 12.25).abs() < 1e-9);
            }
        }
    }

    /// Along the car: from the left, the front is at the left hand; the rear axle is behind x = 0.
    #[test]
    fn upright_plates_are_seen_from_outside() {
        let corners = [[-2.0, 0.4, 0.2], [-2.1, 0.4, 0.2], [-2.1, 0.4, 0.35], [-2.0, 0.4, 0.35]];
        check(End::Rear, corners, [-2.03, 0.4, 0.25], [(30.0, 50.0), (70.0, 50.0)], ["left", "right"]);
    }

    #[test]
    fn plates_across_the_car_are_seen_from_its_end() {
        let corners = [[-2.0, 0.3, 0.2], [-2.0, 0.4, 0.2], [-2.0, 0.4, 0.25], [-2.0, 0.3, 0.25]];
        // From behind, the car's left is at the left hand: outboard is left on the left plate.
        check(End::Rear, corners, [-2.0, 0.38, 0.21], [(20.0, 10.0), (80.0, 10.0)], ["behind", "behind"]);
        check(End::Front, corners, [-2.0, 0.38, 0.21], [(80.0, 10.0), (20.0, 10.0)], ["front", "front"]);
    }

    #[test]
    fn level_plates_are_seen_from_above() {
        let corners = [[-2.0, 0.3, 0.2], [-2.0, 0.4, 0.2], [-2.1, 0.4, 0.2], [-2.1, 0.3, 0.2]];
        check(End::Rear, corners, [-2.02, 0.39, 0.2], [(10.0, 80.0), (90.0, 80.0)], ["above", "above"]);
    }

    #[test]
    fn directions_are_those_of_the_side() {
        let corners = [[-2.0, 0.4, 0.2], [-2.1, 0.4, 0.2], [-2.1, 0.4, 0.35], [-2.0, 0.4, 0.35]];
        let [left, right] = of_plate(End::Rear, &plate(corners), &[], &Clearance::default()).unwrap();
        let find = |p: &Pattern, name: &str| p.directions.iter().find(|d| d.name == name).map(|d| d.towards);
        assert_eq!(find(&left, "front"), Some((-1.0, 0.0)));
        assert_eq!(find(&right, "front"), Some((1.0, 0.0)));
        assert_eq!(find(&left, "up"), Some((0.0, 1.0)));
        assert_eq!(find(&left, "outboard"), None);
    }

    #[test]
    fn holes_elsewhere_and_flat_outlines_are_turned_down() {
        let corners = [[-2.0, 0.4, 0.2], [-2.1, 0.4, 0.2], [-2.1, 0.4, 0.35], [-2.0, 0.4, 0.35]];
        let off = [hole([-2.03, 0.41, 0.25]), hole([-2.2, 0.4, 0.25])];
        let pair = of_plate(End::Rear, &plate(corners), &off, &Clearance::default()).unwrap();
        assert!(pair[0].holes.is_empty() && pair[1].notes[0].ends_with("plate: A, A."));
        let near = [hole([-2.03, 0.402, 0.25])];
        let pair = of_plate(End::Rear, &plate(corners), &near, &Clearance::default()).unwrap();
        assert!(pair[0].holes[0].note.starts_with("2.0 mm"));
        let line = [[0.0; 3], [1.0, 0.0, 0.0], [2.0, 0.0, 0.0], [3.0, 0.0, 0.0]];
        let gap = [[0.0; 3], [1.0, f64::NAN, 0.0], [2.0, 1.0, 0.0], [0.0, 1.0, 0.0]];
        for odd in [line, gap] {
            let error = of_plate(End::Rear, &plate(odd), &[], &Clearance::default()).unwrap_err();
            assert!(error.to_string().contains("encloses no area"));
        }
    }
}
