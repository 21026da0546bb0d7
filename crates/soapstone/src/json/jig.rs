//! `soapstone.jig/1`: the jig sheet of an axle.

use paper::jig::{TAPE, consequence_words, mark_letter, role_words, scale_of, side_words};
use project::model::Car;
use serde::Serialize;
use study::{Exactness, Jig, JigRow, Limit};

use super::{CAUTION, unit, xyz};

#[derive(Serialize)]
struct JigOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    /// What `at_survey_m` counts from.
    frame: String,
    marks: Vec<MarkOut>,
    places: Vec<PlaceOut>,
    diagonals: Vec<DiagonalOut>,
    together: Vec<TogetherOut>,
    notes: Vec<String>,
    caution: &'static str,
}

#[derive(Serialize)]
struct MarkOut {
    mark: String,
    name: String,
    at_survey_m: [f64; 3],
    at_m: [f64; 3],
    standard_uncertainty_m: [f64; 3],
    /// Named in the file, else a cross on the floor.
    of_file: bool,
}

#[derive(Serialize)]
struct PlaceOut {
    point: String,
    hole: Option<String>,
    side: &'static str,
    role: &'static str,
    at_survey_m: [f64; 3],
    at_m: [f64; 3],
    standard_uncertainty_m: [f64; 3],
    tapes: Vec<TapeOut>,
    fix: Option<FixOut>,
    need: Option<NeedOut>,
    /// Whether three tapes sure to a millimetre place it as exactly as it has to be.
    tape_is_enough: Option<bool>,
}

#[derive(Serialize)]
struct TapeOut {
    mark: String,
    length_m: f64,
    standard_uncertainty_m: f64,
}

#[derive(Serialize)]
struct FixOut {
    marks: [String; 3],
    /// Standard deviation along x, y, z for tapes of one.
    along: [f64; 3],
    total: f64,
    ill_conditioned: bool,
}

#[derive(Serialize)]
struct NeedOut {
    along: [Option<LimitOut>; 3],
    exactness: &'static str,
    /// `null` for what is finer than any class.
    within_m: Option<f64>,
}

#[derive(Serialize)]
struct LimitOut {
    tolerance_m: f64,
    decides: String,
    unit: &'static str,
    /// In that unit a metre.
    slope: f64,
    allowed: f64,
}

#[derive(Serialize)]
struct DiagonalOut {
    from: String,
    to: String,
    left_to_right_m: f64,
    right_to_left_m: f64,
    per_ahead: f64,
}

#[derive(Serialize)]
struct TogetherOut {
    result: String,
    unit: &'static str,
    allowed: f64,
    spread: f64,
}

/// The jig sheet.
pub(crate) fn jig(jig: &Jig, car: &Car) -> impl Serialize {
    let marks = jig.datums.iter().enumerate().map(|(index, datum)| MarkOut {
        mark: mark_letter(index),
        name: datum.name.clone(),
        at_survey_m: xyz(&datum.at),
        at_m: xyz(&datum.in_car),
        standard_uncertainty_m: xyz(&datum.uncertainty),
        of_file: datum.of_file,
    });
    let diagonals = jig.diagonals.iter().map(|d| DiagonalOut {
        from: d.a.clone(),
        to: d.b.clone(),
        left_to_right_m: d.left_to_right,
        right_to_left_m: d.right_to_left,
        per_ahead: d.per_ahead,
    });
    let together = jig.together.iter().map(|all| {
        let (unit, factor) = unit(scale_of(all.result));
        let result = car.axle(jig.end).map(|axle| consequence_words(all.result, car, axle));
        TogetherOut {
            result: result.unwrap_or_default(),
            unit,
            allowed: all.allowed * factor,
            spread: all.spread * factor,
        }
    });
    JigOut {
        schema: "soapstone.jig/1",
        car: car.name.clone(),
        axle: jig.end.name(),
        frame: jig.frame.clone(),
        marks: marks.collect(),
        places: jig.rows.iter().map(|row| place(row, jig, car)).collect(),
        diagonals: diagonals.collect(),
        together: together.collect(),
        notes: jig.notes.clone(),
        caution: CAUTION,
    }
}

fn place(row: &JigRow, jig: &Jig, car: &Car) -> PlaceOut {
    let tapes = row.tapes.iter().map(|tape| TapeOut {
        mark: mark_letter(tape.datum),
        length_m: tape.length,
        standard_uncertainty_m: tape.uncertainty,
    });
    let fix = row.fix.as_ref().map(|fix| FixOut {
        marks: fix.datums.map(mark_letter),
        along: fix.along,
        total: fix.total,
        ill_conditioned: fix.is_ill_conditioned(),
    });
    let need = row.need.as_ref().map(|need| NeedOut {
        along: need.along.each_ref().map(|l| l.as_ref().map(|limit| limited(limit, jig, car))),
        exactness: exactness(need.class),
        within_m: need.class.bound(),
    });
    PlaceOut {
        point: row.point.clone(),
        hole: row.hole.clone(),
        side: side_words(row.side),
        role: role_words(row.role),
        at_survey_m: xyz(&row.at),
        at_m: xyz(&row.in_car),
        standard_uncertainty_m: xyz(&row.uncertainty),
        tapes: tapes.collect(),
        fix,
        need,
        tape_is_enough: row.tape_will_do(TAPE),
    }
}

fn limited(limit: &Limit, jig: &Jig, car: &Car) -> LimitOut {
    let (unit, factor) = unit(scale_of(limit.decides));
    let words = car.axle(jig.end).map(|axle| consequence_words(limit.decides, car, axle));
    LimitOut {
        tolerance_m: limit.tolerance,
        decides: words.unwrap_or_default(),
        unit,
        slope: limit.slope * factor,
        allowed: limit.decides.allowed(&car.jig.allowed) * factor,
    }
}

fn exactness(class: Exactness) -> &'static str {
    match class {
        Exactness::Finer => "finer-than-half-mm",
        Exactness::Half => "half-mm",
        Exactness::One => "one-mm",
        Exactness::Two => "two-mm",
        Exactness::Five => "tape-is-enough",
    }
}
