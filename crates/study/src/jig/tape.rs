//! Tapes from marks to a place, and how well they fix it.

use nalgebra::{Matrix3, Vector3};
use project::model::{Axle, Car, End};

use super::points::Side;

/// A mark that a tape is held to.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    /// Its name.
    pub name: String,
    /// In the file's own frame \[m\].
    pub at: Vector3<f64>,
    /// In the car's axes \[m\].
    pub in_car: Vector3<f64>,
    /// Standard uncertainty of each coordinate \[m\]; none for a cross on the floor, which the others are counted from.
    pub uncertainty: Vector3<f64>,
    /// Whether the file names it; else it is a cross on the floor.
    pub of_file: bool,
}

/// One straight length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tape {
    /// Index into [`super::Jig::datums`].
    pub datum: usize,
    /// Its length \[m\].
    pub length: f64,
    /// Standard uncertainty of that length by those of both ends along it \[m\]: a tape that reads otherwise by more than
    /// twice this tells of a place that is off.
    pub uncertainty: f64,
}

/// How well three tapes fix a place. With `u_i` the unit vectors from the datums as the rows of `G`, tapes that are
/// off by `d` place it off by `G^-1 d`; for independent tapes of one standard deviation the place has `(G^T G)^-1`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fix {
    /// The three datums, indices into [`super::Jig::datums`].
    pub datums: [usize; 3],
    /// Standard deviation along x, y and z for tapes of one \[m/m\].
    pub along: [f64; 3],
    /// The three together (root of the sum of squares) \[m/m\].
    pub total: f64,
}

/// A place is badly fixed where one millimetre of tape makes more than this many of place: own choice.
pub const ILL_CONDITIONED: f64 = 4.0;

impl Fix {
    /// Whether the three tapes meet at too flat an angle to be relied upon.
    pub fn is_ill_conditioned(&self) -> bool {
        self.total > ILL_CONDITIONED
    }
}

/// Nearest mark that a tape can be held to and read \[m\]: own choice.
const NEAREST: f64 = 0.08;

/// How far ahead of and behind an axle the further crosses of the floor are \[m\]: within reach of a tape, and far enough
/// from the others.
const AHEAD: f64 = 0.5;

/// Marks of the floor on one sheet.
const MOST_MARKS: usize = 5;

/// The marks: those of the file where it names three, else the crosses on the floor that fix the worst of the places
/// best, with those of the file.
pub(super) fn datums(car: &Car, axle: &Axle, places: &[Vector3<f64>]) -> Vec<Datum> {
    let own: Vec<Datum> = car
        .jig
        .datums
        .iter()
        .map(|datum| Datum {
            name: datum.name.clone(),
            at: car.frame.to_survey(datum.at.at),
            in_car: datum.at.at,
            uncertainty: datum.at.uncertainty,
            of_file: true,
        })
        .collect();
    if own.len() >= 3 {
        return own;
    }
    let floor = floor(car, axle);
    let count = floor.len();
    let mut best: Option<(f64, Vec<usize>)> = None;
    // At most ten marks: a thousand sets.
    for set in 0_u32..1 << count {
        if set.count_ones() as usize != MOST_MARKS.min(count) {
            continue;
        }
        let chosen: Vec<usize> = (0..count).filter(|i| set >> i & 1 == 1).collect();
        let marks: Vec<Vector3<f64>> = own
            .iter()
            .map(|datum| datum.in_car)
            .chain(chosen.iter().filter_map(|i| floor.get(*i)).map(|datum| datum.in_car))
            .collect();
        let worst = places.iter().map(|p| best_three(&marks, p).map_or(f64::INFINITY, |fix| fix.total));
        // The sum of squares beside the worst: places that no set fixes must not hide the others.
        let cost: f64 = worst.map(|total| total.min(1e3).powi(4)).sum();
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, chosen));
        }
    }
    let chosen = best.map(|(_, chosen)| chosen).unwrap_or_default();
    own.into_iter().chain(chosen.iter().filter_map(|i| floor.get(*i)).cloned()).collect()
}

/// Crosses on the floor: under the wheel centres of both axles, under the middles of the axles, and on the centreline
/// ahead of and behind this one.
fn floor(car: &Car, axle: &Axle) -> Vec<Datum> {
    let mut marks: Vec<(String, Vector3<f64>)> = Vec::new();
    for end in [axle.end, other(axle.end)] {
        let name = end.name();
        let centre = car.axle(end).map(|axle| axle.wheel.centre.at);
        if let Some(centre) = centre {
            for (side, word) in [(Side::Left, "left"), (Side::Right, "right")] {
                let at = side.of(&Vector3::new(centre.x, centre.y, 0.0));
                marks.push((format!("floor under the {name} {word} wheel centre"), at));
            }
        }
        let x = centre.map(|c| c.x).or_else(|| {
            let wheelbase = car.wheelbase?.value;
            let own = axle.wheel.centre.at.x;
            Some(if end == End::Front { own + wheelbase } else { own - wheelbase })
        });
        if let Some(x) = x {
            marks.push((format!("floor under the middle of the {name} axle"), Vector3::new(x, 0.0, 0.0)));
        }
    }
    let name = axle.end.name();
    let x = axle.wheel.centre.at.x;
    marks.push((format!("floor, middle, ahead of the {name} axle"), Vector3::new(x + AHEAD, 0.0, 0.0)));
    marks.push((format!("floor, middle, behind the {name} axle"), Vector3::new(x - AHEAD, 0.0, 0.0)));
    marks
        .into_iter()
        .map(|(name, in_car)| {
            // Adding zero makes a negative zero a plain one.
            let at = car.frame.to_survey(in_car).add_scalar(0.0);
            Datum { name, at, in_car, uncertainty: Vector3::zeros(), of_file: false }
        })
        .collect()
}

fn other(end: End) -> End {
    match end {
        End::Front => End::Rear,
        End::Rear => End::Front,
    }
}

/// The tapes to a place from every mark that is not too near, and the three that fix it best.
pub(super) fn measure(
    datums: &[Datum],
    place: &Vector3<f64>,
    uncertainty: &Vector3<f64>,
) -> (Vec<Tape>, Option<Fix>) {
    let tape = |(index, datum): (usize, &Datum)| {
        let way = place - datum.in_car;
        let length = way.norm();
        let along = way / length;
        let both = along.component_mul(uncertainty).norm_squared()
            + along.component_mul(&datum.uncertainty).norm_squared();
        (length >= NEAREST).then(|| Tape { datum: index, length, uncertainty: both.sqrt() })
    };
    let tapes = datums.iter().enumerate().filter_map(tape).collect();
    let marks: Vec<Vector3<f64>> = datums.iter().map(|datum| datum.in_car).collect();
    (tapes, best_three(&marks, place))
}

/// The three marks whose tapes fix a place best; `None` where no three do.
fn best_three(marks: &[Vector3<f64>], place: &Vector3<f64>) -> Option<Fix> {
    let mut best: Option<Fix> = None;
    for a in 0..marks.len() {
        for b in a + 1..marks.len() {
            for c in b + 1..marks.len() {
                let Some(fix) = fix(marks, [a, b, c], place) else { continue };
                if best.as_ref().is_none_or(|before| fix.total < before.total) {
                    best = Some(fix);
                }
            }
        }
    }
    best
}

fn fix(marks: &[Vector3<f64>], datums: [usize; 3], place: &Vector3<f64>) -> Option<Fix> {
    let mut rows = [Vector3::zeros(); 3];
    for (row, datum) in rows.iter_mut().zip(datums) {
        let along = place - marks.get(datum)?;
        let length = along.norm();
        if length < NEAREST {
            return None;
        }
        *row = along / length;
    }
    let g = Matrix3::from_rows(&rows.map(|row| row.transpose()));
    let inverse = g.try_inverse()?;
    // (G^T G)^-1 = G^-1 G^-T: its diagonal is the squared lengths of the rows of G^-1.
    let along = [0, 1, 2].map(|k| inverse.row(k).norm());
    let total = along.iter().map(|a| a * a).sum::<f64>().sqrt();
    total.is_finite().then_some(Fix { datums, along, total })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_square_tapes_fix_a_place_as_well_as_they_are_read() {
        let place = Vector3::new(1.0, 2.0, 3.0);
        let marks = [Vector3::new(0.0, 2.0, 3.0), Vector3::new(1.0, 0.0, 3.0), Vector3::new(1.0, 2.0, 0.0)];
        let fix = best_three(&marks, &place).expect("fixed");
        for along in fix.along {
            assert!((along - 1.0).abs() < 1e-14);
        }
        assert!((fix.total - 3f64.sqrt()).abs() < 1e-14 && !fix.is_ill_conditioned());
    }

    #[test]
    fn a_place_among_marks_of_the_floor_is_badly_fixed_in_height() {
        // 100 mm above marks a metre away: the height comes from tapes that are nearly level, ten to one.
        let place = Vector3::new(0.0, 0.0, 0.1);
        let around = |degrees: f64| {
            let angle = degrees.to_radians();
            Vector3::new(angle.cos(), angle.sin(), 0.0)
        };
        let marks = [around(0.0), around(120.0), around(240.0)];
        let fix = best_three(&marks, &place).expect("fixed");
        // Three tapes alike: their mean is the height's, so that the ratio is d / z / sqrt(3).
        let expect = (1.0_f64 + 0.01).sqrt() / 0.1 / 3f64.sqrt();
        assert!((fix.along[2] - expect).abs() < 1e-12, "{fix:?}");
        assert!(fix.is_ill_conditioned());
        let line = [Vector3::zeros(), Vector3::new(1.0, 0.0, 0.0), Vector3::new(2.0, 0.0, 0.0)];
        assert_eq!(best_three(&line, &Vector3::new(0.5, 0.0, 1.0)), None);
    }

    #[test]
    fn an_error_of_tape_moves_the_place_as_told() {
        let marks = [Vector3::new(0.0, 0.7, 0.0), Vector3::new(0.0, -0.7, 0.0), Vector3::new(0.5, 0.0, 0.0)];
        let place = Vector3::new(0.1, 0.4, 0.35);
        let fix = best_three(&marks, &place).expect("fixed");
        // Newton on the three lengths, one of them 1 um long, for each of the three.
        let mut square = Vector3::zeros();
        for off in 0..3 {
            let lengths: Vec<f64> =
                (0..3).map(|i| (place - marks[i]).norm() + if i == off { 1e-6 } else { 0.0 }).collect();
            let mut p = place;
            for _ in 0..20 {
                let g = Matrix3::from_fn(|i, k| (p - marks[i])[k] / (p - marks[i]).norm());
                let miss = Vector3::from_fn(|i, _| lengths[i] - (p - marks[i]).norm());
                p += g.try_inverse().expect("regular") * miss;
            }
            square += (p - place).map(|d| (d / 1e-6).powi(2));
        }
        for k in 0..3 {
            assert!(
                (square[k].sqrt() - fix.along[k]).abs() < 1e-4,
                "{k}: {} {}",
                square[k].sqrt(),
                fix.along[k]
            );
        }
    }
}
